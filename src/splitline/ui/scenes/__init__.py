"""From an item and its result to the plain numbers a drawing takes."""
