"""Animals and eggs that go into other containers, in a keeper's own words: moved, cut off, merged,
split."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from rounds.bench.codes import INSTAR, like_codes
from rounds.entries.phrase.dates import length_of_time
from rounds.entries.phrase.reader import ALL, JOINS, PhraseProblem, Reader
from rounds.entries.phrase.synonyms import ANIMALS
from rounds.entries.phrase.tokens import STOPS, Word
from rounds.entries.phrase.verbs import EGGS, lays, number_of
from rounds.entries.phrase.vocabulary import INSIDE, INTO
from rounds.entries.slots import each

_MOVES = each("moved move")
_SPLITS = _MOVES | {"split"}
_MERGED = each("merged merge")
_BETWEEN = each(
    "egg eggs leaf leaves stem stems sprig sprigs host searched found the a of on with from "
    "and put moved into to in for new fresh empty another other own its cup box pot tin jar "
    "dish container"
)
_SAYS_NOTHING = JOINS | each(
    "from out of the move moved put rest remaining other others more another further"
)
_REST = each("rest remaining others")


def eggs_cut_off(reader: Reader) -> None:
    """Read ``K2 84 eggs cut off into E2`` as ``K2 moved 84 eggs to E2``; any other line stays as it
    is."""
    words = reader.words
    texts = [word.plain for word in words]
    off = next((n for n, both in enumerate(pairwise(texts)) if both == ("cut", "off")), -1)
    behind = range(off + 2, len(words))
    targets = [place for place in behind if texts[place] and like_codes(words[place].text)]
    targets = targets or [place for place in behind if reader.code_of(words[place])]
    if off < 0 or not targets:
        return
    into = targets[-1]
    head = [word for place, word in enumerate(words[:into]) if place not in (off, off + 1)]
    sources = [word for word in head if reader.code_of(word)]
    numbers = [word for word in head if word.text.isdecimal() and not word.quoted]
    rest = [word for word in head if word not in sources and word not in numbers]
    if len(sources) != 1 or len(numbers) != 1 or any(word.plain not in _BETWEEN for word in rest):
        return
    at = words[off].at
    eggs = [Word("eggs", at), Word("to", at), words[into], *words[into + 1 :]]
    reader.words[:] = [sources[0], Word("moved", at), numbers[0], *eggs]


def merged_into(reader: Reader) -> None:
    """Read ``E6 merged into E4`` as ``E4 merged from E6``; any other line stays as it is."""
    words = reader.words
    texts = [word.plain for word in words]
    to = next((place for place, word in enumerate(texts) if word in INTO), len(words))
    head = [
        word for position, word in enumerate(words[:to]) if texts[position] not in _MERGED | JOINS
    ]
    sources = [code for word in head for code in word.text.split(",") if code]
    if to + 1 >= len(words) or len(head) == to or not sources or not _MERGED & set(texts[:to]):
        return
    into = words[to + 1]
    if (
        any(word.quoted for word in (*head, into))
        or not like_codes(into.text)
        or not all(map(like_codes, sources))
    ):
        return
    at = words[to].at
    reader.words[:] = [
        into,
        Word("merged", at),
        Word("from", at),
        Word(",".join(sources), head[0].at),
        *words[to + 2 :],
    ]


def split_up(reader: Reader) -> None:
    """Read ``R2 split 8 L1 to H2, 7 L1 to H3`` as ``R2 split L1 into H2,H3 8,7``; any other line
    stays as it is."""
    words = reader.words
    verb = next((n for n, word in enumerate(words) if word.plain in _SPLITS), -1)
    if verb < 0:  # 'R2 8 to H2, 7 to H3'
        verb = 0 if words and reader.code_of(words[0]) else len(words)
    shares = _shares(words[verb + 1 :])
    if len(shares) < 2 or len({tuple(word.lower for word in kind) for _, kind, _ in shares}) > 1:
        return
    here = reader.bench.at(reader.code_of(words[verb]))
    if here and lays(here) and any(word.lower in EGGS for word in shares[0][1]):
        return  # found just now: the search reads them
    verb += bool(reader.code_of(words[verb]))
    at = words[verb].at
    numbers = ",".join(number for number, _, _ in shares)
    codes = ",".join(code for _, _, code in shares)
    kind = shares[0][1]
    reader.words[verb:] = [
        Word("split", at),
        *kind,
        Word("into", at),
        Word(codes, at),
        Word(numbers, at),
    ]


def _shares(words: Sequence[Word]) -> list[tuple[str, list[Word], str]]:
    """How many, of what, and into which container, one after the other; nothing where the words say
    anything else."""
    found: list[tuple[str, list[Word], str]] = []
    position = 0
    while position < len(words):
        if found and words[position].lower in JOINS and not words[position].quoted:
            position += 1
            continue
        to = next(
            (step for step in range(position + 1, len(words)) if words[step].lower in INSIDE),
            len(words),
        )
        if (
            to + 1 >= len(words)
            or not words[position].text.isdecimal()
            or any(word.quoted for word in words[position : to + 2])
        ):
            return []
        found.append(
            (words[position].text, list(words[position + 1 : to]), words[to + 1].text.rstrip(",;"))
        )
        position = to + 2
    return found


def goes_into(reader: Reader) -> None:
    """Read a line without a verb, ``R1 8 larvae to R3``, ``8 L3 from R1 to R3``, ``R1 all to R2``,
    as ``R1 moved 8 larvae to R3``; any other line stays as it is.

    Eggs of a place that may bear new ones may be found just now: the search reads them.
    """
    words = reader.words
    _refuse_two(reader)
    begin = length_of_time(words)
    to = next((n for n, word in enumerate(words) if n >= begin and word.lower in INTO), len(words))
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
    if head[1:2] and head[1].lower in _MOVES:
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
    ends = [n + 1 for n, word in enumerate(words[:-1]) if word.lower in INTO]
    ends = [n for n in ends if reader.code_of(words[n])]
    here = words[0].text if len(ends) > 1 and reader.code_of(words[0]) else ""
    if not here or not number_of(words[ends[0] + 1]):
        return
    moves = (words[1 : ends[0] + 1], words[ends[0] + 1 : ends[1] + 1])
    first, second = (
        " ".join(word.text for word in move if word.lower not in _MOVES).rstrip(STOPS)
        for move in moves
    )
    raise PhraseProblem(
        f"one thing a line: {here} moved {first}; then {here} moved {second}", words[ends[0] + 1]
    )


def _bare(word: Word) -> Word:
    return word if word.quoted else Word(word.text.rstrip(STOPS) or word.text, word.at)


def _sex_in_full(word: Word) -> Word:
    """``m to C2`` is the male."""
    return Word({"m": "male", "f": "female"}.get(word.lower, word.text), word.at)


def _is_of_animals(reader: Reader, word: Word) -> bool:
    """Whether a word says which animals: their stage, instar, sex or code."""
    is_stage = word.lower in ANIMALS or INSTAR.match(word.lower)
    return bool(is_stage or reader.animal_of(word))
