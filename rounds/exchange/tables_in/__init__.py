"""Years of an old spreadsheet or notebook: a table of any shape becomes lines of the daybook."""
