"""Whose brood eggs belong to: of the females that may have laid them, running or new."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from rounds.bench.codes import LETTERS
from rounds.bench.mates import WILD, Fathers, possible_fathers
from rounds.bench.state import Bench, Container
from rounds.bench.taxon_names import binomials
from rounds.bench.whose_eggs import (
    PossibleMothers,
    brood_taxon,
    by_species,
    females,
    first_seen,
    layers,
    narrowed,
)
from rounds.entries.base import Said
from rounds.entries.names import species_named
from rounds.entries.which_animals import UNMARKED


def eggs_with_a_brood(
    bench: Bench, container: Container, said: dict[str, Any], at: datetime
) -> tuple[dict[str, Any] | None, dict[str, Any]]:
    """The eggs that a search found, with their brood: of the females that may have laid them, or of
    the one that is named."""
    said |= _of_a_species(bench, container, said, at)
    seen = first_seen(container, said)
    possible_mothers = layers(bench, container, said, seen or at)
    at = seen if seen and said.get("confirmed") else at
    brood, among = str(said.get("brood") or ""), tuple(said.get("among") or ())
    if brood and not is_mother(bench, brood, possible_mothers.codes):
        return None, said
    if brood or among or said.get("which"):
        of_unmarked = said.get("which") == UNMARKED
        of_these = bench.unmarked(possible_mothers.codes) if of_unmarked else possible_mothers.codes
        mothers = (brood,) if brood else tuple(sorted(set(among))) or of_these
        told = said | {"among": (), "which": UNMARKED if of_unmarked else ""}
        if not (brood or among):
            told["laid_by"] = of_these
        return (
            _eggs_of(
                bench, container, told, narrowed(bench, container, possible_mothers, mothers), at
            )
            if mothers
            else (None, said)
        )
    if len(by_species(bench, possible_mothers.codes)) > 1:
        return None, said  # it is asked whose they are
    said["laid_by"] = possible_mothers.codes
    if not possible_mothers.kept:
        laid_here = sorted(
            {code for lot in container.lots_of("egg") for code in lot.codes}
            - set(possible_mothers.codes)
        )
        laid_here = [
            code
            for code in laid_here
            if not _has_new_father(bench, container, code)
            and not _of_other_females(bench, container, code, possible_mothers.codes)
            and not _ended_by_a_loss(bench, container, code, possible_mothers)
        ]
        if len(laid_here) == 1:
            return None, said | {"brood": laid_here[0]}
        if laid_here:
            theirs = [
                code
                for code in laid_here
                if possible_mothers.codes
                and code in bench.broods
                and bench.broods[code].mothers == possible_mothers.codes
            ]
            return None, said | {"brood": theirs[0] if len(theirs) == 1 else ""}
    if not possible_mothers.codes:  # larvae or pupae there laid none
        only = {lot.brood for lot in container.lots_of("egg")}
        return None, said | {"brood": next(iter(only)) if len(only) == 1 else ""}
    return _eggs_of(bench, container, said, possible_mothers, at)


def _of_a_species(bench: Bench, container: Container, said: Said, at: datetime) -> dict[str, Any]:
    """A search that names a species where a plant or a spot is named: the eggs are of its
    females."""
    named = {
        field: species
        for field in ("plant", "where")
        if (species := species_named(bench, str(said.get(field) or "")))
    }
    if not named or said.get("brood") or said.get("among"):
        return {}
    none: dict[str, Any] = dict.fromkeys(named, "")
    there = layers(bench, container, {**said, **none}, at).codes
    hers = tuple(
        code
        for code in there
        if all(binomials(bench.taxon_of(code)) & binomials(one) for one in named.values())
    )
    return none | {"among": hers} if hers else {}


def is_mother(bench: Bench, code: str, mothers: Sequence[str]) -> bool:
    """Whether a code names a female that lays, and so not the brood that her eggs are of."""
    founder = bench.founders.get(code)
    return code in mothers or (
        founder is not None and founder.stage == "adult" and founder.sex != "male"
    )


def _eggs_of(
    bench: Bench,
    container: Container,
    said: dict[str, Any],
    found: PossibleMothers,
    at: datetime,
) -> tuple[dict[str, Any] | None, dict[str, Any]]:
    """Eggs of these mothers, on kept stems where those are named: of the brood that they lay now,
    else of a new one."""
    mothers, lots, laid_to = found.codes, found.kept, found.until or at
    fathers = possible_fathers(
        bench, mothers, () if lots else females(container), laid_to, found.since
    )
    known = [code for code, brood in bench.broods.items() if brood.mothers == mothers]
    same = [code for code in known if set(bench.broods[code].fathers) == set(fathers.codes)]
    running = same or [code for code in known if not _is_by_others(bench.broods[code], fathers)]
    # what she lays is hers, whoever comes or leaves
    one_animal = len(mothers) == 1 and mothers[0] in bench.founders
    if not lots and not bench.founders.keys() & set(mothers):
        # sisters that nobody can tell apart may lay elsewhere too, with others
        running = [code for code in running if _is_by_these(bench.broods[code], fathers)]
    changed = None if lots or one_animal else _females_changed(container)
    if changed is not None:
        running = [code for code in running if bench.broods[code].at >= changed]
        running = [code for code in running if not _ended_by_a_loss(bench, container, code, found)]
    if lots and not one_animal:
        running = [code for code in running if began_before(bench.broods[code], laid_to)]
    if running:
        return None, said | {"brood": running[-1]}
    code = next_brood_code(bench, mothers)
    able = fathers.newest if known else fathers.since
    laid_from = max(filter(None, (found.since, able)), default=laid_to)
    begun = {
        "code": code,
        "taxon": brood_taxon(bench, mothers),
        "mothers": mothers,
        "fathers": fathers.codes,
        "laid_from": min(laid_from, laid_to),
        "laid_to": laid_to,
    }
    return begun, said | {"brood": code}


def began_before(brood: Any, out: datetime) -> bool:
    """Whether a brood may lie on stems that came out then: one begun when they came out, or later,
    was laid on others."""
    return (
        brood.laid_from is None or brood.laid_from < out or brood.laid_from == brood.laid_to == out
    )


def _females_left(container: Container) -> list[datetime]:
    """When females last left a container, known which or not, of each way to leave it."""
    left = [entry for entry in container.last.values() if entry.takes]
    return [
        entry.at
        for entry in left
        if getattr(entry, "stage", None) in (None, "adult")
        and getattr(entry, "sex", None) != "male"
    ]


def _ended_by_a_loss(bench: Bench, container: Container, code: str, found: PossibleMothers) -> bool:
    """Whether a brood was laid before a female left, and all that is found now after it: one less
    laid this."""
    laid_from, since = bench.broods[code].laid_from if code in bench.broods else None, found.since
    return bool(
        laid_from and since and any(laid_from < left <= since for left in _females_left(container))
    )


def _females_changed(container: Container) -> datetime | None:
    """When a female last came to a container or left it, known which or not; None before any
    did."""
    times = _females_left(container)
    times += [lot.came for lot in females(container) if lot.came is not None]
    return max(times, default=None)


def _of_other_females(bench: Bench, container: Container, code: str, adults: Sequence[str]) -> bool:
    """Whether the eggs that lie here are of other females than those that stand here now, or of
    more of them."""
    brood = bench.broods.get(code)
    if brood is None or not adults:
        return False
    changed = _females_changed(container)
    return set(brood.mothers) != set(adults) or (changed is not None and changed > brood.at)


def _is_by_others(brood: Any, fathers: Fathers) -> bool:
    """Whether a male that is not among a brood's fathers came to its mothers after it was begun, or
    all of them are others."""
    if not set(fathers.codes) - {WILD, *brood.fathers}:
        return False
    all_others = bool(brood.fathers) and not {WILD, *fathers.codes} & set(brood.fathers)
    return all_others or (fathers.newest is not None and fathers.newest > brood.at)


def _is_by_these(brood: Any, fathers: Fathers) -> bool:
    """Whether a brood's fathers are these; of one that a keeper named without saying since when it
    was laid they are not known, and may be."""
    named_alone = not brood.fathers and brood.laid_from is None
    return named_alone or set(brood.fathers) == set(fathers.codes)


def _has_new_father(bench: Bench, container: Container, code: str) -> bool:
    brood = bench.broods.get(code)
    return brood is not None and _is_by_others(
        brood, possible_fathers(bench, brood.mothers, females(container))
    )


def next_brood_code(bench: Bench, mothers: tuple[str, ...]) -> str:
    """The next unused brood code of these mothers: the first one's code, '+' where several, and a
    letter.

    A founder's broods are ``QUE-26-03/A``, ``/B`` and so on; the broods of a reared brood add a
    letter: ``QUE-26-03/AA``.
    """
    first = mothers[0]
    stem = first if "/" in first else f"{first}{'+' if len(mothers) > 1 else ''}/"
    if "/" in first and len(mothers) > 1:
        stem += "+"
    for letter in LETTERS:
        if f"{stem}{letter}" not in bench.broods:
            return f"{stem}{letter}"
    number = 2
    while f"{stem}{number}" in bench.broods:
        number += 1
    return f"{stem}{number}"
