"""What was given at a time that the keeper says counts from then, however late it is typed; what nobody gave a time for from when it was typed."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story

HOURS = ("due", "amber", "red", "harm", "standing")
NOBODY_SAID = "no earlier time is on record"
LARVAE = ("R4 set up rearing", "R4 70 L1 Melitaea athalia", "R4 food in Plantago lanceolata")
FEMALE = (
    "K4 set up laying",
    "K4 1 female Melitaea athalia",
    "K4 host in Plantago lanceolata",
    "K4 drank",
    "K4 searched 0",
)


def hours(story: Story, where: str, check: str) -> dict[str, str]:
    """From when on a check is due and worse, and how it stands."""
    return {name: story.due(where)[check][name] for name in HOURS}


@pytest.mark.parametrize(
    ("lines", "where", "check", "standing"),
    [
        (LARVAE, "R4", "food", "red"),
        (FEMALE, "K4", "drink", "red"),
        (FEMALE, "K4", "host", "late"),
        (FEMALE, "K4", "eggs", "red"),
    ],
)
@pytest.mark.parametrize("apart", [0, 5])
def test_lines_typed_late_are_as_urgent_as_typed_then(
    story: Story, lines: tuple[str, ...], where: str, check: str, standing: str, apart: int
) -> None:
    then = story.elsewhere().at("2026-07-29 09:00")
    for line in lines:
        then.type(line)
        then.later(minutes=apart)
    late = story.at("2026-08-01 08:00")
    for minute, line in enumerate(lines):
        late.type(f"29 Jul 9:{apart * minute:02} {line}")
    late.later(minutes=5)
    then.at("2026-08-01 08:05")
    assert hours(late, where, check) == hours(then, where, check)
    assert late.due(where)[check]["standing"] == standing
    assert NOBODY_SAID not in late.due(where)[check]["arithmetic"]


def test_larvae_fed_three_days_ago_are_in_danger(story: Story) -> None:
    story.at("2026-08-01 08:00")
    story.type(*(f"29 Jul 9:0{minute} {line}" for minute, line in enumerate(LARVAE)))
    told = story.later(minutes=5).shell("due").out
    assert "in danger since" in " ".join(told.split())


def test_hunger_and_thirst_go_along_to_a_cup_that_is_new(story: Story) -> None:
    story.at("2026-07-29 09:00").type(*FEMALE)
    story.later(hours=40).type("K4 moved 1 to new K5")
    assert story.due("K5")["drink"]["harm"] == "2026-07-30T16:00:00+02:00"


def test_what_nobody_gave_a_time_for_begins_when_it_was_typed_and_says_so(story: Story) -> None:
    story.at("2026-08-01 08:00")
    story.type(*(f"29 Jul 9:0{minute} {line}" for minute, line in enumerate(FEMALE[:2])))
    drink = story.later(minutes=5).due("K4")["drink"]
    assert drink["standing"] == "due"
    assert drink["due"] == "2026-08-01T08:00:00+02:00"
    assert NOBODY_SAID in drink["arithmetic"]


def test_a_row_of_a_list_says_since_when_the_cup_stands_not_when_it_was_fed(story: Story) -> None:
    story.at("2026-08-01 08:00")
    listed = "R3\t4 L5 Pieris brassicae\tkale\t29 Jul\tC 3\n"
    assert story.shell("begin", "--list", "-", typed=listed).status == 0
    food = story.due("R3")["food"]
    assert food["standing"] == "due"
    assert NOBODY_SAID in food["arithmetic"]
    story.type("30 Jul 9:00 R3 host seen fresh plenty")
    assert story.due("R3")["food"]["standing"] == "red"
