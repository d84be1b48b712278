"""Words that stand beside those that are read mean the same: a shelf by its word, an empty cup as the hint has it, frass by how much."""

from __future__ import annotations

import pytest

from rounds.entries.registry import KINDS
from rounds.entries.schema import describe
from tests.stories.telling import Story


def _listed(story: Story, *lines: str) -> str:
    file = story.folder.parent / "bench.txt"
    file.write_text("\n".join(lines))
    ran = story.at("2027-05-15 07:05").shell("begin", "--list", str(file))
    assert ran.status == 0, ran.err
    return ran.out


@pytest.mark.parametrize("second", ["shelf A", "on shelf A", "shelf A 3"])
def test_a_shelf_by_its_word_is_one_on_every_line(story: Story, second: str) -> None:
    row = "5 L5 Boloria dia  viola  Wed 07:00"
    _listed(story, f"R5  {row}  shelf A", f"R6  {row}  {second}")
    assert {story.desk.bench.containers[code].shelf for code in ("R5", "R6")} == {"A"}


def test_an_empty_cup_as_the_hint_has_it(story: Story) -> None:
    _listed(story, "R5  5 L5 Boloria dia", "K3  laying empty")
    cup = story.desk.bench.containers["K3"]
    assert (cup.purpose, cup.lots) == ("laying", [])


@pytest.mark.parametrize("level", ["heavy", "abundant"])
def test_much_frass_is_clearly_there(story: Story, level: str) -> None:
    story.at("2027-05-15 07:05").type("R2 5 L4 Boloria dia")
    assert "clearly there" in story.type(f"R2 frass {level}")[0]


def test_no_help_has_runs_of_spaces() -> None:
    assert [
        kind for kind in KINDS if "  " in describe(kind).help or "\n" in describe(kind).help
    ] == []
