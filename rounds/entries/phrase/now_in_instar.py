"""Larvae said by the instar that they are in now: ``R2 all L2``, ``R2 8 are L4``."""

from __future__ import annotations

from rounds.bench.state import Container
from rounds.entries.phrase.reader import Reader
from rounds.entries.phrase.short_forms import ShortForm
from rounds.entries.phrase.synonyms import digits_of
from rounds.entries.phrase.verbs import INSTAR

_BESIDE = frozenset(
    {"they", "the", "larva", "larvae", "caterpillars", "are", "is", "now", "in", "at"}
)


def now_in_instar(reader: Reader, form: ShortForm, container: Container) -> list[str]:
    """It as the moult of those that were younger, or as a count where no instar was known; nothing
    where some are in that instar already and a number may be of all or of more."""
    del reader
    lots = container.lots_of("larva")
    words = [word for word in form.said.split() if word not in _BESIDE]
    instars = [word for word in words if INSTAR.match(word)]
    many = [word for word in words if word not in instars]
    if not lots or len(instars) != 1 or len(many) > 1:
        return []
    (said,), there = instars, sum(lot.number for lot in lots)
    before = [lot.instar for lot in lots]
    is_all = many == ["all"] or (not many and there == 1)
    number = there if is_all else int(digits_of(many[0]) or 0) if many else 0
    instar = int(said[1:])
    if is_all and (max(before) > instar or not any(0 < one < instar for one in before)):
        return ["counted", str(number), said.upper()]
    younger = sum(lot.number for lot in lots if lot.instar < instar)
    if is_all or (min(before) > 0 and instar not in before and 0 < number <= younger):
        return ["moulted", "all" if is_all else str(number), said.upper()]
    return []
