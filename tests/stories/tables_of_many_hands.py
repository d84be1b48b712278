"""Invented old tables of three shapes as different people write them, with what is true of them."""

from __future__ import annotations

import csv
import random
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

SPECIES = ("Pieris verrina", "Melitaea orata", "Brenthis lunaris")
PLANTS = ("Rumex crispus", "Viola arvensis", "Plantago lanceolata")
MONTHS = [
    "janv.",
    "févr.",
    "mars",
    "avr.",
    "mai",
    "juin",
    "juil.",
    "août",
    "sept.",
    "oct.",
    "nov.",
    "déc.",
]
Rows = list[list[object]]


@dataclass(frozen=True)
class BroodOf:
    """A brood: when it was laid, how many reached each stage, how long each took [days]."""

    number: int
    taxon: str
    laid: date
    counts: tuple[int, int, int, int]
    took: tuple[int, int, int]
    celsius: float
    plant: str

    def begun(self, place: int) -> date:
        """When a stage began, 0 for eggs to 3 for adults."""
        return self.laid + timedelta(sum(self.took[:place]))


@dataclass(frozen=True)
class AnimalOf:
    """An animal: how long each stage took that it went through [days]."""

    number: int
    laid: date
    took: tuple[int, ...]
    celsius: float

    @property
    def total(self) -> int | None:
        """Days from laying to emergence."""
        return sum(self.took) if len(self.took) == 3 else None

    def cell(self, place: int, unit: str = "", empty: str = "") -> object:
        """The days of a stage as they are written."""
        return f"{self.took[place]}{unit}" if place < len(self.took) else empty


def broods_of(size: int) -> list[BroodOf]:
    """Invented broods of several years."""
    dice, broods = random.Random(1), []
    for number in range(size):
        eggs = dice.randrange(12, 80)
        larvae = dice.randrange(eggs // 2, eggs + 1)
        pupae = dice.randrange(larvae // 2, larvae + 1)
        broods.append(
            BroodOf(
                number + 1,
                SPECIES[number % 3],
                date(2017 + number % 4, 5, 1) + timedelta(dice.randrange(60)),
                (eggs, larvae, pupae, dice.randrange(pupae // 2, pupae + 1)),
                (dice.randrange(5, 11), dice.randrange(22, 36), dice.randrange(9, 16)),
                dice.randrange(170, 250) / 10,
                dice.choice(PLANTS),
            )
        )
    return broods


def animals_of(size: int) -> list[AnimalOf]:
    """Invented animals of one species, of whom some died in each stage."""
    dice = random.Random(2)
    return [
        AnimalOf(
            number + 1,
            date(2020, 5, 3) + timedelta(7 * (number // 12)),
            (dice.randrange(4, 9), dice.randrange(18, 30), dice.randrange(8, 14))[
                : dice.choice((0, 1, 2, 3, 3, 3))
            ],
            (18.0, 21.5, 25.0)[number // 4 % 3],
        )
        for number in range(size)
    ]


def _written(rows: Sequence[Sequence[object]], path: Path, encoding: str, sign: str) -> None:
    if path.suffix == ".xlsx":
        import openpyxl

        book = openpyxl.Workbook()
        for row in rows:
            book.active.append(list(row))
        if "Eier" in rows[min(3, len(rows) - 1)]:
            book.active.merge_cells("A1:M1")
            book.active.merge_cells("C4:D4")
        book.save(path)
        return
    with path.open("w", encoding=encoding, newline="") as file:
        csv.writer(file, delimiter=sign).writerows(rows)


def german_broods(path: Path, broods: Sequence[BroodOf]) -> None:
    """A spreadsheet: titles above, names of columns in two lines, merged cells, a sum below."""
    rows: Rows = [["Zuchtprotokoll"], ["alle Angaben ohne Gewähr"], []]
    rows.append(
        ["Nr.", "Art", "Eier", "", "Raupen", "", "Puppen", "", "Falter", "", "Temp.", "Futter"]
    )
    rows.append(["", "", *["Datum", "Anzahl"] * 4, "°C", ""])
    for one in broods:
        cells: list[object] = []
        for place, number in enumerate(one.counts):
            cells += [one.begun(place), number]
        rows.append([f"Z{one.number}", one.taxon, *cells, one.celsius, one.plant])
    sums: list[object] = []
    for place in range(4):
        sums += ["", sum(one.counts[place] for one in broods)]
    rows += [[], ["Summe", "", *sums]]
    _written(rows, path, "utf-8", ";")


def french_broods(path: Path, broods: Sequence[BroodOf]) -> None:
    """Semicolons, decimal commas, months in words, units in cells, a species once for its block."""
    rows: Rows = [
        [
            "Élevage",
            "Espèce",
            "Date de ponte",
            "Nb œufs",
            "Éclosion",
            "Chenilles",
            "Nymphose",
            "Chrysalides",
            "Émergence",
            "Imagos",
            "T° moyenne",
            "Plante nourricière",
        ]
    ]
    above = ""
    for one in sorted(broods, key=lambda one: (one.taxon, one.laid)):
        days = [one.begun(place) for place in range(4)]
        dates = [f"{day.day} {MONTHS[day.month - 1]} {day.year}" for day in days]
        cells: list[object] = [dates[0], f"{one.counts[0]} œufs"]
        for place in (1, 2, 3):
            cells += [dates[place], one.counts[place]]
        taxon = one.taxon if one.taxon != above else ""
        celsius = f"{one.celsius:.1f} °C".replace(".", ",")
        rows.append([f"E{one.number}", taxon, *cells, celsius, one.plant])
        above = one.taxon
    rows.append([""] * 12)
    rows.append(["TOTAL", "", "", sum(one.counts[0] for one in broods), *[""] * 8])
    rows.append(["* chenilles comptées le soir", *[""] * 11])
    _written(rows, path, "cp1252", ";")


def english_broods(path: Path, broods: Sequence[BroodOf]) -> None:
    """Days and the dead of each stage instead of dates and counts; a share; a mean below."""
    rows: Rows = [["My rearing results", *[""] * 10]]
    rows.append(
        [
            "Brood #",
            "Species",
            "Eggs laid on",
            "No. eggs",
            "Egg stage (days)",
            "Hatch rate %",
            "Eggs failed",
            "Larval period (days)",
            "Larvae died",
            "Pupal period (d)",
            "Pupae died",
            "Mean temp",
        ]
    )
    for one in broods:
        eggs, larvae, pupae, adults = one.counts
        cells: list[object] = [one.took[0], round(100 * larvae / eggs), eggs - larvae]
        cells += [one.took[1], larvae - pupae, one.took[2], pupae - adults, f"{one.celsius}C"]
        rows.append([one.number, one.taxon, f"{one.laid:%d %B %Y}", eggs, *cells])
    rows.append(["Average", *[""] * 11])
    _written(rows, path, "utf-8", ",")


def english_animals(path: Path, animals: Sequence[AnimalOf]) -> None:
    """A spreadsheet that says whether they died, not in which stage."""
    rows: Rows = [
        [
            "ID",
            "Laying date",
            "Days as egg",
            "Days as larva",
            "Days as pupa",
            "Total",
            "Temperature",
            "Died?",
        ]
    ]
    for one in animals:
        took = [*one.took, None, None, None][:3]
        died = "no" if one.total else "yes"
        rows.append([one.number, one.laid, *took, one.total, one.celsius, died])
    rows += [[], ["mean", None, 6]]
    _written(rows, path, "utf-8", ";")


def german_animals(path: Path, animals: Sequence[AnimalOf]) -> None:
    """Units in cells, decimal commas, in which stage they died."""
    rows: Rows = [
        ["Einzelaufzucht"],
        [
            "Tier",
            "Eiablage",
            "Eidauer (Tage)",
            "Raupendauer (Tage)",
            "Puppendauer (Tage)",
            "Gesamtdauer",
            "Temp. °C",
            "gestorben als",
        ],
    ]
    for one in animals:
        took = [one.cell(place, " d", "-") for place in range(3)]
        stage = ("Ei", "Raupe", "Puppe", "")[len(one.took)]
        laid, celsius = f"{one.laid.day}.{one.laid.month}.20", str(one.celsius).replace(".", ",")
        rows.append([f"T{one.number:03}", laid, *took, one.total or "", celsius, stage])
    _written(rows, path, "utf-8", ";")


def french_animals(path: Path, animals: Sequence[AnimalOf]) -> None:
    """A ditto sign below each date; whether they died and in which stage in two columns."""
    rows: Rows = [["Suivi individuel"]]
    rows.append(
        [
            "N°",
            "Date ponte",
            "Durée œuf",
            "Durée chenille",
            "Durée chrysalide",
            "Durée totale",
            "T (°C)",
            "Mort (o/n)",
            "Stade de mort",
        ]
    )
    above = None
    for one in animals:
        laid = '"' if one.laid == above else f"{one.laid.day}.{one.laid.month}.{one.laid.year}"
        took = [one.cell(place, " j") for place in range(3)]
        stage = ("œuf", "chenille", "chrysalide", "")[len(one.took)]
        rows.append([one.number, laid, *took, one.total, one.celsius, "o" if stage else "n", stage])
        above = one.laid
    _written(rows, path, "utf-8", ";")


@dataclass(frozen=True)
class EventOf:
    """What happened on a day in a cup to how many."""

    day: date
    cup: str
    taxon: str
    what: str
    number: int | None


def events_of(cups: int) -> list[EventOf]:
    """Invented events of broods, one in each cup; all that emerge are let go."""
    dice, events = random.Random(3), []
    for number in range(cups):
        cup, taxon = f"C{number + 1}", SPECIES[number % 2]
        laid = date(2019, 5, 2) + timedelta(9 * number)
        eggs = dice.randrange(15, 50)
        larvae = dice.randrange(eggs * 2 // 3, eggs)
        hatched = laid + timedelta(dice.randrange(5, 9))
        pupae = larvae - dice.randrange(2, 5)
        adults = pupae - dice.randrange(1, 3)
        told = [
            (-(hatched - laid).days, "laid", eggs),
            (0, "hatched", larvae // 2),
            (1, "hatched", larvae - larvae // 2),
            (3, "fed", None),
            (8, "larvae died", larvae - pupae - 1),
            (12, "larva escaped", 1),
            (25, "pupated", pupae),
            (30, "note", None),
            (38, "emerged", adults),
            (45, "pupae died", pupae - adults),
            (46, "released", adults),
        ]
        events += [
            EventOf(hatched + timedelta(days), cup, taxon, what, many) for days, what, many in told
        ]
    return sorted(events, key=lambda one: one.day)


def german_events(path: Path, events: Sequence[EventOf]) -> None:
    """Each thing in a column of its own, the species with the eggs alone."""
    words = {
        "laid": "Eiablage",
        "hatched": "geschlüpft",
        "fed": "gefüttert",
        "larvae died": "Raupe tot",
        "larva escaped": "Raupe entwischt",
        "pupated": "verpuppt",
        "note": "Notiz",
        "emerged": "Falter geschlüpft",
        "pupae died": "Puppe tot",
        "released": "freigelassen",
    }
    rows: Rows = [["Datum", "Glas", "Art", "Ereignis", "Anzahl", "Bemerkung"]]
    for one in events:
        day = f"{one.day.day}.{one.day.month}.{one.day.year}"
        taxon = one.taxon if one.what == "laid" else ""
        note = "trocken gestellt" if one.what == "note" else ""
        rows.append([day, one.cup, taxon, words[one.what], one.number or "", note])
    _written([*rows, [""] * 6], path, "cp1252", ";")


def english_events(path: Path, events: Sequence[EventOf]) -> None:
    """A diary: dates of the spreadsheet, once for a day; numbers among the words; empty lines."""
    words = {
        "laid": "{} eggs laid",
        "hatched": "{} hatched",
        "fed": "fed violets",
        "larvae died": "{} larvae dead",
        "larva escaped": "1 larva escaped",
        "pupated": "{} pupated",
        "note": "pupae moved to dry moss",
        "emerged": "{} adults emerged",
        "pupae died": "{} pupae dead",
        "released": "released all adults",
    }
    rows: Rows = [["Rearing diary"], [], ["Date", "Cup", "Species", "What happened"]]
    above = None
    for one in events:
        if above is not None and above.month != one.day.month:
            rows.append([])
        day = one.day if one.day != above else None
        rows.append([day, one.cup, one.taxon, words[one.what].format(one.number)])
        above = one.day
    _written(rows, path, "utf-8", ";")


def french_events(path: Path, events: Sequence[EventOf]) -> None:
    """Years of two figures, units in cells, the stage in a column of its own, a sum below."""
    words = {
        "laid": ("ponte", ""),
        "hatched": ("éclosion", ""),
        "fed": ("nourri", ""),
        "larvae died": ("mort", "chenille"),
        "larva escaped": ("échappé", "chenille"),
        "pupated": ("nymphose", ""),
        "note": ("remarque", ""),
        "emerged": ("émergence", ""),
        "pupae died": ("mort", "chrysalide"),
        "released": ("relâché", ""),
    }
    rows: Rows = [["Jour", "Pot n°", "Espèce", "Quoi", "Stade", "Combien"]]
    for one in events:
        number = f"{one.number} ind." if one.number else ""
        rows.append([f"{one.day:%d/%m/%y}", one.cup, one.taxon, *words[one.what], number])
    rows.append(["total", "", "", "", "", sum(one.number or 0 for one in events)])
    _written(rows, path, "utf-8", ";")
