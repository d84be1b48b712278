"""A helper is sent to a clean jar of the part that they eat, or to none, and then the keeper is told."""

from __future__ import annotations

import re

import pytest

from rounds.checks.supplies import supplies
from tests.stories.telling import Story, tell

BEGIN = """
    R3 set up rearing
    R3 9 larvae 'Lycaena tityrus' L3
    R3 host in 'Anthyllis vulneraria' {part} 3 stems
    S2 set up host store
    S2 host in 'Anthyllis vulneraria' leaf 20 stems
"""


def sheet(story: Story) -> tuple[str, str]:
    """The sheet in one line of words, and what the keeper is told."""
    ran = story.shell("sheet", "--to", "+2d")
    assert ran.status == 0, ran.err
    no_boxes = re.sub(r"[\[(] *[\])]|(?<=\s)--(?=\s)", " ", ran.out)
    return " ".join(no_boxes.split()), " ".join(ran.err.split())


@pytest.mark.parametrize("part", ["flower", "bud", "flowering"])
def test_what_eats_flowers_is_fed_from_the_jar_of_flowers(story: Story, part: str) -> None:
    called = part.replace("flowering", "flower")
    tell(story, BEGIN.format(part=part.replace("flowering", "flowering tips")))
    out, told = sheet(story)
    assert f"fresh Anthyllis vulneraria {called} from ____" in out
    assert "from S2" not in out
    assert f"no store of Anthyllis vulneraria {called} is on record: 'S2 host in" in told
    tell(story, f"S6 set up host store\nS6 host in 'Anthyllis vulneraria' {called} 16 stems")
    out, told = sheet(story)
    assert f"fresh Anthyllis vulneraria {called} from S6: " in out
    assert "no store" not in told
    ready = supplies(story.desk.bench, story.desk.moment())
    needed = [need.of for need in (*ready.coming, *ready.tomorrow) if need.what == "sprigs"]
    assert needed == [f"Anthyllis vulneraria {called}"]


def test_those_that_eat_leaves_are_not_sent_to_flowers(story: Story) -> None:
    tell(story, BEGIN.format(part="leaf").replace("leaf 20", "flower 20"))
    out, told = sheet(story)
    assert "fresh Anthyllis vulneraria from ____" in out
    assert "no store of Anthyllis vulneraria is on record" in told


def test_females_that_lay_on_buds_get_buds(story: Story) -> None:
    tell(
        story,
        """
        K1 set up laying
        K1 2 females 'Lycaena tityrus'
        K1 host in 'Anthyllis vulneraria' bud 2 stems
        S2 set up host store
        S2 host in 'Anthyllis vulneraria' leaf 20 stems
        S6 set up host store
        S6 host in 'Anthyllis vulneraria' bud 20 stems
        """,
    )
    out, _ = sheet(story)
    assert "Anthyllis vulneraria bud from S6" in out
    assert "from S2" not in out


@pytest.mark.parametrize(
    ("line", "why"),
    [("S2 suspect mould", "S2 is suspect"), ("S2 host limp", "it is limp in S2"), ("S2 host mouldy", "it is mouldy in S2")],
)  # fmt: skip
def test_nobody_is_fed_from_a_jar_that_is_suspect_or_limp(
    story: Story, line: str, why: str
) -> None:
    tell(story, BEGIN.format(part="leaf"))
    assert "fresh Anthyllis vulneraria from S2" in sheet(story)[0]
    tell(story, line)
    out, told = sheet(story)
    assert "from S2" not in out
    assert f"no store of Anthyllis vulneraria is on record ({why}): " in told
    assert ("S2 host in" in told) == ("suspect" not in why)
    tell(story, "S4 set up host store\nS4 host in 'Anthyllis vulneraria' leaf 16 stems")
    out, told = sheet(story)
    assert "fresh Anthyllis vulneraria from S4" in out
    assert "no store" not in told


def test_what_hatches_on_flowers_gets_no_leaf(story: Story) -> None:
    tell(
        story,
        """
        R3 set up eggs
        R3 9 eggs 'Lycaena tityrus'
        R3 host in 'Anthyllis vulneraria' flower 3 stems
        R3 eggs darkening
        S6 set up host store
        S6 host in 'Anthyllis vulneraria' flower 16 stems
        """,
    )
    out, _ = sheet(story)
    assert "one small leaf of" not in out
    assert "a little of Anthyllis vulneraria flower from S6" in out
