"""Eggs, larvae and pupae of which no line of a table says what became of them: one answer for all of it, whatever its shape, and one day."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from tests.stories.telling import Screen, Story
from tests.stories.test_old_tables_taken_in_again import imported
from tests.stories.test_tables_with_a_column_each import table_of

SPECIES = "Pieris verrina"
# Of 20 eggs 18 hatched on day 8, 15 pupated on day 38, 12 emerged on day 52; of another 10, 9 hatched.
EVENTS = f"""Date,Cup,Brood,Species,What,Number
2022-05-01,A1,A,{SPECIES},laid,20
2022-05-02,A2,B,{SPECIES},laid,10
2022-05-09,A1,A,,hatched,18
2022-05-10,A2,B,,hatched,9
2022-06-08,A1,A,,pupated,15
2022-06-22,A1,A,,emerged,12
"""
BROODS = f"""Brood,Species,Laid,Eggs,Hatched,Larvae,Dead larvae,Pupated,Pupae,Emerged,Adults
A,{SPECIES},2022-05-01,20,2022-05-09,18,,2022-06-08,15,2022-06-22,12
B,{SPECIES},2022-05-02,10,2022-05-10,9,,,,,
"""
DAYS = f"""Date,Cup,Species,Eggs,Larvae,Pupae,Adults
2022-05-01,A,{SPECIES},20,,,
2022-05-02,B,{SPECIES},10,,,
2022-05-09,A,,0,18,,
2022-05-10,B,,0,9,,
2022-06-08,A,,,0,15,
2022-06-22,A,,,,0,12
"""


def _animals() -> str:
    rows = ["Animal,Brood,Species,Laid,Days as egg,Days as larva,Total,Died"]
    lives = [
        ("A", 1, "8,30,52,no", 12),
        ("A", 1, "8,30,,", 3),
        ("A", 1, "8,,,", 3),
        ("A", 1, ",,,", 2),
    ]
    lives += [("B", 2, "8,,,", 9), ("B", 2, ",,,", 1)]
    for brood, day, life, number in lives:
        rows += [
            f"{len(rows) + one},{brood},{SPECIES},2022-05-0{day},{life}" for one in range(number)
        ]
    return "\n".join(rows) + "\n"


SHAPES = {"events": EVENTS, "broods": BROODS, "animals": _animals(), "days": DAYS}
SPAN = {"2022-05-09": ("egg", 2), "2022-05-10": ("egg", 1)}
EACH = pytest.mark.parametrize("table", SHAPES.values(), ids=SHAPES)


def dead(story: Story) -> Counter[tuple[str, str]]:
    """How many of each stage died on which day."""
    found: Counter[tuple[str, str]] = Counter()
    for line in story.on_disk():
        if line["what"] == "died" and line["id"] not in story.desk.struck:
            found[line["stage"], line["at"][:10]] += line["number"]
    return found


TAKEN = {
    ("egg", "2022-05-09"): 2,
    ("egg", "2022-05-10"): 1,
    ("larva", "2022-05-10"): 9,
    ("larva", "2022-06-08"): 3,
    ("pupa", "2022-06-22"): 3,
}


@EACH
def test_where_no_line_tells_of_a_death_they_are_dead(
    story: Story, tmp_path: Path, table: str
) -> None:
    """When the last of their brood went on; where none did, with the last line about it."""
    ran = imported(story, tmp_path, "old.csv", table)
    assert ran.status == 0, ran.err
    assert dead(story) == TAKEN
    (line,) = (one for one in ran.out.splitlines() if one.startswith("no line says"))
    assert "3 eggs, 12 larvae and 3 pupae taken as dead" in line
    assert "for the table names no death and no other fate" in line
    assert "else say --as 'left=not known' (or living)" in line
    assert story.shell("check").status == 0


TELLS = {
    "events": f"{EVENTS}2022-05-20,A2,B,,larvae died,1\n",
    "broods": BROODS.replace("2022-05-10,9,,", "2022-05-10,9,1,"),
    "animals": _animals().replace("2022-05-02,8,,,\n", "2022-05-02,8,,18,yes\n", 1),
}


@pytest.mark.parametrize("table", TELLS.values(), ids=TELLS)
def test_where_a_line_tells_of_one_the_others_are_not_known_but_eggs(
    story: Story, tmp_path: Path, table: str
) -> None:
    """Of 20 eggs 18 hatched: the 2 are dead, as everywhere, where no line says an end of eggs."""
    ran = imported(story, tmp_path, "old.csv", table)
    assert ran.status == 0, ran.err
    assert {stage for stage, _ in dead(story)} == {"egg", "larva"}
    assert sum(dead(story).values()) == 3 + 1
    (line,) = (one for one in ran.out.splitlines() if one.startswith("no line says"))
    assert "3 eggs taken as dead, 11 larvae and 3 pupae taken as not known" in line
    assert "for the table says of no egg how it ended, but what became of others" in line
    ways = "--as 'eggs left=not known' (or living) and --as 'larvae and pupae left=dead'"
    assert ways in line


@pytest.mark.parametrize("table", TELLS.values(), ids=TELLS)
def test_both_usual_answers_are_offered_as_one(story: Story, tmp_path: Path, table: str) -> None:
    ran = imported(story, tmp_path, "old.csv", table, "--as", "left=eggs dead and others not known")
    assert ran.status == 0, ran.err
    assert sum(dead(story).values()) == 3 + 1
    (line,) = (one for one in ran.out.splitlines() if one.startswith("no line says"))
    assert "3 eggs taken as dead, 11 larvae and 3 pupae taken as not known; else say" in line


TELLS_OF_EGGS = {
    "events": f"{EVENTS}2022-05-08,A1,A,,eggs died,1\n",
    "events without a stage": f"{EVENTS}2022-05-08,A1,A,,died,1\n",
    "broods": BROODS.replace("Hatched,L", "Dead eggs,Hatched,L")
    .replace("20,2022", "20,1,2022")
    .replace("10,2022", "10,,2022"),
    "animals": _animals()
    .replace("Total,Died", "Total,Died,Stage")
    .replace("2022-05-01,,,,\n", "2022-05-01,,,8,yes,egg\n", 1),
    "days": DAYS.replace("Adults\n", "Adults,Deaths\n").replace(
        "2022-05-09,A", f"2022-05-08,A,{SPECIES},19,,,,1\n2022-05-09,A"
    ),
}


@pytest.mark.parametrize("table", TELLS_OF_EGGS.values(), ids=TELLS_OF_EGGS)
def test_where_a_line_tells_of_an_egg_the_other_eggs_are_not_known_either(
    story: Story, tmp_path: Path, table: str
) -> None:
    ran = imported(story, tmp_path, "old.csv", table)
    assert ran.status == 0, ran.err
    assert [(stage, number) for (stage, _), number in dead(story).items()] == [("egg", 1)]
    (line,) = (one for one in ran.out.splitlines() if one.startswith("no line says"))
    assert "2 eggs, 12 larvae and 3 pupae taken as not known" in line
    assert "for the table says what became of others; else say --as 'left=dead'" in line


@EACH
@pytest.mark.parametrize(
    ("answers", "died"),
    [
        (["left=not known"], 0),
        (["left=living"], 0),
        (["left=not known", "eggs left=dead"], 3),
        (["larvae and pupae left=living"], 3),
        (["larvae and pupae left=dead", "eggs left=living"], 15),
    ],
)
def test_one_answer_holds_for_every_shape(
    story: Story, tmp_path: Path, table: str, answers: list[str], died: int
) -> None:
    said = [part for one in answers for part in ("--as", one)]
    ran = imported(story, tmp_path, "old.csv", table, *said)
    assert ran.status == 0, ran.err
    assert sum(dead(story).values()) == died
    life = table_of(story, tmp_path, "life-table").groupby("stage")["entered"].sum()
    assert life[["egg", "larva", "pupa", "adult"]].tolist() == [30, 27, 15, 12]


def test_another_answer_is_none(story: Story, tmp_path: Path) -> None:
    ran = imported(story, tmp_path, "old.csv", EVENTS, "--as", "larvae and pupae left=gone")
    assert ran.status == 1
    assert "'gone' does not fit: of those that are left no line says what became" in ran.err


def test_a_row_with_a_fate_is_not_left(story: Story, tmp_path: Path) -> None:
    """Two pupae of one day: one went on, the other winters, as its row says; a third says nothing."""
    rows = f"""ID,Species,Laid,egg (d),larva (d),pupa (d),outcome
1,{SPECIES},2022-04-25,8,30,14,released
2,{SPECIES},2022-04-25,8,30,,overwintering
3,{SPECIES},2022-04-25,8,30,,
4,{SPECIES},2022-04-25,8,,,?
"""
    said = ("--as", "overwintering=alive", "--as", "larvae and pupae left=dead")
    ran = imported(story, tmp_path, "old.csv", rows, *said)
    assert ran.status == 0, ran.err
    assert dead(story) == {("pupa", "2022-06-16"): 1}


def test_eggs_that_died_nobody_wrote_when_died_as_the_others_hatched(
    story: Story, tmp_path: Path
) -> None:
    rows = f"""ID,Brood,Species,Laid,egg (d),larva (d),outcome
1,A,{SPECIES},2022-04-25,8,30,ok
2,A,{SPECIES},2022-04-25,,,died as egg
"""
    assert imported(story, tmp_path, "old.csv", rows).status == 0
    assert dead(story) == {("egg", "2022-05-03"): 1}


async def screen_with(story: Story, screen: Screen, tmp_path: Path) -> None:
    (tmp_path / "old.csv").write_text(BROODS, encoding="utf-8")
    await screen.type(f"import {tmp_path / 'old.csv'}")


async def test_it_is_asked_on_the_screen_and_answered_anew_there(
    story: Story, tmp_path: Path
) -> None:
    async with story.screens((110, 40)) as screen:
        await screen_with(story, screen, tmp_path)
        assert "of 3 eggs, 12 larvae and 3 pupae (A, B) no line says what became" in screen.words
        assert "F2 dead, not known, living" in screen.words
        await screen.press("f2")
        assert "taken as dead; else say left=not known (or living)" in screen.words
        await screen.type("eggs left=living")
        assert "3 eggs taken as living, 12 larvae and 3 pupae taken as dead" in screen.words
        ways = "eggs left=dead (or not known) and left=not known (or living)"
        assert ways in screen.words
        await screen.press("f10")
    assert sum(dead(story).values()) == 15


async def test_the_screen_offers_both_where_eggs_and_others_differ(
    story: Story, tmp_path: Path
) -> None:
    (tmp_path / "old.csv").write_text(TELLS["broods"], encoding="utf-8")
    async with story.screens((110, 40)) as screen:
        await screen.type(f"import {tmp_path / 'old.csv'}")
        assert "F2 eggs dead and others not known, dead, not known, living" in screen.words
        await screen.press("f2")
        assert "3 eggs taken as dead, 11 larvae and 3 pupae taken as not known" in screen.words
        await screen.press("f10")
    assert sum(dead(story).values()) == 3 + 1
