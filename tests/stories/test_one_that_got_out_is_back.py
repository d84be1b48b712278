"""One that got out or was missing is back in the words that come first."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def out(story: Story) -> Story:
    story.at("2027-06-05 07:20").type("K3 2 females Lycaena phlaeas on sorrel")
    story.type("K3 LYC-27-01 escaped")
    return story.later(minutes=20)


@pytest.mark.parametrize(
    "line",
    [
        "K3 caught again",
        "K3 found again",
        "K3 back",
        "K3 1 recaught",
        "LYC-27-01 back in K3",
        "LYC-27-01 caught again",
        "K3 LYC-27-01 back",
    ],
)
def test_she_is_back(out: Story, line: str) -> None:
    out.type(line)
    lots = out.desk.bench.at("K3").lots
    assert {lot.brood for lot in lots} == {"LYC-27-01", "LYC-27-02"}


def test_found_alone_is_asked_with_the_line_that_is_read(out: Story) -> None:
    assert "K3 settled found 1" in out.refused("K3 found")
    assert "settled: fate found" in out.preview("K3 settled found 1")
    out.type("S2 set up laying")
    assert "first K3 settled found 1; then K3 moved 1 to S2" in out.refused("LYC-27-01 back in S2")


def test_of_several_the_number_is_asked(out: Story) -> None:
    out.type("K3 escaped")
    assert "how many of 2?" in out.refused("K3 caught again")
    out.type("K3 2 caught again")
    assert out.desk.bench.at("K3").count("adult") == 2


def test_where_nobody_is_out_it_is_asked_as_of_a_new_one(story: Story) -> None:
    story.at("2027-06-05 07:20").type("K3 2 females Lycaena phlaeas on sorrel")
    assert "a new animal" in story.refused("K3 caught again")


def test_of_both_sexes_one_equals_what_emerged_before(story: Story) -> None:
    story.at("2027-06-05 07:20").type("P3 6 pupae Lycaena phlaeas", "P3 1 female emerged")
    story.later(hours=9).type("P3 3 emerged, 2 males 1 female")
    assert story.desk.bench.at("P3").count("adult") == 4
    assert "already" in story.refused("P3 2 males 1 female emerged")
