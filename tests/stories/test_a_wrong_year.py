"""A wrong year, a clock of another decade, a cup that nobody closed: the book opens all the same."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story, tell

OLD_LARVAE = "R6\t15 L3 Hyles euphorbiae\tspurge\t21 May 2007\tB 4\n"


def listed(story: Story, tmp_path: Path, text: str) -> Path:
    """A list of a running bench as a file."""
    path = tmp_path / "list.txt"
    path.write_text(text)
    return path


def test_larvae_that_stand_for_twenty_years_are_asked_about(story: Story, tmp_path: Path) -> None:
    story.at("2027-05-22 10:05")
    path = listed(story, tmp_path, OLD_LARVAE)
    ran = story.shell("begin", "--list", str(path))
    assert ran.status == 1
    assert (
        "line 1, R6: larvae since 2007, 20 years ago? Say since when: perhaps 21 May 2027, or ?"
        in ran.err
    )
    assert "nothing is recorded" in ran.err
    path.write_text(OLD_LARVAE.replace("2007", "2027"))
    assert story.shell("begin", "--list", str(path)).status == 0


@pytest.mark.parametrize("what", ["15 L3", "40 eggs", "6 pupae"])
async def test_a_book_that_has_such_larvae_opens(story: Story, what: str) -> None:
    story.at("2007-05-21 12:00")
    tell(
        story,
        f"""
        R6 set up rearing
        brood HY taxon="Hyles euphorbiae"
        R6 stocked {what} HY
        """,
    )
    story.at("2027-05-22 10:05")
    story.type("K2 set up laying", "R6 misted")
    story.reopen()
    ran = story.shell("due")
    assert (ran.status, ran.err) == (0, ""), ran.err
    assert "R6" in ran.out
    async with story.screens() as screen:
        assert "R6" in screen.text
        await screen.press("r")
        assert "morning round   stop 1 of 2" in screen.text


async def test_a_clock_of_another_decade_opens_the_book(story: Story) -> None:
    story.at("2027-05-21 12:00")
    tell(
        story,
        """
        R6 set up rearing
        brood HY taxon="Hyles euphorbiae"
        R6 stocked 40 eggs HY
        """,
    )
    story.at("2027-05-29 12:00").type("R6 hatched 20")
    story.at("2037-05-22 10:05")
    story.type("R6 looked", "R6 misted")
    story.reopen()
    assert story.shell("due").status == 0
    async with story.screens() as screen:
        assert "R6" in screen.text


def test_what_has_stood_too_long_teaches_nothing_and_that_is_told(story: Story) -> None:
    story.at("2007-05-21 12:00")
    tell(
        story,
        """
        R6 set up rearing
        brood HY taxon="Hyles euphorbiae"
        R6 stocked 15 eggs HY
        """,
    )
    story.at("2007-05-31 12:00").type("R6 hatched 15")
    story.at("2027-05-12 10:05")
    tell(
        story,
        """
        R6 misted
        R7 set up rearing
        brood HZ taxon="Hyles euphorbiae"
        R7 stocked 15 eggs HZ
        """,
    )
    story.at("2027-05-22 10:05").type("R7 hatched 15")
    story.reopen()
    moult, _ = story.desk.foresight.coming(story.desk.bench.containers["R7"])
    assert moult.need is not None
    assert moult.half is not None
    assert "15 left out" in moult.need.words
    old, _ = story.desk.foresight.coming(story.desk.bench.containers["R6"])
    assert old.why_not.startswith("on record they have been larvae for 19 years: correct")
