"""Kept stems that are moved in a keeper's own words: ``move K2 stems to B2``, ``K2 moved kept stems
of lot 2 to B2``, ``K2 host out kept in the fridge``."""

from __future__ import annotations

from rounds import late
from rounds.entries.phrase.dates import length_of_date
from rounds.entries.phrase.reader import Reader
from rounds.entries.phrase.times import is_time_word
from rounds.entries.phrase.tokens import Word
from rounds.entries.slots import RENEWED

_STEMS = frozenset({"stem", "stems", "sprig", "sprigs"})
_KEPT = frozenset({"kept", "held"})
_WITHIN = frozenset({"in", "on", "at"})
_LOTS = frozenset({"lot", "lots"})
_JOINS = frozenset(
    {"move", "moved", "put", "now", "kept", "old", "held", "the", "of", "from", "in"}
)
# Lots have numbers in the order in which they came.
_NTH = {"first": "1", "second": "2", "third": "3", "fourth": "4", "fifth": "5"}
_REST = late.pattern(r"^(?:lots?|(?:lots?=)?\d{1,3}(?:[-,]\d{1,3})*|[A-Z]{1,2})$")


def stems_moved(reader: Reader) -> None:
    """Put the words of such a line in the order in which they are read: container, kept stems,
    which, and where to."""
    words = reader.words
    to = _where_to(reader)
    if to is None:
        return
    when, head = _times_apart(_by_number(reader, words[:to]))
    places = [word for word in head if reader.code_of(word)]
    stems = [word for word in head if word.lower in _STEMS]
    rest = [
        word
        for word in head
        if word not in places and word not in stems and word.lower not in _JOINS
    ]
    stems = stems or [word for word in head if word.lower in _LOTS][:1]
    if (
        len(places) != 1
        or len(stems) != 1
        or any(word.quoted or not _REST.match(word.text) for word in rest)
    ):
        return
    kept = [Word("kept", stems[0].at), Word("stems", stems[0].at)]
    if stems[0].lower in _LOTS:
        before, how = None, Word("to", words[to].at)
        reader.words[:] = [places[0], *kept, *rest, how, *words[to + 1 :], *when]
        return
    before = head[head.index(stems[0]) - 1] if head[0] is not stems[0] else None
    of_lot = len(head) > 2 and head[head.index(stems[0]) - 2].lower in ("lot", "lots")
    how_many = (
        [before, stems[0]]
        if before in rest and before is not None and before.text.isdecimal() and not of_lot
        else []
    )
    which = [word for word in rest if word not in how_many]
    reader.words[:] = [places[0], *kept, *which, *how_many, *words[to:], *when]


def _times_apart(words: list[Word]) -> tuple[list[Word], list[Word]]:
    """The words of a time, wherever it stands, and the others."""
    when: list[Word] = []
    others: list[Word] = []
    place = 0
    while place < len(words):
        is_time = not words[place].quoted and is_time_word(words[place].text)
        length = length_of_date(words[place : place + 3]) or int(is_time)
        (when if length else others).extend(words[place : place + (length or 1)])
        place += length or 1
    return when, others


def stems_kept_there(reader: Reader) -> None:
    """Read ``host out violet kept in the fridge`` as held, where no container is named; where they
    are is a note. So are those that came out for others: ``violet changed, kept in the fridge``."""
    words = reader.words
    goes = ("out", *RENEWED)
    out = next(
        (place for place, word in enumerate(words) if word.lower.rstrip(",") in goes), len(words)
    )
    for place in range(out + 1, len(words) - 2):
        kept, within, there = words[place : place + 3]
        is_place = there.lower in ("the", "fridge") and not there.quoted
        if kept.lower not in _KEPT or within.lower not in _WITHIN or not is_place:
            continue
        end = place + 3
        while end < len(words) and not is_time_word(words[end].text):
            end += 1
        if any(reader.code_of(word) for word in words[place:end]):
            return
        reader.aside = " ".join(["kept", *(word.text for word in words[place + 1 : end])])
        words[place:end] = [kept]
        return


def _where_to(reader: Reader) -> int | None:
    """The word before the container that they go to: ``to``, else the last ``in``."""
    words = reader.words
    found = [
        position
        for position, word in enumerate(words[:-1])
        if word.lower in ("to", "into", "in")
        and not word.quoted
        and reader.code_of(words[position + 1])
    ]
    to = [position for position in found if words[position].lower != "in"]
    if to:
        return to[0]
    return found[-1] if found and any(word.lower in _LOTS for word in words) else None


def _by_number(reader: Reader, head: list[Word]) -> list[Word]:
    """Lots named by their order or age as lots by number: ``second lot``, ``oldest lot``."""
    place = next((code for word in head if (code := reader.code_of(word))), "")
    container = reader.bench.at(place)
    held = sorted(one.number for one in container.held) if container else []
    named = dict(_NTH)
    if held:
        named |= {"oldest": str(held[0]), "newest": str(held[-1]), "last": str(held[-1])}
    result: list[Word] = []
    for word in head:
        if result and result[-1].lower in named and word.lower in _LOTS:
            nth = result.pop()
            result += [word, Word(named[nth.lower], nth.at)]
        else:
            result.append(word)
    return result
