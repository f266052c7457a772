"""Drawings as pure functions: plain numbers in, rows of styled segments out. No Textual, no plan, no library."""
