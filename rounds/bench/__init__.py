"""What stands on the bench: entry kinds, and what they add up to.

Pure.
"""
