"""The line that a keeper types, at the prompt of every screen and at the shell."""
