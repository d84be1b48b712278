"""A span and a day to come count from when the line says that it was, however late it is typed."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story

BEGIN = ("1 Jan 2027 08:00 R9 set up rearing", "1 Jan 2027 08:10 R9 5 larvae 'Colias hyale'")


def stands_until(story: Story, line: str, name: str = "until") -> str:
    """The time that a line stored, by the clock on the wall."""
    story.type(line)
    stored = story.on_disk()[-1][name]
    return str(stored)[:16].replace("T", " ")


@pytest.fixture
def typed_in_november(story: Story) -> Story:
    story.at("2027-11-28 02:00").type(*BEGIN)
    return story


@pytest.mark.parametrize(
    ("typed", "ends"),
    [
        ("24 Jul 08:30 R9 do not disturb +72h", "2027-07-27 08:30"),
        ("24 Jul 08:30 R9 do not disturb +3d", "2027-07-27 08:30"),
        ("R9 do not disturb 24 Jul 08:30 +3d", "2027-07-27 08:30"),
        # 72 hours and three days over the change of 31 October
        ("30 Oct 08:30 R9 do not disturb +72h", "2027-11-02 07:30"),
        ("30 Oct 08:30 R9 do not disturb +3d", "2027-11-02 08:30"),
        ("30 Oct 08:30 R9 do not disturb +1d12h", "2027-10-31 20:30"),
    ],
)
def test_a_span_goes_over_a_clock_change(typed_in_november: Story, typed: str, ends: str) -> None:
    assert stands_until(typed_in_november, typed) == ends


def test_a_span_of_winter_typed_in_summer_is_no_hour_off(story: Story) -> None:
    story.at("2027-07-10 09:00").type(*BEGIN)
    assert stands_until(story, "2 Feb 08:30 R9 do not disturb +72h") == "2027-02-05 08:30"


@pytest.mark.parametrize(
    ("typed", "ends"),
    [
        ("25 Jul 08:30 R9 do not disturb until 27 Jul 08:30", "2027-07-27 08:30"),
        ("25 Jul 08:30 R9 do not disturb until='27 Jul 08:30'", "2027-07-27 08:30"),
        ("R9 do not disturb until 27 Jul 08:30 -- typed late", "2028-07-27 08:30"),
        ("25 Jul 08:30 R9 do not disturb until 10:15", "2027-07-25 10:15"),
        ("25 Jul 08:30 R9 do not disturb until Tuesday 08:30", "2027-07-27 08:30"),
        ("25 Jul 08:30 R9 do not disturb until tomorrow 08:30", "2027-07-26 08:30"),
        ("25 Jul 08:30 R9 expected pupation on 28 Jul until 30 Jul", "2027-07-30 12:00"),
        ("25 Jul 08:30 R9 do not disturb until 3 Feb 08:30", "2028-02-03 08:30"),
    ],
)
def test_until_is_the_first_such_time_after_the_line(
    typed_in_november: Story, typed: str, ends: str
) -> None:
    assert stands_until(typed_in_november, typed) == ends


def test_the_first_of_two_days_to_come_is_of_the_same_year(typed_in_november: Story) -> None:
    line = "25 Jul 08:30 R9 expected pupation on 28 Jul until 30 Jul"
    assert stands_until(typed_in_november, line, "begins") == "2027-07-28 12:00"


def test_a_permit_of_last_summer_ended_that_summer(typed_in_november: Story) -> None:
    line = "2 Jun 08:00 permit P-7 expires=30 Sep"
    assert stands_until(typed_in_november, line, "expires")[:10] == "2027-09-30"
