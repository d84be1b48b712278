"""More of what happened before, in a keeper's words: so many more hatched, another plant added by its name."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story

LIST = """code\tholds\tplant\tsince\tplace
R4\t4 L5 Aglais io\tnettle\t06:00\tsill 2
E4\t30 eggs Aglais io\tnettle\t06:00\tsill 2
P2\t4 pupae Aglais io\t-\t1 Jun\tsill
"""


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("E4 hatched 10 more", "E4 hatched 10"),
        ("E4 10 more hatched", "E4 hatched 10"),
        ("R4 pupated 1 more", "R4 pupated 1 (1 of 4)"),
        ("P2 emerged 2 more", "P2 emerged 2"),
        ("R4 host added poplar 2", "R4 host in: poplar, water, batch B, 2 stems"),
        ("R4 host added 2", "R4 host in: nettle, water, batch B, 2 stems"),
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
