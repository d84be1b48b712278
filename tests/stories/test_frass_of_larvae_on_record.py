"""Frass under kept stems whose larvae are on record asks for no others, and no larva is invented to end it."""

from __future__ import annotations

import csv
import io

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def stems(story: Story) -> Story:
    """Stems of K2 kept in S2, with the twenty eggs that were found on them."""
    tell(
        story.at("2027-04-29 08:00"),
        """
        K2 set up laying
        K2 founder W2 'Boloria dia' female
        K2 host in violet 3 stems
        """,
    )
    story.at("2027-04-30 08:00")
    tell(
        story,
        """
        K2 searched 20
        K2 host changed
        K2 moved kept stems to new S2
        """,
    )
    return story.at("2027-05-10 08:00")


def larvae(story: Story) -> int:
    return sum(cup.count("larva") for cup in story.desk.bench.standing())


def in_stems(story: Story) -> tuple[int, int]:
    """Eggs and larvae in the cup of the kept stems."""
    cup = story.desk.bench.containers["S2"]
    return cup.count("egg"), cup.count("larva")


def frass_after_they_left(stems: Story) -> None:
    """Those on record hatched and went; a look saw no frass, the next one did."""
    stems.type("S2 hatched 20", "S2 moved all larvae to new L7")
    stems.later(days=1).type("S2 frass none")
    stems.later(days=1).type("S2 frass trace")


async def answered_at_the_stop(story: Story, *keys: str) -> str:
    """The words of the stop at which the frass is asked about, which these keys answer."""
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("turn", "S2")
        words = screen.words
        await screen.press(*keys)
    return words


def test_it_ends_with_the_eggs_on_record_that_hatch_there(stems: Story) -> None:
    stems.type("S2 frass trace")
    assert "turn" in stems.due("S2")
    stems.later(hours=1).type("S2 hatched 20")
    assert "turn" not in stems.due("S2")
    stems.type("S2 moved all larvae to new L7")
    assert "turn" not in stems.later(hours=30).due("S2")
    assert larvae(stems) == 20


@pytest.mark.parametrize("moved", [False, True])
def test_it_is_theirs_where_they_hatched_before(stems: Story, moved: bool) -> None:
    stems.type("S2 hatched 20")
    if moved:
        stems.type("S2 moved all larvae to new L7")
    (told,) = stems.later(hours=1).type("S2 frass trace")
    assert "of larvae on record" in told
    assert "turn" not in stems.due("S2")


def test_frass_after_a_look_without_them_is_of_others(stems: Story) -> None:
    frass_after_they_left(stems)
    assert "turn" in stems.due("S2")


async def test_at_the_stop_those_on_record_is_an_answer(stems: Story) -> None:
    frass_after_they_left(stems)
    async with stems.screens() as screen:
        await screen.press("r")
        await screen.walk_to("turn", "S2")
        assert "those on record" in screen.words
        await screen.press("r")
        assert "turn" not in screen.checks
    assert "turn" not in stems.due("S2")
    assert larvae(stems) == 20
    assert stems.desk.bench.containers["S2"].held, "they stay on watch"


async def test_where_none_are_on_record_it_is_none(stems: Story) -> None:
    stems.type("S2 20 eggs dead", "S2 frass trace")
    assert "those on record" not in await answered_at_the_stop(stems)


async def test_young_larvae_at_the_stop_are_of_the_eggs_on_record(stems: Story) -> None:
    stems.type("S2 frass trace")
    assert "20 eggs on record" in await answered_at_the_stop(stems, "y")
    assert "turn" not in stems.due("S2")
    assert in_stems(stems) == (19, 1)
    assert stems.desk.bench.containers["S2"].held, "they stay on watch"


async def test_more_than_eggs_could_give_are_hidden_ones(stems: Story) -> None:
    stems.type("S2 frass trace")
    await answered_at_the_stop(stems, "2", "2", "y")
    assert in_stems(stems) == (0, 22)
    assert stems.desk.bench.containers["S2"].purpose == "hatchlings"


async def test_eggs_that_nobody_found_are_said_by_a_key_of_their_own(stems: Story) -> None:
    stems.type("S2 frass trace")
    await answered_at_the_stop(stems, "3", "b")
    assert in_stems(stems) == (20, 3)
    assert "turn" not in stems.due("S2")


async def test_of_several_stems_too_it_is_of_the_eggs_on_record(stems: Story) -> None:
    stems.at("2027-05-01 08:00").type("K2 host changed", "K2 moved kept stems to S2")
    stems.at("2027-05-10 08:00")
    async with stems.screens() as screen:
        await screen.press("r")
        await screen.walk_to("frass", "S2")
        await screen.press("y")
        await screen.walk_to("turn", "S2")
        await screen.press("y")
    assert in_stems(stems) == (19, 1)


async def test_eggs_on_record_where_the_stems_were_found_are_meant_too(story: Story) -> None:
    story.at("2027-04-29 08:00").type("K2 set up laying", "K2 founder W2 'Boloria dia' female")
    story.type("K2 host in violet 3 stems")
    story.at("2027-04-30 08:00").type("K2 searched 20", "K2 host changed")
    story.type("K2 moved kept stems to new S2", "S2 moved 20 eggs to K2")
    story.at("2027-05-10 08:00").type("S2 frass trace")
    assert "20 eggs on record" in await answered_at_the_stop(story, "2", "y")
    assert story.desk.bench.containers["K2"].count("egg") == 18
    assert story.desk.bench.containers["S2"].count("larva") == 2


async def test_eggs_of_others_are_not_meant(stems: Story) -> None:
    stems.type(
        "S2 20 eggs dead", "E9 6 eggs Melitaea cinxia", "E9 moved 6 eggs to S2", "S2 frass trace"
    )
    assert "eggs on record" not in await answered_at_the_stop(stems, "y")
    assert in_stems(stems) == (6, 1)


@pytest.mark.parametrize(
    "line",
    ["S2 frass of larvae on record", "S2 frass of those on record", "S2 frass on record"],
)
def test_it_is_said_at_the_prompt_as_the_refusal_names_it(stems: Story, line: str) -> None:
    frass_after_they_left(stems)
    assert "as: S2 frass of larvae on record" in stems.refused("S2 kept stems discarded")
    assert "of larvae on record" in stems.type(line)[0]
    assert "turn" not in stems.due("S2")


async def test_younger_eggs_at_the_plant_in_use_elsewhere_are_none_of_them(story: Story) -> None:
    """Stems of two cups and their 13 eggs went to one box; three more were found on new ones."""
    story.at("2027-05-01 07:00")
    for cup, female in (("K1", "W1"), ("K3", "W3")):
        story.type(
            f"{cup} set up laying",
            f"{cup} founder {female} Aglais urticae caught",
            f"{cup} host in Urtica dioica 3 stems",
        )
    story.later(days=1).type("K1 searched 8", "K3 searched 5", "S1 set up hatchlings")
    for cup, eggs in (("K1", 8), ("K3", 5)):
        story.type(f"{cup} host out Urtica dioica held to S1", f"{cup} moved {eggs} eggs to S1")
    story.type("K3 host in Urtica dioica 3 stems")
    story.later(days=3).type("K3 searched 3", "S1 frass trace")
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("turn", "S1")
        assert "13 eggs on record" in screen.words


def frass_in_the_table(story: Story) -> list[str]:
    """The column of frass of the table of kept stems."""
    ran = story.shell("export", "csv", "--table", "kept-stems", "-")
    assert ran.status == 0, ran.err
    return [row["frass"] for row in csv.DictReader(io.StringIO(ran.out))]


def test_the_table_keeps_the_most_that_was_seen(stems: Story) -> None:
    stems.type("S2 frass none")
    assert frass_in_the_table(stems) == ["none"]
    stems.later(hours=1).type("S2 frass trace")
    stems.later(hours=1).type("S2 hatched 2", "S2 frass none")
    assert frass_in_the_table(stems) == ["trace"]


def test_the_table_has_frass_of_larvae_on_record_too(stems: Story) -> None:
    stems.type("S2 hatched 20")
    stems.later(hours=1).type("S2 frass plain")
    assert frass_in_the_table(stems) == ["plain"]
