"""The numbers of the life-history note are those of the pages, and a mean or a 'not read' stands there only where it is true."""

from __future__ import annotations

import re
from datetime import timedelta
from pathlib import Path

import pandas as pd
import pytest

from tests.laying_limits import limits_laid
from tests.stories.telling import Screen, Story, tell

BEGIN = """
    taxon Pieris orata
    K2 set up laying
    K2 founder A-27-02, Pieris orata female
    K2 host in cress leaf water
    """


def note_of(story: Story, tmp_path: Path, brood: str) -> str:
    """The note of a brood as Markdown, without its escapes."""
    story.reopen()
    ran = story.shell("export", "note", brood, str(tmp_path / "note.md"), "--replace")
    assert ran.status == 0, ran.err
    return (tmp_path / "note.md").read_text().replace("\\", "")


def table(note: str, section: str) -> list[list[str]]:
    """The rows of the first table in a section, its heading among them."""
    text = note.split(f"## {section}\n")[1].split("\n## ")[0]
    lines = [line for line in text.splitlines() if line.startswith("| ")]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines]


def laying_row(note: str, plant: str) -> dict[str, str]:
    heads, *rows = table(note, "Laying")
    (row, *_) = [row for row in rows if row[0] == plant]
    return dict(zip(heads, row, strict=True))


async def page(story: Story) -> str:
    """The page of who laid on what, its lines run together."""
    async with story.screens((120, 60)) as screen:
        await open_laying(screen)
        return " ".join(screen.text.split())


async def open_laying(screen: Screen) -> None:
    await screen.press("i")
    await screen.pilot.pause()


async def test_ten_eggs_a_day_are_ten_a_female_day_in_the_note_as_on_the_page(
    story: Story, tmp_path: Path
) -> None:
    tell(story, BEGIN)
    for _ in range(5):
        story.later(days=1)
        tell(story, "K2 searched 10 lens")
    shown = await page(story)
    row = laying_row(note_of(story, tmp_path, "A-27-02/A"), "cress")

    # 50 eggs in 5 female-days; limits by Garwood 1936, averaged over what searches find
    *_, finds, rate = row.values()
    laid = [float(one) for one in re.findall(r"[\d.]+", rate)]
    share = float(finds.removesuffix(" %")) / 100
    (counted,) = re.findall(r"known as well as by counting ([\d.]+) eggs", shown)
    assert laid == pytest.approx([10 / share, *limits_laid(50, 5, share, float(counted))], rel=0.03)
    assert rate in shown
    assert list(row.values())[4:] == ["5.0", "5", "50", finds, rate]
    assert (
        "K2, A-27-02 alone, 5.0 (Sat 1 May 07:05 to Thu 6 May 07:05), 50 eggs in 5 searches"
        in shown
    )
    assert list(row.values())[1:4] == [
        "K2, A-27-02 alone",
        "1 May 2027, 07:05 +0200",
        "6 May 2027, 07:05 +0200",
    ]


async def test_a_search_that_found_none_and_a_change_of_plant_stand_in_both(
    story: Story, tmp_path: Path
) -> None:
    tell(story, BEGIN)
    story.later(days=2)
    tell(story, "K2 searched 0 lens")
    story.type("K2 host out cress held", "K2 host in charlock leaf water")
    for found in (12, 0, 6):
        story.later(days=1)
        tell(story, f"K2 searched {found} lens plant=charlock")
    tell(story, "K2 released 1 adult")
    story.later(days=3)
    shown = await page(story)
    note = note_of(story, tmp_path, "A-27-02/A")

    none, some = laying_row(note, "cress"), laying_row(note, "charlock")
    assert list(none.values())[4:7] == ["2.0", "1", "0"]
    assert list(some.values())[4:7] == ["3.0", "3", "18"]
    assert "0 eggs in 1 search" in shown
    assert "18 eggs in 3 searches" in shown
    for row in (none, some):
        assert list(row.values())[7] in shown  # the same words for the rate and its limits
    assert "Laid between 3 May 2027, 07:05 +0200 and 6 May 2027, 07:05 +0200" in note


async def test_two_females_one_after_the_other_in_one_cup_keep_their_own_numbers(
    story: Story, tmp_path: Path
) -> None:
    tell(story, BEGIN)
    story.later(days=2)
    tell(story, "K2 searched 8 lens\nK2 released 1 adult\nK2 founder A-27-03, Pieris orata female")
    story.later(days=4)
    story.type(
        "brood A-27-03/A taxon='Pieris orata' mothers=A-27-03", "K2 searched 2 lens brood=A-27-03/A"
    )
    shown = await page(story)
    first = laying_row(note_of(story, tmp_path, "A-27-02/A"), "cress")
    second = laying_row(note_of(story, tmp_path, "A-27-03/A"), "cress")

    assert list(first.values())[4:7] == ["2.0", "1", "8"]
    assert list(second.values())[4:7] == ["4.0", "1", "2"]
    # Of all females together the note says what the page's table says: 10 eggs in 6 female-days.
    everyone = next(
        row
        for row in table(note_of(story, tmp_path, "A-27-02/A"), "Laying")
        if "all females" in row[1]
    )
    assert everyone[4:7] == ["6.0", "2", "10"]
    # The stems of the first two days were searched twice by lens, which finds 60 %, by four eggs' worth:
    # (2 x (1 - 1.6 x 2.6 / (4 x 5)) + 4 x 0.6) / 6.
    assert f"cress 6.0 66 % 10 {everyone[8]}" in shown
    assert "K2, A-27-02 alone, 2.0" in shown
    assert "K2, A-27-03 alone, 4.0" in shown
    ran = story.shell("export", "csv", str(tmp_path / "laying.csv"), "--table", "laying")
    assert ran.status == 0, ran.err
    rows = pd.read_csv(tmp_path / "laying.csv")
    assert rows["females"].tolist() == ["A-27-02", "A-27-03"]
    assert rows["eggs"].tolist() == [8, 2]
    assert rows["effort (female-days)"].tolist() == pytest.approx([2, 4])


async def test_eggs_without_any_time_with_a_plant_are_in_the_sum_and_in_the_note_too(
    story: Story, tmp_path: Path
) -> None:
    tell(story, BEGIN)
    story.later(days=1)
    tell(story, "K2 host in charlock leaf water\nK2 searched 5 lens not known")
    shown = await page(story)
    row = laying_row(note_of(story, tmp_path, "A-27-02/A"), "host not known")

    assert list(row.values())[4:] == ["0.0", "1", "5", "-", "no time with it"]
    assert "host not known: K2, A-27-02, no time with it, 5 eggs in 1 search" in shown


def lasting(note: str, stage: str) -> tuple[str, str]:
    """A stage's mean temperature and for how many it was read."""
    rows = {row[0]: row for row in table(note, "How long each stage took")[1:]}
    return rows[stage][5], rows[stage][6]


@pytest.mark.parametrize("fraction", [0, 1, 250_000, 499_999, 500_000, 500_001, 750_000, 999_999])
def test_no_mean_for_weeks_without_a_reading_whatever_the_fraction_of_a_second(
    story: Story, tmp_path: Path, fraction: int
) -> None:
    story.clock.now += timedelta(microseconds=fraction)
    tell(story, BEGIN + "air 26C 60%")
    story.later(days=1)
    tell(story, "K2 searched 10 lens\nE3 set up eggs\nK2 moved 10 eggs to E3")
    story.later(days=20)
    tell(story, "E3 hatched 10")
    note = note_of(story, tmp_path, "A-27-02/A")

    assert lasting(note, "egg") == ("not read", "0")
    assert "26.0" not in note.split("## How long each stage took")[1].split("\n## ")[0]


@pytest.mark.parametrize("hours", [1, 6, 15])
def test_a_reading_before_the_eggs_says_nothing_of_the_weeks_after(
    story: Story, tmp_path: Path, hours: int
) -> None:
    tell(story, "air 26C 60%")
    story.later(hours=hours)
    tell(story, BEGIN)
    story.later(days=1)
    tell(story, "K2 searched 10 lens\nE3 set up eggs\nK2 moved 10 eggs to E3")
    story.later(days=20)
    tell(story, "E3 hatched 10\nair 26C")

    assert lasting(note_of(story, tmp_path, "A-27-02/A"), "egg") == ("not read", "0")


@pytest.mark.parametrize("fraction", [0, 250_000, 499_999, 500_000, 750_000, 999_999])
def test_where_it_was_read_each_round_the_mean_is_the_same_whatever_the_fraction(
    story: Story, tmp_path: Path, fraction: int
) -> None:
    tell(story, BEGIN)
    story.later(days=1)
    tell(story, "K2 searched 10 lens\nE3 set up eggs\nK2 moved 10 eggs to E3")
    for number in range(12):
        story.clock.now = story.clock.now.replace(microsecond=fraction if number % 2 else 0)
        tell(story, f"air {20 + 4 * (number % 2)}C")
        story.later(hours=8 if number % 2 else 16)
    tell(story, "E3 hatched 10")

    assert lasting(note_of(story, tmp_path, "A-27-02/A"), "egg") == ("22.1", "10")


def rear(story: Story) -> None:
    """Eggs that hatch after four days, on the sill shelf."""
    tell(story, BEGIN + "shelf set up sill\nshelf set up cool\nE3 set up eggs shelf=sill")
    story.later(days=1)
    tell(story, "K2 searched 10 lens\nK2 moved 10 eggs to E3")


def test_humidity_of_a_logger_is_humidity_read(story: Story, tmp_path: Path) -> None:
    rear(story)
    story.later(days=4)
    tell(story, "E3 hatched 10")
    story.reopen()
    file = tmp_path / "logger.csv"
    lines = [
        f"2027-05-0{day}T{hour:02d}:00:00+02:00,21.5,{50 + hour}"
        for day in (2, 3, 4, 5)
        for hour in range(24)
    ]
    file.write_text("time,temperature (C),humidity (%)\n" + "\n".join(lines) + "\n")
    ran = story.shell("temperatures", str(file), "--place", "E3")
    assert ran.status == 0, ran.err
    conditions = note_of(story, tmp_path, "A-27-02/A").split("## Conditions")[1].split("\n## ")[0]

    assert "not read" not in conditions.lower().replace("no temperature was read by hand", "")
    assert re.search(r"Humidity read: 50 to 73 %, \d+ readings of a logger\.", conditions)
    ran = story.shell("export", "csv", str(tmp_path / "warmth.csv"), "--table", "warmth")
    assert ran.status == 0, ran.err
    read = pd.read_csv(tmp_path / "warmth.csv")
    assert read[read["source"] == "logger"]["humidity (%)"].tolist()[:2] == [50, 51]


def test_what_was_read_on_the_shelf_that_the_cup_was_moved_to_counts(
    story: Story, tmp_path: Path
) -> None:
    rear(story)
    tell(story, "E3 changed shelf=cool")
    for _ in range(8):
        story.later(hours=12)
        tell(story, "cool air 14C 66%")
    tell(story, "E3 hatched 10")
    note = note_of(story, tmp_path, "A-27-02/A")

    assert "Humidity read: 66 to 66 %, 8 readings." in note
    assert lasting(note, "egg")[0] == "14.0"


def test_not_read_is_said_only_where_no_humidity_was_read_at_all(
    story: Story, tmp_path: Path
) -> None:
    rear(story)
    story.later(days=4)
    tell(story, "E3 hatched 10")
    assert "Humidity was not read." in note_of(story, tmp_path, "A-27-02/A")
    tell(story, "cool air 14C 66%")
    note = note_of(story, tmp_path, "A-27-02/A")
    assert "Humidity was not read." not in note
    assert (
        "Humidity was read elsewhere, or at another time, but not where it stood while it was there."
        in note
    )


@pytest.mark.parametrize("place", ["room", "K2 air"])
def test_what_was_read_while_they_were_laid_is_among_the_extremes_as_in_the_mean(
    story: Story, tmp_path: Path, place: str
) -> None:
    tell(story.at("2027-06-08 15:00"), BEGIN)
    story.at("2027-06-09 12:00").type(f"{place} 9/41 70%")
    story.at("2027-06-09 18:30").type("K2 searched 20")
    story.at("2027-06-10 18:30").type("room 18/24", "K2 searched 10")
    story.at("2027-06-11 18:00").type("E2 set up eggs", "K2 moved 30 eggs to E2")
    for day in range(11, 17):
        story.at(f"2027-06-{day} 18:00").type("room 18/24")
    story.type("E2 hatched 30")
    story.at("2027-06-17 07:00")
    note = note_of(story, tmp_path, "A-27-02/A")

    assert "lowest 9 C, highest 41 C, 8 readings." in note
    assert "Humidity read: 70 to 70 %, 1 reading." in note


def test_what_was_read_before_any_was_laid_is_not_among_them(story: Story, tmp_path: Path) -> None:
    tell(story.at("2027-06-08 06:00"), "room 2/44")
    rear(story.at("2027-06-08 15:00"))
    tell(story, "room 18/24")
    assert "lowest 18 C, highest 24 C, 1 reading." in note_of(story, tmp_path, "A-27-02/A")
