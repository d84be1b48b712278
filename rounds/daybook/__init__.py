"""The append-only store: TinyDB over JSON Lines."""
