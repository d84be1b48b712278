"""Small larvae are in danger of hunger sooner than large ones are after their leaf is gone; resting ones are seen oftener late in winter."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.mark.parametrize(
    ("what", "taxon", "hours"),
    [
        ("9 L1", "", 48),
        ("9 L5", "", 36),
        ("9 L5", " cannibalistic", 21),
        ("1 L5", " cannibalistic", 36),
    ],
)
def test_hours_to_danger_go_by_age_and_by_who_eats_whom(
    story: Story, what: str, taxon: str, hours: float
) -> None:
    tell(
        story,
        f"""
        taxon 'Nova incognita'{taxon}
        brood A-1/A taxon='Nova incognita'
        R1 set up rearing
        R1 host in plantain
        R1 stocked {what} A-1/A
        R1 host seen plenty
        """,
    )
    story.later(hours=25)
    assert story.due("R1")["food"]["hours_until_harm"] == pytest.approx(hours - 25)


@pytest.mark.parametrize(("day", "days"), [("2027-12-10", 5), ("2027-02-10", 3)])
def test_resting_first_instars_are_looked_at_oftener_from_midwinter_on(
    story: Story, day: str, days: float
) -> None:
    story.at(f"{day} 07:00")
    story.type("brood A-1/A taxon='Nova incognita'", "W1 set up overwintering")
    story.type("W1 stocked 9 L1 A-1/A")
    story.later(hours=24 * days - 2)
    assert "look" not in story.due("W1")
    story.later(hours=3)
    assert "look" in story.due("W1")


def test_why_of_a_wintering_larva_warns_of_the_refrigerator(story: Story) -> None:
    told = story.shell("due", "--json", "--within", "200h").out
    assert "refrigerator" not in told
    story.type("brood A-1/A taxon='Nova incognita'", "W1 set up overwintering")
    story.type("W1 stocked 9 L3 A-1/A")
    assert "A refrigerator killed all 308" in story.shell("due", "--json", "--within", "200h").out
