"""Small words of a morning round, that were refused with a line about something else: kept in, renewed, half shaded."""

from __future__ import annotations

from typing import Any

import pytest

from tests.stories.telling import Story, tell

MORNING = "2027-06-02 07:10"


@pytest.fixture
def bench(story: Story) -> Story:
    """Two coppers on their plant, a cup for stems, eggs and larvae in one cup, pupae and larvae."""
    tell(
        story.at("2027-06-01 07:10"),
        """
        L1 set up laying
        L1 1 female Lycaena tityrus
        L1 host in Rumex acetosella
        K1 set up host store
        E1 set up eggs
        E1 40 eggs Lycaena tityrus
        E1 hatched 8
        P4 set up pupation
        P4 3 pupae Lycaena tityrus
        E3 set up rearing
        E3 10 larvae Lycaena tityrus
        """,
    )
    return story.at(MORNING)


def line_of(story: Story, what: str) -> dict[str, Any]:
    """The newest line of that kind."""
    return [line for line in story.on_disk() if line["what"] == what][-1]


@pytest.mark.parametrize("verb", ["kept", "held"])
@pytest.mark.parametrize("plant", ["", " Rumex acetosella"])
def test_stems_are_kept_in_a_cup_or_in_a_new_one(story: Story, verb: str, plant: str) -> None:
    for code, said in (("K1", "in K1"), ("K7", "in new K7"), ("K8", "to new K8")):
        tell(story, f"L{code[1]} set up laying\nL{code[1]} host in Rumex acetosella")
        if code == "K1":
            story.type("K1 set up host store")
        story.later(hours=20).type(f"L{code[1]} host out{plant} {verb} {said}")
        assert line_of(story, "host out")["held_in"] == code
        assert [held.plant for held in story.desk.bench.containers[code].held] == [
            "Rumex acetosella"
        ]


@pytest.mark.parametrize("where", ["in the fridge", "in fridge", "on the balcony rail"])
@pytest.mark.parametrize("verb", ["kept", "held"])
def test_stems_are_kept_in_a_place_that_is_no_cup(bench: Story, verb: str, where: str) -> None:
    bench.type(f"L1 host out Rumex acetosella {verb} {where} 06:55")
    (out,) = [line for line in bench.on_disk() if line["what"] == "host out"]
    assert out["at"].startswith("2027-06-02T06:55")
    assert [held.plant for held in bench.desk.bench.containers["L1"].held] == ["Rumex acetosella"]
    assert line_of(bench, "note")["text"] == f"kept {where}"


@pytest.mark.parametrize("word", ["renewed", "replaced", "exchanged"])
def test_a_host_renewed_is_a_host_changed(bench: Story, word: str) -> None:
    as_changed = bench.preview("L1 host changed")
    for what in ("host", "plant", "leaves"):
        assert bench.preview(f"L1 {what} {word}") == as_changed


def test_half_shaded_is_half_covered(bench: Story) -> None:
    assert bench.preview("L1 half shaded") == bench.preview("L1 half covered")


@pytest.mark.parametrize("where", ["at the food", "on the food", "at the leaves", "on the plant"])
def test_ants_at_the_food_are_ants(bench: Story, where: str) -> None:
    bench.type(f"L1 ants {where}", "K1 changed barrier=moat", f"K1 ants {where}")
    seen = [line for line in bench.on_disk() if line["what"] == "barrier"]
    assert [(line["container"], line["state"]) for line in seen] == [
        ("L1", "ants"),
        ("K1", "breached"),
    ]


@pytest.mark.parametrize("line", ["E1 larvae not counted", "E1 caterpillars not counted"])
def test_larvae_not_counted_points_to_what_can_be_said(bench: Story, line: str) -> None:
    refused = bench.refused(line)
    assert "one thing a line" not in refused
    for example in ("E1 not counted", f"E1 note {line[3:]}"):
        assert example in refused
        bench.type(example)


def test_one_dead_not_known_of_two_stages_is_asked_for_the_stage(bench: Story) -> None:
    assert bench.refused("E1 died 1 not known") == (
        "E1 holds 32 eggs, 8 larvae; not known is said of which eggs or which larvae, as: larva"
        " not known; say which: eggs or larvae"
    )
    bench.type("E1 died 1 larva not known")
    assert line_of(bench, "died")["stage"] == "larva"


@pytest.mark.parametrize("cup", ["P4", "E3"])
@pytest.mark.parametrize("said", ["overwintering", "for overwintering", "now overwintering"])
def test_a_cup_overwintering_has_that_purpose(bench: Story, cup: str, said: str) -> None:
    bench.type(f"{cup} {said}")
    assert bench.desk.bench.containers[cup].purpose == "overwintering"
    bench.type("undo")
    assert bench.desk.bench.containers[cup].purpose != "overwintering"


def test_another_purpose_is_said_alike_and_alone(bench: Story) -> None:
    bench.type("E1 rearing", "P4 overwintering 06:50")
    assert bench.desk.bench.containers["E1"].purpose == "rearing"
    assert line_of(bench, "changed")["at"].startswith("2027-06-02T06:50")
    bench.refused("E3 overwintering 4")
    bench.refused("D9 rearing larvae")


@pytest.mark.parametrize("answer", ["D2 on balcony rail", "D2 at the balcony rail"])
def test_a_first_cup_with_a_place_and_no_purpose_gets_that_from_what_is_in_it(
    story: Story, answer: str
) -> None:
    ran = story.shell("begin", typed=f"Weir\n\n\n{answer}\n40 eggs Lycaena tityrus\n")
    assert "Not taken" not in ran.out
    cup = story.desk.bench.containers["D2"]
    assert (cup.purpose, cup.shelf) == ("eggs", "balcony rail")
    assert cup.count("egg") == 40


def test_a_first_cup_with_a_place_and_a_purpose_has_both(story: Story) -> None:
    story.shell("begin", typed="Weir\n\n\nD2-D3 laying on balcony rail\n\n")
    assert {cup.shelf for cup in story.desk.bench.standing()} == {"balcony rail"}
    assert {cup.purpose for cup in story.desk.bench.standing()} == {"laying"}


async def test_enter_behind_a_place_alone_is_one_female_there(story: Story) -> None:
    async with story.screens() as screen:
        await screen.press("a")
        for answer in ("", "", "", "D2 on balcony rail"):
            for letter in answer:
                await screen.press("space" if letter == " " else letter)
            await screen.press("enter")
        await screen.press("enter")
    cup = story.desk.bench.containers["D2"]
    assert (cup.purpose, cup.shelf, cup.females) == ("laying", "balcony rail", 1)
