"""What a list is narrowed down to, as queries of TinyDB: the book's own table answers them alike."""

from __future__ import annotations

from tinydb.queries import Query, QueryInstance


def about(container: str) -> QueryInstance:
    """Entries of a container, and those that went into it; all, if none is named."""
    asked = Query()
    return (asked.container == container) | (asked.to == container) if container else asked.noop()


def with_words(words: str) -> QueryInstance:
    """Whatever has all the words in its ``text``, in any case and order; all, if there are none."""
    asked = Query().noop()
    for word in words.casefold().split():
        asked &= Query().text.test(_has, word)
    return asked


def _has(text: str, word: str) -> bool:
    return word in text.casefold()
