"""A caution stands at the question where it matters, once a round; a hot room is answered at its own stop."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

BENCH = """
K2 set up laying place=1
K2 founder MOR-27-01, Melitaea cinxia female
K2 host in plantain leaf water 3 sprigs
brood MOR-27-01/A mothers=MOR-27-01 laid_from=-20d laid_to=-20d
R4 set up rearing place=3
R4 host in plantain leaf water 4 sprigs
R4 stocked 9 L3 MOR-27-01/A
R5 set up rearing place=4
R5 host in plantain leaf water 4 sprigs
R5 stocked 9 L3 MOR-27-01/A
"""
BLEACH, BLADES, LAMPS, RELEASE = (
    "Bleach: gloves",
    "Blades: cut away",
    "Lamps: guard",
    "Release: where",
)


@pytest.fixture
def bench(story: Story) -> Story:
    """Two broods and a female since eight in the morning; it is the next morning."""
    story.at("2027-05-01 08:00")
    tell(story, BENCH)
    return story.at("2027-05-02 07:05")


def test_bleach_and_blades_are_said_at_their_question_once_a_round(bench: Story) -> None:
    bench.at("2027-05-03 07:05")
    printed = bench.plain(["20/24", *["b", " "] * 6, "0", " ", " ", " "])
    cares = [line for line in printed if line.startswith("Care: ")]
    assert sum(BLEACH in line for line in cares) == 1
    assert sum(BLADES in line for line in cares) == 1
    at = next(place for place, line in enumerate(printed) if BLEACH in line)
    assert "Did you clean it?" in " ".join(printed[at - 2 : at]), printed[at - 2 : at + 1]


async def test_on_the_screen_too_and_again_in_the_next_round(bench: Story) -> None:
    async with bench.screens() as screen:
        for _ in range(2):
            await screen.press("r", *"20/24", "enter")
            seen = 0
            for _ in range(40):
                if "food" in screen.checks:
                    seen += BLADES in screen.text
                keys = {"eggs": ["0"]}.get(screen.check, ["space"] if screen.check else ["enter"])
                if not screen.check and "Enter ends the round" in screen.text:
                    break
                await screen.press(*keys)
            assert seen == 1
            await screen.press("enter")
            bench.later(hours=24)


def test_release_and_lamp_have_theirs(bench: Story) -> None:
    tell(bench, "K2 release by MOR-27-01 until=+2h\nR5 light lamp on -2h")
    printed = "\n".join(bench.plain(["20/24", *[" "] * 12, "0", *[" "] * 4]))
    assert RELEASE in printed
    assert LAMPS in printed


async def test_what_is_typed_has_its_caution_before_enter(bench: Story) -> None:
    for line, caution in (
        ("K2 founder MOR-27-02, Melitaea cinxia female", "Protected species: ask"),
        ("K2 light lamp on", LAMPS),
        ("K2 released", RELEASE),
    ):
        assert caution in " ".join(bench.preview(line).split())
    printed = bench.plain(["t K2 light lamp on", "t R4 light lamp on"])
    assert sum(LAMPS in line for line in printed) == 1
    place = next(place for place, line in enumerate(printed) if LAMPS in line)
    assert "lamp on" in printed[place + 1]


async def test_a_hot_room_is_answered_at_its_own_stop(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("r", *"34", "enter")
        assert screen.check == "heat"
        for words in ("shaded", "lids opened", "moved to a cooler place", "room made cooler"):
            assert words in screen.text
        await screen.press("k")
        assert "shaded" in screen.message
        assert "saved" in screen.message
        assert screen.check != "heat"
    assert bench.on_disk()[-1]["why"] == "shaded"
    bench.later(minutes=70)  # it was hot when last read, and nobody read it since
    assert bench.due("")["heat"]


def test_a_hot_shelf_and_a_hot_cup_too(bench: Story) -> None:
    tell(bench, "shelf set up sill\nsill air 34\nR4 air 35")
    printed = bench.plain(["20/24", "moved to a cooler place", "moved to a cooler place", "q"])
    told = "\n".join(printed)
    assert "Not taken" not in told
    assert told.count("moved to a cooler place") >= 4


def test_a_room_too_cold_is_answered_too(bench: Story) -> None:
    printed = bench.plain(["15", "room made warmer", "q"])
    assert "Too cold" in "\n".join(printed)
    assert "Not taken" not in "\n".join(printed)


def test_the_first_founder_has_the_caution_at_the_question_what_is_in_it(story: Story) -> None:
    said = story.shell("begin", typed="Weir House\n\n\nL2 laying\n2 females Boloria dia\n")
    at = said.out.index("What is in it?")
    assert "Protected species: ask the body" in said.out[at:]


async def test_a_question_on_the_bench_has_its_caution_too(bench: Story) -> None:
    tell(bench, "K2 release by MOR-27-01 until=+2h\nK2 drank\nK2 looked")
    async with bench.screens() as screen:
        screen.highlight("K2")
        await screen.press("enter")
        assert screen.check == "release"
        assert RELEASE in screen.message


def test_of_a_kind_that_is_not_protected_the_caution_is_shown_at_the_first(story: Story) -> None:
    tell(story, "taxon 'Pieris orata'\ntaxon 'Pieris rara' protected\nK2 set up laying")
    caution = "Protected species: ask the body"
    shown = [
        caution
        in " ".join(story.shell("log", f"K2 founder {code} taxon='{name}' female").err.split())
        for code, name in (
            ("W1", "Pieris orata"),
            ("W2", "Pieris orata"),
            ("W3", "Pieris rara"),
            ("W4", "Pieris rara"),
        )
    ]
    assert shown == [True, False, True, True]
