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
