"""What the calculator says of sugar, moats and a line of brothers and sisters is what the bench, its plan and its other pages say."""

from __future__ import annotations

import re

import pytest

from tests.stories.telling import Story, figures, tell


def test_solution_lasts_as_long_in_the_calculator_as_in_the_plan(story: Story) -> None:
    """The plan, held by tests/published/test_protocols.py: asked after 3 days, urgent after 5 (David & Gardiner 1961: unsuitable when older than 4 to 5 days)."""
    told = story.shell("calc", "solution", "--strength", "10", "--volume", "50").out
    assert "made fresh every three days, five at most" in told
    assert "week" not in told


@pytest.mark.parametrize("strength", ["10", "17.5", "30"])
async def test_what_is_to_be_weighed_is_the_same(story: Story, strength: str) -> None:
    tell(
        story,
        f"setting strength {strength}\nK2 set up laying\nK2 founder W-7, Boloria selene female\nK2 drank",
    )
    story.later(hours=12)
    async with story.screens(size=(140, 50)) as screen:
        await screen.press("k")
        words = screen.words
    volume = re.search(r"([\d.]+) ml sugar solution", words)
    weighed = re.search(r"weigh ([\d.]+) g sugar and ([\d.]+) g water", words)
    assert volume, words
    assert weighed, words
    worked = figures(story, "solution", "--strength", strength, "--volume", volume[1])
    assert [f"{worked[one]['value']:.1f}" for one in ("sugar", "water")] == list(weighed.groups())


@pytest.mark.parametrize("generations", range(2, 9))
def test_a_line_of_full_sibs_is_as_inbred_by_pedigree_as_by_number(
    story: Story, generations: int
) -> None:
    """A brother with a sister each time: F = 1/4, 3/8, 1/2, 19/32 ... (Wright 1921), founders unrelated."""
    lines = ["B1=f1xm1", *(f"B{one}=B{one - 1}xB{one - 1}" for one in range(2, generations))]
    last = f"B{generations - 1}"
    pedigree = figures(
        story, "kinship", "--pedigree", ",".join(lines), "--mother", last, "--father", last
    )["inbreeding of their offspring"]["value"]
    asked = ("effective-number", "--males", "1", "--females", "1", "--generations")
    number = figures(story, *asked, str(generations))
    assert number[f"mean inbreeding after {generations} generations"]["value"] == pytest.approx(
        pedigree, abs=1e-12
    )


def test_a_moat_loses_as_much_and_is_low_as_soon(story: Story) -> None:
    tell(story, "shelf set up sill moat\nK2 set up laying shelf=sill\nsill topped up 22 mm")
    readings = ["0:22"]
    for day, depth in enumerate((19, 17, 14), start=1):
        story.later(days=1).type(f"sill moat full {depth} mm")
        readings.append(f"{day}:{depth}")
    low = story.desk.foresight.moat(story.desk.bench.shelves["sill"].moat, story.clock.now)
    worked = figures(story, "moat", "--depth", "14", "--readings", ",".join(readings))
    assert low is not None
    assert worked["loss"]["value"] == pytest.approx(low.loss.mm_a_day, abs=1e-6)
    assert worked["loss"]["high"] == pytest.approx(low.loss.high, abs=1e-6)
