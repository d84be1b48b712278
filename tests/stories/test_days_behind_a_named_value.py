"""A day behind ``name=value`` is the day of the line, never a part of the value; what may be a day is asked about."""

from __future__ import annotations

from datetime import datetime

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def cup(story: Story) -> Story:
    """Two females in a cup for some days, on Friday evening."""
    story.at("2026-05-18 09:00")
    tell(story, "taxon 'Melitaea rubida'\nK2 set up laying\nK2 founder W1 'Melitaea rubida' female")
    return story.at("2026-05-22 19:00")


@pytest.mark.parametrize(
    "when", ["20 May 18:30", "@20 May 18:30", "@2026-05-20 18:30", "on 20 May 18:30", "@Wed 18:30"]
)
@pytest.mark.parametrize("line", ["K2 released 1 W1 place=Bank A {}", "K2 released 1 W1 Bank A {}"])
def test_the_day_is_that_of_the_line(cup: Story, when: str, line: str) -> None:
    cup.type(line.format(when))
    newest = cup.on_disk()[-1]
    assert newest["place"] == "Bank A"
    assert datetime.fromisoformat(newest["at"]) == datetime.fromisoformat("2026-05-20T18:30+02:00")


@pytest.mark.parametrize(
    "day",
    [
        "20 May,",
        "May 20",
        "20. May",
        "20.5.",
        "20.05.2026",
        "20/5",
        "20 v",
        "2026/05/20",
        "2026-05-20,",
    ],
)
@pytest.mark.parametrize(
    "line",
    ["K2 released 1 W1 place=Bank A {} 18:30", "K2 preserved 1 W1 depository=Museum {} 18:30"],
)
def test_what_may_be_a_day_is_not_taken_into_the_name(cup: Story, day: str, line: str) -> None:
    said = cup.refused(line.format(day))
    assert "may be a day" in said
    assert "20 May 18:30" in said
    assert "quotes" in said


def test_in_quotes_it_is_part_of_the_name(cup: Story) -> None:
    cup.type("K2 released 1 W1 place='Bank 20.5.' 18:30")
    assert cup.on_disk()[-1]["place"] == "Bank 20.5."
    cup.type("K2 air 20.5 18:35")


@pytest.mark.parametrize("day", ["Plot 12 18:30", "Plot 12 North 18:30"])
def test_a_number_that_is_no_day_stays_in_the_name(cup: Story, day: str) -> None:
    cup.type(f"K2 released 1 W1 place={day}")
    assert cup.on_disk()[-1]["place"] == day.removesuffix(" 18:30")


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ('setting holder M. K, "Gasse 7"', 'M. K, "Gasse 7"'),
        (r'setting holder "M. K, \"Gasse 7\""', 'M. K, "Gasse 7"'),
        (r'setting bench "The \"old\" house"', 'The "old" house'),
        ("setting bench 'The old house'", "The old house"),
        ("setting bench The old house's", "The old house's"),
        ('setting bench "The old house" -20m', "The old house"),
    ],
)
def test_a_quote_in_a_setting_is_kept(cup: Story, typed: str, kept: str) -> None:
    cup.type(typed)
    assert kept in cup.desk.bench.settings.values()
