"""Plan to assessment: one file per kind of item, one registry of results in keys/."""
