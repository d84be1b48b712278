"""What a keeper does at a book: the desk, the typed line, the round, the first start."""
