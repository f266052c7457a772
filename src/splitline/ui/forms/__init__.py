"""Forms: what a person types, from the plan's declarations to lines on a card and back to values of the file."""
