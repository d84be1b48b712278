"""Lines that nobody can read as they were typed, in the words that say the same: ``ivy in bud``,
``food new, old out``, ``drank 1, the other would not``."""

from __future__ import annotations

import re

from rounds import late
from rounds.app.desk import Desk
from rounds.entries.base import BARRIERS_LOOKED_AT

_WOULD_NOT = r"(?:would not|wouldn'?t|refused|did not|didn'?t)(?: drink)?"
_WAYS = (
    # a plant in bud is buds of it: the trade's word
    (
        late.pattern(
            r"\b(?!host|put|plant|eggs?|found|stems?|in|and)([^\W\d]{3,}) in"
            r" (?=(?:bud|flower|leaf|blossom|fruit|seed)\b)",
            re.IGNORECASE,
        ),
        r"\1 ",
    ),
    (
        late.pattern(
            r"\b(?:(?:food|host|leaf) new|new (?:food|host|leaf)),? (?:the )?old (?:one )?out\b",
            re.IGNORECASE,
        ),
        "host changed, old discarded",
    ),
    (late.pattern(rf"\b(?:the )?other(?: one)? {_WOULD_NOT}", re.IGNORECASE), "1 refused"),
    (late.pattern(rf"\b(\d+) {_WOULD_NOT}", re.IGNORECASE), r"\1 refused"),
    (late.pattern(r"\bbin(?= lots? \d| kept\b)", re.IGNORECASE), "discard"),
    (late.pattern(r"\blet (?:her|him|it) go\b"), "released 1"),
    (late.pattern(r"\blet (?:them )?(\w+) go\b"), r"released \1"),
    (
        late.pattern(
            r"^(\S+) (?!(?:host|food|plant|leaf|leaves)\b)([^\W\d]{3,}(?: [^\W\d]+)?) put in\b"
        ),
        r"\1 host in \2",
    ),
    # 'bench closed' may say what was done: only a name with a capital needs no 'is called'
    (late.pattern(r"^(?:[Tt]he )?[Bb]ench (?:is called (?=\S)|(?=[^\W\da-z]))"), "setting bench "),
)
_OF_A_BARRIER = late.pattern(r"^(?:shelf )?(.+) (dirty|bridged|dry)$", re.IGNORECASE)


def said_otherwise(desk: Desk, text: str) -> str:
    """The line in words that may be read, or as it is; what is in quotes, and a note, stays."""
    from rounds.app.holdings import with_sex_in_full  # most lines are read as they are typed

    spoken, dashes, note = text.partition(" -- ")
    if '"' in spoken:
        return text
    spoken = with_sex_in_full(spoken)
    barrier = _OF_A_BARRIER.match(spoken)
    shelf = desk.bench.shelves.get(barrier[1]) if barrier else None
    if barrier and shelf and desk.bench.barrier_named("", barrier[1]) in BARRIERS_LOOKED_AT:
        spoken = f"{barrier[1]} barrier {barrier[2]}"
    for pattern, instead in _WAYS:
        spoken = pattern.sub(instead, spoken)
    return f"{spoken}{dashes}{note}"
