"""Young larvae are said as they are seen, also where eggs are on record, or a female sits."""

from __future__ import annotations

import re

import pytest

from tests.stories.telling import Story


@pytest.fixture
def bench(story: Story) -> Story:
    """Kept stems with six eggs on record, eggs in a cup, one and two females at plants."""
    story.at("2027-05-10 08:00").type("L2 1 female Papilio machaon on fennel")
    story.type("S3 set up host store", "L2 host changed fennel", "L2 moved kept stems to S3")
    story.type("S3 searched 6 on fennel", "E4 5 eggs Boloria dia")
    story.type("L6 2 females Boloria dia on violet")
    return story.at("2027-05-20 08:00")


@pytest.mark.parametrize(
    ("line", "code", "number"),
    [
        ("S3 3 larvae", "S3", 3),
        ("S3 3 L1", "S3", 3),
        ("S3 counted 3 larvae", "S3", 3),
        ("S3 three young larvae yesterday 19:00", "S3", 3),
        ("E4 2 larvae", "E4", 2),
        ("E4 2 larvae -- dark heads", "E4", 2),
        ("L2 3 larvae", "L2", 3),
        ("L2 3 young larvae", "L2", 3),
    ],
)
def test_they_are_taken_as_meant(bench: Story, line: str, code: str, number: int) -> None:
    eggs = bench.desk.bench.at(code).count("egg")
    bench.type(line)
    cup = bench.desk.bench.at(code)
    assert cup.count("larva") == number
    assert cup.count("egg") == (eggs - number if eggs else 0)
    assert {lot.stage for lot in cup.lots if lot.brood.startswith("PAP-27-01/")} <= {"egg", "larva"}
    bench.later(hours=1).type(f"{code} moved {number} larvae to new R9")
    assert bench.desk.bench.at("R9").count("larva") == number


def test_once_on_record_they_are_counted(bench: Story) -> None:
    bench.type("E4 2 larvae", "E4 2 larvae")
    assert bench.on_disk()[-1]["what"] == "counted"
    assert bench.desk.bench.at("E4").count("larva") == 2


@pytest.mark.parametrize(
    "line",
    [
        "S3 moved 3 larvae to new R5",
        "E4 moved 2 larvae to new R5",
        "L2 moved 3 larvae to new R5",
        "S3 9 larvae",
        "S3 moved 9 larvae to new R5",
        "L6 3 larvae",
    ],
)
def test_each_line_that_a_refusal_names_is_taken(bench: Story, line: str) -> None:
    told = bench.refused(line)
    named = re.search(r"(?:first|As:) (.*)", told)
    assert named, told
    for one in re.split(r", then (?:first )?", named[1]):
        try:
            bench.type(one.partition(" or ")[0])
        except AssertionError:  # the second line names its own first
            raise AssertionError(f"{told!r}: {one!r}") from None
    moved = bench.desk.bench.at("R5")
    assert (moved.count("larva") if moved else 0) == (int(line.split()[2]) if moved else 0)
