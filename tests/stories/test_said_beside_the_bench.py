"""What a keeper says beside the bench is taken, or answered with the line that says it."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

BENCH = """
room 22
shelf set up sill
K1 set up holding
E1 set up eggs inside=K1
K2 set up laying
K3 set up laying
C5 set up pairing
R4 set up rearing
S6 set up host store
S7 set up host store
K2 founder W2 "Melitaea vespina" female
C5 founder F1 "Melitaea vespina" female
C5 founder M1 "Melitaea vespina" male
K2 host in plantain
R4 host in mullein
brood B1 taxon="Cucullia torvana"
R4 stocked 30 L3 B1
"""


@pytest.fixture
def bench(story: Story) -> Story:
    tell(story, BENCH)
    return story.later(hours=3)


def last(story: Story) -> dict[str, object]:
    return story.on_disk()[-1]


def test_nothing_is_offered_to_an_empty_cup(bench: Story) -> None:
    assert "K3 holds no adults to feed; it holds nothing" in bench.refused("K3 offered")


@pytest.mark.parametrize(
    "line", ["S6 stems lot=2 to S7", "S6 stems lot 2 to S7", "S6 stems to S7, lot 2"]
)
def test_kept_stems_go_by_their_lot_in_any_order(bench: Story, line: str) -> None:
    bench.type("K2 host out held in S6", "K2 host in plantain")
    bench.later(hours=30).type("K2 host out held in S6")
    bench.type(line)
    assert [(held.number, held.source) for held in bench.desk.bench.containers["S7"].held] == [
        (1, "K2")
    ]


def test_a_lid_that_is_closed_is_no_cover(bench: Story) -> None:
    for line in ("R4 closed lid", "R4 lid closed", "R4 lid on"):
        assert "R4 lid closed" in bench.type(line)[0]
    assert "R4 covered half" in bench.type("R4 half covered")[0]


def test_a_cup_that_is_closed_says_what_still_stands_in_it(bench: Story) -> None:
    assert "E1 stands in it; say where it goes" in bench.preview("K1 closed")


def test_the_only_two_that_sit_there_are_the_pair(bench: Story) -> None:
    bench.type("C5 mated")
    assert (last(bench)["female"], last(bench)["male"]) == ("F1", "M1")
    bench.type("C5 founder F2 Melitaea vespina female")
    assert "who with whom? C5 holds F1, F2, M1" in bench.refused("C5 paired")


@pytest.mark.parametrize(
    "line", ["R4 counted about 30", "R4 about 28 larvae", "R4 counted 30 roughly"]
)
def test_about_so_many_is_an_estimate(bench: Story, line: str) -> None:
    bench.type(line)
    assert (last(bench)["what"], last(bench)["method"]) == ("counted", "estimate")
    assert bench.desk.bench.shortfalls == []


def test_a_plant_that_was_renewed(bench: Story) -> None:
    bench.type("R4 mullein renewed")
    assert [one["what"] for one in bench.on_disk()[-2:]] == ["host out", "host in"]
    assert last(bench)["plant"] == "mullein"


def test_the_room_from_lowest_to_highest(bench: Story) -> None:
    bench.type("room 19-24")
    assert (last(bench)["low_c"], last(bench)["high_c"]) == (19, 24)


@pytest.mark.parametrize("line", ["K2 hot 34", "K2 too hot 34", "K2 warm 34C"])
def test_hot_with_a_number_is_a_reading(bench: Story, line: str) -> None:
    bench.type(line)
    assert (last(bench)["what"], last(bench)["temperature_c"]) == ("air", 34)


@pytest.mark.parametrize(
    ("line", "as_typed"),
    [
        ("K2 carried cool", "K2 air 12C; K2 shade; K2 changed shelf=cellar; K2 note carried cool"),
        ("K2 too dry", "K2 misted"),
        ("K2 too wet", "K2 looked condensation"),
    ],
)
def test_what_is_two_things_is_asked_with_the_lines_that_say_it(
    bench: Story, line: str, as_typed: str
) -> None:
    assert as_typed in bench.refused(line)


@pytest.mark.parametrize("line", ["K2 in the sun 34 C", "K2 sun 34", "K2 in the shade 93.2 F"])
def test_where_it_stands_and_how_warm_it_is_there_are_two_entries(bench: Story, line: str) -> None:
    bench.type(line)
    light, air = bench.on_disk()[-2:]
    assert (light["what"], light["to"]) == ("light", "shade" if "shade" in line else "sun")
    assert (air["what"], round(air["temperature_c"]), air["container"]) == ("air", 34, "K2")


@pytest.mark.parametrize("line", ["undo", "K2 undo"])
def test_undo_at_the_prompt_is_the_key(bench: Story, line: str) -> None:
    bench.type("K2 misted")
    assert "undoes what was recorded last" in bench.preview(line)
    assert "misted" in bench.type(line)[0]
    assert "misted" not in bench.desk.bench.containers["K2"].last


def test_a_text_in_quotes_behind_all_else_is_where_she_was_caught(bench: Story) -> None:
    bench.type('K2 founder T1 Thymelicus arenulus female "Old Quay"')
    assert (last(bench)["taxon"], last(bench)["place"]) == ("Thymelicus arenulus", "Old Quay")


def test_two_of_one_brood_and_the_same_pair_again_are_told(bench: Story) -> None:
    assert "seen before" not in bench.type("C5 paired")[0]
    assert "seen before" in bench.later(hours=2).type("C5 paired F1 M1")[0]
    bench.type("C6 set up pairing", "brood B7 taxon='Melitaea vespina'")
    bench.type("C6 stocked 1 adult female B7", "C6 stocked 1 adult male B7")
    assert "both of B7: brother and sister" in bench.preview("C6 mated")


def test_a_list_takes_about_so_many_and_prepupae(story: Story) -> None:
    table = (
        "R5\tabout 30 L1 Melitaea vespina\tplantain\t-1d\nP2\t3 prepupae Melitaea vespina\t\t-1d\n"
    )
    ran = story.shell("begin", "--list", "-", typed=table)
    assert (ran.status, ran.err) == (0, "")
    story.reopen()
    cups = story.desk.bench.containers
    assert (cups["R5"].count("larva"), cups["P2"].count("larva"), cups["P2"].sign) == (
        30,
        3,
        "hanging",
    )
    assert [one["text"] for one in story.on_disk() if one["what"] == "note"] == [
        "about 30 L1, an estimate"
    ]
