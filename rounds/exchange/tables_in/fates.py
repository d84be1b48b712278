"""What became of an animal, by one cell of a column of fates."""

from __future__ import annotations

from rounds.exchange.tables_in import vocabulary as v
from rounds.exchange.tables_in.record import cause_of
from rounds.exchange.tables_in.values import says_not_known, stage_in, yes_or_no
from rounds.exchange.tables_in.vocabulary import bare, has

NO_MORE = "alive"  # the fate of what lives at the end of what a row tells
NOT_KNOWN = "not known"
FATES = ("died", NO_MORE, "escaped", "released", "kept as specimen", "given away", NOT_KNOWN)
_LEFT = (
    ("escaped", v.ESCAPED),
    ("released", v.RELEASED),
    ("kept", v.KEPT),
    ("given away", f"{v.GIVEN}, {v.LOOKS_GIVEN}"),
)
_MARKS = {word for word in (*v.YES, *v.NO) if word.isalpha()}


def fate_in(cell: str, heading: str) -> str | None:
    """A word of ours for what became of an animal: ``died``, ``alive``, ``escaped``, ``released``,
    ``kept``, ``given away``, ``not known``; None where the cell is not understood.

    Args:
        heading: of its column; a yes or a no answers it.
    """
    text, asked = bare(cell), bare(heading)
    if says_not_known(cell):
        return NOT_KNOWN
    if not text or "?" in text:
        return None
    if has(v.NOT_HATCHED, text):
        return "died"
    asks_dead = has(v.DEAD, asked)
    mark = yes_or_no(cell)
    first = text.split()[0]
    if mark is None and first in _MARKS and (asks_dead or (first != "no" and len(first) > 1)):
        mark = first in v.YES  # yes, mould; no, it lives
    found = next((fate for fate, words in _LEFT if has(words, text)), None)
    if found or mark is None:
        return found or _by_words(text, cell, asks_dead=asks_dead)
    if not asks_dead and not has(v.ALIVE, asked):
        return None
    return "died" if mark is asks_dead else NO_MORE


def left_as(heading: str) -> str:
    """As what those left whom a column counts, by its name: ``not known`` where it does not say."""
    return next((fate for fate, words in _LEFT if has(words, bare(heading))), NOT_KNOWN)


def says_emerged(cell: str) -> bool:
    """Whether a cell of a column of fates says that it became an adult."""
    text = bare(cell)
    is_out = has(v.BEGINNINGS["adult"], text) or has(v.COMES_OUT, text) or stage_in(cell) == "adult"
    return is_out and not any(has(one, text) for one in (v.NOT, v.NOT_HATCHED, v.HATCHES, v.DEAD))


def _by_words(text: str, cell: str, *, asks_dead: bool) -> str | None:
    if has(v.STILL, text) and stage_in(cell) and not has(v.DEAD, text):
        return NO_MORE
    if has(v.NOT, text):
        return (
            NO_MORE
            if has(v.DEAD, text) or (asks_dead and len(text.split()) == 1)
            else ("died" if has(v.ALIVE, text) else None)
        )
    if text == "d" or has(v.DEAD, text):
        return "died"
    if has(v.ALIVE, text):
        return NO_MORE
    if has(v.GONE, text):
        return NOT_KNOWN
    if asks_dead:
        return "died" if stage_in(cell) or cause_of(cell) else None
    if cause_of(cell):
        return None  # of a pupa with mould it is not said that it died
    reached = stage_in(cell) or has(v.BEGINNINGS["adult"], text) or has(v.COMES_OUT, text)
    return NO_MORE if reached else None
