"""Animals that go from one container into another, said without a verb: ``R1 8 larvae to R3``,
``8 L3 from R1 to R3``, ``R1 all to R2``."""

from __future__ import annotations

from rounds.bench.codes import INSTAR, like_codes
from rounds.entries.phrase.dates import length_of_time
from rounds.entries.phrase.reader import ALL, JOINS, PhraseProblem, Reader
from rounds.entries.phrase.synonyms import ANIMALS
from rounds.entries.phrase.tokens import STOPS, Word
from rounds.entries.phrase.verbs import EGGS, lays, number_of
from rounds.entries.slots import each

_SAYS_NOTHING = JOINS | each(
    "from out of the move moved put rest remaining other others more another further"
)
_VERBS = each("moved move")
_REST = each("rest remaining others")


def goes_into(reader: Reader) -> None:
    """Read such a line as ``R1 moved 8 larvae to R3``; any other line stays as it is.

    Eggs of a place that may bear new ones may be found just now: the search reads them.
    """
    words = reader.words
    _refuse_two(reader)
    begin = length_of_time(words)
    to = next((n for n, word in enumerate(words) if n >= begin and word.lower in _TO), len(words))
    head, into = words[begin:to], words[to + 1] if to + 1 < len(words) else None
    if into is None or any(word.quoted for word in (*head, words[to], into)):
        return
    is_code = like_codes(into.text.rstrip(STOPS)) and not INSTAR.match(into.lower)
    left = [word for word in head if reader.code_of(_bare(word))]
    container = reader.bench.at(reader.code_of(_bare(left[0]))) if len(left) == 1 else None
    who = [_bare(one) for one in head if one is not left[0]] if container else []
    said = [word for word in who if word.lower not in _SAYS_NOTHING]
    rest = [Word(ALL, word.at) for word in who if word.lower in _REST][:1]
    said = [_sex_in_full(word) for word in said]
    if container is None or not (is_code or reader.code_of(into)) or not (said or rest):
        return
    if head[1:2] and head[1].lower in _VERBS:
        return  # it is said so already
    is_sought = container.females or container.held or not container.count("egg")
    has_new = (lays(container) or container.held) and is_sought
    if has_new and any(word.lower in EGGS for word in said):
        return
    many = [word for word in said if number_of(word) or word.lower == ALL] or rest
    if len(many) > 1 or not all(one in many or _is_of_animals(reader, one) for one in said):
        return
    others = [word for word in said if word not in many]
    in_order = [left[0].text.rstrip(STOPS), "moved", *(word.text for word in (*many, *others))]
    words[begin:to] = [Word(text, head[0].at) for text in in_order]


def _refuse_two(reader: Reader) -> None:
    """Two moves of different animals in one line, ``R1 3 L3 to R2, 2 L4 to R3``, are two lines."""
    words = reader.words
    ends = [n + 1 for n, word in enumerate(words[:-1]) if word.lower in _TO]
    ends = [n for n in ends if reader.code_of(words[n])]
    here = words[0].text if len(ends) > 1 and reader.code_of(words[0]) else ""
    if not here or not number_of(words[ends[0] + 1]):
        return
    moves = (words[1 : ends[0] + 1], words[ends[0] + 1 : ends[1] + 1])
    first, second = (
        " ".join(word.text for word in move if word.lower not in _VERBS).rstrip(STOPS)
        for move in moves
    )
    raise PhraseProblem(
        f"one thing a line: {here} moved {first}; then {here} moved {second}", words[ends[0] + 1]
    )


_TO = frozenset({"to", "into"})


def _bare(word: Word) -> Word:
    return word if word.quoted else Word(word.text.rstrip(STOPS) or word.text, word.at)


def _sex_in_full(word: Word) -> Word:
    """``m to C2`` is the male."""
    return Word({"m": "male", "f": "female"}.get(word.lower, word.text), word.at)


def _is_of_animals(reader: Reader, word: Word) -> bool:
    """Whether a word says which animals: their stage, instar, sex or code."""
    is_stage = word.lower in ANIMALS or INSTAR.match(word.lower)
    return bool(is_stage or reader.animal_of(word))
