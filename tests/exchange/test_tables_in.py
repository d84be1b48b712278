"""Old tables: which column is what in five languages, dates in any form, any CSV, and what it cannot be."""

from __future__ import annotations

import csv
import io
import random
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from zoneinfo import ZoneInfo

import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rounds.app.desk import Recorded
from rounds.app.startup import open_desk
from rounds.exchange.tables_in.columns import FIELDS, columns_of
from rounds.exchange.tables_in.dates import DateReader, date_order, looks_like_date
from rounds.exchange.tables_in.events import action_of
from rounds.exchange.tables_in.sheet import read_sheet
from rounds.exchange.tables_in.table_import import ImportOptions, read_table, to_take_back
from rounds.exchange.tables_in.unclear import UnclearTable
from rounds.exchange.tables_in.values import amount, instar_in, sex_in, spans_in, yes_or_no

ZONE = ZoneInfo("Europe/Paris")
TODAY = date(2027, 5, 1)

# A heading, cells below it, the field; the words are those of keepers of each language, from memory.
HEADINGS = [
    ("laid", ["2024-05-03"], "laid"),
    ("Laying date", ["3/5/2024"], "laid"),
    ("Eiablage", ["3.5.24"], "laid"),
    ("date de ponte", ["3/5/2024"], "laid"),
    ("Fecha de puesta", ["3/5/2024"], "laid"),
    ("Eileg", ["3-5-2024"], "laid"),
    ("hatch date", ["2024-05-03"], "hatched"),
    ("Schlupf der Raupen", ["3.5.24"], "hatched"),
    ("Pupation", ["2024-05-03"], "pupated"),
    ("Verpuppung am", ["3.5.24"], "pupated"),
    ("nymphose", ["3/5/2024"], "pupated"),
    ("Pupación", ["3/5/2024"], "pupated"),
    ("Verpopping", ["3-5-2024"], "pupated"),
    ("Emergence", ["2024-05-03"], "emerged"),
    ("Falterschlupf", ["3.5.24"], "emerged"),
    ("émergence", ["3/5/2024"], "emerged"),
    ("emergencia adulto", ["3/5/2024"], "emerged"),
    ("died on", ["2024-05-03"], "died"),
    ("Todesdatum gestorben", ["3.5.24"], "died"),
    ("eggs", ["30", "41"], "eggs"),
    ("No. of eggs", ["30"], "eggs"),
    ("Anzahl Eier", ["30"], "eggs"),
    ("nombre d'œufs", ["30"], "eggs"),
    ("Número de huevos", ["30"], "eggs"),
    ("aantal eitjes", ["30"], "eggs"),
    ("larvae", ["30"], "larvae"),
    ("Raupen", ["30"], "larvae"),
    ("chenilles", ["30"], "larvae"),
    ("orugas", ["30"], "larvae"),
    ("rupsen", ["30"], "larvae"),
    ("Puppen", ["30"], "pupae"),
    ("chrysalides", ["30"], "pupae"),
    ("crisálidas", ["30"], "pupae"),
    ("poppen", ["30"], "pupae"),
    ("Falter", ["30"], "adults"),
    ("papillons", ["30"], "adults"),
    ("mariposas", ["30"], "adults"),
    ("vlinders", ["30"], "adults"),
    ("dead larvae", ["3"], "dead larvae"),
    ("tote Raupen", ["3"], "dead larvae"),
    ("chenilles mortes", ["3"], "dead larvae"),
    ("huevos muertos", ["3"], "dead eggs"),
    ("dode poppen", ["3"], "dead pupae"),
    ("days as egg", ["5", "6"], "days as egg"),
    ("Egg duration (d)", ["5", "6"], "days as egg"),
    ("Eidauer", ["5", "6"], "days as egg"),
    ("Tage als Raupe", ["20"], "days as larva"),
    ("durée larvaire (jours)", ["20.5"], "days as larva"),
    ("Duración pupa días", ["12"], "days as pupa"),
    ("dagen als pop", ["12"], "days as pupa"),
    ("Tage L2", ["4", "3"], "days as L2"),
    ("Eggs not hatched", ["6"], "dead eggs"),
    ("Eier nicht geschlüpft", ["6"], "dead eggs"),
    ("œufs non éclos", ["6"], "dead eggs"),
    ("huevos no eclosionados", ["6"], "dead eggs"),
    ("eitjes niet uit", ["6"], "dead eggs"),
    ("rupsen dgn", ["21"], "days as larva"),
    ("total days", ["40"], "days in all"),
    ("Gesamtdauer Tage", ["40"], "days in all"),
    ("durée totale", ["40"], "days in all"),
    ("days egg to adult", ["40"], "days in all"),
    ("T", ["21,5"], "temperature"),
    ("Temp. (°C)", ["21.5"], "temperature"),
    ("Temperatur", ["21,5"], "temperature"),
    ("température", ["21,5"], "temperature"),
    ("temperatuur", ["21,5"], "temperature"),
    ("Species", ["Boloria dia"], "species"),
    ("Art", ["Boloria dia"], "species"),
    ("Espèce", ["Boloria dia"], "species"),
    ("Especie", ["Boloria dia"], "species"),
    ("Soort", ["Boloria dia"], "species"),
    ("host plant", ["violet"], "host plant"),
    ("Futterpflanze", ["Veilchen"], "host plant"),
    ("plante-hôte", ["violette"], "host plant"),
    ("planta nutricia", ["violeta"], "host plant"),
    ("waardplant", ["viooltje"], "host plant"),
    ("container", ["7b"], "container"),
    ("Gefäß", ["7b"], "container"),
    ("boîte", ["7b"], "container"),
    ("recipiente", ["7b"], "container"),
    ("bakje", ["7b"], "container"),
    ("brood", ["A1"], "brood"),
    ("Zucht-Nr.", ["A1"], "brood"),
    ("couvée", ["A1"], "brood"),
    ("Female", ["K3", "K4"], "mother"),
    ("Weibchen", ["W1"], "mother"),
    ("Femelle", ["F1"], "mother"),
    ("Females", ["12"], "left out"),
    ("Weibchen", ["12", "9"], "left out"),
    ("Sort", ["A2", "B1"], "left out"),
    ("sort", ["mort", "relâché"], "fate"),
    ("number", ["3"], "number"),
    ("Anzahl", ["3"], "number"),
    ("wieviel", ["3"], "number"),
    ("nombre", ["3"], "number"),
    ("cantidad", ["3"], "number"),
    ("aantal", ["3"], "number"),
    ("died", ["yes", "no"], "fate"),
    ("gestorben", ["ja", "nein"], "fate"),
    ("mort", ["oui", "non"], "fate"),
    ("muerto", ["sí", "no"], "fate"),
    ("dood", ["ja", "nee"], "fate"),
    ("dead", ["0", "1"], "fate"),
    ("outcome", ["died", "released"], "fate"),
    ("was", ["Ei", "Schlupf"], "what happened"),
    ("événement", ["ponte"], "what happened"),
    ("Bemerkung", ["Deckel undicht"], "note"),
    ("remarques", ["ouvert"], "note"),
    ("observaciones", ["abierto"], "note"),
    ("opmerkingen", ["open"], "note"),
    ("Stadien", ["Ei 3 d, Raupe 20 d"], "stages"),
    ("sex", ["f", "m"], "sex"),
    ("Geschlecht", ["w", "m"], "sex"),
    ("Datum", ["3.5.24"], "date"),
    ("fecha", ["3/5/2024"], "date"),
    ("L3", ["12"], "L3"),
    ("second instar", ["12"], "L2"),
    ("Nr.", ["1", "2", "3"], "left out"),
    ("", ["2024-05-03"], "date"),
]


def csv_of(rows: list[list[str]], delimiter: str = ";", quote: str = '"') -> str:
    out = io.StringIO()
    csv.writer(out, delimiter=delimiter, quotechar=quote, lineterminator="\n").writerows(rows)
    return out.getvalue()


@pytest.mark.parametrize(("heading", "cells", "field"), HEADINGS, ids=lambda one: str(one)[:24])
def test_a_column_is_known_by_its_name_and_cells(
    heading: str, cells: list[str], field: str
) -> None:
    rows = [["zz", heading, "yy"], *(["q", cell, "r"] for cell in cells)]
    sheet = read_sheet(Path("old.csv"), csv_of(rows).encode())
    use = columns_of(sheet, {}, {})[1]
    assert use.field == field, use


def test_every_field_is_known_by_its_own_name() -> None:
    """Who names the columns as the help does need not map them, numbers of animals and days among them."""
    cells = {
        "date": "2024-05-03",
        "stages": "egg 3 d, larva 5 d",
        "species": "Boloria dia",
        "fate": "died",
        "sex": "female",
    }
    dated = ("laid", "laid until", "hatched", "pupated", "emerged", "died", "ended", "caught")
    text = (
        "brood",
        "animal",
        "container",
        "to",
        "mother",
        "host plant",
        "place",
        "cause",
        "note",
        "caught at",
    )
    cells |= (
        dict.fromkeys(dated, "2024-05-03")
        | dict.fromkeys(text, "A1x")
        | {"what happened": "laid", "stage": "egg"}
    )
    for name in FIELDS:
        cell = cells.get(name, "12")
        sheet = read_sheet(Path("old.csv"), csv_of([["zz", name, "yy"], ["q", cell, "r"]]).encode())
        use = columns_of(sheet, {}, {})[1]
        assert use.field == name, use


FORMS = {
    "dmy": ("%d.%m.%Y", "%d/%m/%Y", "%d-%m-%Y", "%d.%m.%y", "%d/%m/%y", "%d.%m.%Y %H:%M"),
    "mdy": ("%m/%d/%Y", "%m/%d/%y", "%m-%d-%Y", "%m/%d/%Y %I:%M %p"),
    "ymd": (
        "%Y-%m-%d",
        "%Y/%m/%d",
        "%Y%m%d",
        "%d %B %Y",
        "%B %d, %Y",
        "%d %b %y",
        "%a %d %b %Y",
        "%Y-%m-%dT%H:%M",
    ),
}


@given(
    st.dates(date(1970, 1, 1), date(2026, 12, 31)),
    st.sampled_from([(order, form) for order, forms in FORMS.items() for form in forms]),
    st.times(),
)
def test_a_date_in_any_form_is_that_date(
    day: date, order_and_form: tuple[str, str], clock: object
) -> None:
    """strftime writes what is read; a day alone is taken at noon, whatever the clocks do."""
    order, form = order_and_form
    at = datetime.combine(day, clock)  # type: ignore[arg-type]
    found = DateReader(order, ZONE).read(at.strftime(form))
    assert found is not None, at.strftime(form)
    if "%H" in form or "%I" in form:
        assert (found.year, found.month, found.day, found.hour, found.minute) == (
            at.year,
            at.month,
            at.day,
            at.hour,
            at.minute,
        )
    else:
        assert (found.year, found.month, found.day) == (day.year, day.month, day.day)
        assert found.hour == 12


@pytest.mark.parametrize(
    ("cell", "day"),
    [
        ("3-V-2023", date(2023, 5, 3)),
        ("12.XII.99", date(1999, 12, 12)),
        ("3. iv. 2023", date(2023, 4, 3)),
        ("07/IX/2021", date(2021, 9, 7)),
        ("30 VIII 1987", date(1987, 8, 30)),
    ],
)
def test_a_month_in_roman_figures(cell: str, day: date) -> None:
    """As labels of specimens have it; common practice, no source."""
    assert looks_like_date(cell)
    found = DateReader("", ZONE).read(cell)
    assert found is not None
    assert found.date() == day


@given(st.dates(date(1960, 1, 1), date(2060, 1, 1)), st.sampled_from([0.0, 0.25, 0.5]))
def test_a_spreadsheets_number_is_its_date(day: date, part: float) -> None:
    """pandas counts the days of spreadsheets from 30 December 1899."""
    serial = (day - date(1899, 12, 30)).days
    theirs = pd.to_datetime(serial + part, unit="D", origin="1899-12-30")
    found = DateReader("", UTC).read(str(serial + part) if part else str(serial))
    assert found is not None
    assert found.date() == theirs.date()
    assert found.hour == (theirs.hour if part else 12)


@given(st.dates(date(1971, 1, 1), date(2026, 1, 1)), st.integers(0, 500))
def test_days_between_two_dates_are_whole(first: date, days: int) -> None:
    reader = DateReader("", ZONE)
    start, end = (
        reader.read(first.isoformat()),
        reader.read((first + timedelta(days=days)).isoformat()),
    )
    assert start is not None
    assert end is not None
    assert end - start == timedelta(days=days)


@given(
    st.lists(st.dates(date(2000, 1, 1), date(2026, 12, 31)), min_size=1, max_size=40),
    st.sampled_from(["dmy", "mdy"]),
)
def test_the_whole_column_tells_the_order_or_it_is_asked(days: list[date], order: str) -> None:
    """A column is never read in another order than it was written in: it is that one, or it is asked about."""
    form = {"dmy": "%d/%m/%Y", "mdy": "%m/%d/%Y"}[order]
    cells = [day.strftime(form) for day in days]
    refused: UnclearTable | None = None
    try:
        found, _ = date_order({"laid": cells}, "", TODAY)
    except UnclearTable as unclear:
        refused = unclear
    if refused is not None:
        assert all(day.day <= 12 for day in days)
        assert set(refused.choices) >= {"day-first", "month-first"}
        return
    reader = DateReader(found, UTC)
    if any(day.day > 12 for day in days):
        assert [read.date() for cell in cells if (read := reader.read(cell))] == days


def test_one_column_tells_for_the_other() -> None:
    columns = {"laid": ["3/5/2024"], "hatched": ["13/5/2024"]}
    assert date_order(columns, "", TODAY)[0] == "dmy"


@pytest.mark.parametrize(
    "cell",
    [
        "",
        "x",
        "3.5",
        "May",
        "99.99.2024",
        "31.2.2024",
        "12",
        "2024",
        "-",
        "1e400",
        "0000-00-00",
        "1-V",
        "X",
        "3-XV-2023",
    ],
)
def test_what_is_no_date(cell: str) -> None:
    assert DateReader("dmy", ZONE).read(cell) is None
    assert not looks_like_date(cell)


WORDS = st.text(
    st.characters(codec="utf-8", exclude_categories=("C", "Z")), min_size=1, max_size=12
)


@given(
    st.lists(st.lists(WORDS, min_size=3, max_size=3), min_size=3, max_size=12),
    st.sampled_from([",", ";", "\t", "|"]),
    st.sampled_from(["utf-8", "utf-8-sig", "utf-16"]),
)
def test_any_csv_is_read_as_it_was_written(
    rows: list[list[str]], delimiter: str, encoding: str
) -> None:
    """Cells with separators, quotes and signs of any script come back as they were, spaces about them aside."""
    heading = ["zza", "zzb", "zzc"]
    sheet = read_sheet(Path("old.csv"), csv_of([heading, *rows], delimiter).encode(encoding))
    theirs = [[" ".join(cell.split()) for cell in row] for row in rows]
    assert sheet.headings == ("zza", "zzb", "zzc")
    ours = [list(row.cells) for row in sheet.rows]
    assert len(ours) <= len(theirs)
    plain = [row for row in theirs if not any("\u2212" in cell for cell in row)]
    assert all(row in ours for row in plain)


@given(st.binary(max_size=400), st.sampled_from(["old.csv", "old.xlsx", "old.ods", "old.txt"]))
def test_any_bytes_are_a_table_or_refused_in_one_line(raw: bytes, name: str) -> None:
    lines: list[str] = []
    try:
        sheet = read_sheet(Path(name), raw)
        columns_of(sheet, {}, {})
    except UnclearTable as unclear:
        lines = unclear.line.splitlines()
    assert len(lines) <= 1


@given(
    st.dictionaries(st.sampled_from(["egg", "larva", "pupa"]), st.integers(1, 90), min_size=2),
    st.sampled_from(["{} {} d", "{}: {}", "{} {} days", "{1} d {0}"]),
    st.sampled_from([", ", "; ", " / ", " + "]),
)
def test_stages_in_one_cell_are_what_was_written(
    took: dict[str, int], form: str, joint: str
) -> None:
    assert spans_in(joint.join(form.format(stage, days) for stage, days in took.items())) == took


@pytest.mark.parametrize(
    ("cell", "took"),
    [
        ("Ei 5 Tage, Raupe 20 Tage", {"egg": 5, "larva": 20}),
        ("œuf 4 j / chenille 18,5 j", {"egg": 4, "larva": 18.5}),
        ("huevo 4 días, oruga 3 semanas", {"egg": 4, "larva": 21}),
        ("ei 4 dagen, rups 18 dagen, pop 10", {"egg": 4, "larva": 18, "pupa": 10}),
        ("egg 3 d and larva 21 d", {"egg": 3, "larva": 21}),
        ("L3 5 d", {"L3": 5}),
        ("nothing here", None),
        ("egg 3-4 d", {"egg": 3.5}),
    ],
)
def test_stages_in_other_words(cell: str, took: dict[str, float] | None) -> None:
    assert spans_in(cell) == took


@pytest.mark.parametrize(
    ("cell", "value", "about"),
    [
        ("12", 12, False),
        ("ca. 30", 30, True),
        ("~30", 30, True),
        ("21,5", 21.5, False),
        ("21.5 °C", 21.5, False),
        ("30 Stk", 30, False),
        ("etwa 30", 30, True),
    ],
)
def test_numbers_as_they_are_written(cell: str, value: float, about: bool) -> None:
    found = amount(cell)
    assert found is not None
    assert (found.value, found.about) == (value, about)


@pytest.mark.parametrize(
    ("words", "meaning"),
    [
        ("Ei", ("reached", "egg", 0)),
        ("laid", ("reached", "egg", 0)),
        ("Eiablage", ("reached", "egg", 0)),
        ("ponte", ("reached", "egg", 0)),
        ("Schlupf", ("comes out", "", 0)),
        ("éclosion", ("comes out", "", 0)),
        ("hatched", ("comes out", "larva", 0)),
        ("L1", ("reached", "larva", 1)),
        ("L3", ("moulted", "larva", 3)),
        ("Raupe gehäutet L4", ("moulted", "larva", 4)),
        ("verpuppt", ("reached", "pupa", 0)),
        ("chrysalide", ("reached", "pupa", 0)),
        ("Falter", ("reached", "adult", 0)),
        ("emerged", ("reached", "adult", 0)),
        ("tot", ("died", "", 0)),
        ("tote Raupe", ("died", "larva", 0)),
        ("œuf mort", ("died", "egg", 0)),
        ("larvae hatched", ("reached", "larva", 0)),
        ("butterflies hatched", ("reached", "adult", 0)),
        ("pupae hatched", ("reached", "adult", 0)),
        ("Falter geschlüpft", ("reached", "adult", 0)),
        ("muertas", ("died", "", 0)),
        ("overleden dood", ("died", "", 0)),
        ("freigelassen", ("released", "", 0)),
        ("relâché", ("released", "", 0)),
        ("ontsnapt", ("escaped", "", 0)),
        ("weg", ("not known", "", 0)),
        ("umgesetzt", ("moved", "", 0)),
        ("gezählt", ("counted", "", 0)),
        ("Futter", ("fed", "", 0)),
        ("quidquid", ("", "", 0)),
    ],
)
def test_what_happened_in_the_words_of_keepers(words: str, meaning: tuple[str, str, int]) -> None:
    assert action_of(words) == meaning


def test_small_words() -> None:
    assert [yes_or_no(cell) for cell in ("ja", "nein", "x", "0", "perhaps")] == [
        True,
        False,
        True,
        False,
        None,
    ]
    assert [sex_in(cell) for cell in ("♀", "Weibchen", "m", "", "macho", "12")] == [
        "female",
        "female",
        "male",
        "",
        "male",
        "",
    ]
    assert [instar_in(cell) for cell in ("L3", "3rd instar", "Stadium 4", "L", "Lotus")] == [
        3,
        3,
        4,
        0,
        0,
    ]


CELLS = (
    "", "-", "3", "0", "30", "12", "ca. 30", "3.5", "2024-05-03", "2024-05-20", "2024-06-10", "2031-01-01", "Ei", "egg", "larva", "L3",
    "tot", "died", "Schlupf", "pupa", "released", "moved to E2", "counted", "Boloria dia", "B. dia", "x", "yes", "egg 3 d, larva 21 d",
    "-5", "1e9", "999999999", "\u202eabc", "'; drop", "A" * 50, "K1", "K1-K9", "wild", "a,b", "same", "?",
)  # fmt: skip
SHAPES = (
    ("species", "date", "what happened", "number", "container"),
    ("species", "date", "container", "eggs", "larvae", "pupae", "adults", "deaths"),
    ("species", "laid", "eggs", "hatched", "larvae", "pupated", "pupae", "days in all"),
    ("species", "laid", "days as egg", "days as larva", "days in all", "fate", "temperature"),
)  # fmt: skip
LIKELY = {
    "species": ("Boloria dia",), "date": ("2024-05-03", "2024-05-09", "2024-05-20"), "container": ("7", "8"), "number": ("3", "12", "20"),
    "what happened": ("laid", "hatched", "L2", "pupated", "emerged", "died", "moved to 8", "counted", "released"), "laid": ("2024-05-03",),
}  # fmt: skip


@given(st.data())
@settings(max_examples=60, deadline=None)
def test_any_table_becomes_lines_that_fit_or_is_refused_line_by_line(data: st.DataObject) -> None:
    """Whatever stands in the cells: what is taken in fits, leaves nothing standing, and goes again whole."""
    fields = [
        *data.draw(st.sampled_from(SHAPES)),
        *data.draw(st.lists(st.sampled_from(sorted(FIELDS)), max_size=2)),
    ]
    fields = list(dict.fromkeys(fields))
    cell = {field: st.sampled_from((*LIKELY.get(field, CELLS) * 4, *CELLS)) for field in fields}
    rows = data.draw(
        st.lists(st.tuples(*(cell[field] for field in fields)), min_size=1, max_size=6)
    )
    text = csv_of([fields, *(list(row) for row in rows)], "\t")
    with TemporaryDirectory() as name:
        desk = open_desk(Path(name) / "book", zone=ZONE, keeper="KM")
        said = ImportOptions(
            columns={field: field for field in fields},
            dates="day-first",
            species="Boloria dia",
            leave_out=True,
        )
        lines: list[str] = []
        try:
            table = read_table(desk, "old.csv", read_sheet(Path("old.csv"), text.encode()), said)
            lines = list(table.problems.values())
        except UnclearTable as unclear:
            table, lines = None, [unclear.line]
        assert all(len(line.splitlines()) == 1 for line in lines)
        if table is None or not table.fresh:
            return
        assert isinstance(table.record(desk), Recorded)
        assert not desk.bench.misfits
        assert not list(desk.bench.standing())
        again = read_table(desk, "old.csv", read_sheet(Path("old.csv"), text.encode()), said)
        assert again.is_known
        back = to_take_back(desk, "old.csv")
        assert back is not None
        assert isinstance(back.record(desk), Recorded)
        assert not desk.bench.broods
        assert not desk.bench.closed


def test_what_is_no_text_is_no_table() -> None:
    """A picture, or any bytes, that are called a table."""
    with pytest.raises(UnclearTable, match=r"table.csv is no text; give a table as .csv"):
        read_sheet(Path("table.csv"), random.Random(5).randbytes(9_000))
