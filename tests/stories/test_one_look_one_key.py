"""What one look answers is one key: Space for all that was shown, one more for the first that differs; never for a hand's work."""

from __future__ import annotations

import re

import pytest

from tests.stories.telling import Story, tell

BENCH = """
brood OAK-27-01/A taxon='Smerinthus ocellata' laid_from=-20d laid_to=-20d
R2 set up rearing place=1
R2 host in sallow leaf damp paper 4 sprigs
R2 stocked 11 L3 OAK-27-01/A
R2 looked
room air 20C
"""
LAYING = """
K2 set up laying place=2
K2 founder MOR-27-01, Melitaea cinxia female
K2 host in plantain leaf water 3 sprigs
"""


@pytest.fixture
def bench(story: Story) -> Story:
    """A brood with food since eight in the morning; it is the next morning."""
    story.at("2027-05-01 08:00")
    tell(story, BENCH)
    return story.at("2027-05-02 08:05")


def new(story: Story, since: int) -> list[str]:
    """What was recorded since then, by kind."""
    return [line["what"] for line in story.on_disk()[since:]]


async def test_space_writes_an_answer_for_each_that_was_shown(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("r", *"20/24", "enter")
        assert "Is all as usual?" in screen.text
        assert "Larvae moving, plenty of food." in " ".join(screen.text.split())
        assert "Space yes, larvae as usual, food plenty" in screen.text.replace(
            "Space  yes", "Space yes"
        )
        before = len(bench.on_disk())
        await screen.press("space")
        told = bench.on_disk()[before:]
        assert [(one["what"], one.get("sign", one.get("left"))) for one in told] == [
            ("looked", "as usual"),
            ("host seen", "plenty"),
        ]
        assert screen.check not in ("look", "food")


async def test_the_first_that_differs_is_one_key_more_and_the_others_stay_as_usual(
    bench: Story,
) -> None:
    async with bench.screens() as screen:
        await screen.press("r", *"20/24", "enter")
        before = len(bench.on_disk())
        await screen.press("2", "m", "space")
        assert new(bench, before) == ["moulted", "host seen"]
        assert bench.on_disk()[before]["number"] == 2
        assert screen.check not in ("look", "food")


async def test_food_that_is_low_leaves_the_look_to_one_more_key(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("r", *"20/24", "enter")
        before = len(bench.on_disk())
        await screen.press("k")
        assert new(bench, before) == ["host seen"]
        assert bench.on_disk()[-1]["left"] == "little"
        assert screen.check == "look"
        await screen.press("space")
        assert new(bench, before) == ["host seen", "looked"]


async def test_a_death_still_wants_its_number(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("r", *"20/24", "enter")
        before = len(bench.on_disk())
        await screen.press("f")
        assert new(bench, before) == []
        await screen.press("1", "enter")
        assert new(bench, before) == ["died"]


async def test_each_can_be_asked_by_itself(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("r", *"20/24", "enter", "semicolon")
        assert "Is all as usual?" not in screen.text
        assert screen.check == "look"
        await screen.press("c")  # food that is changed, at this stop: nothing here
        assert screen.check == "look"
        await screen.press("apostrophe")
        assert bench.on_disk()[-1]["sign"] == "condensation"
        assert screen.check == "food"


async def test_a_skip_passes_over_all_that_the_look_answers(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("r", *"20/24", "enter", "minus", "l")
        assert [line["check"] for line in bench.on_disk() if line["what"] == "skipped"] == [
            "look",
            "food",
        ]


async def test_what_wants_a_hand_is_never_among_them(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(story, LAYING)
    story.at("2027-05-02 07:05").type("K2 drank", "K2 searched 0")
    story.later(hours=1)
    async with story.screens() as screen:
        await screen.press("r", *"20/24", "enter")
        assert "host plant fresh" in " ".join(screen.text.split())
        before = len(story.on_disk())
        await screen.press("space")
        assert new(story, before) == ["looked", "host seen"]
        assert screen.check == "feeder"


async def test_what_is_urgent_or_was_seen_to_fail_is_asked_by_itself(bench: Story) -> None:
    bench.at("2027-05-02 20:30")  # sallow for 36 h: urgent
    async with bench.screens() as screen:
        await screen.press("r", *"20/24", "enter")
        assert screen.checks in (["look"], ["food"])
        assert "Is all as usual?" not in screen.text
    bench.type("R2 host seen limp")
    async with bench.screens() as screen:
        await screen.press("r")
        assert "Is all as usual?" not in screen.text


def test_on_lines_too(bench: Story) -> None:
    before = len(bench.on_disk())
    printed = bench.plain(["20/24", "low", " ", "q"])
    assert any("Is all as usual? Larvae moving, plenty of food." in line for line in printed)
    assert new(bench, before)[2:] == ["host seen", "looked"]


def test_on_lines_one_by_one(bench: Story) -> None:
    printed = bench.plain(["20/24", ";", "condensation", "q"])
    assert "What do you see?" in "\n".join(printed)
    assert "Key apostrophe: condensation" in "\n".join(printed)
    assert bench.on_disk()[-1]["sign"] == "condensation"


@pytest.mark.parametrize("hand", ["", "left", "right"])
async def test_condensation_and_food_that_is_changed_are_two_keys(bench: Story, hand: str) -> None:
    """They were one key at two questions of one stop."""
    if hand:
        bench.type(f"setting hand {hand}")
    async with bench.screens((120, 40)) as screen:
        await screen.press("r", *"20/24", "enter", "semicolon")
        (key,) = re.findall(r"(\S) {1,2}condensation", screen.text)
        assert (key == "'") is not bool(hand)
        await screen.press({"'": "apostrophe"}.get(key, key))
        assert bench.on_disk()[-1]["sign"] == "condensation"
        assert screen.check == "food"
        if not hand:
            await screen.press("apostrophe")
            assert screen.check == "food"


def test_on_lines_the_sign_is_the_key(bench: Story) -> None:
    bench.plain(["20/24", ";", "'", "q"])
    assert bench.on_disk()[-1]["sign"] == "condensation"


async def test_what_differs_leaves_the_other_checks_asked(story: Story) -> None:
    story.type(
        "brood A1 taxon='Boloria dia'",
        "R1 set up rearing",
        "R1 stocked 8 L5 brood=A1",
        "R1 host in Plantago lanceolata 12 sprigs",
    )
    story.later(hours=24)
    async with story.screens((120, 40)) as screen:
        await screen.press("r", "2", "1", "enter")
        assert screen.checks == ["look", "food"]
        assert "Other checks are asked next" in screen.words
        await screen.press("2", "p")
        assert screen.checks == ["food"]
