"""Years of old records come in with `rounds import`: a row an event, a brood, or an animal.

The tables are made here from invented numbers; pandas, which is not ours, reckons from the same files what the
pages and exports must say.
"""

from __future__ import annotations

import random
from datetime import date, timedelta
from pathlib import Path

import pandas as pd
import pytest

from tests.published.replays.test_fritillary_2011 import (
    ADULT_PERCENT,
    HATCH_PERCENT,
    ROWS,
    SECOND_PERCENT,
)
from tests.stories.telling import Ran, Story

SPECIES = "Euphydryas aurinia"


def write(
    path: Path,
    heading: str,
    rows: list[list[object]],
    *,
    separator: str = ",",
    encoding: str = "utf-8",
) -> Path:
    lines = [
        heading,
        *(separator.join("" if cell is None else str(cell) for cell in row) for row in rows),
    ]
    path.write_text("\n".join(lines) + "\n", encoding=encoding)
    return path


def broods_table(path: Path) -> Path:
    """50 broods in one row each: counts, dates, mean temperature."""
    chance = random.Random(7)
    rows: list[list[object]] = []
    for number in range(1, 51):
        laid = date(2019 + number % 7, 5, 1) + timedelta(days=chance.randrange(60))
        eggs = chance.randrange(20, 90)
        larvae = eggs - chance.randrange(0, 12)
        pupae = larvae - chance.randrange(0, 10)
        adults = pupae - chance.randrange(0, 6)
        hatched = laid + timedelta(days=chance.randrange(5, 14))
        pupated = hatched + timedelta(days=chance.randrange(18, 40))
        emerged = pupated + timedelta(days=chance.randrange(9, 19))
        rows.append(
            [
                f"Q{number:02d}",
                laid,
                eggs,
                hatched,
                larvae,
                pupated,
                pupae,
                emerged,
                adults,
                round(chance.uniform(17, 25), 1),
            ]
        )
    return write(
        path, "brood,laid,eggs,hatched,larvae,pupated,pupae,emerged,adults,temperature", rows
    )


def animals_table(path: Path) -> Path:
    """190 animals: laying date, days as egg, days as larva, total, temperature, died or not."""
    chance = random.Random(11)
    rows: list[list[object]] = []
    for _ in range(190):
        warm = chance.choice([18, 21.5, 25])
        laid = date(2023, 5, 2) + timedelta(days=chance.randrange(45))
        egg, larva, pupa = (round(chance.gauss(days * 20 / warm, 1)) for days in (7, 26, 12))
        fate = chance.choices(["egg", "larva", "pupa", "lives"], [10, 15, 5, 70])[0]
        if fate == "egg":
            row = [egg, None, egg, "ja"]
        elif fate == "larva":
            row = [egg, larva - 4, egg + larva - 4, "ja"]
        else:
            row = [egg, larva, egg + larva + pupa, "ja" if fate == "pupa" else "nein"]
        rows.append(
            [f"{laid:%d.%m.%Y}", row[0], row[1], row[2], str(warm).replace(".", ","), row[3]]
        )
    heading = "Eiablage;Tage als Ei;Tage als Raupe;Gesamtdauer in Tagen;Temperatur;gestorben"
    return write(path, heading, rows, separator=";", encoding="cp1252")


def events_table(path: Path) -> Path:
    """About 300 rows of events in several containers over three years, as a notebook has them."""
    chance = random.Random(3)
    rows: list[tuple[date, list[object]]] = []
    for season in (2022, 2023, 2024):
        for cup in range(1, 17):
            day = date(season, 5, 3) + timedelta(days=chance.randrange(20))
            there = chance.randrange(12, 40)

            def on(days: int, what: str, number: int | None, plant: str = "") -> None:
                nonlocal day
                day += timedelta(days=days)
                rows.append(
                    (
                        day,
                        [
                            f"{day:%d/%m/%y}",
                            cup,
                            SPECIES if what == "ponte" else "",
                            number,
                            what,
                            plant,
                        ],
                    )
                )

            on(0, "ponte", there)
            lost = chance.randrange(0, 4)
            there -= lost
            on(chance.randrange(6, 11), "éclosion", there, "succise")
            if lost:
                on(1, "œuf mort", lost)
            on(chance.randrange(5, 9), "L3", there)
            lost = chance.randrange(0, 5)
            if lost:
                there -= lost
                on(2, "mort", lost)
            on(chance.randrange(8, 15), "chrysalide", there)
            on(chance.randrange(9, 14), "papillon", there)
            on(1, "relâché", there)
    rows.sort(key=lambda one: one[0])
    return write(path, "date,boîte,espèce,nombre,quoi,plante hôte", [row for _, row in rows])


def taken_in(story: Story, path: Path, *options: str) -> Ran:
    ran = story.shell("import", str(path), "--yes", *options)
    assert ran.status == 0, ran.err + ran.out
    return ran


def table(story: Story, name: str) -> pd.DataFrame:
    file = story.folder.parent / f"{name}.csv"
    ran = story.shell("export", "csv", str(file), "--table", name, "--replace")
    assert ran.status == 0, ran.err
    return pd.read_csv(file)


def durations_on(text: str) -> dict[str, tuple[int, float, float, float]]:
    """Of the section of a brood's or species' page: stage to number, mean, least, most."""
    section = text.split("how long each stage took")[1].split(" how ")[0]
    found = {}
    for line in section.splitlines():
        cells = line.replace("egg to adult", "egg-to-adult").split()
        if len(cells) > 5 and cells[1].isdecimal():
            found[cells[0]] = (int(cells[1]), float(cells[2]), float(cells[4]), float(cells[5]))
    return found


def stages_on(text: str) -> dict[str, tuple[int, int]]:
    """Of the section of a brood's or species' page: stage to how many entered and died."""
    section = text.split("stage by stage")[1].split(" how ")[0]
    rows = [line.split() for line in section.splitlines()]
    return {
        row[0]: (int(row[1]), int(row[2].replace("-", "0")))
        for row in rows
        if len(row) > 3 and row[1].isdecimal()
    }


async def page_of(story: Story, key: str) -> str:
    story.reopen()
    async with story.screens((100, 200)) as screen:
        await screen.press("z")
        screen.highlight(key)
        await screen.press("enter")
        return screen.text


async def test_fifty_broods_in_a_row_each(story: Story, tmp_path: Path) -> None:
    """The page of each species and brood has the survival and durations that pandas finds in the file."""
    path = broods_table(tmp_path / "broods.csv")
    taken_in(story, path, "--species", SPECIES)
    theirs = pd.read_csv(path, parse_dates=["laid", "hatched", "pupated", "emerged"])
    ours = table(story, "life-table").set_index(["brood", "stage"])
    for row in theirs.itertuples():
        entered = [
            ours.loc[(row.brood, stage), "entered"] for stage in ("egg", "larva", "pupa", "adult")
        ]
        assert entered == [row.eggs, row.larvae, row.pupae, row.adults]
        died = [ours.loc[(row.brood, stage), "died"] for stage in ("egg", "larva", "pupa", "adult")]
        assert died == [row.eggs - row.larvae, row.larvae - row.pupae, row.pupae - row.adults, 0]
    text = await page_of(story, f"taxon {SPECIES}")
    assert stages_on(text)["egg"] == (theirs.eggs.sum(), (theirs.eggs - theirs.larvae).sum())
    took = durations_on(text)
    for stage, start, end, number in (
        ("egg", "laid", "hatched", "larvae"),
        ("larva", "hatched", "pupated", "pupae"),
        ("pupa", "pupated", "emerged", "adults"),
        ("egg-to-adult", "laid", "emerged", "adults"),
    ):
        spans = (theirs[end] - theirs[start]).dt.days
        mean = (spans * theirs[number]).sum() / theirs[number].sum()
        assert took[stage] == (
            theirs[number].sum(),
            pytest.approx(mean, abs=0.0501),
            spans.min(),
            spans.max(),
        ), stage
    one = theirs.iloc[13]
    own = await page_of(story, "code Q14")
    assert durations_on(own)["larva"][:2] == (one.pupae, (one.pupated - one.hatched).days)
    assert f"{one.temperature} C" in own


async def test_190_animals(story: Story, tmp_path: Path) -> None:
    """Animal by animal, with the days of each stage; a German file in Windows' letters with decimal commas."""
    path = animals_table(tmp_path / "tiere.csv")
    taken_in(story, path, "--species", SPECIES)
    theirs = pd.read_csv(path, sep=";", encoding="cp1252", decimal=",")
    theirs.columns = ["laid", "egg", "larva", "total", "temperature", "died"]
    dead = theirs.died == "ja"
    hatched = theirs[theirs.larva.notna()]
    pupated = hatched[hatched.total > hatched.egg + hatched.larva]
    emerged = theirs[~dead]
    text = await page_of(story, f"taxon {SPECIES}")
    assert stages_on(text) == {
        "egg": (190, 190 - len(hatched)),
        "larva": (len(hatched), len(hatched) - len(pupated)),
        "pupa": (len(pupated), len(pupated) - len(emerged)),
        "adult": (len(emerged), 0),
    }
    pupa = emerged.total - emerged.egg - emerged.larva
    for stage, spans in (
        ("egg", hatched.egg),
        ("larva", pupated.larva),
        ("pupa", pupa),
        ("egg-to-adult", emerged.total),
    ):
        mean = pytest.approx(spans.mean(), abs=0.0501)
        assert durations_on(text)[stage] == (len(spans), mean, spans.min(), spans.max()), stage
    by_brood = table(story, "life-table").set_index("stage").loc["egg"]
    of_a_day = theirs.groupby(["laid", "temperature"]).size()
    assert sorted(by_brood.entered) == sorted(of_a_day)


async def test_three_hundred_rows_of_events(story: Story, tmp_path: Path) -> None:
    """A notebook in French, a row an event, containers used again each year."""
    path = events_table(tmp_path / "cahier.csv")
    taken_in(story, path)
    theirs = pd.read_csv(path)
    theirs["day"] = pd.to_datetime(theirs["date"], format="%d/%m/%y")
    theirs["cup"] = theirs["boîte"].astype(str) + "/" + theirs.day.dt.strftime("%y")
    assert len(theirs) > 300
    text = await page_of(story, f"taxon {SPECIES}")
    by_word = theirs.groupby("quoi").nombre.sum()
    assert stages_on(text)["egg"] == (by_word["ponte"], by_word["œuf mort"])
    assert stages_on(text)["L3"] == (by_word["L3"], by_word["mort"])
    assert stages_on(text)["adult"] == (by_word["papillon"], 0)
    wide = theirs.pivot_table(index="cup", columns="quoi", values="day", aggfunc="first")
    numbers = theirs.pivot_table(index="cup", columns="quoi", values="nombre", aggfunc="first")
    for stage, start, end in (
        ("egg", "ponte", "éclosion"),
        ("larva", "éclosion", "chrysalide"),
        ("pupa", "chrysalide", "papillon"),
    ):
        spans = (wide[end] - wide[start]).dt.days
        mean = (spans * numbers[end]).sum() / numbers[end].sum()
        assert durations_on(text)[stage][:2] == (
            numbers[end].sum(),
            pytest.approx(mean, abs=0.0501),
        ), stage
    assert "fed on succise" in text


async def test_nothing_of_it_comes_up_today(story: Story, tmp_path: Path) -> None:
    """Old years' cups are closed; what nobody wrote down is not known, and asks for nothing."""
    taken_in(story, broods_table(tmp_path / "broods.csv"), "--species", SPECIES)
    story.reopen()
    assert story.due() == {}
    assert not list(story.desk.bench.standing())
    assert not story.desk.bench.misfits


def test_twice_is_once_and_back_is_back(story: Story, tmp_path: Path) -> None:
    path = broods_table(tmp_path / "broods.csv")
    taken_in(story, path, "--species", SPECIES)
    lines = story.on_disk()
    again = taken_in(story, path, "--species", SPECIES)
    assert "the book has all of it already" in again.out
    assert story.on_disk() == lines
    undone = story.shell("import", "--yes", "--undo")
    assert undone.status == 0
    assert "taken back" in undone.out
    assert table_is_empty(story)
    taken_in(story, path, "--species", SPECIES)
    assert len(table(story, "life-table")) == 200
    ids = [line["id"] for line in story.on_disk()]
    assert len(ids) == len(set(ids))


def table_is_empty(story: Story) -> bool:
    story.reopen()
    return not story.desk.bench.broods and not story.desk.bench.closed


def test_a_row_that_was_mended_replaces_what_it_said(story: Story, tmp_path: Path) -> None:
    """The table is mended and taken in again: the row says the new number, the others are as they were."""
    heading = "brood,species,laid,eggs,hatched,larvae"
    path = tmp_path / "broods.csv"
    rows: list[list[object]] = [
        ["A", SPECIES, "2024-05-03", 30, "2024-05-10", 28],
        ["B", SPECIES, "2024-05-04", 20, "2024-05-12", 20],
    ]
    write(path, heading, rows)
    taken_in(story, path)
    rows[0][5] = 25
    rows.append(["C", SPECIES, "2024-06-04", 10, "2024-06-12", 9])
    write(path, heading, rows)
    told = taken_in(story, path).out
    assert "no longer in it, to be crossed out" in told
    ours = table(story, "life-table").set_index(["brood", "stage"]).died
    assert (ours["A", "egg"], ours["B", "egg"], ours["C", "egg"]) == (5, 0, 1)


def test_a_dry_run_says_line_by_line(story: Story, tmp_path: Path) -> None:
    """All or nothing: with one line to mend nothing is recorded, and each line says what it is or why not."""
    path = write(
        tmp_path / "old.csv",
        "brood,species,laid,eggs,hatched,larvae",
        [
            ["A", SPECIES, "2024-05-03", 30, "2024-05-10", 28],
            ["B", SPECIES, "2024-05-04", 20, "2024-05-12", 21],
        ],
    )
    ran = story.shell("import", str(path), "--dry-run")
    assert ran.status == 1
    assert "line 3 cannot be read: 21 larvae of 20 eggs; mend one" in ran.out
    assert "line 2: 3 May 2024: brood A" in ran.out
    assert story.on_disk() == []
    refused = story.shell("import", str(path), "--yes")
    assert refused.status == 1
    assert "nothing is recorded" in refused.err
    assert story.on_disk() == []
    assert story.shell("import", str(path), "--yes", "--leave-out").status == 0
    assert list(table(story, "life-table").brood.unique()) == ["A"]


@pytest.mark.parametrize(
    ("order", "day"), [("day-first", "2024-05-03"), ("month-first", "2024-03-05")]
)
def test_dates_that_can_be_two_are_asked_about(
    story: Story, tmp_path: Path, order: str, day: str
) -> None:
    path = write(tmp_path / "old.csv", "brood,species,laid,eggs", [["A", SPECIES, "3/5/2024", 30]])
    ran = story.shell("import", str(path), "--yes")
    assert ran.status == 1
    assert (
        "3/5/2024 can be day first or month first; say which with --dates day-first or --dates month-first"
        in ran.err
    )
    taken_in(story, path, "--dates", order)
    (begun,) = [line for line in story.on_disk() if line["what"] == "brood"]
    assert begun["laid_from"].startswith(day)


def test_what_was_said_of_a_table_is_remembered(story: Story, tmp_path: Path) -> None:
    """The mapping goes with the book: the next year's table needs none of it."""
    heading = "Zuchtbuch;Start;Zahl X;Art"
    first = write(tmp_path / "eins.csv", heading, [["A", "3/5/2024", 30, "aurina"]], separator=";")
    said = ("--map", "Zuchtbuch=brood", "--map", "Start=laid", "--map", "Zahl X=eggs")
    taken_in(story, first, *said, "--dates", "day-first", "--as", f"aurina={SPECIES}")
    second = write(tmp_path / "zwei.csv", heading, [["B", "4/5/2025", 31, "aurina"]], separator=";")
    told = taken_in(story, second).out
    assert "laid (as the last time)" in told
    ours = table(story, "life-table").set_index("brood")
    assert list(ours.loc["B", ["taxon", "entered"]]) == [SPECIES, 31]


def test_a_slip_in_a_name_is_asked_about(story: Story, tmp_path: Path) -> None:
    rows: list[list[object]] = [
        ["A", SPECIES, "2024-05-03", 30],
        ["B", "Euphydryas aurina", "2024-05-03", 30],
    ]
    path = write(tmp_path / "old.csv", "brood,species,laid,eggs", rows)
    ran = story.shell("import", str(path), "--yes")
    assert ran.status == 1
    assert f"--as 'Euphydryas aurina={SPECIES}'" in ran.err
    taken_in(story, path, "--as", f"Euphydryas aurina={SPECIES}")
    assert set(table(story, "life-table").taxon) == {SPECIES}


def test_stages_in_one_cell(story: Story, tmp_path: Path) -> None:
    rows: list[list[object]] = [["A", SPECIES, "2024-05-03", 12, "egg 6 d, larva 21 d, pupa 11 d"]]
    taken_in(story, write(tmp_path / "old.csv", "brood;species;laid;n;stages", rows, separator=";"))
    took = table(story, "durations").set_index("stage")
    assert list(took.loc[["egg", "larva", "pupa", "egg to adult"], "mean (days)"]) == [
        6,
        21,
        11,
        38,
    ]


def test_days_in_all_without_the_stages(story: Story, tmp_path: Path) -> None:
    """A hatch that nobody dated is not dated: the days in all are known, those of the stages are not."""
    rows: list[list[object]] = [["A", SPECIES, "2024-05-03", 40, 28, 41]]
    taken_in(story, write(tmp_path / "old.csv", "brood,species,laid,eggs,adults,total days", rows))
    took = table(story, "durations").set_index("stage")
    assert list(took.index) == ["egg to adult"]
    assert list(took.loc["egg to adult", ["number", "mean (days)"]]) == [28, 41]


def test_old_broods_teach_what_a_stage_needs(story: Story, tmp_path: Path) -> None:
    """Eggs laid today are expected by what the old broods took at their temperatures, not by another's constants."""
    story.at("2027-05-01 07:05")
    heading = "brood,species,laid,eggs,hatched,larvae,temperature"
    # invented: 8 C and 120 C days, so 12 days at 18 C, 7.5 at 24 C
    rows: list[list[object]] = [
        [
            f"A{number}",
            SPECIES,
            f"2024-05-{number:02d} 12:00",
            40,
            f"2024-05-{number + 12:02d} 12:00",
            40,
            18,
        ]
        for number in range(1, 9)
    ]
    rows += [
        [
            f"B{number}",
            SPECIES,
            f"2023-06-{number:02d} 12:00",
            40,
            f"2023-06-{number + 6:02d} 12:00",
            40,
            28,
        ]
        for number in range(1, 9)
    ]
    before = hatch_expected(story)
    taken_in(story, write(tmp_path / "old.csv", heading, rows))
    after = hatch_expected(story)
    assert abs(after - 12) < abs(before - 12)
    assert abs(after - 12) < 1.5


def hatch_expected(story: Story) -> float:
    """In how many days half of the eggs of a new brood at 18 C are expected to hatch."""
    story.reopen()
    if not story.desk.bench.at("E1"):
        story.type(
            "shelf set up A",
            "E1 set up eggs on A",
            f"brood Z1 taxon='{SPECIES}' laid_from=-1m laid_to=-1m",
            "E1 stocked 40 eggs Z1",
            "E1 air 18C",
        )
    (coming,) = story.desk.foresight.coming(story.desk.bench.containers["E1"])[:1]
    assert coming.half is not None
    return (coming.half - story.clock.now) / timedelta(days=1)


@pytest.mark.parametrize("ending", ["xlsx", "ods"])
def test_a_spreadsheet(story: Story, tmp_path: Path, ending: str) -> None:
    """Written by other packages: true dates and numbers in cells, a title above, a second sheet."""
    pytest.importorskip("python_calamine")
    pytest.importorskip({"xlsx": "openpyxl", "ods": "odf"}[ending])
    theirs = pd.read_csv(
        broods_table(tmp_path / "broods.csv"), parse_dates=["laid", "hatched", "pupated", "emerged"]
    )
    path = tmp_path / f"broods.{ending}"
    with pd.ExcelWriter(path) as writer:
        theirs.to_excel(writer, sheet_name="Broods", index=False, startrow=2)
        theirs.head(2).to_excel(writer, sheet_name="Other", index=False)
    told = taken_in(story, path, "--species", SPECIES).out
    assert "sheet Broods; not read: Other; --tab 'Other' reads it" in told
    ours = table(story, "life-table").set_index(["brood", "stage"]).entered.sort_index()
    assert ours.xs("egg", level="stage").sum() == theirs.eggs.sum()
    took = table(story, "durations").set_index(["brood", "stage"])["mean (days)"].sort_index()
    one = theirs.iloc[13]
    assert took["Q14", "larva"] == (one.pupated - one.hatched).days


async def test_a_published_table(story: Story, tmp_path: Path) -> None:
    """Fourteen broods by counts alone, no dates: Wells, Edwards, Hawkins, Smith & Tonkyn 2011, Psyche 2011, article
    940280, doi 10.1155/2011/940280, Table 1 (CC BY), as `tests/published/replays/test_fritillary_2011.py` has it."""
    heading = "female,eggs,hatched,second_instar,last_instar,pupating,adults"
    path = write(
        tmp_path / "table1.csv", heading, [[female, *counts] for female, counts in ROWS.items()]
    )
    said = (
        "--map",
        "female=brood",
        "--map",
        "last_instar=L6",
        "--laid",
        "2010-09-01",
        "--species",
        "Argynnis diana",
        "--as",
        "left=not known",
    )
    told = taken_in(story, path, *said).out
    assert "hatched (by its name)" not in told
    assert "larvae (by its name)" in told
    ours = table(story, "life-table").set_index(["brood", "stage"])
    went_on = ours["went on"] / ours["entered"]
    for female, percent in HATCH_PERCENT.items():
        if female in ROWS:
            assert round(100 * went_on[female, "egg"]) == percent, female
    for female, percent in SECOND_PERCENT.items():
        assert round(100 * went_on[female, "L1"]) == percent, female
    for female, percent in ADULT_PERCENT.items():
        if female in ROWS:
            assert round(100 * went_on[female, "pupa"]) == percent, female
    last = ours.loc["NC-3", "L2"]
    assert (last["entered"], last["died"], last["fate not known"]) == (115, 0, 115)
    assert table(story, "durations").empty


def test_a_mean_temperature_leaves_as_a_mean(story: Story, tmp_path: Path) -> None:
    """No reading is made of it: the table has its time, the note names it."""
    rows: list[list[object]] = [["A", SPECIES, "2024-05-03", 30, "2024-05-13", 28, 21.5]]
    taken_in(
        story,
        write(tmp_path / "old.csv", "brood,species,laid,eggs,hatched,larvae,temperature", rows),
    )
    (read,) = table(story, "warmth").to_dict("records")
    assert read["temperature (C)"] == 21.5
    assert (read["mean since"][:10], read["at"][:10]) == ("2024-05-03", "2024-05-13")
    file = tmp_path / "note.md"
    assert story.shell("export", "note", "A", str(file)).status == 0
    assert "The mean temperature there was 21.5 C, 3 May 2024 to 13 May 2024" in file.read_text()
    assert "read by hand there" not in file.read_text()


async def test_the_dead_of_no_known_age_are_in_no_curve(story: Story, tmp_path: Path) -> None:
    """Counts without dates give the shares of each stage, but no age: the curve is of the others."""
    heading = "brood,species,laid,eggs,hatched,larvae,pupae,adults"
    rows: list[list[object]] = [["A", SPECIES, "2024-05-03", 40, "2024-05-13", 36, 20, 18]]
    path = write(tmp_path / "old.csv", heading, rows)
    taken_in(story, path)
    own = " ".join((await page_of(story, "code A")).split())
    assert (
        "survival: nobody knows at what age 22 died, for some change is not dated: in no curve"
        in own
    )
    assert stages_on(await page_of(story, "code A"))["pupa"] == (20, 2)
    rows.append(["B", SPECIES, "2023-05-03", 40, "2023-05-13", 30, None, None])
    write(path, heading, rows)
    taken_in(story, path)
    both = " ".join((await page_of(story, f"taxon {SPECIES}")).split())
    assert "40 animals, 40 died" in both
    assert "nobody knows at what age 22 died" in both
    file = tmp_path / "note.md"
    assert story.shell("export", "note", "A", str(file)).status == 0
    assert "Nobody knows at what age 22 died" in file.read_text()
