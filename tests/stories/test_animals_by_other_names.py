"""Animals that come in under another word for their stage or number, or behind a verb."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, there


@pytest.fixture
def bench(story: Story) -> Story:
    story.at("2027-06-12 09:00").type("R5 6 pupae Pieris inventa", "R2 12 L3 Boloria dia on violet")
    return story


@pytest.mark.parametrize(
    ("line", "stands"),
    [
        ("R6 6 chrysalises Boloria dia", ["6 pupa BOL-27-02"]),
        ("R9 a dozen eggs Boloria dia", ["12 egg BOL-27-02"]),
        ("R9 half a dozen eggs Boloria dia", ["6 egg BOL-27-02"]),
        ("R9 two dozen eggs Boloria dia", ["24 egg BOL-27-02"]),
        ("R9 2 imagos Boloria dia", ["1 adult BOL-27-02", "1 adult BOL-27-03"]),
        ("R3 stocked fifty eggs Boloria dia", ["50 egg BOL-27-02"]),
        ("R3 came in 6 eggs Boloria dia", ["6 egg BOL-27-02"]),
        ("R2 stocked fifty eggs Boloria dia", ["12 L3 BOL-27-01", "50 egg BOL-27-02"]),
        ("R5 6 chrysalises Boloria dia", ["6 pupa BOL-27-02", "6 pupa PIE-27-01"]),
    ],
)
def test_they_come_in(bench: Story, line: str, stands: list[str]) -> None:
    bench.type(line)
    assert there(bench, line[:2]) == stands


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("R9 6 cocoons Boloria dia", "'cocoons' is not known. It can be females, males, eggs"),
        ("R9 some eggs Boloria dia", "how many? As: R9 6 eggs Boloria dia"),
        ("R9 a few L3 Boloria dia", "how many? As: R9 6 L3 Boloria dia"),
        ("R9 12 Boloria dia on violet", "how many of what? As: R9 12 eggs Boloria dia on violet"),
        ("R9 chrysalis Boloria dia", "how many? As: R9 1 chrysalis Boloria dia"),
    ],
)
def test_what_is_refused_is_what_was_not_understood(bench: Story, line: str, told: str) -> None:
    assert bench.refused(line).startswith(f"R9 does not stand yet; {told}")


def test_a_brood_that_is_there_takes_what_is_stocked(bench: Story) -> None:
    bench.type("R2 stocked 4 L3 BOL-27-01")
    assert there(bench) == ["16 L3 BOL-27-01"]


def test_a_day_of_the_catch_that_is_still_to_come_is_asked_about(bench: Story) -> None:
    line = "K2 1 female Boloria dia at Alp 2100 m caught 1 Jul 12:00"
    assert "'1 Jul' is still to come" in bench.refused(line)


def test_any_number_of_hours_ago_in_words(bench: Story) -> None:
    assert bench.preview("R3 6 eggs Boloria dia eleven minutes ago").startswith("08:49")
