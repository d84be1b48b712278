"""Young larvae under kept stems are said at the prompt as they are seen."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def stems(story: Story) -> Story:
    """Stems of one female kept in a store, and nobody found an egg on them."""
    story.at("2027-05-10 08:00").type("L2 1 female Papilio machaon on fennel")
    story.at("2027-05-12 08:00").type(
        "S2 set up host store", "L2 host changed fennel", "L2 moved kept stems to S2"
    )
    return story.at("2027-05-24 08:00")


@pytest.mark.parametrize(
    "line",
    [
        "S2 hatched 3",
        "S2 counted 3 larvae",
        "S2 3 larvae",
        "S2 3 L1",
        "S2 three young larvae",
        "S2 hatched 3 on kept stems",
        "S2 3 larvae yesterday 19:00",
    ],
)
def test_they_are_of_the_females_that_stood_there(stems: Story, line: str) -> None:
    stems.type(line)
    (lot,) = stems.desk.bench.at("S2").lots
    assert (lot.number, lot.stage, lot.brood) == (3, "larva", "PAP-27-01/A")
    assert not stems.desk.bench.at("S2").held
    stems.type("S2 moved 3 larvae to new R5")
    assert stems.desk.bench.at("R5").count("larva") == 3


def test_a_key_says_the_same(stems: Story) -> None:
    other = stems.elsewhere()
    other.at("2027-05-10 08:00").type("L2 1 female Papilio machaon on fennel")
    other.at("2027-05-12 08:00").type(
        "S2 set up host store", "L2 host changed fennel", "L2 moved kept stems to S2"
    )
    other.at("2027-05-24 08:00").type("S2 frass trace lot=1", "S2 3 larvae")
    stems.type("S2 3 larvae")
    kinds = [
        [line["what"] for line in one.on_disk() if line["at"] >= "2027-05-24"]
        for one in (stems, other)
    ]
    assert sorted(kinds[0]) == sorted(kinds[1])


def test_moved_before_they_are_said_names_both_lines(stems: Story) -> None:
    asked = stems.refused("S2 moved 3 larvae to new R5")
    assert "first S2 3 larvae, then S2 moved 3 larvae to new R5" in asked


def test_under_which_of_several_is_asked_and_each_line_that_is_named_works(stems: Story) -> None:
    stems.type("L2 host changed fennel", "L2 moved kept stems to S2")
    asked = stems.refused("S2 3 larvae")
    assert "S2 frass trace lot=1" in asked
    assert "then S2 3 larvae" in asked
    stems.type("S2 frass trace lot=1", "S2 3 larvae")
    assert stems.desk.bench.at("S2").count("larva") == 3
    assert len(stems.desk.bench.at("S2").held) == 1


def test_a_count_of_larvae_on_record_stays_a_count(stems: Story) -> None:
    stems.type("S2 3 larvae", "S2 2 larvae")
    assert stems.on_disk()[-1]["what"] == "counted"
