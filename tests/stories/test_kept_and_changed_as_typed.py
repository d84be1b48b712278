"""Stems moved at a time that is named, a plant that is changed and kept, and rest from a time on."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def bench(story: Story) -> Story:
    """Stems of one female kept beside her, and young larvae."""
    story.at("2027-05-01 08:00").type("K2 1 female Boloria dia on violet 3 stems")
    story.type("L7 10 L2 Boloria dia on violet", "S1 set up host store")
    story.at("2027-05-03 08:00").type("K2 host changed violet, old kept")
    return story.at("2027-05-04 08:00")


@pytest.mark.parametrize(
    "line",
    [
        "3 May 10:10 K2 moved kept stems to new S2",
        "K2 3 May 10:10 moved kept stems to new S2",
        "K2 moved kept stems to new S2 3 May 10:10",
        "yesterday 10:10 K2 moved kept stems to new S2",
        "K2 yesterday 10:10 moved kept stems to S1",
        "7:40 K2 moved kept stems to S1",
    ],
)
def test_stems_are_moved_at_a_time_wherever_it_stands(bench: Story, line: str) -> None:
    bench.type(line)
    (moved,) = [one for one in bench.on_disk() if one["what"] == "host out"][-1:]
    assert moved["at"][:16] == ("2027-05-04T07:40" if "7:40" in line else "2027-05-03T10:10")
    to = "S1" if line.endswith("S1") else "S2"
    assert len(bench.desk.bench.containers[to].held) == 1
    assert not bench.desk.bench.containers["K2"].held


@pytest.mark.parametrize(
    ("line", "kept"),
    [
        ("K2 violet changed, kept", 2),
        ("K2 violet renewed, old kept", 2),
        ("K2 violet changed 3 stems, kept", 2),
        ("K2 violet changed", 2),
        ("L7 violet changed, old looked over", 0),
        ("L7 violet changed, kept", 1),
    ],
)
def test_a_plant_changed_says_what_becomes_of_the_old(bench: Story, line: str, kept: int) -> None:
    bench.type(line)
    cup = bench.desk.bench.containers[line[:2]]
    assert (len(cup.hosts), len(cup.held)) == (1, kept)


@pytest.mark.parametrize(
    ("line", "until"),
    [
        ("L7 leave be yesterday 20:00 +24h", "2027-05-04T20:00"),
        ("L7 leave be 2 May 20:00 +3d moulting", "2027-05-05T20:00"),
        ("L7 leave be 20:00 +24h", "2027-05-04T20:00"),
        ("L7 leave be +24h", "2027-05-05T08:00"),
        ("L7 leave be until tomorrow 20:00", "2027-05-05T20:00"),
    ],
)
def test_rest_counts_from_the_time_that_is_named(bench: Story, line: str, until: str) -> None:
    bench.type(line)
    assert bench.on_disk()[-1]["until"][:16] == until
