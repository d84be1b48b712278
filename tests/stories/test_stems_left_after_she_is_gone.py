"""No egg is laid after the last female left: kept stems count from then, however long they stood."""

from __future__ import annotations

import re

import pytest

from tests.stories.telling import Story, tell

SHE_LAID = """
    18 May 09:00 L3 1 female Deilephila porcellus on Galium verum
    20 May 18:00 room 17/23
    20 May 18:10 L3 searched 4
    """


def until(story: Story) -> str:
    """Until when the stems of L3 are to be kept, as discarding them says it."""
    told = re.search(r"keep until (\d+ \w+)", story.refused("L3 host out discarded"))
    assert told
    return told[1]


def warm_up_to(story: Story, last: str) -> None:
    """Time passes to 30 June, as warm as it was."""
    story.at("2027-06-30 20:00")
    for day in ("25 May", "29 May", "2 Jun", "10 Jun", "20 Jun", last):
        story.type(f"{day} 09:00 room 17/23")


@pytest.mark.parametrize(
    "gone", ["died 1 adult", "moved 1 adult to new K9", "escaped 1 adult", "released 1 adult"]
)
def test_they_count_from_when_the_last_female_left(story: Story, gone: str) -> None:
    tell(story.at("2027-05-21 09:10"), SHE_LAID)
    story.type(f"21 May 09:00 L3 {gone}", "21 May 09:05 L3 moved 4 eggs to new E2")
    assert until(story) == "17 Jun"
    warm_up_to(story, "30 Jun")
    told = story.refused("L3 host out discarded")
    assert re.search(r"keep until \w+ 09:00 with a look a day", told)  # no look was made
    assert "nobody looked for frass since half should have hatched" in told


def test_with_a_female_that_comes_in_they_count_anew(story: Story) -> None:
    tell(story.at("2027-05-21 09:10"), SHE_LAID.replace("searched 4", "no eggs"))
    story.type("21 May 09:00 L3 died 1 adult")
    assert until(story) == "6 Jun"
    story.at("2027-05-28 20:00")
    for day in ("25 May", "28 May"):
        story.type(f"{day} 09:00 room 17/23")
    assert until(story) == "6 Jun"
    story.type("26 May 09:00 L3 1 female Deilephila porcellus", "28 May 09:00 L3 died 1 adult")

    assert until(story) == "13 Jun"


def test_eggs_found_on_them_later_were_laid_while_she_was_there(story: Story) -> None:
    tell(story.at("2027-05-21 09:10"), SHE_LAID.replace("searched 4", "no eggs"))
    story.type("21 May 09:00 L3 died 1 adult")
    story.at("2027-05-24 20:00")
    story.type("L3 host out held", "L3 kept stems searched 3")
    (egg,) = story.desk.bench.containers["L3"].lots_of("egg")

    assert egg.since is not None
    assert f"{egg.since:%d %b %H:%M}" == "21 May 09:00"


def test_they_are_watched_for_frass_where_they_stand_and_as_kept_stems(story: Story) -> None:
    tell(story.at("2027-05-21 09:10"), SHE_LAID)
    story.type("21 May 09:00 L3 died 1 adult", "21 May 09:05 L3 moved 4 eggs to new E2")
    story.at("2027-06-19 20:00")
    for day in ("25 May", "29 May", "2 Jun", "10 Jun", "18 Jun"):
        story.type(f"{day} 09:00 room 17/23")
    asked = [(due.where, due.check) for due in story.desk.dues()]
    for day in (16, 17, 18, 19):
        story.type(f"{day} Jun 09:00 L3 no frass")
    story.type("L3 host out held in new S4")
    (held,) = story.desk.bench.containers["S4"].held

    assert ("L3", "frass") in asked
    assert len(held.frass_looks) == 4
