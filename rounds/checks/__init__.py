"""What is due, why, in what order, and with what supplies.

Pure.
"""
