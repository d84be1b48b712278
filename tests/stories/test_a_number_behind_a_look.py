"""What is seen beside a look is a fact of its own: eggs, a hatch, some that hang up."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, suggested, tell, there


@pytest.fixture
def bench(story: Story) -> Story:
    tell(
        story,
        """
        K4 1 wild female Aglais io from Lohe on nettle
        E1 30 eggs Aglais io
        P1 4 pupae Aglais io
        R1 10 L5 Aglais io on nettle 7 stems
        """,
    )
    return story.later(hours=24)


@pytest.mark.parametrize(
    ("line", "recorded"),
    [
        ("K4 fine, 60 eggs", "searched 60"),
        ("K4 as usual, 5 eggs", "searched 5"),
        ("K4 looked fine 12 eggs", "searched 12"),
        ("K4 5 eggs, ok", "searched 5"),
        ("K4 condensation, 4 eggs", "searched 4"),
        ("K4 weak, 3 eggs", "searched 3"),
        ("K4 fine, 3 eggs on nettle", "searched 3"),
        ("E1 as usual, 3 larvae", "hatched 3"),
        ("R1 ok, 8 larvae", "counted 8 larvae"),
        ("R1 8 L5, all well", "counted 8 larvae"),
    ],
)
def test_a_number_and_its_stage_are_kept_beside_the_look(
    bench: Story, line: str, recorded: str
) -> None:
    bench.type(line)
    looked, *others = [one for one in bench.on_disk() if one["at"] >= "2027-05-02"]
    sign = next((one for one in ("weak", "condensation") if one in line), "as usual")
    assert (looked["what"], looked.get("sign", "as usual"), looked.get("number", 0)) == (
        "looked",
        sign,
        0,
    )
    verb, number = recorded.split()[:2]
    fact = next(one for one in others if one["what"] == verb)
    assert fact.get("found", fact.get("number")) == int(number)


def test_eggs_beside_a_look_begin_a_brood(bench: Story) -> None:
    bench.type("K4 fine, 60 eggs")
    assert there(bench, "K4") == ["1 adult AGL-27-01", "60 egg AGL-27-01/A"]


def test_a_female_out_beside_a_look_is_told_in_two_lines(bench: Story) -> None:
    told = bench.refused("P1 fine 1 female")
    assert told == "one thing a line: P1 fine; then P1 emerged 1 female"
    bench.type("P1 fine", "P1 emerged 1 female")


@pytest.mark.parametrize(
    "line",
    [
        "R1 eating well, 3 hanging",
        "R1 still eating, 3 hanging",
        "R1 fine 3 hanging",
        "R1 3 hanging, rest fine",
        "R1 3 hanging, the others as usual",
        "R1 7 feeding, 3 hanging up",
    ],
)
def test_some_hang_and_the_others_are_as_usual(bench: Story, line: str) -> None:
    bench.type("R1 2 hanging")
    bench.later(hours=12).type(line)
    cup = bench.desk.bench.containers["R1"]
    assert (cup.sign, cup.sign_left) == ("hanging", 3)
    assert "note" not in {one["what"] for one in bench.on_disk()}


@pytest.mark.parametrize("line", ["R1 fine 1 wandering", "R1 ok, 1 weak"])
def test_one_that_shows_a_sign_is_not_as_usual(bench: Story, line: str) -> None:
    bench.type(line)
    assert bench.desk.bench.containers["R1"].sign == line.split()[-1]


@pytest.mark.parametrize(
    ("line", "number"), [("R1 10 feeding", 10), ("R1 8 feeding", 8), ("K4 1 female fine", 1)]
)
def test_so_many_as_usual_is_a_look(bench: Story, line: str, number: int) -> None:
    bench.type(line)
    last = bench.on_disk()[-1]
    assert (last["what"], last["number"]) == ("looked", number)


def test_no_more_are_as_usual_than_are_there(bench: Story) -> None:
    assert bench.refused("R1 12 fine") == (
        "12 as usual, but R1 holds 10 larvae L5 of AGL-27-04 on record; give 10 or"
        " fewer, or count first"
    )
    assert "K4 searched 60" in bench.refused("K4 fine 60")


@pytest.mark.parametrize(
    ("line", "first", "second"),
    [
        ("R1 all well, 2 dead", "R1 all well", "R1 2 dead"),
        ("R1 all well, 1 dead", "R1 all well", "R1 1 dead"),
        ("E1 all well, 3 hatched", "E1 all well", "E1 3 hatched"),
        ("R1 all well, 2 pupated", "R1 all well", "R1 2 pupated"),
        ("P1 fine, 1 female emerged", "P1 fine", "P1 1 female emerged"),
        ("K4 drank, 12 eggs", "K4 drank", "K4 12 eggs"),
        ("K4 misted, 12 eggs", "K4 misted", "K4 12 eggs"),
        ("R1 cleaned 2 L5 dead", "R1 cleaned", "R1 2 L5 dead"),
        ("R1 fine, 5 L5 larvae moved to new D5", "R1 fine", "R1 5 L5 moved to new D5"),
    ],
)
def test_a_number_stays_with_its_word(bench: Story, line: str, first: str, second: str) -> None:
    told = bench.refused(line)
    assert told == f"one thing a line: {first}; then {second}"
    assert suggested(told)
    bench.type(first, second)


def test_larvae_named_twice_are_moved(bench: Story) -> None:
    bench.type("R1 5 L5 larvae moved to new D5")
    assert there(bench, "D5") == ["5 L5 AGL-27-04"]
