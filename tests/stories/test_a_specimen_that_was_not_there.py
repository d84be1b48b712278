"""A specimen whose line does not fit, as where another laptop let her go before, leaves as no record."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_two_animals_under_one_code import synchronise


def numbers(story: Story, tmp_path: Path) -> list[str]:
    """The catalogue numbers of the flat table of occurrences."""
    (tmp_path / "occurrences.csv").unlink(missing_ok=True)
    story.shell("export", "occurrences", str(tmp_path / "occurrences.csv"))
    with (tmp_path / "occurrences.csv").open(encoding="utf-8-sig", newline="") as table:
        return [number for row in csv.DictReader(table) if (number := row["catalogNumber"])]


@pytest.mark.parametrize("line", ["K3 preserved W1 voucher=V2", "K3 preserved 1 adult voucher=V2"])
def test_it_is_told_and_leaves_not(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, line: str
) -> None:
    a = Story(tmp_path / "a", monkeypatch, "aaaa1111").at("2027-05-01 08:00")
    b = Story(tmp_path / "b", monkeypatch, "bbbb2222")
    b.clock = a.clock
    a.type("K3 set up laying", "K3 founder W1 Aglia tau female", "K3 founder W7 Aglia tau female")
    a.type("K3 preserved W7 voucher=V1")
    synchronise(a, b)
    a.later(minutes=5).type("K3 released W1")
    b.later(minutes=5).type(line)
    assert numbers(b, tmp_path) == ["V1", "V2"]
    synchronise(a, b)
    for laptop in (a, b):
        assert "K3 had 0, not 1" in laptop.shell("check").out
        assert numbers(laptop, tmp_path) == ["V1"]
        (tmp_path / "pins.html").unlink(missing_ok=True)
        pins = laptop.shell("export", "pins", str(tmp_path / "pins.html"))
        assert "1 label of" in pins.out
        assert "V2" not in (tmp_path / "pins.html").read_text()
