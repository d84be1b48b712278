"""Eggs count on the plant that was named, on none where they were beside it, and are asked about where
that plant is not on record."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def bench(story: Story) -> Story:
    story.at("2027-05-12 08:00").type("L2 1 female Papilio machaon on fennel")
    return story.at("2027-05-13 08:00")


def eggs_on(story: Story) -> dict[str, int]:
    """Eggs found by plant, as they lie in the book."""
    found: dict[str, int] = {}
    for line in story.on_disk():
        if line["what"] == "searched":
            found[line.get("plant", "")] = found.get(line.get("plant", ""), 0) + line["found"]
    return found


@pytest.mark.parametrize("line", ["L2 searched 3 on carrot", "L2 3 eggs on the carrot"])
def test_a_plant_that_does_not_stand_there_is_asked_about(bench: Story, line: str) -> None:
    asked = bench.refused(line)
    assert "carrot does not stand in L2 on record" in asked
    assert "L2 host in carrot" in asked
    assert "sure" in asked
    assert eggs_on(bench) == {}


def test_said_late_it_counts_on_that_plant(bench: Story) -> None:
    bench.type("L2 host in carrot 07:30", "L2 searched 3 on carrot")
    assert eggs_on(bench) == {"carrot": 3}


def test_surely_it_counts_on_that_plant_and_not_on_the_other(bench: Story) -> None:
    bench.type("L2 searched 3 on carrot sure")
    assert eggs_on(bench) == {"carrot": 3}
    assert bench.desk.bench.at("L2").hosts[0].eggs == 0


@pytest.mark.parametrize("place", ["lid", "the wall", "gauze", "the side of the cup"])
def test_a_place_beside_the_plant_is_of_no_plant(bench: Story, place: str) -> None:
    bench.type(f"L2 searched 3 on {place}")
    assert eggs_on(bench) == {"": 3}
    assert bench.desk.bench.at("L2").hosts[0].eggs == 0
    assert "fennel" not in bench.shell("log", "L2 note all").out


@pytest.mark.parametrize(
    ("line", "found", "note"),
    [
        ("L2 searched 60 on fennel in one batch", {"fennel": 60}, "in one batch"),
        ("L2 4 eggs on fennel near the tip", {"fennel": 4}, "near the tip"),
        ("L2 4 eggs on the ribwort plantain, all pale", {"ribwort plantain": 4}, "all pale"),
        ("L2 4 eggs on fennel, none on plantain", {"fennel": 4, "ribwort plantain": 0}, ""),
        (
            "L2 searched 4 on fennel, 2 on plantain low down",
            {"fennel": 4, "ribwort plantain": 2},
            "low down",
        ),
    ],
)
def test_words_behind_a_plant_do_not_unmake_it(
    bench: Story, line: str, found: dict[str, int], note: str
) -> None:
    bench.type("L2 host in ribwort plantain 07:00")
    bench.type(line)
    assert eggs_on(bench) == found
    notes = [one["text"] for one in bench.on_disk() if one["what"] == "note"]
    assert notes == ([note] if note else [])


@pytest.mark.parametrize(
    "line",
    [
        "L2 searched 6 more unsure",
        "L2 searched about 6 more unsure",
        "L2 searched maybe 6",
        "L2 searched 6 perhaps",
        "L2 searched 6?",
        "L2 maybe 6 eggs",
        "L2 6 eggs perhaps",
        "L2 found 6 eggs?",
    ],
)
def test_eggs_in_doubt_are_not_sure(bench: Story, line: str) -> None:
    bench.type(line)
    entry = bench.on_disk()[-1]
    assert (entry["found"], entry.get("unsure"), entry.get("where")) == (0, 6, None)


def test_some_found_and_more_in_doubt(bench: Story) -> None:
    bench.type("L2 searched 4, maybe 2 more on fennel")
    entry = bench.on_disk()[-1]
    assert (entry["found"], entry.get("unsure"), entry.get("plant")) == (4, 2, "fennel")


def test_all_that_have_grown_are_never_none(bench: Story) -> None:
    bench.type("L2 searched 5", "L2 moved 5 eggs to new E5")
    bench.at("2027-05-20 08:00").type("E5 all larvae")
    assert bench.desk.bench.at("E5").count("larva") == 5
    assert bench.desk.bench.at("E5").count("egg") == 0
    bench.type("E5 counted all larvae")
    assert (bench.on_disk()[-1]["what"], bench.on_disk()[-1]["number"]) == ("counted", 5)
    bench.at("2027-06-20 08:00").type("E5 all pupae")
    assert bench.desk.bench.at("E5").count("pupa") == 5
    bench.at("2027-07-05 08:00").type("E5 all adults")
    assert bench.desk.bench.at("E5").count("adult") == 5


def test_all_of_what_is_not_there_asks_how_many(bench: Story) -> None:
    assert "L2 counted 4 larvae" in bench.refused("L2 all larvae")


def test_eggs_on_two_plants_that_stand_there_are_asked_for_each(story: Story) -> None:
    tell(story, "K4 1 female Boloria dia on violet\nK4 host in bramble")
    story.later(hours=10)
    for typed in ("K4 searched 4 on violet and bramble", "K4 5 eggs on violet, some on bramble"):
        asked = story.refused(typed)
        assert "say how many were on each, as: K4 4 eggs on violet, none on bramble" in asked
        assert "host in" not in asked
    story.type("K4 4 eggs on violet, none on bramble", "K4 searched 5 not known")


@pytest.mark.parametrize(
    "typed",
    ["searched 7 on violet and thyme", "7 eggs on violet, lid 3", "7 eggs on violet or lid"],
)
def test_another_place_behind_the_plant_is_no_note(story: Story, typed: str) -> None:
    tell(story, "K5 1 female Boloria dia on violet")
    story.later(hours=10)
    assert "say how many were on each, as: K5 4 eggs on violet" in story.refused(f"K5 {typed}")
