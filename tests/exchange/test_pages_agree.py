"""Every number that stands on two pages is the same on both: broods, laying, constants and kinship, on the demo and a season; at length on two.

The pages are read as text, as the keeper reads them; the tables are what they are held against, and the calculator is given
what stands on the page.
"""

from __future__ import annotations

import csv
import io
import json
import re
from collections import Counter
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from demo.scenario import scenario
from rounds import Book, open_book
from rounds.bench.measures import METRIC
from rounds.biology.survival import SurvivalCurve
from rounds.entries import codec
from rounds.tallies.broods import Lookback
from rounds.tallies.stages import survival_to_adult
from rounds.views.brood_page import PlotRoom, brood_lines, taxon_lines
from rounds.views.broods_page import pairing_lines
from rounds.views.calculations.report import calc
from rounds.views.laying_page import laying_lines
from rounds.views.words import number
from tests.season.follow import FOLLOWS, ProgramKeeper
from tests.season.numbers import WORLDS
from tests.season.play import bench_of, play

NOW = datetime(2027, 5, 20, 5, 5, tzinfo=UTC)
SEASON_DAYS = 22  # until most have hatched and some moulted
Rows = list[dict[str, Any]]


def demo(folder: Path) -> Book:
    """The demo's bench."""
    book = open_book(folder, clock=lambda: NOW, zone=ZoneInfo("Europe/Paris"))
    story = [codec.write(entry) for entry in scenario(NOW, book.desk.zone)]
    book.desk.book.append_many(story)
    return open_book(folder, clock=lambda: NOW, zone=ZoneInfo("Europe/Paris"))


def season(world: int) -> Callable[[Path], Book]:
    """A season in one of the worlds, by a keeper who does what is asked."""

    def grown(folder: Path) -> Book:
        seed = 40 + world
        bench = bench_of(WORLDS[world], seed, SEASON_DAYS)
        keeper = ProgramKeeper(bench, FOLLOWS, folder)
        play(keeper, bench, seed)
        return keeper.book

    return grown


BOOKS = {"demo": demo, "dry": season(0), "damp": season(1)}


@pytest.fixture(
    scope="module", params=["demo", "dry", pytest.param("damp", marks=pytest.mark.long)]
)
def book(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Book:
    """Each book is made once for all tests of this file."""
    return BOOKS[request.param](tmp_path_factory.mktemp(request.param) / "book")


@pytest.fixture(scope="module")
def back(book: Book) -> Lookback:
    """What the pages on broods look back on."""
    return book.desk.reckoning.look_back()


@pytest.fixture(scope="module")
def pages(book: Book, back: Lookback) -> dict[str, str]:
    """The page of each brood."""
    now, room = book.desk.now(), PlotRoom(as_table=True)
    return {
        one["brood"]: text_of(brood_lines(back, one["brood"], now, book.desk.zone, room))
        for one in broods(book)
    }


@pytest.fixture(scope="module")
def notes(book: Book, tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """The note of each brood."""
    folder = tmp_path_factory.mktemp("notes")
    return {
        one["brood"]: exported(book, folder, "note", about=one["brood"]) for one in broods(book)
    }


@pytest.fixture(scope="module")
def summary(book: Book, tmp_path_factory: pytest.TempPathFactory) -> str:
    """The season's summary."""
    return exported(book, tmp_path_factory.mktemp("season"), "season")


def text_of(lines: Any) -> str:
    return "\n".join(one.text for one in lines)


def exported(book: Book, folder: Path, kind: str, **options: Any) -> str:
    target = folder / f"{kind}.md"
    book.export(kind, target, replace=True, **options)
    return target.read_text(encoding="utf-8")


def in_markdown(text: str, head: str) -> Iterator[list[str]]:
    """The rows of the tables of a document whose heads begin so."""
    inside = False
    for line in text.splitlines():
        cells = [one.strip() for one in line.strip("|").split("|")]
        if not line.startswith("|"):
            inside = False
        elif line.startswith(f"| {head}"):
            inside = True
        elif inside and not line.startswith("|---"):
            yield cells


def calculated(*words: str) -> dict[str, dict[str, Any]]:
    """What the calculator says, by the label of each figure."""
    out, err = io.StringIO(), io.StringIO()
    assert calc([*words, "--json"], out=out, err=err, measures=METRIC) == 0, err.getvalue()
    return {one["label"]: one for one in json.loads(out.getvalue())["figures"]}


def broods(book: Book) -> Rows:
    """The broods that have animals."""
    found = [one for one in book.table("broods") if one["came"]]
    assert found
    return found


def share(one: dict[str, Any]) -> str:
    """A share with its limits, as pages say it."""
    low, high = one["lower 95 % limit"], one["upper 95 % limit"]
    return f"{one['share that went on']:.2f} ({low:.2f} to {high:.2f})"


def stages_on(page: str) -> Iterator[tuple[str, int, int, str]]:
    """Stage, entered, died and what is said of those that came through, of each row of a page."""
    table = page.partition("stage by stage")[2].partition("how ")[0]
    for row in re.findall(r"^  (\S+)  +(\d+)  +(\d+|-)  +(.*)$", table, re.MULTILINE):
        stage, entered, died, rest = row
        yield stage, int(entered), int(died.replace("-", "0")), re.split(r"  +", rest)[-1].strip()


def name_of(row: dict[str, Any]) -> str:
    return f"L{row['instar']}" if row.get("instar") else str(row["stage"])


def test_stages_are_the_same_on_a_broods_page_its_note_the_table_and_the_calculator(
    book: Book, pages: dict[str, str], notes: dict[str, str]
) -> None:
    compared = 0
    for brood in broods(book):
        code = brood["brood"]
        page = {one[0]: one[1:] for one in stages_on(pages[code])}
        note = notes[code]
        noted = {
            one[0]: one
            for one in in_markdown(note.partition("## Stage by stage")[2], "stage | entered")
        }
        for row in book.table("life-table"):
            if row["brood"] != code or row["stage"] not in page:
                continue
            entered, died, said = page[row["stage"]]
            assert (entered, died) == (row["entered"], row["died"]), (code, row["stage"])
            in_note = noted[row["stage"]]
            assert (in_note[1], in_note[-1]) == (str(entered), said), (code, row["stage"])
            if row["share that went on"] is None or "(" not in said:
                continue
            assert said == share(row), (code, row["stage"])
            ended = row["went on"] + row["died"]
            worked = calculated("life-table", "--stages", f"{ended}:{row['died']}")
            dead = worked[f"stage 1: {row['died']} of {ended}, share dead"]
            again = [1 - dead[one] for one in ("value", "high", "low")]
            assert said == f"{again[0]:.2f} ({again[1]:.2f} to {again[2]:.2f})", (
                code,
                row["stage"],
            )
            compared += 1
    assert compared


def test_how_many_came_and_are_alive_is_the_same_everywhere(
    book: Book, pages: dict[str, str], notes: dict[str, str], summary: str
) -> None:
    season_rows = {one[0]: one for one in in_markdown(summary, "brood | mother")}
    stand = Counter[str]()
    for row in book.table("stock"):
        stand[row["brood"]] += row["number"]
    for brood in broods(book):
        code, came, alive = brood["brood"], brood["came"], brood["alive"]
        page = pages[code]
        assert re.search(rf"^sum +{came} came", page, re.MULTILINE), page
        assert stand[code] == alive, code
        note = notes[code]
        assert re.search(rf"Counted in: {came} eggs? and animals?", note) or came == 1, note[:400]
        assert re.search(
            rf"{brood['adults']} came to be (an adult|adults), {alive} (is|are) alive", note
        ), note[:600]
        told = season_rows[code]
        assert told[-3:] == [str(came), str(brood["adults"]), str(alive)], told


def test_survival_is_the_same_on_the_page_in_the_note_and_by_the_calculator(
    book: Book, back: Lookback, pages: dict[str, str], notes: dict[str, str]
) -> None:
    compared = 0
    for brood in broods(book):
        code = brood["brood"]
        curve = survival_to_adult(back.course, [code], book.desk.now())
        page = pages[code]
        if curve is None or not curve.steps:
            assert "days since they" not in page.partition("development")[0]
            continue
        steps = [f"{number(step.time, 2)} {number(step.survival, 3)}" for step in curve.steps]
        for text in (page, notes[code]):
            drawn = text.partition("survival up to the adult")[2].partition(" died\n")[2]
            lines = [line.split() for line in drawn.splitlines()[1 : 1 + len(steps)]]
            assert [" ".join(line[:2]) for line in lines] == steps, code
        died, alive = ages(curve)
        worked = calculated("survival", "--died", died, *(["--alive", alive] if alive else []))
        figures = list(worked.values())
        for step, figure in zip(curve.steps, figures, strict=False):
            assert [figure[one] for one in ("value", "low", "high")] == pytest.approx(
                [step.survival, step.low, step.high]
            ), code
        compared += 1
    assert compared


def ages(curve: SurvivalCurve) -> tuple[str, str]:
    """The ages of the dead and of those out of sight, as the calculator is given them."""
    died: list[float] = []
    alive: list[float] = []
    left = curve.number
    for step in curve.steps:
        alive += [step.time - 1e-6] * (left - step.at_risk)
        died += [step.time] * step.died
        left = step.at_risk - step.died
    alive += [curve.steps[-1].time + 1] * left
    return ",".join(map(repr, died)), ",".join(map(repr, alive))


def test_durations_are_the_same_on_the_page_in_the_note_and_the_table(
    book: Book, pages: dict[str, str], notes: dict[str, str]
) -> None:
    compared = 0
    for brood in broods(book):
        code = brood["brood"]
        rows = {name_of(one): one for one in book.table("durations") if one["brood"] == code}
        page = pages[code].partition("how long each stage took")[2]
        note = notes[code].partition("## How long")[2]
        noted = {one[0]: one for one in in_markdown(note, "stage | n")}
        for stage, row in rows.items():
            if stage not in noted:
                continue
            mean, least, most = (
                f"{row[one]:.1f}" for one in ("mean (days)", "shortest (days)", "longest (days)")
            )
            assert noted[stage][1:5] == [str(row["number"]), mean, least, most], (code, stage)
            assert re.search(
                rf"^  {re.escape(stage)} +{row['number']} +{mean} d +{least} +{most} ",
                page,
                re.MULTILINE,
            ), (code, stage)
            compared += 1
        assert set(noted) <= set(rows), code
    assert compared


def laying_by_host(book: Book) -> dict[tuple[str, str], list[float]]:
    """Female-days, eggs and searches of each host, summed over the containers of the table."""
    found: dict[tuple[str, str], list[float]] = {}
    for row in book.table("laying"):
        sums = found.setdefault((row["taxon"], row["host"]), [0.0, 0, 0])
        for place, name in enumerate(("effort (female-days)", "eggs", "searches")):
            sums[place] += row[name]
    return found


def test_laying_is_the_same_on_its_page_in_the_season_its_tables_and_the_calculator(
    book: Book, summary: str
) -> None:
    desk = book.desk
    page = text_of(laying_lines(desk.reckoning.tallies.on_hosts(desk.now()), desk.zone, desk.now()))
    by_day: dict[tuple[str, str], list[float]] = {}
    for row in book.table("laying-days"):
        sums = by_day.setdefault((row["taxon"], row["host"]), [0.0, 0, 0])
        for place, name in enumerate(("effort (female-days)", "eggs", "searches")):
            sums[place] += row[name]
    compared = 0
    for (taxon, host), (days, eggs, searches) in laying_by_host(book).items():
        assert by_day[taxon, host] == pytest.approx([days, eggs, searches], abs=0.01), (taxon, host)
        section = summary.partition(f"## {taxon}: laying")[2]
        in_season = next(one for one in in_markdown(section, "plant | effort") if one[0] == host)
        assert in_season[1:4] == [f"{days:.1f}", str(searches), str(eggs)], (taxon, host)
        if days < 1 or "(" not in in_season[5]:
            continue
        share, known = next(
            (one.share_found, one.share_counted)
            for one in desk.reckoning.tallies.on_hosts(desk.now())
            if (one.taxon, one.plant) == (taxon, host) and one.share_found
        )
        given = ["--eggs", f"{eggs}", "--female-days", f"{days}"]
        given += ["--share-found", f"{share}", "--share-eggs", f"{min(known, 1e7)}"]
        rate = calculated("laying", *given)
        found = next(iter(rate.values()))
        limits = f"{found['value']:.2f} ({found['low']:.2f} to {found['high']:.2f})"
        assert in_season[4:] == [f"{share:.0%}".replace("%", " %"), limits], (taxon, host)
        on_page = page.partition(f"\n{taxon}")[2]
        assert re.search(
            rf"^  {re.escape(host[:12])}\S* +{days:.1f} +\d+ % +{eggs}  {re.escape(limits)}",
            on_page,
            re.MULTILINE,
        ), (taxon, host, limits)
        compared += 1
    assert compared


def test_two_hosts_compare_alike_on_the_page_and_by_the_calculator(book: Book) -> None:
    desk = book.desk
    record = desk.reckoning.tallies.on_hosts(desk.now())
    for taxon in {one.taxon for one in record}:
        mine = [one for one in record if one.taxon == taxon]
        page = text_of(laying_lines(mine, desk.zone, desk.now()))
        verdict = re.search(
            r"(\S[^\n:]*) against ([^\n:]*): (?:too little to say; )?p (under |= )(\d+\.\d+)",
            page,
        )
        if verdict is None:
            continue
        first, second = (
            next(one for one in mine if one.plant == name.strip()) for name in verdict.group(1, 2)
        )
        given: list[str] = []
        for place, one in enumerate((first, second), start=1):
            given += [
                f"--eggs-{place}",
                str(one.eggs),
                f"--female-days-{place}",
                str(one.female_days),
            ]
            given += [f"--share-found-{place}", str(one.share_found)]
            given += [f"--share-eggs-{place}", str(min(one.share_counted, 1e7))]
        p = calculated("hosts-compared", *given)["p, two-sided"]["value"]
        if verdict.group(3) == "under ":
            assert p == "under 0.0001" or p < 0.0001
        else:
            assert p == pytest.approx(float(verdict.group(4)), abs=0.0001)


def test_constants_are_the_same_on_the_page_in_the_table_and_by_the_calculator(
    book: Book, back: Lookback
) -> None:
    for taxon in {one["taxon"] for one in broods(book)}:
        asked = calculated("constants", "--species", taxon)
        page = text_of(taxon_lines(back, taxon, book.desk.now(), PlotRoom(as_table=True)))
        rows = [one for one in book.table("thresholds") if one["taxon"] == taxon]
        given = [one for one in rows if "keeper" in one["basis"]]
        told = [
            one for one in rows if "line through rates" not in one["basis"] and one not in given
        ]
        assert told or given
        for row in told:
            constant, lower = row["thermal constant (degree-days)"], row["lower threshold (C)"]
            assert f"{row['stage']}: {lower:.1f} C, {constant:.0f} C degree-days" in page
            if row["stage"] in asked and not given:
                assert asked[row["stage"]]["value"] == pytest.approx(constant)


def test_inbreeding_is_the_same_in_the_table_on_the_pairing_page_and_by_the_calculator(
    book: Book, back: Lookback
) -> None:
    rows = {one["brood"]: one for one in book.table("broods")}
    crosses = {
        code: (one["mothers"], one["fathers"])
        for code, one in rows.items()
        if one["mothers"] and one["fathers"] and " " not in f"{one['mothers']}{one['fathers']}"
    }
    pedigree = ",".join(f"{code}={mother}x{father}" for code, (mother, father) in crosses.items())
    for code, (mother, father) in crosses.items():
        row = rows[code]
        if row["inbreeding from"] is None or row["inbreeding from"] != row["inbreeding to"]:
            continue
        found = calculated(
            "kinship", "--pedigree", pedigree, "--mother", mother, "--father", father
        )
        told = found["inbreeding of their offspring"]["value"]
        assert told == pytest.approx(row["inbreeding to"]), code
        page = text_of(pairing_lines(back, mother, father))
        assert f"inbreeding of their offspring {told:.4f}".rstrip("0").rstrip(".") in page


def test_the_seasons_sums_are_those_of_its_broods(book: Book, summary: str) -> None:
    rows = broods(book)
    for species in in_markdown(summary, "species | wild-caught"):
        mine = [one for one in rows if one["taxon"] == species[0]]
        assert species[2] == str(
            len([one for one in book.table("broods") if one["taxon"] == species[0]])
        )
        assert species[4] == str(sum(one["adults"] for one in mine)), species
        assert species[6] == str(sum(one["alive"] for one in mine)), species


def test_the_tables_are_what_leaves_as_csv(book: Book, tmp_path: Path) -> None:
    target = tmp_path / "broods.csv"
    book.export("csv", target, table="broods")
    with target.open(encoding="utf-8-sig", newline="") as file:
        written = list(csv.DictReader(file))
    assert [one["came"] for one in written] == [str(one["came"]) for one in book.table("broods")]
