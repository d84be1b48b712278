"""Small things of a year with moths: sleeves, until when warmth was gathered, laggards, and daily words."""

from __future__ import annotations

import pytest

from tests.stories.telling import Screen, Story, tell


def _text(screen: Screen) -> str:
    return " ".join(screen.text.split())


def test_a_sleeve_on_a_living_tree_is_neither_misted_nor_cleaned_day_by_day(story: Story) -> None:
    story.at("2026-08-20 08:00")
    tell(
        story,
        """
        brood B5 taxon='Arctia lenta'
        S2 set up rearing
        S2 stocked 28 L4 B5
        S2 host in 'Salix caprea' tree
        R3 set up rearing
        R3 stocked 28 L4 B5
        R3 host in 'Salix caprea' water
        """,
    )
    story.later(days=3, hours=1)
    assert "clean" not in story.due("S2")
    assert "clean" in story.due("R3")
    story.type("S2 changed overwintering", "R3 changed overwintering")
    story.later(days=8)
    assert "mist" not in story.due("S2")
    assert "mist" in story.due("R3")


async def test_degree_days_say_until_when_they_were_gathered(story: Story) -> None:
    story.at("2027-06-01 08:00")
    tell(
        story,
        "brood B5 taxon='Arctia lenta'\nP2 set up emergence\nP2 stocked 9 pupae B5\nP2 air 20C",
    )
    story.at("2027-06-03 08:00").type("P2 air 20C")
    story.at("2027-06-09 08:00")
    async with story.screens((120, 40)) as screen:
        await screen.press("full_stop")
        await screen.pilot.pause()
        assert "C gathered to Thu 3 08:00; 9 times in 10 a brood needs from" in _text(screen)
        assert "its animals differ by" in _text(screen)


async def test_larvae_that_are_late_to_moult_do_not_pupate_before_their_sisters(
    story: Story,
) -> None:
    story.at("2027-06-01 08:00")
    tell(
        story,
        """
        constants 'Arctia lenta' stage=larva lower=10 constant=300 source=own
        brood B5 taxon='Arctia lenta'
        E2 set up hatchlings
        E2 stocked 20 eggs B5
        E2 air 20C
        E2 hatched 20
        """,
    )
    for day in range(2, 25):
        story.at(f"2027-06-{day:02} 08:00").type("E2 air 20C", "E2 looked")
        if day == 7:
            story.type("E2 moulted 16 L2")
        if day == 22:
            story.type("E2 moulted 16 L3")
        if day >= 7:
            late, ahead = (
                one.half
                for one in story.desk.foresight.coming(story.desk.bench.containers["E2"])
                if one.change == "pupation"
            )
            assert late is not None
            assert ahead is not None
            assert ahead < late
    async with story.screens((120, 40)) as screen:
        await screen.press("full_stop", "v")
        await screen.pilot.pause()
        rows = [row for row in screen.text.splitlines() if "pupation" in row]
        assert len(rows) == 2
        assert " 16 " in rows[0]
        assert " 4 " in rows[1]


def test_what_is_moved_before_its_cup_was_set_up_is_refused_beforehand(story: Story) -> None:
    tell(story, "brood B5 taxon='Arctia lenta'\nC2 set up eggs\nC2 stocked 55 eggs B5")
    story.later(hours=3).type("E2 set up eggs")
    assert "no container is called E2" in story.refused("C2 moved 55 eggs to E2 -20m")
    story.later(minutes=5).type("C2 moved 55 eggs to E2 -2m")


@pytest.mark.parametrize("line", ["R3 buried 35", "R3 cocoons found", "R3 spun up"])
def test_what_goes_to_pupate_is_asked_about(story: Story, line: str) -> None:
    tell(story, "brood B5\nR3 set up rearing\nR3 stocked 35 L5 B5")
    assert "R3 pupated 35 inferred; or R3 looked wandering" in story.refused(line)
    story.type("R3 feeding")
    assert story.on_disk()[-1]["what"] == "looked"


@pytest.mark.parametrize("name", ["timezone", "time zone", "zone"])
def test_the_time_zone_is_set_by_any_of_its_names(story: Story, name: str) -> None:
    story.type(f"setting {name} Europe/Lisbon")
    assert (story.on_disk()[-1]["name"], story.on_disk()[-1]["value"]) == ("zone", "Europe/Lisbon")
    story.type("setting usual eggs 3")
    assert story.on_disk()[-1]["name"] == "usual eggs"
