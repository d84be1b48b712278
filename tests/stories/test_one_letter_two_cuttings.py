"""A letter of a batch is one cutting's: where two have it, or a line says another plant, it is asked about."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_two_animals_under_one_code import synchronise


@pytest.fixture
def apart(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[Story, Story]:
    """Two laptops that each cut bramble under the letter B while apart, a day after each other."""
    a = Story(tmp_path / "a", monkeypatch, "aaaa1111").at("2027-05-01 08:00")
    b = Story(tmp_path / "b", monkeypatch, "bbbb2222")
    b.clock = a.clock
    a.type("K4 set up rearing", "R6 set up rearing", "N1 set up rearing", "K4 host in violet")
    synchronise(a, b)
    a.later(hours=12).type("K4 host in bramble")
    b.later(hours=20).type("R6 host in bramble")
    synchronise(a, b)
    return a, b


def letter(story: Story, container: str, plant: str) -> str:
    """The letter of a plant that stands in a container."""
    hosts = story.desk.bench.containers[container].hosts
    return next(host.batch for host in hosts if host.plant == plant)


def test_check_tells_of_both(apart: tuple[Story, Story]) -> None:
    for laptop in apart:
        assert letter(laptop, "K4", "bramble") == letter(laptop, "R6", "bramble") == "B"
        told = laptop.shell("check")
        assert told.status == 1
        assert "two cuttings have the letter B" in told.out
        assert "bramble cut 2027-05-01 20:00 in K4" in told.out
        assert "bramble cut 2027-05-02 16:00 in R6" in told.out


def test_a_line_that_names_the_letter_is_asked_which(apart: tuple[Story, Story]) -> None:
    a, _ = apart
    assert "two cuttings have the letter B" in a.refused("N1 host in bramble batch B")
    a.type("N1 host in bramble batch B cut 2027-05-01 20:00")
    (host,) = a.desk.bench.containers["N1"].hosts
    assert host.batch == "B"
    assert f"{host.cut:%d %H:%M}" == "01 20:00"


def test_with_the_older_stems_gone_there_is_one(apart: tuple[Story, Story]) -> None:
    a, _ = apart
    a.type("K4 host out bramble binned")
    a.later(hours=8).type("N1 host in bramble batch B")
    (host,) = a.desk.bench.containers["N1"].hosts
    assert f"{host.cut:%d %H:%M}" == "02 16:00"
    assert "two cuttings" not in a.shell("check").out


def test_the_next_letter_is_free_of_both(apart: tuple[Story, Story]) -> None:
    a, _ = apart
    a.later(days=1).type("N1 host in bramble")
    assert letter(a, "N1", "bramble") == "C"


def test_two_plants_with_one_letter_are_told_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    a = Story(tmp_path / "a", monkeypatch, "aaaa1111").at("2027-05-01 08:00")
    b = Story(tmp_path / "b", monkeypatch, "bbbb2222")
    b.clock = a.clock
    a.type("K4 set up rearing", "R6 set up rearing", "N1 set up rearing")
    synchronise(a, b)
    a.type("K4 host in bramble")
    b.type("R6 host in plantain")
    synchronise(a, b)
    assert "two cuttings have the letter A" in a.shell("check").out
    assert "two cuttings have the letter A" in a.refused("N1 host in batch A")
    a.type("N1 host in plantain batch A")


@pytest.fixture
def bench(story: Story) -> Story:
    """Bramble of batch A in K4, plantain of batch B in R6."""
    story.type("K4 set up rearing", "R6 set up rearing", "N1 set up rearing")
    story.type("K4 host in bramble", "R6 host in plantain")
    return story


def test_a_letter_alone_names_its_plant(bench: Story) -> None:
    bench.later(hours=20).type("K4 host in batch B")
    assert [(one.plant, one.batch) for one in bench.desk.bench.containers["K4"].hosts][-1] == (
        "plantain",
        "B",
    )


def test_a_letter_of_another_plant_is_asked_about(bench: Story) -> None:
    bench.later(hours=20)
    assert "batch A is bramble" in bench.refused("R6 host in plantain batch A")
    bench.type("R6 host in plantain batch B", "R6 host in plantain batch C")


def test_one_cutting_given_over_a_day_has_one_letter(bench: Story) -> None:
    for _ in range(3):
        bench.later(hours=5).type("N1 host in bramble")
    bench.type("N1 host in bramble batch A")
    assert "two cuttings" not in bench.shell("check").out
