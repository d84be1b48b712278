"""The line that a keeper types: read, completed, previewed, typed again."""

from rounds.bench.phrasing.completing import complete, preview, type_phrase
from rounds.bench.phrasing.expanding import sayings_of
from rounds.bench.phrasing.reader import Draft
from rounds.bench.phrasing.reading import read_phrase, without_begun
from rounds.bench.phrasing.times import Unclear, read_time, time_in

__all__ = [
    "Draft",
    "Unclear",
    "complete",
    "preview",
    "read_phrase",
    "read_time",
    "sayings_of",
    "time_in",
    "type_phrase",
    "without_begun",
]
