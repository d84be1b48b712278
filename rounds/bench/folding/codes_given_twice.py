"""One code that two laptops apart gave to two animals: the later one counts under its own.

What was said before they met names the one that is in its container. All laptops find the same, for
they fold the same lines in the same order.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from typing import TYPE_CHECKING, Any

from msgspec.structs import astuple, replace

from rounds.bench.codes import members, one_of
from rounds.bench.entry_ids import first_id
from rounds.bench.folding.cups_set_up_twice import (
    LONGEST,
    as_it_stands,
    code_of_animals,
    free_code,
    renamed,
    told_of,
)
from rounds.bench.state import Bench
from rounds.bench.taxon_names import with_latin_genus
from rounds.entries.base import Entry

if TYPE_CHECKING:
    from rounds.entries.arrivals import BroodBegun


def as_meant(bench: Bench, entry: Entry) -> Entry:
    """An entry with the codes by which the bench knows its containers and animals, and the capital
    of a genus that was written without; on the bench before it."""
    if entry.names_species:
        entry = _with_genus(entry, entry.names_species)
    if bench.relabel:
        _is_on_the_label(bench, entry)
    if entry.cups:
        entry = as_it_stands(bench, entry)
    if entry.gives_code:
        entry = _with_own_code(bench, entry)
    elif bench.given_twice:
        places = dict.fromkeys((getattr(entry, "container", ""), *entry.containers))
        entry = renamed(entry, entry.names_animals, lambda said: _meant(bench, said, places))
    return entry


def _with_genus(entry: Entry, field: str) -> Entry:
    name = getattr(entry, field)
    meant = with_latin_genus(name)
    return entry if meant == name else replace(entry, **{field: meant})


def first_given(bench: Bench, code: str) -> str:
    """The code under which an animal came in, as its lines have it: of one that got a code of its
    own the one that it shares."""
    return next((first for first, own in bench.given_twice.items() if code in own), code)


def is_written_anew(one: Entry, other: Entry) -> bool:
    """Whether two lines stand for one, as where two laptops apart bettered the same record."""
    return one.id != other.id and first_id(one.id) == first_id(other.id)


def relabelled(bench: Bench) -> Iterator[str]:
    """Which animals and containers go by another code than their label has, in words, each until a
    line says that it was written there."""
    for own in bench.relabel:
        if (cup := bench.containers.get(own)) is not None:
            yield told_of(bench, cup)
            continue
        first = first_given(bench, own)
        where = next((one.code for one in bench.standing() if _is_in(bench, own, one.code)), "")
        what = "animals" if own in bench.founders else "broods"
        whose = f"{where}'s is" if where else "the later one is"
        begun = bench.founders.get(own) or bench.broods.get(own)
        if begun is None:
            continue
        yield (
            f"two {what} had the code {first}, given on two laptops: {whose} {own} now"
            f" ({_named(begun.taxon)}typed by {begun.by or 'nobody named'}); write it on the label"
            f" and say so, as: {f'{where} ' if where else ''}note {own} is on the label"
        )


def _named(taxon: str) -> str:
    return f"{taxon}, " if taxon else ""


def _is_on_the_label(bench: Bench, entry: Entry) -> None:
    """A line that says a new code itself was written by one who knows of it; of a container, which
    every answer names, a note."""
    said = [text for text in astuple(entry) if isinstance(text, str)]
    noted = [getattr(entry, "text", "")]
    bench.relabel = [
        own
        for own in bench.relabel
        if not any(own in text for text in (noted if own in bench.containers else said))
    ]


def _with_own_code(bench: Bench, entry: Any) -> Entry:
    """One that comes in, or a brood that is begun, under a code that is another's gets its own."""
    code = str(entry.code)
    for one in (code, *bench.given_twice.get(code, ())):
        there = bench.founders.get(one) or bench.broods.get(one)
        if there is not None and is_written_anew(there, entry):
            return replace(entry, code=one) if one != code else entry  # type: ignore[no-any-return]
    known = bench.founders.get(code) or bench.broods.get(code)
    mothers: tuple[str, ...] = getattr(entry, "mothers", ())
    own = code
    if (bench.given_twice or entry.cups) and mothers and entry.id != getattr(known, "id", ""):
        lines = dict(entry.cups)
        decided = tuple(
            (code_of_animals(bench, mother, lines[mother]) if mother in lines else "")
            or _by_taxon(bench, mother, entry.taxon)
            for mother in mothers
        )
        if decided != mothers:
            own = _of_mothers(code, mothers, decided)
            entry = replace(entry, mothers=decided)
        elif any(mother in bench.given_twice and mother not in lines for mother in mothers):
            bench.begun_of_either[code] = entry
        known = bench.founders.get(own) or bench.broods.get(own)
    if known is not None and known.id != entry.id and not _is_same_brood(bench, own, entry):
        own = free_code(bench, own)
        bench.relabel.append(own)
    return _given(bench, code, own, entry)


def _is_same_brood(bench: Bench, code: str, entry: Any) -> bool:
    """Whether a brood was begun under its code already, of the same mothers."""
    known, mothers = bench.broods.get(code), getattr(entry, "mothers", ())
    return known is not None and bool(mothers) and set(known.mothers) == set(mothers)


def _given(bench: Bench, code: str, own: str, entry: Any) -> Entry:
    if own == code:
        return entry  # type: ignore[no-any-return]
    own_codes = bench.given_twice.setdefault(code, [])
    if own not in own_codes:
        own_codes.append(own)
    return replace(entry, code=own)  # type: ignore[no-any-return]


def _of_mothers(code: str, mothers: Iterable[str], own: Iterable[str]) -> str:
    """The code of a brood by the own code of its mother: ``W1/A`` of W1b is ``W1b/A``."""
    for mother, hers in zip(mothers, own, strict=True):
        if hers != mother and code.startswith(mother):
            return f"{hers}{code.removeprefix(mother)}"[:LONGEST]
    return code


def _by_taxon(bench: Bench, code: str, taxon: str) -> str:
    """Which of those with one code is of a taxon; the code where that tells nothing."""
    both: tuple[str, ...] = (code, *bench.given_twice.get(code, ()))
    of_taxon = [one for one in both if bench.taxon_of(one) == taxon]
    return of_taxon[0] if len(of_taxon) == 1 else code


def _meant(bench: Bench, said: str, places: Collection[str]) -> str:
    """Which of those with the same code a line names that is about these places."""
    if not said:
        return said
    return one_of(_one_meant(bench, code, places) for code in members(said))


def _one_meant(bench: Bench, code: str, places: Collection[str]) -> str:
    begun = bench.begun_of_either.get(code)
    if begun is not None:
        mothers = tuple(_here(bench, mother, places) for mother in begun.mothers)
        if all(mothers):
            del bench.begun_of_either[code]
            _begin(bench, begun, tuple(filter(None, mothers)))
    if code not in bench.given_twice:
        return code
    new = [one for one in bench.given_twice[code] if one in bench.broods]
    unnamed = [one for one in reversed(new) if one not in bench.tallies]
    return _here(bench, code, places) or next(iter(unnamed), code)


def _begin(bench: Bench, begun: BroodBegun, mothers: tuple[str, ...]) -> None:
    """A brood of one of two with one code, now that its animals tell of which."""
    known = bench.broods.get(begun.code)
    if known is None or mothers == known.mothers:
        return
    if known.id == begun.id:
        del bench.broods[begun.code]
    own = _of_mothers(begun.code, begun.mothers, mothers)
    entry: Any = replace(begun, mothers=mothers)
    if own in bench.broods and not _is_same_brood(bench, own, entry):
        own = free_code(bench, own)
    bench.broods.setdefault(own, _given(bench, begun.code, own, entry))  # type: ignore[arg-type]


def _here(bench: Bench, code: str, places: Collection[str]) -> str:
    """Which of those with one code is in these places, else was there; empty where none was."""
    both: tuple[str, ...] = (code, *bench.given_twice.get(code, ()))
    for is_there in (_is_in, _was_in):
        for place in places:
            for one in both:
                if is_there(bench, one, place):
                    return one
    return ""


def _is_in(bench: Bench, code: str, place: str) -> bool:
    container = bench.containers.get(place)
    return container is not None and any(code in lot.codes for lot in container.lots)


def _was_in(bench: Bench, code: str, place: str) -> bool:
    """Whether animals of a code, or the mothers of their brood, were in a container before."""
    container, brood = bench.containers.get(place), bench.broods.get(code)
    if container is None:
        return False
    theirs = {code, *(brood.mothers if brood else ())}
    return (
        any(theirs & set(lot.codes) for lot in container.lots)
        or any(theirs & set(held.mothers) for held in container.held)
        or not theirs.isdisjoint(container.stood)
        or any(one in bench.founders and bench.founders[one].container == place for one in theirs)
    )
