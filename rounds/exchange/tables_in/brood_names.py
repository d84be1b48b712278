"""Of which brood each row that tells a whole life is, where the table does not name it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from rounds.bench.codes import LETTERS
from rounds.exchange.tables_in.columns import CENSUS
from rounds.exchange.tables_in.life_rows import LifeRow, RowLife
from rounds.exchange.tables_in.record import LONGEST_LAYING, is_code, short_name
from rounds.exchange.tables_in.rows import TableRow
from rounds.exchange.tables_in.values import amount
from rounds.exchange.tables_in.vocabulary import code_key


def named_rows(
    rows: Sequence[TableRow],
    lives: Sequence[RowLife],
    taxa: Sequence[str],
    plants: Sequence[str],
    taken: Container[str] = frozenset(),
) -> list[LifeRow]:
    """Each row with its brood and its container, as the table names them; else a row of several
    animals is a brood, called by its mother, its container, or its species and year.

    Animals without a brood are one where species, mother and day of laying are the same, the year
    where that is not told; at each temperature, where those of a day were kept at several.

    Args:
        taken: codes, in small letters, that none may be called that is made up here.
    """
    groups: dict[tuple[object, ...], str] = {}
    in_year: Counter[tuple[str, int]] = Counter()
    own = _BroodNames()
    is_of_animals = any(row.text("animal") for row in rows)
    names: dict[int, str] = {}
    read = list(zip(rows, lives, taxa, plants, strict=True))
    regimes: dict[tuple[object, ...], set[float | None]] = {}
    for row, life, taxon, _ in read:
        regimes.setdefault(_laying(row, life, taxon), set()).add(_kept_at(row))
    for row, life, taxon, _ in sorted(read, key=lambda one: one[1].begun):
        brood, year = row.text("brood"), life.begun.year
        is_brood = not is_of_animals and (life.number != 1 or any(map(row.text, CENSUS)))
        if not brood and is_brood:
            brood = own.name(row, life, taxon)
        if not brood:
            laying = _laying(row, life, taxon)
            key = laying if None in regimes[laying] else (*laying, _kept_at(row))
            if is_brood or key not in groups:
                groups[key] = _made_up(taxon, year, in_year, taken)
            brood = groups[key]
        names[row.number] = brood
    broods_of: dict[str, set[str]] = {}
    for row in rows:
        broods_of.setdefault(code_key(row.text("animal")), set()).add(names[row.number])

    def animal(row: TableRow) -> str:
        """What an animal is called: with its brood, where those of several go by its number."""
        name = row.text("animal")
        is_one = not name.isdecimal() or len(broods_of[code_key(name)]) == 1
        return name if is_one else f"{names[row.number]}-{name}"

    return [
        LifeRow(
            row,
            life,
            taxon,
            plant,
            names[row.number],
            animal(row) or row.text("container") or names[row.number],
        )
        for row, life, taxon, plant in read
    ]


def _laying(row: TableRow, life: RowLife, taxon: str) -> tuple[object, ...]:
    """Of whose eggs of which day an animal is, as far as it is told."""
    day = life.begun.date() if life.laid else life.begun.year
    return taxon, code_key(row.text("mother")), day


def apart_by_warmth(rows: Iterable[LifeRow]) -> list[str]:
    """Each laying whose animals are a brood at each temperature, with these broods, in words."""
    of: dict[tuple[object, ...], dict[str, float | None]] = {}
    called: dict[tuple[object, ...], str] = {}
    for one in rows:
        if not one.row.text("brood"):
            laying = _laying(one.row, one.life, one.taxon)
            of.setdefault(laying, {})[one.brood] = _kept_at(one.row)
            called.setdefault(laying, one.row.text("mother") or one.taxon)
    return [
        f"{called[laying]} ({', '.join(f'{brood} at {at:g} C' for brood, at in kept.items())})"
        for laying, kept in of.items()
        if len({*kept.values()} - {None}) == len(kept) > 1
    ]


def _kept_at(row: TableRow) -> float | None:
    """At which temperature [C] it was kept; None where nobody wrote it as a number."""
    return row.amount("temperature") if amount(row.text("temperature")) else None


@dataclass
class _Called:
    """A brood that goes by a name of the table; ``since`` is its latest instant so far."""

    taxon: str
    since: datetime
    line: int
    name: str


def called_again(
    rows: Sequence[tuple[TableRow, datetime, str]], apart: timedelta
) -> dict[int, tuple[str, int]]:
    """The rows of broods that go by the name of an earlier one, of another species or so long
    after it: by their line, a name of their own and the first line of the earlier one.

    Args:
        rows: each with its instant and its species; the last may be empty.
    """
    called: dict[str, list[_Called]] = {}
    others: dict[int, tuple[str, int]] = {}
    for row, at, taxon in sorted(rows, key=lambda one: one[1]):
        name = row.text("brood")
        if not name:
            continue
        known = called.setdefault(code_key(name), [])
        own = next(
            (
                one
                for one in reversed(known)
                if taxon in ("", one.taxon) and at - one.since <= apart
            ),
            None,
        )
        if own is None:
            again = f".{len(known) + 1}" if known else ""
            own = _Called(taxon, at, row.number, f"{name}{again}")
            known.append(own)
        if own is not known[0]:
            others[row.number] = own.name, known[0].line
        own.taxon, own.since = own.taxon or taxon, at
    return others


class _BroodNames:
    """Names of broods that a table does not name: ``F1/A`` and ``F1/B`` of mother F1, ``3/24/A`` of
    another female who goes by 3 in another year; ``K1`` and ``K1/B`` of a container."""

    def __init__(self) -> None:
        self._owners: dict[str, list[tuple[str, datetime]]] = {}
        self._begun: dict[tuple[str, int], list[datetime]] = {}

    def name(self, row: TableRow, life: RowLife, taxon: str) -> str:
        """The name of the brood of a row, the rows given in the order of laying; empty where
        neither a mother nor a container is told. What one laid on one day is one brood."""
        mother = row.text("mother") if is_code(row.text("mother")) else ""
        called = mother or row.text("container")
        if not called:
            return ""
        owners = self._owners.setdefault(code_key(called), [])
        owner = next(
            (
                place
                for place, (species, at) in enumerate(owners)
                if species == taxon and life.begun - at < LONGEST_LAYING
            ),
            len(owners),
        )
        owners += [(taxon, life.begun)] if owner == len(owners) else []
        base = f"{called}/{owners[owner][1].year % 100:02d}" if owner else called
        begun = self._begun.setdefault((code_key(called), owner), [])
        begun += [life.begun] if life.begun not in begun else []
        place = begun.index(life.begun)
        return base if not (mother or place) else f"{base}/{_letters(place)}"


def _letters(place: int) -> str:
    """A, B ... Z, AA ..., without those that are mistaken for numbers."""
    more, letter = divmod(place, len(LETTERS))
    return (_letters(more - 1) if more else "") + LETTERS[letter]


def _made_up(
    taxon: str, year: int, in_year: Counter[tuple[str, int]], taken: Container[str]
) -> str:
    """The next free code for a brood that the table does not name: SELE24.1."""
    while True:
        in_year[taxon, year] += 1
        code = f"{short_name(taxon) or 'BROOD'}{year % 100:02d}.{in_year[taxon, year]}"
        if code.casefold() not in taken:
            return code
