"""Animals that go into several containers, said one by one: ``R2 split 8 L1 to H2, 7 L1 to H3``."""

from __future__ import annotations

from collections.abc import Sequence

from rounds.entries.phrase.reader import JOINS, Reader
from rounds.entries.phrase.tokens import Word
from rounds.entries.phrase.verbs import EGGS, lays

_VERBS = frozenset({"split", "moved", "move"})
_TO = frozenset({"to", "into", "in"})


def split_up(reader: Reader) -> None:
    """Read such a line as ``R2 split L1 into H2,H3 8,7``; any other line stays as it is."""
    words = reader.words
    verb = next(
        (
            position
            for position, word in enumerate(words)
            if word.lower in _VERBS and not word.quoted
        ),
        -1,
    )
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
            (step for step in range(position + 1, len(words)) if words[step].lower in _TO),
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
