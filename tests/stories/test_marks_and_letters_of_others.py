"""A piped file may begin with a mark; coordinates may end with an O."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


def test_a_mark_before_the_first_line_is_no_part_of_it(story: Story) -> None:
    ran = story.shell("log", "-", typed="\ufeffK9 set up laying\nK9 note all well\n")
    assert ran.status == 0, ran.err
    assert "K9 set up for laying" in ran.out


@pytest.mark.parametrize(
    "where",
    [
        "place=Weidenau 50°31'12\" N 9°41'30\" O",
        "at Weidenau 50°31'12\" N 9°41'30\" O",
        "at Weidenau N 50.52012 O 9.69123",
    ],
)
def test_coordinates_to_the_o_are_asked_and_not_kept_as_a_name(story: Story, where: str) -> None:
    story.type("K9 set up laying")
    said = story.refused(f"K9 founder W1 female 'Aglais io' {where}")
    assert "O is east to some and west to others: say E or W" in said
    story.type(f"K9 founder W1 female 'Aglais io' {where.replace(' O', ' E')}")
    assert story.desk.bench.founders["W1"].longitude == pytest.approx(9.6917, abs=1e-3)
    assert story.desk.bench.founders["W1"].place == "Weidenau"
