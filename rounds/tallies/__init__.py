"""What went by, added up: each file is a small fold over the journal.

Pure.
"""
