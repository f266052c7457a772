"""The card of an item as lines: what came out of it, and what was given. Pure functions of the session."""
