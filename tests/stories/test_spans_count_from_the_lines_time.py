"""A span of what is coming counts from the time of its line; the time of a line about what a female is is no catch."""

from __future__ import annotations

from datetime import datetime

import pytest

from tests.stories.telling import ZONE, Story, tell

HERE = """
K2 set up laying
K2 founder W2 'Melitaea celans' female caught 5 Jun 14:20
K2 host in violet
R4 set up rearing
"""


@pytest.fixture
def here(story: Story) -> Story:
    story.at("2027-06-05 18:00")
    tell(story, HERE)
    return story.at("2027-06-10 09:00")


def local(at: datetime | None) -> str:
    assert at is not None
    return f"{at.astimezone(ZONE):%m-%d %H:%M}"


@pytest.mark.parametrize(
    "line",
    [
        "9 Jun 20:00 R4 do not disturb +24h",
        "R4 leave be +24h 9 Jun 20:00",
        "R4 leave be until=+24h yesterday 20:00",
        "9 Jun 20:00 R4 do not disturb until +24h",
    ],
)
def test_do_not_disturb_for_so_long_from_the_lines_time(here: Story, line: str) -> None:
    here.type(line)
    assert local(here.desk.bench.containers["R4"].leave_be_until) == "06-10 20:00"


def test_without_a_time_it_counts_from_now(here: Story) -> None:
    here.type("R4 do not disturb +24h")
    assert local(here.desk.bench.containers["R4"].leave_be_until) == "06-11 09:00"


def test_when_she_must_be_free_counts_from_the_lines_time(here: Story) -> None:
    here.type("9 Jun 20:00 W2 release by +48h")
    assert local(here.desk.bench.release_by["W2"].until) == "06-11 20:00"


@pytest.mark.parametrize(
    "line",
    [
        "9 Jun 20:00 W2 is Melitaea orata",
        "yesterday 20:00 W2 wear fresh",
        "W2 is Melitaea orata -1h",
        "9 Jun 20:00 W2 is Melitaea orata at Ferny Down",
        "-30m W2 at Ferny Down",
    ],
)
def test_the_time_of_a_determination_is_no_catch(here: Story, line: str) -> None:
    here.type(line)
    assert local(here.desk.bench.founders["W2"].caught) == "06-05 14:20"
    assert not here.desk.bench.misfits


def test_a_time_behind_where_she_was_caught_is_the_catch(here: Story) -> None:
    here.type("W2 from Ferny Down on 5 Jun 11:00")
    assert local(here.desk.bench.founders["W2"].caught) == "06-05 11:00"


def test_before_she_was_caught_there_was_nothing_to_determine(here: Story) -> None:
    here.type("5 Jun 18:30 W2 is Melitaea orata")
    assert here.desk.bench.taxon_of("W2") == "Melitaea orata"
