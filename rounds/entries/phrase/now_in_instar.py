"""Larvae said by the instar that they are in now: ``R2 all L2``, ``R2 8 are L4``."""

from __future__ import annotations

from collections.abc import Sequence

from rounds.bench.codes import INSTAR
from rounds.bench.state import Container, Lot
from rounds.entries.phrase.reader import Reader
from rounds.entries.phrase.short_forms import ShortForm
from rounds.entries.phrase.synonyms import ANIMALS, digits_of
from rounds.entries.phrase.tokens import Word
from rounds.grouping import summed

_BESIDE = frozenset(
    {"they", "the", "larva", "larvae", "caterpillars", "are", "is", "now", "in", "at"}
)


def now_in_instar(reader: Reader, form: ShortForm, container: Container) -> list[str]:
    """It as the moult of those that were younger, or as a count where no instar was known; nothing
    where some are in that instar already and a number may be of all or of more."""
    lots = container.lots_of("larva")
    if said_of_each := _each_instar(form, lots):
        return said_of_each
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


def _each_instar(form: ShortForm, lots: Sequence[Lot]) -> list[str]:
    """``5 L4 3 L3`` of all larvae there as the moult that made it so, or as their count where it is
    so on record; nothing where it is otherwise."""
    words = [word.rstrip(",") for word in form.said.split()]
    words = [word for word in words if word not in _BESIDE | {"and", ""}]
    many, instars = words[::2], words[1::2]
    if len(instars) < 2 or len(many) != len(instars) or not all(map(INSTAR.match, instars)):
        return []
    now = {
        int(one[1:]): int(digits_of(number) or 0) for number, one in zip(many, instars, strict=True)
    }
    before = summed((lot.instar, lot.number) for lot in lots)
    changed = {one: now.get(one, 0) - before.get(one, 0) for one in now.keys() | before.keys()}
    changed = {one: number for one, number in sorted(changed.items()) if number}
    if not changed:
        return ["counted", str(sum(now.values())), "larvae"]
    if len(changed) != 2:
        return []
    (younger, left), (older, came) = changed.items()
    moulted = older == younger + 1 and came == -left and came > 0
    return ["moulted", str(came), f"L{older}"] if moulted else []


def instar_of_the_missing(reader: Reader) -> None:
    """Read ``R3 settled found 1 L4`` as ``1 larva``, where all that were not seen there are in that
    instar, or were in the one before it; where nobody knows it of them it is noted."""
    code, words = reader.fields.get("container"), reader.words
    missing = [one for one in reader.bench.shortfalls if one.container == code]
    place = next((n for n, one in enumerate(words) if INSTAR.match(one.lower)), 0)
    if not place or words[place].quoted or not missing:
        return
    said = int(words[place].lower[1:])
    if all(one.stage == "larva" and (one.instar or said) in (said, said - 1) for one in missing):
        beside = [one.lower for one in (words[place - 1], *words[place + 1 : place + 2])]
        is_told = not ANIMALS.isdisjoint(beside)
        if not all(one.instar for one in missing):
            reader.set_aside(f"in L{said}")
        words[place : place + 1] = [] if is_told else [Word("larva", words[place].at)]
