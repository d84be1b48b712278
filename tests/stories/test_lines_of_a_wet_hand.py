"""Lines as they are typed in haste that were refused, or asked about, though they say all."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def bench(story: Story) -> Story:
    story.at("2027-06-20 07:00").type(
        "K2 1 female Boloria dia from Long Mead on Viola hirta 4 stems",
        "S2 set up holding",
        "R2 10 L3 Boloria dia on Rubus idaeus 3 stems",
        "R3 10 L3 Boloria dia on Rubus idaeus 3 stems",
    )
    return story.later(hours=20)


def test_same_again_sets_up_its_cup(bench: Story) -> None:
    told = "K3 set up for laying; K3 founder BOL-27-04, Boloria dia, female, Long Mead"
    assert bench.type("K3 same again") == [told]
    assert bench.type("K4 another female, worn")[0].startswith("K4 set up for laying; K4 founder")


def test_with_none_before_it_says_what_to_type(story: Story) -> None:
    assert story.at("2027-06-20 07:00").refused("K3 same again").startswith("none came in yet")


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("R2 fed rubus 4 stems", ["R2 host in: Rubus idaeus, batch C, 4 stems"]),
        (
            "R2-R3 fed with Rubus idaeus 4 stems",
            [f"R{n} host in: Rubus idaeus, batch C, 2 stems" for n in (2, 3)],
        ),
        ("R2 host in 5 stems hop beside", ["R2 host in: hop, batch C, 5 stems"]),
        ("K2 viola out held in S2", ["K2 host out: Viola hirta A, kept in S2, 4 stems"]),
    ],
)
def test_it_is_taken(bench: Story, line: str, told: list[str]) -> None:
    assert bench.type(line)[0].split("; ") == told


def test_those_that_hatched_unseen_on_kept_stems(bench: Story) -> None:
    bench.type("K2 viola out held in S2")
    assert "S2 hatched 4 of BOL-27-01/A" in bench.later(hours=99).type("S2 hatched 4 nobody saw")[0]


def test_refusals_say_stems_as_the_screens_do(bench: Story) -> None:
    assert "sprigs" not in bench.refused("R2 2 stems")


async def test_no_place_nought_is_shown(bench: Story) -> None:
    bench.type("K2 changed shelf=sill")
    async with bench.screens() as screen:
        screen.highlight("K2")
        await screen.pilot.pause()
        assert "place 0" not in screen.words
        await screen.press("r")
        assert "place 0" not in screen.words
