"""Lines of the kit list, one file a trade."""
