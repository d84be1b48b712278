"""Where something was caught, as a table has it: one column of coordinates, or one each of latitude
and longitude, in any notation that a typed line may have; told apart and made plain degrees."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from rounds.exchange.loggers.cells import number_of
from rounds.exchange.tables_in.values import is_nothing
from rounds.exchange.tables_in.vocabulary import CAUGHT_HEADING, HEADINGS, bare, has
from rounds.surroundings.coordinates import Coordinates, angle_of, coordinates_in

_OF_BOTH = (
    "coordinat*, koordinat*, coordonnee*, coordenada*, coordinaten, gps*, lat lon, lat long,"
    " geogr breite lange, geographische breite lange"
)
# words that mean how wide and how long something is too: of a place where its degrees are marked,
# or both are so fine and another column tells of a place
_WIDTH_AND_LENGTH = (("breite", "lange"), ("breedte", "lengte"), ("lat", "long"))
_FINE = re.compile(r"[-+]?\d{1,3}[.,]\d{4,}")  # no size is measured so finely, but a mean can be
_OF_A_PLACE = (
    f"{CAUGHT_HEADING}, place*, site*, localit*, ort, *fundort*, herkunft, land, bundesland,"
    " country*, province*, region*, altitude*, elevation*, *hohe, lieu*, provenance*, lugar*,"
    " sitio*, plaats*, vindplaats*, herkomst*"
)
_DEGREES = re.compile(r"[-+]?\d{1,3}([.,]\d+)?")  # a spreadsheet leaves noughts at the end out
# where the heading is German, O is east; elsewhere it may be west
_GERMAN = "lange, langengrad*, geogr lange, geographische lange, koordinat*, breite lange"
_EAST = re.compile(r"(?<![^\W\d])O(?![^\W\d])")
_SIDES = {"latitude": "NS", "longitude": "EW"}

Cells = Sequence[str]


def with_degrees(
    headings: Sequence[str], rows: Sequence[Cells]
) -> tuple[list[str], list[Cells], str]:
    """The headings and rows of a table, with a column of latitudes and one of longitudes; and what
    was taken for them that may be something else, or the other way round, in words."""
    names = [bare(heading) for heading in headings]
    known = ", ".join(
        (_OF_BOTH, *map(", ".join, _WIDTH_AND_LENGTH), *(HEADINGS[one] for one in _SIDES))
    )
    if not any(has(known, name) for name in names):
        return list(headings), list(rows), ""
    told = ""
    columns: list[tuple[str, Cells]] = []
    for heading, cells in zip(headings, zip(*rows, strict=True), strict=True):
        is_german = has(_GERMAN, bare(heading))
        columns += _parted(heading, [_EAST.sub("E", one) for one in cells] if is_german else cells)
    names = [bare(heading) for heading, _ in columns]
    for pair in _WIDTH_AND_LENGTH:
        at = [names.index(name) for name in pair if name in names]
        if len(at) != len(pair) or not all(_are_of_a_place(columns[one][1]) for one in at):
            continue
        called = [columns[one][0] for one in at]
        are_marked = any(number_of(cell) is None for one in at for cell in _filled(columns[one][1]))
        is_clear = are_marked or pair == ("lat", "long")
        if is_clear or any(has(_OF_A_PLACE, name) for name in names):
            told = "" if is_clear else f"; {called[0]} and {called[1]} are read as a place"
            for one, of_what in zip(at, _SIDES, strict=True):
                columns[one] = f"{columns[one][0]} ({of_what})", columns[one][1]
        else:
            told = (
                f"; {called[0]} and {called[1]} may be sizes; if they are a place, say --map"
                f" '{called[0]}=latitude' --map '{called[1]}=longitude'"
            )
    made = [(heading, _plain(heading, cells)) for heading, cells in columns]
    return (
        [heading for heading, _ in made],
        list(zip(*(cells for _, cells in made), strict=True)),
        told,
    )


def _parted(heading: str, cells: Cells) -> list[tuple[str, Cells]]:
    """A column of coordinates as two; any other as it is."""
    if not has(_OF_BOTH, bare(heading)):
        return [(heading, cells)]
    found = [None if is_nothing(cell) else _whole(cell) for cell in cells]
    others = [
        "" if one or is_nothing(cell) else cell for one, cell in zip(found, cells, strict=True)
    ]
    # one that names both would be taken for each
    called = "coordinates" if any(has(HEADINGS[one], bare(heading)) for one in _SIDES) else heading
    if len(_filled(others)) >= sum(map(bool, found)):
        return [(heading, cells)]
    return [
        *([(heading, others)] if any(others) else []),
        *(
            (
                f"{called} ({name})",
                ["" if one is None else _written(getattr(one, name)) for one in found],
            )
            for name in _SIDES
        ),
    ]


def _whole(cell: str) -> Coordinates | None:
    """The coordinates that a cell is, and nothing besides."""
    try:
        found = coordinates_in(cell)
    except ValueError:
        return None
    is_all = found and (found.begin, found.end) == (0, len(cell)) and found.uncertainty_m is None
    return found if is_all else None


def _are_of_a_place(cells: Iterable[str]) -> bool:
    filled = _filled(cells)
    is_fine = any(map(_FINE.fullmatch, filled))
    return bool(filled) and all(
        (is_fine and _DEGREES.fullmatch(cell))
        or any(angle_of(cell, one) is not None for one in _SIDES.values())
        for cell in filled
    )


def _filled(cells: Iterable[str]) -> list[str]:
    return [cell for cell in cells if not is_nothing(cell)]


def _plain(heading: str, cells: Cells) -> Cells:
    """The cells of a column of latitudes or longitudes as plain degrees, those that are none as
    they are."""
    of_what = next((name for name in _SIDES if has(HEADINGS[name], bare(heading))), "")
    if not of_what:
        return cells
    angles = [
        None if number_of(cell) is not None else angle_of(cell, _SIDES[of_what]) for cell in cells
    ]
    return [cell if one is None else _written(one) for one, cell in zip(angles, cells, strict=True)]


def _written(degrees: float) -> str:
    return f"{degrees:.6f}"
