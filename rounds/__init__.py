"""The daily rounds of a keeper of wild-caught butterflies and moths and their broods.

``rounds.open_book`` is the door for scripts; what it gives and raises is named here too.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rounds.scripting.book import Book as Book
    from rounds.scripting.book import open_book as open_book
    from rounds.scripting.results import Refused as Refused

_HOMES = {"open_book": "book", "Book": "book", "Refused": "results"}


def __getattr__(name: str) -> object:
    """Load the door only when it is used, so that the command starts without it."""
    if name not in _HOMES:
        raise AttributeError(f"module 'rounds' has no attribute '{name}'")
    return getattr(import_module(f"rounds.scripting.{_HOMES[name]}"), name)
