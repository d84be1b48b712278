"""Who hatched by a later line did not hatch before by one that is told late."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def eggs(story: Story) -> Story:
    story.at("2027-05-10 08:00").type("E4 140 eggs Papilio machaon")
    story.at("2027-05-24 08:00").type("E4 hatched 120")
    return story.later(hours=1)


def test_the_same_hatch_with_an_earlier_date_is_asked_about(eggs: Story) -> None:
    asked = eggs.refused("E4 hatched 120 2 days ago")
    assert "hatched 120 on Mon 24 May 08:00 already" in asked
    assert "sure" in asked
    cup = eggs.desk.bench.at("E4")
    assert (cup.count("egg"), cup.count("larva")) == (20, 120)


def test_crossed_out_first_the_earlier_one_counts(eggs: Story) -> None:
    eggs.type("undo", "E4 hatched 120 2 days ago")
    cup = eggs.desk.bench.at("E4")
    assert (cup.count("egg"), cup.count("larva")) == (20, 120)


def test_others_that_hatched_before_are_taken(eggs: Story) -> None:
    eggs.type("E4 hatched 15 2 days ago")
    assert eggs.desk.bench.at("E4").count("egg") == 5


def test_surely_others_are_taken(eggs: Story) -> None:
    eggs.type("E4 hatched 120 2 days ago sure")
    assert eggs.desk.bench.at("E4").count("larva") == 140


def test_pupae_told_twice_are_asked_about_too(eggs: Story) -> None:
    eggs.at("2027-06-20 08:00").type("E4 pupated 100")
    assert "already" in eggs.refused("E4 pupated 100 yesterday 8:00")


@pytest.mark.parametrize(
    "when", ["14:10 23 May", "23 May 14:10", "14:10 on 23 May", "14:10 yesterday"]
)
def test_a_day_behind_its_hour_is_read(eggs: Story, when: str) -> None:
    eggs.type(f"E4 hatched 2 {when}")
    assert eggs.on_disk()[-1]["at"].startswith("2027-05-23T14:10")


@pytest.mark.parametrize(
    "when", ["14:10 23 May", "23 May 14:10", "14:10, 23 May", "14:10 yesterday"]
)
def test_a_catch_keeps_its_day(eggs: Story, when: str) -> None:
    eggs.type("L1 1 female Papilio machaon on fennel", f"PAP-27-02 at Larchet meadow caught {when}")
    founder = [line for line in eggs.on_disk() if line["what"] == "founder"][-1]
    assert founder["caught"].startswith("2027-05-23T14:10")
    assert founder["place"] == "Larchet meadow"


def test_a_note_keeps_its_words(eggs: Story) -> None:
    eggs.type("E4 note seen dark 14:10 23 May, fog")
    assert eggs.on_disk()[-1]["text"] == "seen dark 14:10 23 May, fog"
