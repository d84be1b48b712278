"""Labels for pins: one for each specimen kept, with what a drawer needs a hundred years from now.

Sizes are in mm and type is 4 point, as insect labels are printed (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, tzinfo
from typing import BinaryIO

from rounds.bench.codes import one_of
from rounds.bench.plurals import count
from rounds.bench.state import Bench, Lot
from rounds.entries import registry as k
from rounds.entries.base import Stage
from rounds.entries.registry import FounderIntake
from rounds.exchange.atomic_file import ExportRefused
from rounds.exchange.localities import Locality
from rounds.exchange.pages import page, text
from rounds.exchange.source import Source
from rounds.tallies.rearing import first_stages, parents_of, reared
from rounds.tallies.replay import replay
from rounds.views.words import number

WIDTH_MM, HEIGHT_MM = 20, 11
ROMAN = ("i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix", "x", "xi", "xii")
MOST = 2_000  # labels of one page
WITHHELD = "exact place withheld"  # why, the label has no room for
MAX_PLACES = 2  # that a label has room for
# What a plant was to it: found on it in the wild is never told as what the keeper gave it.
_FED = "fed {} in captivity"
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
.pin {{ box-sizing: border-box; width: {WIDTH_MM}mm; min-height: {HEIGHT_MM}mm; padding: .5mm; border: .1mm solid #000;
  overflow-wrap: anywhere; break-inside: avoid }}
.name {{ font-style: italic }}
"""  # noqa: E501


@dataclass(frozen=True, slots=True)
class Pin:
    """What stands on one specimen's label, line by line, and of how many specimens."""

    lines: tuple[str, ...]
    name: str
    number: int
    withheld: bool


def write_pins(source: Source, broods: Iterable[str], out: BinaryIO) -> list[str]:
    """Write a page of pin labels, of the broods or founders named, else of all specimens kept; how
    many is told.

    Raises:
        Refused: no specimen was kept, or too many for one page.
    """
    wanted = set(broods)
    result = [pin for code, pin in pins(source) if not wanted or code in wanted]
    total = sum(pin.number for pin in result)
    if not result:
        raise ExportRefused(
            "no specimen of that kind was kept; 'preserved' in the daybook is what makes one"
        )
    if total > MOST:
        raise ExportRefused(
            f"{total} labels are too many for one page; name broods, at most {MOST} specimens"
        )
    drawn = "\n".join(_drawn(pin) for pin in result for _ in range(pin.number))
    out.write(page("Labels for pins", _STYLE, f"<main>\n{drawn}\n</main>"))
    texts = [
        f"{count(total, 'label')} of {WIDTH_MM} by {HEIGHT_MM} mm; print at 100 %, not fitted to"
        " the page"
    ]
    withheld = sum(pin.number for pin in result if pin.withheld)
    return (
        [*texts, f"places generalised on {withheld} of them: protected taxa"] if withheld else texts
    )


def pins(source: Source) -> Iterator[tuple[str, Pin]]:
    """A label for each entry of specimens kept, parasitoids too, with the brood or founder it is or
    came out of."""
    stages = first_stages(source.tallies.course)
    hosts: dict[str, dict[str, set[str]]] = {}
    for evidence in source.tallies.evidence:
        if evidence.grade in _PLANTS:
            hosts.setdefault(evidence.brood, {}).setdefault(_PLANTS[evidence.grade], set()).add(
                evidence.plant
            )
    for before, entry in replay(source.counting):
        if isinstance(entry, k.Preserved):
            code = entry.brood or one_of(entry.among) or _only_lot(before, entry).brood
            stage = entry.stage or _only_lot(before, entry).stage
            plants = [
                words.format(", ".join(sorted(found)))
                for words, found in hosts.get(code, {}).items()
            ]
            yield (
                code,
                _pin(source, entry, code, stage, reared(stages, code, stage), plants, before),
            )
        elif isinstance(entry, k.Parasitoid) and (entry.voucher or entry.depository):
            yield (
                entry.brood,
                _parasitoid_pin(source, entry, reared(stages, entry.brood, entry.stage or "adult")),
            )


def _only_lot(before: Bench, entry: k.Preserved) -> Lot:
    """The animals that it was one of; where the bench knows none, an adult of nothing."""
    container = before.containers.get(entry.container)
    lots = container.lots_of(entry.stage, entry.brood, entry.sex) if container else []
    return lots[0] if lots else Lot("", "adult", 0)


def _pin(
    source: Source,
    entry: k.Preserved,
    code: str,
    stage: Stage,
    how: str,
    plants: list[str],
    before: Bench,
) -> Pin:
    origins = source.guard.origins(code)
    founders, places = [founder for founder, _ in origins], [place for _, place in origins]
    zone = source.moment.zone
    lines = [
        *_caught(founders, places, zone),
        *_reared(source.bench, code, stage, how),
        f"kept {_day(entry.at, zone)}" if stage != "adult" else "",
        (
            f"em. {_day(emerged, zone)}"
            if how and stage == "adult" and (emerged := _emerged(before, entry, code))
            else ""
        ),
        *plants,
        " ".join(
            part
            for part in (
                code,
                "" if stage == "adult" else stage,
                _sex(source, entry, code, stage),
                entry.voucher,
            )
            if part
        ),
    ]
    return Pin(
        tuple(line for line in lines if line),
        source.name_of(code),
        entry.number,
        any(place.withheld for place in places),
    )


def _parasitoid_pin(source: Source, entry: k.Parasitoid, how: str) -> Pin:
    """Of a parasitoid: its host, and where that is from; it stays without a name where the keeper
    gave it none."""
    origins, zone = source.guard.origins(entry.brood), source.moment.zone
    instar = f" L{entry.instar}" if entry.instar else ""
    host = " ".join(
        word
        for word in (
            f"{entry.stage or 'host'}{instar} of",
            source.name_of(entry.brood) or "unknown",
            entry.brood,
        )
        if word
    )
    lines = [
        *_caught([founder for founder, _ in origins], [place for _, place in origins], zone),
        f"parasitoid, out of {host}",
        *(
            f"host {line}"
            for line in _reared(source.bench, entry.brood, entry.stage or "adult", how)
        ),
        f"em. {_day(entry.at, zone)}",
        entry.voucher,
    ]
    return Pin(
        tuple(line for line in lines if line),
        entry.taxon,
        entry.number,
        any(place.withheld for _, place in origins),
    )


def _sex(source: Source, entry: k.Preserved, code: str, stage: Stage) -> str:
    """As it was said when it was kept, else of a wild animal as it was brought in."""
    founder = source.bench.founders.get(code)
    return entry.sex or (founder.sex if founder and founder.stage == stage else "")


def _caught(
    founders: Sequence[FounderIntake], places: Sequence[Locality], zone: tzinfo
) -> list[str]:
    """Where, when and by whom its wild forebear was caught; where it can be of one of two, of each
    of them, of more of none."""
    ways = []
    for founder, place in zip(founders, places, strict=True):
        day = f"caught {_day(founder.caught, zone)}" if founder.caught else "catch date not said"
        where = place.place or (place.withheld and WITHHELD) or "place not said"
        ways.append((where, coordinates(place), day, f"leg. {founder.collector or founder.by}"))
    ways = list(dict.fromkeys(ways))
    if len(ways) > MAX_PLACES:
        return [f"from one of {len(ways)} catches, not known which"]
    if len(ways) < 2:
        return list(ways[0] if ways else ("place not said", "catch date not said"))
    return [
        "or: " * bool(position) + ", ".join(word for word in way if word)
        for position, way in enumerate(ways)
    ]


def _reared(bench: Bench, code: str, stage: Stage, how: str) -> list[str]:
    """From what it was reared; of what was laid here also by whom, that no one takes the place for
    where it was laid."""
    mothers = parents_of(bench, code).mothers
    if not mothers or (not how and stage != "egg"):
        return [how] if how else []
    return [f"{how or 'ovum'}, ex \N{FEMALE SIGN} {' or '.join(mothers)}, laid in captivity"]


def _emerged(before: Bench, entry: k.Preserved, code: str) -> datetime | None:
    """When the animals that were kept had come to their stage in that container."""
    container = before.containers.get(entry.container)
    since = (
        [lot.since for lot in container.lots_of("adult", code, entry.sex) if lot.since]
        if container
        else []
    )
    return min(since, default=None)


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
    around = (
        f" \N{PLUS-MINUS SIGN}{number(place.uncertainty_m, 0)} m"
        if place.uncertainty_m is not None
        else ""
    )
    return f"{north} {east}{around}"


def _drawn(pin: Pin) -> str:
    name = f'<br><span class="name">{text(pin.name)}</span>' if pin.name else ""
    return f'<div class="pin">{"<br>".join(text(line) for line in pin.lines)}{name}</div>'
