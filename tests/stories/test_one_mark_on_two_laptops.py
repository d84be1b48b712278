"""Two laptops apart give one mark to two females: it is told until one has another, and hides nothing else."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_two_animals_under_one_code import synchronise


def test_a_mark_given_twice_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    a = Story(tmp_path / "a", monkeypatch, "aaaa1111").at("2027-05-01 07:00")
    b = Story(tmp_path / "b", monkeypatch, "bbbb2222")
    b.clock = a.clock
    a.type("K2 set up laying", "K2 2 females Leptidea sinapis on vetchling")
    a.type("R4 set up rearing", "R4 2 larvae L2 Leptidea sinapis on vetchling")
    synchronise(a, b)
    a.later(minutes=5).type("K2 marked LEP-27-01 red")
    b.later(minutes=5).type("K2 marked LEP-27-02 red")
    synchronise(a, b)
    for laptop in (a, b):
        told = "animals have the mark red: LEP-27-01 and LEP-27-02"
        assert f"TWO {told}; give one of them another" in laptop.shell("due").err
        assert f"one mark for two: two {told}" in laptop.shell("check").out
    for line in ("red died", "K2 drank red", "K2 searched 5 red on vetchling"):
        asked = a.refused(line)
        assert "red is the mark of LEP-27-01 and LEP-27-02; which?" in asked
    assert "As: K2 searched 5 LEP-27-01 on vetchling or " in asked
    a.type("K2 searched 5 LEP-27-01 on vetchling")
    a.later(minutes=5).type("R4 died 1 not known")
    b.type("R4 died 2")
    synchronise(a, b)
    assert "(and 1 more: rounds check)" in a.shell("due").err
    b.later(minutes=5).type("K2 marked LEP-27-02 blue")
    synchronise(a, b)
    assert "have the mark" not in a.shell("check").out
    assert "DOES NOT FIT" in a.shell("due").err
