"""A filled paper sheet, entered as a table."""
