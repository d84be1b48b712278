"""What is learned of a female later goes into her record, and with it into her broods', on every page."""

from __future__ import annotations

from pathlib import Path

import pandas as pd
import pytest

from tests.stories.telling import Story, tell
from tests.stories.test_whose_eggs import page

CAUGHT = """
L3 set up laying
R3 set up rearing
L3 founder W3 "Polyommatus sp." female
L3 host in Lotus leaf 3 sprigs
"""


@pytest.fixture
def laid(story: Story) -> Story:
    """A female of whom the species was not known, with a brood that hatched."""
    story.at("2027-06-10 08:00")
    tell(story, CAUGHT)
    story.at("2027-06-12 08:00").type("L3 searched 8", "L3 moved 8 eggs to R3")
    story.at("2027-06-18 08:00").type("R3 hatched 8")
    return story.at("2027-06-20 08:00")


@pytest.mark.parametrize(
    "line",
    [
        "W3 is Polyommatus icarus",
        "W3 taxon Polyommatus icarus",
        "W3 taxon='Polyommatus icarus'",
        "W3 identified as Polyommatus icarus",
        "L3 W3 is Polyommatus icarus",
        "w3 is 'Polyommatus icarus'",
    ],
)
async def test_her_name_is_that_of_her_brood(laid: Story, line: str, tmp_path: Path) -> None:
    assert "W3/A" in laid.preview(line)
    laid.type(line)
    bench = laid.desk.bench
    assert (bench.taxon_of("W3"), bench.taxon_of("W3/A")) == (
        "Polyommatus icarus",
        "Polyommatus icarus",
    )
    assert bench.containers["R3"].count("larva", "W3/A") == 8
    assert bench.containers["L3"].count("adult", "W3") == 1
    assert not bench.misfits
    assert set(bench.laid) <= {"Polyommatus icarus"}
    for key in ("i", "z", "."):
        shown = await page(laid, key)
        assert "Polyommatus sp" not in shown, key
    laid.reopen()
    for table in ("laying", "stock", "founders"):
        ran = laid.shell(
            "export", "csv", str(tmp_path / f"{table}.csv"), "--table", table, "--replace"
        )
        if ran.status == 0:
            assert "Polyommatus sp." not in pd.read_csv(tmp_path / f"{table}.csv").to_csv()


def test_undo_brings_the_old_name_back(laid: Story) -> None:
    laid.type("W3 is Polyommatus icarus")
    laid.desk.strike_last()
    bench = laid.desk.bench
    assert (bench.taxon_of("W3"), bench.taxon_of("W3/A")) == ("Polyommatus sp.", "Polyommatus sp.")
    laid.type("W3 is Polyommatus thersites")
    assert laid.desk.bench.taxon_of("W3/A") == "Polyommatus thersites"


def test_twice_and_after_she_is_gone_and_her_cup_is_closed(laid: Story) -> None:
    laid.type("W3 is Polyommatus icarus", "L3 released 1", "L3 host out held_in=R3", "L3 closed")
    laid.later(days=30).type("W3 is Polyommatus thersites at Ferny Down")
    founder = laid.desk.bench.founders["W3"]
    assert (founder.taxon, founder.place) == ("Polyommatus thersites", "Ferny Down")
    assert laid.desk.bench.taxon_of("W3/A") == "Polyommatus thersites"
    assert not laid.desk.bench.misfits


def test_place_time_and_wear_of_the_first_female(laid: Story) -> None:
    laid.type("W3 at Ferny Down caught 9 Jun 14:20 wear fresh")
    founder = laid.desk.bench.founders["W3"]
    assert (founder.taxon, founder.place, founder.wear) == (
        "Polyommatus sp.",
        "Ferny Down",
        "fresh",
    )
    assert founder.caught is not None
    assert f"{founder.caught:%m-%d %H:%M}" == "06-09 14:20"
    laid.type("W3 from Ferny Down Heath on 8 Jun 11:00")
    founder = laid.desk.bench.founders["W3"]
    assert (founder.place, f"{founder.caught:%m-%d %H:%M}") == ("Ferny Down Heath", "06-08 11:00")
    laid.type(
        "W3 at Ferny Down", "W3 wear worn", "W3 latitude 50.8 longitude -1.9", "W3 collector=KM"
    )
    founder = laid.desk.bench.founders["W3"]
    assert (founder.place, founder.wear, founder.latitude, founder.collector) == (
        "Ferny Down",
        "worn",
        50.8,
        "KM",
    )
    assert list(laid.desk.bench.broods) == ["W3/A"]


def test_a_brood_of_two_mothers_and_the_next_generation(story: Story) -> None:
    story.at("2027-06-10 08:00")
    tell(story, CAUGHT + 'L3 founder W4 "Polyommatus sp." female')
    story.at("2027-06-12 08:00").type("L3 searched 8")
    story.type('brood X1 taxon="Polyommatus sp." mothers=W3+/A')
    story.type("W3 is Polyommatus icarus")
    assert story.desk.bench.taxon_of("W3+/A") in ("", "Polyommatus icarus or Polyommatus sp.")
    story.type("W4 is Polyommatus icarus")
    assert {story.desk.bench.taxon_of(code) for code in ("W3", "W4", "W3+/A", "X1")} == {
        "Polyommatus icarus"
    }


def test_what_cannot_be_is_refused_and_says_how(laid: Story) -> None:
    assert "caught after she came in" in laid.refused("W3 caught 18 Jun 14:20")
    assert "W3 is NAME" in laid.refused('L3 founder W3 "Polyommatus icarus"')
    assert "W3 is NAME" in laid.refused('brood W3/A taxon="Polyommatus icarus"')
    assert "W3 is NAME" in laid.refused("W3/A is Polyommatus icarus")
    for line in ("W3 is", "W3 taxon", "W3 identified as"):
        assert "what? As: W3 is" in laid.refused(line)
    laid.type('L3 founder W5 "Polyommatus thersites"')
    assert "Polyommatus thersites" in laid.refused("W3 is Polyommatus thersitis"), (
        "a slip is asked about"
    )


def test_what_happens_to_her_is_no_record(laid: Story) -> None:
    laid.type("L5 set up laying", "W3 drank", "W3 to L5", "W3 is dead")
    assert not laid.desk.bench.containers["L5"].lots


async def test_by_keys(laid: Story) -> None:
    async with laid.screens((110, 40)) as screen:
        await screen.type("W3 is Polyommatus icarus")
        assert laid.desk.bench.taxon_of("W3/A") == "Polyommatus icarus"
