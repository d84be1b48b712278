"""Two laptops apart say things of one shelf or species: what each said stays, and no other's is lost."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_two_animals_under_one_code import synchronise

LARVAE = "12 larvae L2 Leptidea sinapis on vetchling"


@pytest.fixture
def apart(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[Story, Story]:
    """Two laptops with one book of a rack and a porch that both know."""
    a = Story(tmp_path / "a", monkeypatch, "aaaa1111").at("2027-05-01 07:00")
    b = Story(tmp_path / "b", monkeypatch, "bbbb2222")
    b.clock = a.clock
    a.type("shelf set up rack", "R4 set up rearing on rack", f"R4 {LARVAE}")
    a.type("shelf set up porch apart hot_c=30 place=3")
    synchronise(a, b)
    return a, b


def test_a_moat_is_not_taken_away_by_a_place(apart: tuple[Story, Story]) -> None:
    a, b = apart
    b.later(hours=1).type("shelf set up rack barrier=moat", "rack moat 5 mm")
    a.later(hours=1).type("shelf set up rack place=2")
    synchronise(a, b)
    for laptop in apart:
        rack = laptop.desk.bench.shelves["rack"]
        assert (rack.barrier, rack.place, rack.moat.state) == ("moat", 2, "low")
        assert "rack" in laptop.shell("shelves").out
        laptop.later(hours=6)
        assert any(due.where == "rack" and due.place_kind == "shelf" for due in laptop.desk.dues())
    assert a.desk.bench == b.desk.bench
    assert "said apart" not in a.shell("check").out
    first = next(line for line in a.on_disk() if line.get("place") == 2)
    assert "barrier" not in first


def test_limits_join_and_two_that_differ_are_told(apart: tuple[Story, Story]) -> None:
    a, b = apart
    b.later(hours=1).type("shelf set up porch hot_c=26")
    a.later(hours=1).type("shelf set up porch cold_c=4")
    synchronise(a, b)
    for laptop in apart:
        porch = laptop.desk.bench.shelves["porch"]
        assert (porch.apart, porch.hot_c, porch.cold_c, porch.place) == (True, 26, 4, 3)
    assert "said apart" not in a.shell("check").out
    b.later(hours=1).type("shelf set up porch hot_c=25")
    a.later(hours=1).type("shelf set up porch hot_c=28")
    synchronise(a, b)
    for laptop in apart:
        assert laptop.desk.bench.shelves["porch"].hot_c == 28
        told = laptop.shell("check").out
        assert "said hot_c of shelf porch to be 28 and 25; say which holds" in told
        assert "until then 28, said last, counts, 25 was set aside" in told
    b.later(hours=1).type("shelf set up porch hot_c=25")
    synchronise(a, b)
    assert "said apart" not in a.shell("check").out
    assert a.desk.bench.shelves["porch"].hot_c == 25


def test_first_set_ups_apart_join(apart: tuple[Story, Story]) -> None:
    a, b = apart
    b.later(hours=1).type("shelf set up sill barrier=moat hot_c=29", "sill moat 4 mm")
    a.later(hours=1).type("shelf set up sill apart=yes")
    synchronise(a, b)
    for laptop in apart:
        sill = laptop.desk.bench.shelves["sill"]
        assert (sill.barrier, sill.hot_c, sill.apart) == ("moat", 29, True)


def test_what_is_said_to_be_no_more_is_no_more(apart: tuple[Story, Story]) -> None:
    a, b = apart
    a.type("shelf set up rack barrier=moat")
    a.later(hours=1).type("shelf set up porch apart=no", "shelf set up rack barrier=none")
    synchronise(a, b)
    for laptop in apart:
        assert not laptop.desk.bench.shelves["porch"].apart
        assert laptop.desk.bench.shelves["porch"].hot_c == 30
        assert laptop.desk.bench.shelves["rack"].barrier == "none"


def test_limits_are_weighed_with_those_known(apart: tuple[Story, Story]) -> None:
    a, _ = apart
    assert "hot" in a.refused("shelf set up porch cold_c=32")


def test_what_is_known_of_a_species_and_a_plant_joins(apart: tuple[Story, Story]) -> None:
    a, b = apart
    b.later(hours=1).type("taxon 'Leptidea sinapis' cannibalistic", "plant vetchling water 24")
    b.type("plant vetchling water 24 irritant=yes")
    a.later(hours=1).type("taxon 'Leptidea sinapis' night_fed", "plant vetchling water 36")
    synchronise(a, b)
    for laptop in apart:
        species = laptop.desk.bench.taxa["Leptidea sinapis"]
        assert (species.cannibalistic, species.night_fed) == (True, True)
        plant = laptop.desk.bench.plants["vetchling"]["water"]
        assert (plant.hours, plant.irritant) == (36, True)
        assert "hours of plant vetchling water to be 36 and 24" in laptop.shell("check").out


def test_lines_that_wrote_a_whole_shelf_say_what_they_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    story = Story(tmp_path, monkeypatch, "aaaa1111").at("2027-05-02 07:00")
    story.folder.mkdir(mode=0o700, exist_ok=True)
    head = '{"what":"shelf set up","id":"245sgs%s","at":"2027-05-01T0%d:00:00Z",'
    rest = '"logged":"2027-05-01T0%d:00:00Z","by":"A","shelf":"porch",%s}\n'
    (story.folder / "entries-aaaa1111-2027-05.jsonl").write_text(
        head % ("adpk-rfkaqd", 7)
        + rest % (7, '"apart":true,"place":3,"hot_c":30.0,"barrier":"moat"')
        + head % ("bdpk-rfkaqd", 8)
        + rest % (8, '"hot_c":30.0,"barrier":"none"')
    )
    porch = story.desk.bench.shelves["porch"]
    assert (porch.apart, porch.place, porch.hot_c, porch.barrier) == (False, 0, 30, "none")
