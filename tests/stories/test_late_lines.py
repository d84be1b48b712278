"""A line about an earlier time is held against the bench as it stood then."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell, there


@pytest.fixture
def closed(story: Story) -> Story:
    """A cup whose female went into another, and that was closed then."""
    story.at("2027-05-01 08:00")
    tell(story, "K2 set up laying\nK2 founder HA Hyles vespera female\nK2 host in bedstraw")
    story.at("2027-05-05 08:00")
    tell(story, "R2 set up laying\nK2 moved 1 to R2\nK2 host out held_in=R2\nK2 closed")
    return story.later(hours=1)


@pytest.mark.parametrize(
    "line",
    [
        "K2 drank yesterday 20:00",
        "K2 HA drank yesterday 20:00",
        "K2 drank 1 of 1 yesterday 20:00",
        "K2 misted yesterday 20:00",
        "K2 searched 0 yesterday 20:00",
        "K2 note yesterday 20:00 she sat under the lid",
        "K2 refused yesterday 20:00",
    ],
)
def test_something_late_is_said_of_a_cup_that_was_closed_since(closed: Story, line: str) -> None:
    assert "Tue" in closed.preview(line) or "yesterday" in closed.preview(line).casefold()
    assert "does not fit" not in closed.type(line)[0]
    assert closed.on_disk()[-1]["container"] == "K2"
    assert closed.shell("check").status == 0


def test_eggs_found_late_in_a_closed_cup_are_hers(closed: Story) -> None:
    closed.type("K2 searched 7 yesterday 20:00")
    brood = closed.desk.bench.broods["HA/A"]
    assert brood.mothers == ("HA",)


def test_eggs_are_a_search_where_a_female_sat_then(closed: Story) -> None:
    assert "K2 was closed and washed" in closed.refused("K2 12 eggs")
    closed.type("K2 12 eggs yesterday 20:00")
    assert closed.on_disk()[-1]["what"] == "searched"
    assert closed.desk.bench.broods["HA/A"].mothers == ("HA",)


def test_one_that_died_in_a_closed_cup_is_told_with_what_no_longer_fits(closed: Story) -> None:
    told = closed.type("K2 died 1 yesterday 20:00")[0]
    assert "not fit" in told
    assert "K2 moved 1" in told or "moved" in told


@pytest.mark.parametrize("line", ["R2 drank yesterday 20:00", "R2 searched 3 yesterday 20:00"])
def test_a_cup_that_stood_not_yet_says_since_when(closed: Story, line: str) -> None:
    assert "R2 was set up later" in closed.refused(line)


def test_what_was_before_a_closed_cup_stood_is_refused(closed: Story) -> None:
    assert closed.refused("K2 drank 2027-04-30 08:00").startswith("K2 did not stand then")


def test_now_a_closed_cup_is_closed(closed: Story) -> None:
    assert "K2 was closed and washed" in closed.refused("K2 drank")
    assert "K2 was closed and washed" in closed.refused("K2 drank -5m")


def test_eggs_that_died_before_they_hatched_are_taken(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(story, 'E2 set up eggs\nbrood S1 taxon="Saturnia montis"\nE2 stocked S1 egg 40')
    story.at("2027-05-03 08:00")
    tell(story, "E2 died 2 eggs yesterday 18:00\nE2 hatched 38")
    story.later(hours=1)
    assert there(story, "E2") == ["38 larva S1"] or there(story, "E2") == ["38 L1 S1"]


def test_eggs_that_died_are_told_after_all_hatched(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(story, 'E2 set up eggs\nbrood S1 taxon="Saturnia montis"\nE2 stocked S1 egg 40')
    story.at("2027-05-03 08:00")
    tell(story, "E2 hatched 40")
    story.later(hours=1)
    told = story.type("E2 died 2 eggs yesterday 18:00")[0]
    assert "1 line does not fit" in told
    assert "hatched 40" in told
    assert there(story, "E2") == ["38 L1 S1"]


def test_what_was_not_there_then_did_not_die_then(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(story, 'R2 set up rearing\nbrood H1 taxon="Hyles vespera"')
    story.later(hours=2)
    tell(story, "R2 stocked H1 larva 5 instar=2")
    before = len(story.on_disk())
    story.later(minutes=10)
    line = story.refused("R2 died 2 H1 -30m")
    assert line.startswith("2 out of R2, but it holds nothing")
    assert line.endswith("(as it stood Sat 01 May 09:40)")
    assert len(story.on_disk()) == before


def test_a_number_of_then_is_held_against_the_number_of_then(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(
        story,
        'R2 set up rearing\nR3 set up rearing\nbrood H1 taxon="Hyles vespera"\nR2 stocked H1 larva 9 instar=2',
    )
    story.at("2027-05-03 08:00")
    tell(story, "R2 moved 7 to R3")
    story.later(minutes=5)
    assert "MORE" not in story.type("R2 counted 9 yesterday 18:00")[0]
    tell(story, "R2 died all yesterday 19:00")
    assert story.on_disk()[-1]["number"] == 9


def test_which_animals_were_meant_is_asked_of_those_that_were_there(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(
        story,
        """
        R2 set up rearing
        R3 set up rearing
        brood H1 taxon="Hyles vespera"
        brood S1 taxon="Saturnia montis"
        R2 stocked H1 larva 5 instar=2
        R2 stocked S1 larva 5 instar=2
        """,
    )
    story.at("2027-05-03 08:00")
    tell(story, "R2 moved 5 H1 to R3")
    story.later(minutes=5)
    assert "several broods" in story.refused("R2 died 1 yesterday 18:00")
    story.type("R2 died 1 H1 yesterday 18:00")


def test_a_name_given_since_is_known_of_the_time_before(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(story, "R2 set up rearing")
    story.later(hours=2)
    tell(
        story,
        'brood H1 taxon="Hyles vespera"\nR2 stocked H1 larva 5 instar=2 -1h\nR2 died 1 H1 -30m',
    )
    assert there(story, "R2") == ["4 L2 H1"]


def test_a_cup_is_not_closed_yesterday_that_holds_animals_today(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(story, "K2 set up laying")
    story.at("2027-05-03 08:00")
    tell(story, "K2 founder HA Hyles vespera female")
    story.later(minutes=5)
    assert "K2 still holds" in story.refused("K2 closed yesterday 18:00")


def test_a_late_line_long_ago_is_held_against_the_bench_of_then(story: Story) -> None:
    """More lines since than are kept open."""
    story.at("2027-05-01 08:00")
    tell(
        story,
        'R2 set up rearing\nR3 set up rearing\nbrood H1 taxon="Hyles vespera"\nR2 stocked H1 larva 9 instar=2',
    )
    story.at("2027-05-02 08:00")
    tell(story, "R2 moved 7 to R3")
    for _ in range(60):
        story.later(minutes=30)
        story.type("R3 misted", "R2 misted", "R3 looked")
    story.reopen()
    assert "it holds 9 larvae" in story.refused("R2 died 10 2027-05-01 18:00")
