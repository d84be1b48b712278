"""'Both' are two, frass has other names, and who is left is told on a line of its own."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def bench(story: Story) -> Story:
    story.at("2027-06-01 07:05").type(
        "K1 2 wild females Aglais io on nettle 3 stems",
        "R1 10 L3 Aglais io on nettle 3 stems",
        "E1 20 eggs Aglais io",
    )
    return story.later(hours=12)


@pytest.mark.parametrize("line", ["K1 both died", "K1 died both", "K1 both released at Lohe"])
def test_both_of_two_are_two(bench: Story, line: str) -> None:
    bench.type(line)
    assert bench.on_disk()[-1]["number"] == 2
    assert not bench.desk.bench.containers["K1"].lots


@pytest.mark.parametrize(
    ("line", "level"),
    [("R1 lots of poo", "plain"), ("R1 poo everywhere", "plain"), ("R1 no poo", "none")],
)
def test_frass_by_another_name(bench: Story, line: str, level: str) -> None:
    bench.type(line)
    assert bench.on_disk()[-1]["level"] == level


def test_eggs_gone_grey_are_not_gone(bench: Story) -> None:
    assert "darkening" in bench.type("E1 gone grey")[0]


@pytest.mark.parametrize("left", ["7 left", "7 alive"])
def test_who_is_left_is_told_on_a_line_of_its_own(bench: Story, left: str) -> None:
    assert bench.refused(f"R1 3 dead, {left}") == f"one thing a line: R1 3 dead; then R1 {left}"
