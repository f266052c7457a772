"""The same application in a tablet's browser."""
