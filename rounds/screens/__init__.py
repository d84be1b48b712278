"""The terminal interface: the only place that imports Textual."""
