"""Said once of many cups, and in the words that come first to mind."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

CUPS = """
brood GG taxon='Boloria inventa'
R1 set up rearing
R1 stocked 60 L3 GG
C2 C3 C4 C5 C6 set up rearing
R1 split 1 each into C2-C6
"""


def test_a_number_meant_for_each_of_several_cups(story: Story) -> None:
    tell(story, CUPS)
    assert "or 'each'" in story.refused("C2-C6 counted 1")
    assert story.type("C2-C6 counted 1 each")[0].count("counted 1") == 5
    assert story.type("C2-C6 moulted L4 each")[0].count("moulted 1 to L4") == 5
    assert story.type("C2-C6 all there")[0].count("counted 1") == 5
    story.type("C2-C3 died 1 each")
    assert [story.desk.bench.containers[code].count() for code in ("C2", "C3", "C4")] == [0, 0, 1]
    assert "C2" in story.refused("C2-C4 moulted L5 each")


def test_ranges_stand_wherever_containers_are_named(story: Story) -> None:
    tell(story, CUPS)
    story.type("R1 split into=C2-C6 numbers=2,2,2,2,2", "R1 merged sources=C2-C4")
    assert [story.desk.bench.containers[code].count() for code in ("C2", "C4", "C5", "C6")] == [
        0,
        0,
        3,
        3,
    ]
    assert "1 each" in story.refused("R1 split into=C2-C6 numbers=1")
    assert "split 1 each into new C22-C29" in story.refused("R1 split into=C22-C29 numbers=1")


@pytest.mark.parametrize("place", ["porch", "shelf porch"])
def test_a_place_apart_is_read_as_the_room_is(story: Story, place: str) -> None:
    tell(story, "shelf set up porch apart\nshelf set up sill moat")
    assert "air 7 to 14 C" in story.type(f"{place} 7/14")[0]
    assert "air 12 C" in story.type(f"{place} 12")[0]
    assert "air 7 to 14 C" in story.type("sill 7/14")[0]
    story.refused("sill 12")  # the depth of its moat, or how warm it is?


def test_a_shelf_named_before_it_is_set_up(story: Story) -> None:
    story.type("shelf kitchen set up")
    story.type("shelf pantry set up apart cold_c=2")
    assert set(story.desk.bench.shelves) == {"kitchen", "pantry"}
    assert story.desk.bench.shelves["pantry"].apart


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("settled 2 died", "dead"),
        ("settled 2 found dead", "dead"),
        ("settled not found 2", "given up"),
        ("settled 2 not found", "given up"),
    ],
)
def test_what_became_of_the_missing_in_everyday_words(story: Story, line: str, told: str) -> None:
    tell(story, f"{CUPS}\nR1 missing 2")
    story.type(f"R1 {line}")
    assert story.on_disk()[-1]["fate"] == told
    assert not story.desk.bench.shortfalls


@pytest.mark.parametrize(
    ("said", "cause"),
    [
        ("cause=old age", "old age"),
        ("cause=disease suspected", "disease suspected"),
        ("old age", "old age"),
        ("accident", "injury"),
        ("killed", "injury"),
        ("cause=parasitised", "parasitised"),
    ],
)
def test_a_cause_of_two_words_needs_no_quotes(story: Story, said: str, cause: str) -> None:
    tell(story, CUPS)
    story.type(f"R1 died 2 {said}")
    assert (story.on_disk()[-1]["cause"], story.on_disk()[-1]["number"]) == (cause, 2)


def test_a_change_without_a_number_says_of_how_many(story: Story) -> None:
    tell(story, "brood GG\nE4 set up rearing\nE4 stocked 15 L2 GG")
    assert "(1 of 15)" in story.preview("E4 moulted L3")
    assert "(1 of 15)" in story.type("E4 moulted L3")[0]
    assert "of 14" not in story.preview("E4 moulted all L3")


def test_the_same_tree_stands_in_a_sleeve_once_and_goes_by_its_name(story: Story) -> None:
    tell(story, "brood GG\nE4 set up rearing\nE4 stocked 15 L2 GG\nE4 host in Prunus vagans tree")
    assert "stands in E4 already" in story.refused("E4 host in Prunus vagans tree")
    story.type("E4 host out Prunus vagans tree")
    assert not story.desk.bench.containers["E4"].hosts


def test_what_is_said_is_shown_as_it_was_said(story: Story) -> None:
    tell(story, "brood GG\nP5 set up emergence\nP5 stocked 4 pupae GG")
    assert "1 crippled" in story.type("P5 emerged 2 female crippled 1")[0]
    told = story.type("permit P1 eggs=100 expires=2027-12-31")[0]
    assert "12:00" not in told
    assert "31 Dec" in told
    assert "12:00" not in story.preview("permit P1 expires=2027-12-31")


async def test_several_missing_larvae_are_larvae(story: Story) -> None:
    tell(story, f"{CUPS}\nR1 missing 3")
    async with story.screens((110, 40)) as screen:
        screen.highlight("R1")
        await screen.pilot.pause()
        assert "3 larva " not in screen.text
        assert "3 larvae" in screen.text


async def test_a_late_check_of_a_shelf_is_told_in_the_list(story: Story) -> None:
    tell(
        story,
        "shelf set up sill moat\nL2 set up laying shelf=sill\nL2 founder W2 'Pieris vaga'\nsill moat full",
    )
    story.later(hours=30).type(
        "L2 looked", "L2 drank", "L2 host in Cardamine leaf", "room 20", "L2 searched 0"
    )
    async with story.screens() as screen:
        assert "shelf sill: barrier, L2: feeder." in screen.text
        assert any(
            row.startswith(" :") and "shelf sill" in row and "barrier late" in row
            for row in screen.text.splitlines()
        )
        screen.highlight("L2")
        await screen.pilot.pause()
        assert "sill" in screen.text
