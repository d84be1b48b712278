"""Labels for pins: one for each specimen kept, with what a drawer needs a hundred years from now.

Sizes are in mm and type is 4 point, as insect labels are printed (common practice, no source).
"""

from __future__ import annotations

import unicodedata
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, tzinfo
from math import ceil
from typing import BinaryIO

from rounds.bench.plurals import count
from rounds.bench.state import Bench
from rounds.entries import registry as k
from rounds.entries.base import Stage
from rounds.entries.registry import FounderIntake
from rounds.exchange.atomic_file import ExportRefused, chosen
from rounds.exchange.localities import Locality
from rounds.exchange.pages import page, text
from rounds.exchange.source import Source
from rounds.exchange.specimens import Specimen, origins_said, specimens
from rounds.tallies.rearing import parents_of
from rounds.views.words import literal, number

WIDTH_MM, HEIGHT_MM = 20, 11
TYPE_MM = 4 * 25.4 / 72  # 4 point
LINE_MM = 1.15 * TYPE_MM
PADDING_MM, BORDER_MM = 0.5, 0.1
ROOM_MM = WIDTH_MM - 2 * (PADDING_MM + BORDER_MM)
NO_CATCH = ("place not recorded", "catch date unknown")
ROMAN = ("i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix", "x", "xi", "xii")
MOST = 2_000  # labels of one page
WITHHELD = "exact place withheld"  # why, the label has no room for
MAX_PLACES = 2  # that a label has room for
# What a plant was to it: found on it in the wild is never told as what the keeper gave it.
_FED, FOUND_ON = "fed {} in captivity", " found on "
_PLANTS = {
    "egg found on": "egg found on {}",
    "larva found on": "larva found on {}",
    "fed on": _FED,
    "pupated": _FED,
    "adult reared on": _FED,
}
_STYLE = f"""
@page {{ margin: 8mm }}
body {{ margin: 0; font: 4pt/1.15 sans-serif; color: #000; background: #fff }}
main {{ display: flex; flex-wrap: wrap; gap: .6mm }}
main > div {{ box-sizing: border-box; width: {WIDTH_MM}mm; padding: {PADDING_MM}mm; border: {BORDER_MM}mm solid #000;
  break-inside: avoid }}
.pin {{ white-space: pre }}
.name {{ font-style: italic }}
"""  # noqa: E501


@dataclass(frozen=True, slots=True)
class Pin:
    """What stands on one specimen's label, line by line, its name last; ``number`` is its own."""

    lines: tuple[str, ...]
    name: str
    number: str
    withheld: bool

    @property
    def height_mm(self) -> int:
        """How high it is printed."""
        lines = sum(line.count("\n") + 1 for line in (*self.lines, self.name) if line)
        return max(HEIGHT_MM, ceil(lines * LINE_MM + 2 * (PADDING_MM + BORDER_MM)))


def write_pins(source: Source, codes: Iterable[str], out: BinaryIO) -> list[str]:
    """Write a page of pin labels, of the broods or founders named, else of all specimens kept; how
    many is told.

    Raises:
        Refused: no specimen was kept, or too many for one page.
    """
    kept = list(pins(source))
    if not kept:
        raise ExportRefused(
            "no specimen was kept yet; 'preserved' in the daybook is what makes one"
        )
    known = list(dict.fromkeys(code for code, _ in kept))
    wanted = {chosen(code, known, "specimen was kept of") for code in codes}
    result = [pin for code, pin in kept if not wanted or code in wanted]
    if len(result) > MOST:
        raise ExportRefused(
            f"{len(result)} labels are too many for one page; name broods, at most {MOST} specimens"
        )
    body = "\n".join(_drawn(pin) for pin in result)
    out.write(page("Labels for pins", _STYLE, f"<main>\n{body}\n</main>"))
    heights = Counter(pin.height_mm for pin in result)
    sizes = [
        f"{count(number, 'label')} of {WIDTH_MM} by {height} mm"
        for height, number in sorted(heights.items())
    ]
    texts = [f"{', '.join(sizes)}; print at 100 %, not fitted to the page"]
    without = sum(not pin.number for pin in result)
    if without:
        texts.append(f"{count(without, 'specimen')} without a number: none was given")
    withheld = sum(pin.withheld for pin in result)
    told = f"places generalised on {withheld} of them: {source.guard.which}"
    return [*texts, told] if withheld else texts


def pins(source: Source) -> Iterator[tuple[str, Pin]]:
    """A label for each specimen kept, parasitoids too, with the brood or founder it is or came out
    of."""
    hosts: dict[str, dict[str, set[str]]] = {}
    for evidence in source.tallies.evidence:
        if evidence.grade in _PLANTS:
            hosts.setdefault(evidence.brood, {}).setdefault(_PLANTS[evidence.grade], set()).add(
                evidence.plant
            )
    said = origins_said(source)
    for specimen in specimens(source):
        plants = [
            words.format(", ".join(sorted(found)))
            for words, found in hosts.get(specimen.code, {}).items()
        ]
        yield specimen.code, _pin(source, specimen, plants, said.get(specimen.code, ""))


def _pin(source: Source, specimen: Specimen, plants: list[str], stock: str) -> Pin:
    origins = source.guard.origins(specimen.code)
    zone, entry = source.moment.zone, specimen.entry
    lines = _caught(source, origins, zone)
    lines += [f"stock from {stock}"] if stock and not origins else []
    if isinstance(entry, k.Parasitoid):
        name = entry.taxon
        lines += [*_host_lines(source, specimen, entry, plants), f"em. {_day(entry.at, zone)}"]
        last = [specimen.number]
    else:
        name = source.name_of(specimen.code)
        lines += [
            *_reared(source.bench, specimen.code, specimen.stage, specimen.how),
            f"kept {_day(entry.at, zone)}" if specimen.stage != "adult" else "",
            f"em. {_span(*specimen.emerged, zone)}" if specimen.emerged else "",
            *plants,
        ]
        stage = "" if specimen.stage == "adult" else specimen.stage or ""
        last = [specimen.code, stage, specimen.sex, specimen.number]
    determiner = source.full_name(source.determiner(entry))
    lines += [
        " ".join(part for part in last if part),
        f"det. {determiner}" if determiner else "",
        entry.depository,
    ]
    return Pin(
        tuple(_wrapped(literal(line)) for line in lines if line),
        _wrapped(literal(name)),
        specimen.number,
        any(place.withheld for _, place in origins),
    )


# Of a host that was not laid here: it came out of none of these, but was taken as one.
_TAKEN_AS = {"ex ovo": "taken as egg", "ex larva": "taken as larva", "ex pupa": "taken as pupa"}


def _host_lines(
    source: Source, specimen: Specimen, entry: k.Parasitoid, plants: list[str]
) -> list[str]:
    """Of a parasitoid: its host, and where that is from; it stays without a name where the keeper
    gave it none."""
    instar = f"L{entry.instar}" if entry.instar else ""
    stage = " ".join(filter(None, (entry.stage or ("larva" if instar else ""), instar)))
    host = source.name_of(entry.brood) or "an unknown host"
    came = _reared(source.bench, entry.brood, specimen.stage, specimen.how)
    return [
        f"parasitoid, out of {f'{stage} of ' if stage else ''}{host} {entry.brood}".rstrip(),
        *(f"host {_TAKEN_AS.get(line, line)}" for line in came),
        *(f"host {plant}" for plant in plants if FOUND_ON in plant),
    ]


def _wrapped(line: str) -> str:
    return "\n".join(wrapped(line, ROOM_MM / TYPE_MM))


def wrapped(line: str, room_em: float) -> list[str]:
    """A line broken to as many as there is room for, by the widths of the widest common sans serif
    type.

    Args:
        room_em: how wide they may be, in parts of the height of the type.
    """
    found = [""]
    for word in line.split():
        longer = f"{found[-1]} {word}".lstrip()
        if _width(longer) <= room_em:
            found[-1] = longer
            continue
        found.append("")
        for sign in word:
            if _width(found[-1] + sign) > room_em:
                found.append("")
            found[-1] += sign
    return [part for part in found if part]


def _width(line: str) -> float:
    return sum(map(_width_em, line))


def _width_em(sign: str) -> float:
    """How wide a sign is at most, in parts of the height of the type; DejaVu Sans, rounded up."""
    if unicodedata.combining(sign):
        return 0.0
    if unicodedata.east_asian_width(sign) in "WF":
        return 1.1
    if sign in "iljI .,:;'|![]()-/":
        return 0.4
    if sign in "mwMW@%":
        return 1.0
    if sign.isascii():
        return 0.8 if sign.isupper() else 0.66
    return 1.0


def _caught(
    source: Source, origins: Sequence[tuple[FounderIntake, Locality]], zone: tzinfo
) -> list[str]:
    """Where, when and by whom its wild forebear was caught; where it can be of one of two, of each
    of them, of more of none."""
    ways = []
    for founder, place in origins:
        if founder.caught:
            day = f"caught {_day(founder.caught, zone)}"
        else:
            day = f"caught on or before {_day(founder.at, zone)}"
        where = place.place or (place.withheld and WITHHELD) or "place not recorded"
        region = ", ".join(part for part in (place.country, place.province) if part)
        by = source.full_name(founder.collector or founder.by)
        ways.append((region, where, coordinates(place), day, f"leg. {by}" if by else ""))
    ways = list(dict.fromkeys(ways))
    if len(ways) > MAX_PLACES:
        return [f"from one of {len(ways)} catches, not known which"]
    if len(ways) < 2:
        return [line for line in (ways[0] if ways else NO_CATCH) if line]
    return [
        "or: " * bool(position) + ", ".join(word for word in way if word)
        for position, way in enumerate(ways)
    ]


def _reared(bench: Bench, code: str, stage: Stage | None, how: str) -> list[str]:
    """From what it was reared; of what was laid here also by whom, that no one takes the place for
    where it was laid."""
    mothers = parents_of(bench, code).mothers
    if not mothers or (not how and stage != "egg"):
        return [how] if how else []
    return [f"{how or 'ovum'}, ex \N{FEMALE SIGN} {' or '.join(mothers)}, laid in captivity"]


def _span(first: datetime, last: datetime, zone: tzinfo) -> str:
    """A day, or the days between which it was."""
    return " to ".join(dict.fromkeys((_day(first, zone), _day(last, zone))))


def _day(at: datetime, zone: tzinfo) -> str:
    """``20 v 2026``: the month in Roman numerals, which no language takes for a day (common
    practice, no source)."""
    local = at.astimezone(zone)
    return f"{local.day} {ROMAN[local.month - 1]} {local.year}"


def coordinates(place: Locality) -> str:
    """``51.9471 N 0.2049 E +-50 m``; empty where they were not said."""
    if place.latitude is None or place.longitude is None:
        return ""
    north = f"{number(abs(place.latitude), 5)} {'N' if place.latitude >= 0 else 'S'}"
    east = f"{number(abs(place.longitude), 5)} {'E' if place.longitude >= 0 else 'W'}"
    around = ""
    if place.uncertainty_m is not None:
        around = f" \N{PLUS-MINUS SIGN}{number(place.uncertainty_m, 0)} m"
    return f"{north} {east}{around}"


def _drawn(pin: Pin) -> str:
    lines = [_shown(line) for line in pin.lines]
    lines += [f'<span class="name">{_shown(pin.name)}</span>'] if pin.name else []
    words = "<br>".join(lines)
    return f'<div style="height: {pin.height_mm}mm"><div class="pin">{words}</div></div>'


def _shown(line: str) -> str:
    return "\n".join(map(text, line.split("\n")))
