"""When eggs were laid, animals were caught, or what a line says happened, is said once: none of two times is lost unsaid."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def bench(story: Story) -> Story:
    story.at("2027-06-01 07:05").type("E5 set up eggs", "K6 1 wild female Aglais io on nettle")
    return story.later(hours=5)


@pytest.mark.parametrize(
    ("line", "right"),
    {
        "E6 20 eggs Aglais io laid 20 May laid 25 May": "E6 20 eggs Aglais io laid 20 May to 25 May",
        "E6 20 eggs Aglais io laid 25 May, laid 20 May on nettle": (
            "E6 20 eggs Aglais io laid 20 May to 25 May on nettle"
        ),
        "E6 20 eggs Aglais io laid 20 to 22 May and laid 25 May": (
            "E6 20 eggs Aglais io laid 20 May to 25 May"
        ),
        "E5 20 eggs Aglais io laid 20 May laid 25 May": "E5 20 eggs Aglais io laid 20 May to 25 May",
    }.items(),
)
def test_eggs_laid_twice_are_asked_of(bench: Story, line: str, right: str) -> None:
    told = bench.refused(line)
    assert told.startswith("laid twice, 2")
    assert told.endswith(f"as: {right}")


def test_eggs_of_two_kinds_are_laid_each_in_its_time(bench: Story) -> None:
    bench.type("E7 20 eggs Aglais io laid 20 May, 10 eggs Pieris napi laid 25 May")


def test_caught_twice_is_asked_of(bench: Story) -> None:
    line = "K7 1 wild female Aglais io from Lohe caught 20 May caught 25 May"
    assert "caught twice: 20 May 12:00 and 25 May 12:00; give one" in bench.refused(line)


def test_a_line_has_one_time(bench: Story) -> None:
    told = bench.refused("E6 20 eggs Aglais io on 20 May on 25 May")
    assert "two times were given; give one" in told


@pytest.mark.parametrize(
    "line",
    [
        "R7 20 L3 Aglais io from Lohe 20 May since 30 May",
        "E7 20 eggs Aglais io laid 20 May on 30 May",
    ],
)
def test_a_find_has_a_time_of_its_own(bench: Story, line: str) -> None:
    bench.type(line)
