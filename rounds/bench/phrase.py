"""The line that a keeper types: read, completed, previewed, typed again."""

from rounds.bench.phrasing.completing import complete, preview, type_phrase
from rounds.bench.phrasing.reading import Draft, read_phrase
from rounds.bench.phrasing.times import Unclear, read_time

__all__ = ["Draft", "Unclear", "complete", "preview", "read_phrase", "read_time", "type_phrase"]
