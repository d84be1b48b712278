"""The door for scripts: a book opened, recorded in, asked and walked without a screen."""
