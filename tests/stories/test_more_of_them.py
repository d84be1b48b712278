"""More of what happened before, in a keeper's words: so many more hatched, another plant added by its name."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story

LIST = """code\tholds\tplant\tsince\tplace
R4\t4 L5 Aglais io\tnettle\t06:00\tsill 2
E4\t30 eggs Aglais io\tnettle\t06:00\tsill 2
P2\t4 pupae Aglais io\t-\t1 Jun\tsill
R5\t4 L4 Aglais io\tnettle\t06:00\tsill 2
"""


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("E4 hatched 10 more", "E4 hatched 10"),
        ("E4 10 more hatched", "E4 hatched 10"),
        ("R4 pupated 1 more", "R4 pupated 1 (1 of 4)"),
        ("P2 emerged 2 more", "P2 emerged 2"),
        ("R4 host added poplar 2", "R4 host in: poplar, batch B, 2 stems"),
        ("R4 host added 2", "R4 host in: nettle, batch B, 2 stems"),
    ],
)
def test_more_is_said_as_it_is_without(story: Story, line: str, told: str) -> None:
    story.at("2027-06-11 17:50")
    ran = story.shell("begin", "--list", "-", typed=LIST)
    assert ran.status == 0, ran.err
    story.reopen()
    assert story.type(line) == [told]


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("E4 2 more eggs", "E4 counted 32 eggs (2 MORE THAN ON RECORD)"),
        ("R4 2 more larvae", "R4 counted 6 larvae (2 MORE THAN ON RECORD)"),
        ("R4 1 more L5", "R4 counted 5 larvae L5 (1 MORE THAN ON RECORD)"),
        ("E4 2 more larvae", "E4 hatched 2"),
    ],
)
def test_more_than_on_record_is_no_count_of_so_many(story: Story, line: str, told: str) -> None:
    story.at("2027-06-11 17:50").shell("begin", "--list", "-", typed=LIST)
    story.reopen()
    assert story.type(line) == [told]


def test_more_larvae_beside_a_female_and_those_seen_before(story: Story) -> None:
    story.type("L2 1 female Papilio machaon on fennel")
    story.later(hours=30).type("L2 1 larva", "L2 2 more larvae")
    assert story.desk.bench.at("L2").count("larva") == 3
    story.type("L2 9 eggs", "L2 2 more larvae")
    assert (story.desk.bench.at("L2").count("egg"), story.desk.bench.at("L2").count("larva")) == (
        7,
        5,
    )


FEMALE = ("K6 set up laying", "K6 1 female Pieris napi on garlic mustard")


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("K6 one more egg", "K6 searched, 1 found"),
        ("K6 another egg", "K6 searched, 1 found"),
        ("K6 a further egg", "K6 searched, 1 found"),
        ("K6 one more dead", "K6 died 1 adult"),
        ("K6 another female died", "K6 died 1 adult, female"),
        ("K6 one more missing", "K6 missing 1 adult"),
        ("K6 another escaped", "K6 escaped 1 adult"),
        ("K6 one more drank", "K6 drank"),
        ("K6 another one refused", "K6 refused 1"),
        ("R4 another L5", "R4 counted 5 larvae L5 (1 MORE THAN ON RECORD)"),
        ("R4 one more dead", "R4 died 1 larva"),
        ("R4 one more pupa", "R4 pupated 1 (1 of 4)"),
        ("E4 another hatched", "E4 hatched 1"),
        ("P2 one more pupa", "P2 counted 5 pupae (1 MORE THAN ON RECORD)"),
        ("P2 another adult", "P2 emerged 1 (1 of 4)"),
    ],
)
def test_one_more_is_of_those_that_are_there(story: Story, line: str, told: str) -> None:
    story.at("2027-06-11 17:50").shell("begin", "--list", "-", typed=LIST)
    story.reopen()
    story.type(*FEMALE)
    assert told in story.later(hours=2).type(line)[0]
    assert list(story.desk.bench.founders) == ["PIE-27-01"], "nobody came in"


@pytest.mark.parametrize(
    "line",
    [
        "K6 another",
        "K6 one more female",
        "K6 another one",
        "K6 same",
        "K6 another found at Tannmoos",
        "K6 another taken at Tannmoos",
    ],
)
def test_another_female_comes_in(story: Story, line: str) -> None:
    story.type(*FEMALE, line)
    assert story.desk.bench.at("K6").females == 2


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("R4 same again", "the same of what? No wild-caught animal is in R4"),
        ("R4 another female", "the same of what? No wild-caught animal is in R4"),
        ("K6 another stem", "put in, seen or taken out, and which plant?"),
        ("K6 same again drank", "'drank' is no code of an animal that comes in"),
    ],
)
def test_what_is_no_other_female_is_asked(story: Story, line: str, told: str) -> None:
    story.at("2027-06-11 17:50").shell("begin", "--list", "-", typed=LIST)
    story.reopen()
    story.type(*FEMALE)
    assert told in story.refused(line)


@pytest.mark.parametrize(
    "line",
    [
        "K6 one more found",
        "K6 another one found",
        "K6 one more on garlic mustard",
        "K6 another one on the lid",
        "K6 one more, on the bud",
        "K6 one more found on the lid",
        "K6 another, under a leaf",
        "K6 one more in the corner of the cup",
        "K6 one more at the rim",
        "K6 another by the lid",
        "K6 one more near the bud",
    ],
)
def test_one_more_that_is_on_something_is_an_egg(story: Story, line: str) -> None:
    story.type(*FEMALE)
    story.later(hours=2).type(line)
    assert story.desk.bench.at("K6").females == 1
    assert story.desk.bench.at("K6").count("egg") == 1


@pytest.mark.parametrize(
    "line",
    [
        "K6 one more -- egg",
        "K6 one more 18:00",
        "K6 another one 18:00",
        "K6 same again found",
        "K6 same again on the lid",
    ],
)
def test_what_may_be_an_egg_is_asked(story: Story, line: str) -> None:
    story.type(*FEMALE)
    story.at("2027-06-11 18:05")
    assert "an egg that was found, or another female that comes in?" in story.refused(line)


def test_in_a_cage_without_females_she_comes_in(story: Story) -> None:
    story.type(*FEMALE, "K7 set up laying", "K7 one more -- worn")
    assert story.desk.bench.at("K7").females == 1


@pytest.mark.parametrize(
    ("line", "lines"),
    [
        ("R5 3 L3", ["R5 counted 4 larvae"]),
        ("R5 L3", ["R5 counted 4 larvae"]),
        ("R5 another L3", ["R5 counted 5 larvae", "R5 moulted 1 L5", "R5 pupated 1"]),
        ("E4 one more eaten", ["E4 counted 31 eggs", "E4 hatched 1", "E4 died 1"]),
        ("E4 one more gone", ["E4 died 1"]),
        ("P2 another lost", ["P2 died 1"]),
    ],
)
def test_what_is_asked_of_more_can_be_written(story: Story, line: str, lines: list[str]) -> None:
    story.at("2027-06-11 17:50").shell("begin", "--list", "-", typed=LIST)
    story.reopen()
    told = story.refused(line)
    assert [one for one in lines if one not in told] == []
    assert "counted 1 " not in told
    assert "another female" not in told
    for one in lines:
        assert story.preview(one), one


def test_too_many_of_a_sex_are_told_beside_the_others(story: Story) -> None:
    story.at("2027-06-11 17:50").shell("begin", "--list", "-", typed=LIST)
    story.reopen()
    story.type("P2 emerged 2 males 1 female")
    told = story.refused("P2 released 2 females")
    assert "P2 holds 1 female of 3 adults" in told
    assert told.endswith("first: P2 emerged 1 more female, then P2 released 2 females")
    story.type("P2 emerged 1 more female", "P2 released 2 females")
