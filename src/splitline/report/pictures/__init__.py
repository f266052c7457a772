"""Drawings of a sheet: pure functions that return shapes. Places come from the plan, figures from the assessment."""
