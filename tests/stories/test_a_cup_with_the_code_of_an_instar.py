"""A new cup called L2 is no larva in its second instar, whichever cup is highlighted."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story

NEW = "L2 3 females Anthocharis cardamines on garlic mustard"


@pytest.fixture
def bench(story: Story) -> Story:
    story.type("L1 laying", "L1 2 females Pieris napi on garlic mustard")
    story.type("K1 6 eggs Pieris napi", "R1 8 L1 Pieris napi on garlic mustard")
    return story


@pytest.mark.parametrize("here", ["L1", "K1", "R1"])
@pytest.mark.parametrize(
    ("line", "stage", "number"),
    [
        (NEW, "adult", 3),
        ("L2 2 gravid females Pieris napi on garlic mustard", "adult", 2),
        ("L2 a female Pieris napi", "adult", 1),
        ("L2 2f Pieris napi", "adult", 2),
        ("L6 3 males Pieris napi", "adult", 3),
        ("L3 4 larvae Pieris napi", "larva", 4),
        ("P2 5 pupae Pieris napi", "pupa", 5),
        ("E2 10 eggs Pieris napi", "egg", 10),
    ],
)
async def test_it_is_set_up_as_any_other(
    bench: Story, here: str, line: str, stage: str, number: int
) -> None:
    before = {one["container"] for one in bench.on_disk() if one["what"] == "set up"}
    async with bench.screens() as screen:
        screen.highlight(here)
        await screen.press("t")
        await screen.pilot.press(*("space" if one == " " else one for one in line), "enter")
    came = [one for one in bench.on_disk() if one["what"] in ("founder", "stocked")][-number:]
    new = line.split()[0]
    there = bench.desk.bench.containers[new]
    assert new not in before
    assert there.count(stage) == sum(lot.number for lot in there.lots) == number
    assert came[-1]["container"] == new
    assert bench.desk.bench.containers["L1"].count("larva") == 0


def test_typed_in_full_it_is_asked(bench: Story) -> None:
    told = bench.refused(f"L1 {NEW}")
    assert told == (
        "is L2 a container of its own, or 1 larva? As: L2 3 females Anthocharis cardamines on garlic"
        " mustard; L1 1 L2, 3 females Anthocharis cardamines on garlic mustard"
    )
    bench.type("L1 1 L2, 1 female Anthocharis cardamines on garlic mustard")
    assert bench.desk.bench.containers["L1"].count("larva") == 1


def test_a_time_before_it_is_no_container(bench: Story) -> None:
    bench.later(hours=2).type("06:30 L2 3 females Pieris napi on garlic mustard")
    assert bench.desk.bench.containers["L2"].count("adult") == 3


async def test_an_instar_that_larvae_moulted_to_is_still_asked_about(bench: Story) -> None:
    async with bench.screens() as screen:
        screen.highlight("R1")
        await screen.press("t", *"L2", "enter")
        assert "how many are in L2 now?" in screen.words
