"""The plant on or in which larvae may be does not go unasked: of larvae that nobody could count, and of young ones."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


def in_flower_heads(story: Story, larvae: str = "3 L1") -> Story:
    """Larvae on kidney vetch since a day."""
    story.at("2027-07-12 08:05")
    story.type("C7 set up hatchlings", f"C7 {larvae} Cupido minimus on kidney vetch")
    return story.later(days=1)


@pytest.mark.parametrize(
    "line",
    [
        "C7 not countable",
        "C7 larvae inside flower heads",
        "C7 larvae in the buds",
        "C7 larvae inside the mines",
        "C7 larvae inside",
    ],
)
def test_where_nobody_could_count_them_the_old_plant_is_asked_about(
    story: Story, line: str
) -> None:
    in_flower_heads(story, "3 L3")
    assert "counted: not possible" in story.type(line)[0]
    story.later(days=1)
    told = story.refused("C7 host changed kidney vetch")
    assert "3 larvae not countable may be in it" in told
    assert "C7 host out held, or C7 host changed old held" in told
    story.type("C7 host changed old held")
    cup = story.desk.bench.containers["C7"]
    assert ([held.plant for held in cup.held], len(cup.hosts)) == (["kidney vetch"], 1)


def test_the_kept_plant_waits_until_they_are_counted(story: Story) -> None:
    in_flower_heads(story, "3 L3").type("C7 not countable", "C7 host changed old held")
    for _ in range(3):
        story.later(days=1).type("C7 not countable", "C7 host seen plenty")
        assert "keep" not in story.due("C7")
        assert "3 larvae not countable may be in it" in story.refused("C7 kept stems discarded")
    story.later(hours=1).type("C7 counted 3")
    assert "keep" in story.later(hours=12).due("C7")
    story.type("C7 kept stems discarded")


def test_larvae_that_were_counted_since_hold_no_plant(story: Story) -> None:
    in_flower_heads(story, "3 L3").type("C7 not countable")
    story.later(hours=1).type("C7 counted 3", "C7 host changed kidney vetch")
    assert not story.desk.bench.containers["C7"].held


@pytest.mark.parametrize("larvae", ["1 L1", "3 L2"])
def test_young_larvae_are_looked_for_on_the_old_plant(story: Story, larvae: str) -> None:
    in_flower_heads(story, larvae)
    young = "1 young larva" if larvae[0] == "1" else "3 young larvae"
    assert f"{young} may be on it: look it over" in story.refused("C7 host changed")
    story.type("C7 host changed, old looked over")
    cup = story.desk.bench.containers["C7"]
    assert (len(cup.held), len(cup.hosts)) == (0, 1)


def test_older_ones_that_are_seen_ask_nothing_more(story: Story) -> None:
    in_flower_heads(story, "3 L3").type("C7 host changed")
    assert len(story.desk.bench.containers["C7"].hosts) == 1


def test_the_refusal_names_the_line_that_works(story: Story) -> None:
    in_flower_heads(story)
    told = story.refused("C7 host changed")
    line = told.partition("then: ")[2].partition(";")[0]
    assert line == "C7 host changed, old looked over"
    story.type(line)


async def at_the_stop(story: Story, key: str) -> None:
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("food", "C7")
        await screen.press(key)
        assert "food" not in screen.checks


@pytest.mark.parametrize(("key", "kept"), [("c", 1), ("o", 0)])
async def test_young_larvae_ask_no_key_more_at_the_change(
    story: Story, key: str, kept: int
) -> None:
    in_flower_heads(story).later(hours=1)
    await at_the_stop(story, key)
    cup = story.desk.bench.containers["C7"]
    assert (len(cup.held), len(cup.hosts)) == (kept, 1)
    assert ("keep" in story.later(hours=12).due("C7")) == bool(kept)


async def test_a_plant_that_a_female_sat_on_is_kept_by_the_key(story: Story) -> None:
    story.at("2027-07-12 08:05").type("K2 1 female Cupido minimus on kidney vetch")
    story.type("K2 3 young larvae")
    story.later(days=1)
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("food", "K2")
        assert "old looked over" not in screen.words
        await screen.press("c")
    assert len(story.desk.bench.containers["K2"].held) == 1


async def test_at_the_stop_the_key_says_what_becomes_of_the_old_and_asks(story: Story) -> None:
    in_flower_heads(story, "3 L3")
    story.type("C7 not countable")
    asked = "3 larvae not countable may be in it: keep the stems?"
    gone = "discarded all the same"
    story.later(hours=1)
    for key, kept in (("1", 1), ("2", 1)):
        async with story.screens() as screen:
            await screen.press("r")
            await screen.walk_to("food", "C7")
            assert "new, old out" in screen.words
            lines = len(story.on_disk())
            await screen.press("c")
            assert len(story.on_disk()) == lines
            assert asked in screen.words
            assert gone in screen.words
            await screen.press(key)
        cup = story.desk.bench.containers["C7"]
        assert (len(cup.held), len(cup.hosts)) == (kept, 1)
        story.later(days=1)
        story.reopen()


def test_frass_under_the_old_plant_is_of_the_larvae_that_sat_on_it(story: Story) -> None:
    in_flower_heads(story).type("C7 host changed, old kept")
    assert "of larvae on record" in story.later(days=1).type("C7 frass trace")[0]
    assert "turn" not in story.due("C7")
