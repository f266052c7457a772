"""The Textual application: screens show the assessment and compute nothing."""
