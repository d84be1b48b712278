"""Two laptops apart, at random: whatever is said on each, both come to one bench, and no animal is lost or unasked."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from rounds.app.desk import Recorded
from rounds.app.prompt_line import say_phrase
from tests.stories.telling import Story
from tests.stories.test_two_animals_under_one_code import synchronise

CUPS = ("R5", "R6", "R7", "R8")
SPECIES = ("Aglais io", "Saturnia pavonia")
PURPOSES = ("rearing", "rearing", "pupation", "eggs")


def one_line(story: Story, chance: random.Random) -> str:
    """Something that a keeper may say, whether it can be so or not."""
    cups = [*CUPS, *(one.code for one in story.desk.bench.standing())]
    cup, other, number = chance.choice(cups), chance.choice(cups), chance.randint(1, 9)
    return chance.choice(
        (
            f"{cup} set up {chance.choice(PURPOSES)}",
            f"{cup} {number} L2 {chance.choice(SPECIES)}",
            f"{cup} {number} L2 {chance.choice(SPECIES)}",
            f"{cup} moved all to {other}",
            f"{cup} moved {number} larvae to {other}",
            f"{cup} {number} died",
            f"{cup} 1 escaped",
            f"{cup} host in bramble leaf water",
            f"{cup} looked",
            f"{cup} closed",
            f"{cup} set up laying",
            f"{cup} 1 female Melitaea cinxia",
            f"{cup} {number} eggs",
            f"{cup} host out held held_in={other}",
            f"{cup} frass plain lot=1",
            f"{cup} 3 hatched",
        )
    )


def living(story: Story) -> int:
    """How many animals are in containers on record."""
    return sum(one.count() for one in story.desk.bench.standing())


def some_lines(story: Story, chance: random.Random, number: int) -> list[str]:
    """Try so many lines at random; those that were taken."""
    taken = []
    for _ in range(number):
        line = one_line(story, chance)
        if not chance.randint(0, 12):
            story.desk.strike_last()
            taken.append("undo")
        elif isinstance(say_phrase(story.desk, line), Recorded):
            taken.append(line)
        story.later(seconds=chance.randint(1, 90))
    return taken


@pytest.mark.parametrize("seed", range(8))
def test_no_animal_is_lost_between_two_laptops(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, seed: int
) -> None:
    chance = random.Random(seed)
    a = Story(tmp_path / "a", monkeypatch, "aaaa1111").at("2027-05-01 08:00")
    b = Story(tmp_path / "b", monkeypatch, "bbbb2222")
    b.clock = a.clock
    a.type("N1 set up rearing")
    synchronise(a, b)
    said: list[str] = []
    for _ in range(3):
        before, lived = living(a), []
        for laptop in chance.sample((a, b), 2):
            said += [f"{laptop._laptop[0]}: {line}" for line in some_lines(laptop, chance, 14)]
            lived.append(living(laptop) - before)
        synchronise(a, b)
        told = "\n".join(said)
        assert a.desk.bench == b.desk.bench, told
        for laptop in (a, b):
            for path in laptop.folder.glob("checkpoint*"):
                path.unlink()
            bench = laptop.desk.bench
            laptop.reopen()
            assert laptop.desk.bench == bench, told
        # of animals that both knew each may have said another thing: that is told
        assert living(a) == before + sum(lived) or (before and a.desk.bench.misfits), told
        asked = {due.where for due in a.desk.dues()}
        assert {one.code for one in a.desk.bench.standing() if one.count()} <= asked, told
