"""Sheets as PDF: pen, layout of blocks into pieces, flow over pages."""
