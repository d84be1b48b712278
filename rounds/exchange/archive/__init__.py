"""A Darwin Core Archive: occurrences, measurements, and what they are, by the text guide of
TDWG."""
