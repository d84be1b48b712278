"""What a screen, page or shell line says: rows, words, signs.

No Textual.
"""
