"""What can be recorded: every kind of entry, and the line that says it."""
