"""The demo bench: its story, told anew up to now."""
