"""Constants of several stages together, names in any case, one command for all that is known, and a summer after winter."""

from __future__ import annotations

import json
import re
from datetime import datetime
from typing import Any

from tests.stories.telling import Story, tell

PUPAE = """
room air 20C
brood A-1 taxon='Pieris orata'
P1 set up emergence
R1 set up rearing
R1 stocked 6 L5 A-1
"""


def coming(story: Story, code: str) -> dict[str, Any]:
    container = story.desk.bench.containers[code]
    return {one.change: one for one in story.desk.foresight.coming(container)}


def pupated(story: Story) -> None:
    story.later(days=1).type("R1 pupated 6", "R1 moved 6 pupae to P1")


def test_egg_to_adult_less_egg_and_larva_foretells_emergence(story: Story) -> None:
    """By hand at 20 C, all above 10 C: 400 C day are 40 days, less 8 of the egg and 20 of the larva: 12 of the pupa."""
    tell(story, PUPAE)
    tell(
        story,
        """
        constants 'Pieris orata' stage='egg to adult' lower_c=10 constant_dd=400 source='a paper'
        constants 'Pieris orata' egg lower_c=10 constant_dd=80
        constants 'Pieris orata' larva lower_c=10 constant_dd=200
        """,
    )
    pupated(story)
    emergence = coming(story, "P1")["emergence"]
    assert abs((emergence.half - story.clock.now).total_seconds() / 86_400 - 12) < 0.6
    assert "egg to adult less what egg and larva take" in emergence.need.words


def test_larva_and_pupa_together_and_a_name_in_capitals(story: Story) -> None:
    """By hand at 20 C: 300 C day above 10 C are 30 days, less 20: 10."""
    tell(story, PUPAE)
    tell(
        story,
        """
        constants 'PIERIS ORATA' stage='larva and pupa' lower_c=10 constant_dd=300
        constants 'pieris orata' larva lower_c=10 constant_dd=200
        """,
    )
    pupated(story)
    emergence = coming(story, "P1")["emergence"]
    assert abs((emergence.half - story.clock.now).total_seconds() / 86_400 - 10) < 0.6


def test_one_command_lists_what_is_known_of_a_species_and_its_relatives(story: Story) -> None:
    listed = story.shell("calc", "constants", "--species", "PIERIS rapae")
    assert listed.status == 0, listed.err
    assert "Pieris rapae's own" in listed.out
    assert re.search(r"Pieris brassicae, \w+", listed.out), listed.out
    figures = json.loads(
        story.shell("calc", "constants", "--species", "pieris RAPAE", "--json").out
    )
    assert {"egg", "larva", "pupa", "egg to adult"} <= {one["label"] for one in figures["figures"]}
    unknown = story.shell("calc", "constants", "--species", "Fictus nullus").out
    assert "no line of it or of its genus: assumed throughout" in unknown
    assert "egg: a guess from" in unknown


def test_a_species_that_winters_as_larva_still_has_a_summer(story: Story) -> None:
    tell(
        story,
        "room air 20C\ntaxon 'Boloria ficta' overwinters_as=larva\nbrood B-1 taxon='Boloria ficta'\nR1 set up rearing",
    )
    tell(story, "R1 stocked 5 L3 B-1")
    assert coming(story, "R1")["pupation"].half is None  # whether they pause first nobody knows
    story.type("R1 changed overwintering")
    story.later(days=150).type("R1 changed rearing", "room air 20C")
    story.later(days=4).type("R1 moulted 5 to L4", "room air 20C")
    spring = coming(story, "R1")
    assert spring["moult"].half is not None
    assert isinstance(spring["pupation"].half, datetime), spring["pupation"].why_not


async def test_warmer_or_colder_than_was_tested_is_said(story: Story) -> None:
    tell(
        story, "room air 34C\nbrood A-1 taxon='Pieris orata'\nE1 set up eggs\nE1 stocked 9 eggs A-1"
    )
    async with story.screens(size=(140, 40)) as screen:
        await screen.press(".", "right", "right", "w")
        text = " ".join(screen.text.split())
    assert "up to 34.0 C, above the 30 C" in text, text
    story.later(days=4).type("room air 14C")
    story.later(days=1).type("room air 14C")
    assert "14.0 C in the mean, below the 15 C" in coming(story, "E1")["hatch"].beyond
    warm = story.shell(
        "calc", "forecast", "--lower", "8", "--constant", "80", "--temperature", "35"
    ).out
    assert "up to 35.0 C, above the 30 C usual for a straight line" in warm
    cold = story.shell(
        "calc", "forecast", "--lower", "8", "--constant", "80", "--temperature", "12"
    ).out
    assert "12.0 C in the mean, below the 15 C" in cold
    assert (
        "usual for a straight line"
        not in story.shell(
            "calc", "forecast", "--lower", "8", "--constant", "80", "--temperature", "20"
        ).out
    )


def test_an_exact_chance_is_never_told_as_nought(story: Story) -> None:
    told = story.shell("calc", "choice-trial", "--used", "100000,40000", "--available", "10,10").out
    assert "p, two-sided exact                 under" in told, told
