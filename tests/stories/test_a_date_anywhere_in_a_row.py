"""A bench is listed by a tired hand: a date or a shelf one space behind another field is the row's
all the same, and what is not understood is told at its row."""

from __future__ import annotations

from datetime import datetime

import pytest

from tests.stories.telling import ZONE, Story

FIRST = "R1  3 L4 Zygaena levis  kidney vetch  3 Jun  B 1\n"


@pytest.fixture
def bench(story: Story) -> Story:
    """A Sunday morning, and an empty book."""
    return story.at("2026-06-14 07:30")


def of_row(story: Story, row: str) -> tuple[str, str, tuple[str, int]]:
    """Since when R2 stands, on which plant and where, as the list recorded it below a first row."""
    ran = story.shell("begin", "--list", "-", typed=f"{FIRST}{row}\n")
    assert (ran.status, ran.err) == (0, ""), ran.err
    lines = [one for one in story.on_disk() if one.get("container") == "R2"]
    set_up = next(one for one in lines if one["what"] == "set up")
    plant = next(one for one in lines if one["what"] == "host in")
    stocked = next(one for one in lines if one["what"] == "stocked")
    assert set_up["at"] == plant["at"] == stocked["at"]
    assert (stocked["number"], stocked["instar"]) == (9, 5)
    at = datetime.fromisoformat(set_up["at"]).astimezone(ZONE)
    return f"{at:%d %b %H:%M}", plant["plant"], (set_up["shelf"], set_up["place"])


HOLDS = "9 L5 Zygaena levis"


@pytest.mark.parametrize(
    "row",
    [
        f"R2     {HOLDS}  horseshoe vetch 12 Jun  B 2",
        f"R2     {HOLDS}  horseshoe vetch 12 Jun B 2",
        f"R2     {HOLDS}  horseshoe vetch since 12 Jun  B 2",
        f"R2     {HOLDS}  horseshoe vetch, 12 Jun  B 2",
        f"R2     {HOLDS}  horseshoe vetch  since 12 Jun  B 2",
        f"R2     {HOLDS}  horseshoe vetch  12 Jun B 2",
        f"R2     {HOLDS}  horseshoe vetch  12 Jun  B 2",
        f"R2     {HOLDS}  horseshoe vetch  Fri 12 Jun  B 2",
        f"R2     {HOLDS}  horseshoe vetch Fri 12 June 2026  B 2",
        f"R2     {HOLDS}  horseshoe vetch 2026-06-12  B 2",
        f"R2     {HOLDS}  horseshoe vetch 12.6.  B 2",
        f"R2     {HOLDS}  horseshoe vetch Fri  B 2",
        f"R2     {HOLDS}  horseshoe vetch Friday  B 2",
        f"R2     {HOLDS} 12 Jun  horseshoe vetch  B 2",
        f"R2     {HOLDS} since 12 Jun  horseshoe vetch  B 2",
        f"R2     {HOLDS} on horseshoe vetch since 12 Jun  B 2",
        f"R2 12 Jun  {HOLDS}  horseshoe vetch  B 2",
        f"12 Jun  R2  {HOLDS}  horseshoe vetch  B 2",
        f"R2  12 Jun  {HOLDS}  horseshoe vetch  B 2",
        f"R2     {HOLDS}  12 Jun  horseshoe vetch  B 2",
        f"R2     {HOLDS}  horseshoe vetch  B 2 12 Jun",
        f"R2     {HOLDS}  horseshoe vetch  B 2  12 Jun",
        f"R2     {HOLDS}  horseshoe vetch B 2  12 Jun",
        f"R2  B 2  {HOLDS}  horseshoe vetch  12 Jun",
        f"R2  B 2  12 Jun  {HOLDS}  horseshoe vetch",
        f"R2\t{HOLDS}\thorseshoe vetch 12 Jun\t\tB 2",
        f"R2\t{HOLDS}\thorseshoe vetch\tB 2\t12 Jun",
        f"R2\t{HOLDS}\thorseshoe vetch\t12 Jun\tB 2",
    ],
)
def test_a_date_anywhere_in_a_row_is_the_rows_date(bench: Story, row: str) -> None:
    assert of_row(bench, row) == ("12 Jun 12:00", "horseshoe vetch", ("B", 2))


@pytest.mark.parametrize(
    ("time", "since"),
    [
        ("12 Jun 18:10", "12 Jun 18:10"),
        ("yesterday", "13 Jun 12:00"),
        ("yesterday 18:10", "13 Jun 18:10"),
        ("06:10", "14 Jun 06:10"),
        ("-2d", "12 Jun 07:30"),
        ("?", "14 Jun 07:30"),
        ("now", "14 Jun 07:30"),
    ],
)
def test_an_hour_behind_the_plant_is_the_rows_too(bench: Story, time: str, since: str) -> None:
    row = f"R2     {HOLDS}  horseshoe vetch {time}  B 2"
    assert of_row(bench, row) == (since, "horseshoe vetch", ("B", 2))


@pytest.mark.parametrize(
    "row", [f"R2  {HOLDS}  horseshoe vetch B 2", f"R2  {HOLDS}  horseshoe vetch  B 2"]
)
def test_a_shelf_one_space_behind_is_the_rows_and_the_date_that_of_the_row_above(
    bench: Story, row: str
) -> None:
    assert of_row(bench, row) == ("03 Jun 12:00", "horseshoe vetch", ("B", 2))


def test_columns_with_names_of_their_own_take_a_date_anywhere_too(bench: Story) -> None:
    table = f"cup\tanimals\tfood plant\tplace\nR2\t{HOLDS}\thorseshoe vetch 12 Jun\tB 2\n"
    ran = bench.shell("begin", "--list", "-", typed=table)
    assert "since Fri 12:00; B 2" in ran.out, ran.err


def test_when_a_plant_was_cut_is_not_since_when_the_cup_stands(bench: Story) -> None:
    row = f"R2     {HOLDS}  horseshoe vetch cut 12 Jun  13 Jun  B 2"
    assert of_row(bench, row) == ("13 Jun 12:00", "horseshoe vetch", ("B", 2))
    (cut,) = [
        one["cut"]
        for one in bench.on_disk()
        if one["what"] == "host in" and one["container"] == "R2"
    ]
    assert datetime.fromisoformat(cut).astimezone(ZONE).day == 12


@pytest.mark.parametrize(
    ("row", "told"),
    [
        (f"R2  {HOLDS}  horseshoe vetch 12 Jun  13 Jun  B 2", "two dates in a row"),
        (f"R2  {HOLDS} 11 Jun  horseshoe vetch 12 Jun  B 2", "two dates in a row"),
        (f"R2  {HOLDS}  horseshoe vetch 31 Jun  B 2", "'31 Jun' is not a time"),
        (f"R2  {HOLDS}  horseshoe vetch 12 Juno  B 2", "'12 Juno' is not a date; perhaps 12 Jun"),
        (f"R2  {HOLDS}  horseshoe vetch 5/6  B 2", "may be 5 Jun or 6 May"),
        (f"R2  {HOLDS}  horseshoe vetch 18 Jun  B 2", "'18 Jun' is still to come"),
        (f"R2  {HOLDS}  horseshoe vetch  18 Jun  B 2", "'18 Jun' is still to come"),
        (f"R2  {HOLDS}  horseshoe vetch  12 Jun  B 2 hello", "'B 2 hello' is no place"),
        (f"R2  {HOLDS}  12 Jun  horseshoe vetch", "its plant, or its place?"),
        (f"R2  {HOLDS} horseshoe vetch  12 Jun  B 2", "is long for a species"),
        ("R2  2 females Zygaena levis from Hollow Mead  Fri  B 2", "'from' is not understood"),
    ],
)
def test_what_is_not_understood_is_told_at_its_row_and_nothing_is_recorded(
    bench: Story, row: str, told: str
) -> None:
    ran = bench.shell("begin", "--list", "-", typed=f"{FIRST}{row}\n")
    assert "line 2, R2: " in ran.err
    assert told in ran.err
    assert bench.on_disk() == []
