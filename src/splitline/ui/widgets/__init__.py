"""Widgets: drawn line by line from pure functions; they receive frozen data and post messages."""
