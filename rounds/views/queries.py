"""What a list is narrowed down to, as queries of TinyDB: the book's own table answers them
alike."""

from __future__ import annotations

from tinydb.queries import Query, QueryInstance


def about(container: str) -> QueryInstance:
    """Entries of a container, and those that went into it; all, if none is named."""
    query = Query()
    return (query.container == container) | (query.to == container) if container else query.noop()


def with_words(words: str) -> QueryInstance:
    """Whatever has all the words in its ``text``, in any case and order; all, if there are none."""
    query_instance = Query().noop()
    for word in words.casefold().split():
        query_instance &= Query().text.test(_has, word)
    return query_instance


def _has(text: str, word: str) -> bool:
    return word in text.casefold()
