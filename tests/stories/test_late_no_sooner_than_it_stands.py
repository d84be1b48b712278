"""A check is late by what it looks at: stems that just came, and a moth that wants no food, are no sooner late than that tells."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


def searched_on_monday(story: Story, at: str = "18:10") -> Story:
    story.at("2026-06-15 17:30").type("K1 1 female Boloria dia on Viola hirta 3 stems")
    story.at(f"2026-06-15 {at}").type("K1 searched 0")
    return story


def test_new_stems_are_not_late_when_they_are_first_shown(story: Story) -> None:
    searched_on_monday(story).at("2026-06-16 17:30").type("K1 host out Viola hirta kept in new S1")
    story.later(minutes=2).type("K1 host in Viola hirta 3 stems")
    story.at("2026-06-16 18:30")
    assert story.due("K1")["eggs"]["state"] == "due"
    story.at("2026-06-17 17:33")
    assert story.due("K1")["eggs"]["state"] == "late"


def test_their_clock_begins_when_they_come_though_no_search_was_made(story: Story) -> None:
    searched_on_monday(story, "17:40").at("2026-06-17 17:30").type(
        "K1 host out Viola hirta kept in new S1"
    )
    story.later(minutes=2).type("K1 host in Viola hirta 3 stems")
    assert story.due("K1")["eggs"]["state"] == "due", "they wait for the search that was due"
    story.at("2026-06-18 17:31")
    assert story.due("K1")["eggs"]["state"] == "due"
    story.at("2026-06-19 17:33")
    assert story.due("K1")["eggs"]["state"] == "urgent"


def test_what_still_stands_is_late_by_its_own_search(story: Story) -> None:
    searched_on_monday(story).at("2026-06-16 17:32").type("K1 host in Viola hirta 2 stems")
    story.at("2026-06-16 21:59")
    assert story.due("K1")["eggs"]["state"] == "due", "its round began a few minutes before"
    story.at("2026-06-16 22:01")
    assert story.due("K1")["eggs"]["state"] == "late"


@pytest.mark.parametrize("purpose", ["laying", "pairing"])
def test_a_look_at_a_moth_that_takes_no_food_is_late_after_a_day(
    story: Story, purpose: str
) -> None:
    story.at("2026-06-15 18:00")
    tell(story, f"taxon 'Saturnia montis' no_adult_food\nL2 set up {purpose}")
    story.type("L2 founder M5 'Saturnia montis' female", "L2 looked")
    for hour, state in (("16 08:30", "due"), ("16 18:30", "late"), ("17 18:05", "urgent")):
        assert story.at(f"2026-06-{hour}").due("L2")["look"]["state"] == state
