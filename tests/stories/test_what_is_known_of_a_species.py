"""Constants of several stages together, names in any case, one command for all that is known, and a summer after winter."""

from __future__ import annotations

import json
import re
from datetime import datetime
from math import hypot
from typing import Any

import pytest

from rounds.biology.thermal_constants import near_error
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


EGGS = """
room air 20C
brood A-1 taxon='{taxon}'
K1 set up rearing
K1 stocked 20 eggs A-1
"""


def hatch_line(story: Story, taxon: str, *constants: str) -> tuple[float, float, float]:
    """How long eggs take at 18 and 26 C, and the threshold, by what the bench reckons with."""
    for line in constants:
        story.type(line)
    need = story.desk.foresight.need(taxon, "egg", "A-1")
    assert need is not None
    return (*(need.constant_dd / (at - need.lower_c) for at in (18, 26)), need.lower_c)


@pytest.mark.parametrize("taxon", ["Papilio hospiton", "Vanessa fictica"])
def test_a_whole_life_of_which_the_rest_is_a_guess_leaves_no_nonsense_for_the_egg(
    story: Story, taxon: str
) -> None:
    """What guesses leave of a whole is no constant: guesses are scaled together to it. 500 C day above 10 C are 62.5
    days at 18 C and 31.3 at 26 C."""
    tell(story, EGGS.format(taxon=taxon))
    before = hatch_line(story, taxon)
    after = hatch_line(
        story, taxon, f"constants '{taxon}' stage='egg to adult' lower_c=10 constant=500"
    )
    assert after[:2] == pytest.approx(before[:2], rel=0.25)
    assert 5 < after[2] < 13
    needs = [story.desk.foresight.need(taxon, stage, "A-1") for stage in ("egg", "larva", "pupa")]
    for at, days in ((18, 62.5), (26, 31.25)):
        assert sum(one.constant_dd / (at - one.lower_c) for one in needs if one) == pytest.approx(
            days
        )
    assert all("shared as usual by egg, larva, pupa" in one.words for one in needs if one)


def test_an_egg_is_not_what_a_whole_life_leaves_even_where_the_rest_is_known(story: Story) -> None:
    """An eighth of the whole: an error of a tenth in that is most of it. Its usual share is, never under the shortest."""
    tell(story, EGGS.format(taxon="Pieris orata"))
    before = hatch_line(story, "Pieris orata")
    whole = "constants 'Pieris orata' stage='egg to adult' lower_c=10 constant_dd={}"
    parts = (
        "constants 'Pieris orata' larva lower_c=10 constant_dd=240",
        "constants 'Pieris orata' pupa lower_c=10 constant_dd=150",
    )
    told = hatch_line(story, "Pieris orata", *parts, whole.format(400))  # 10 C day are left
    assert told[:2] == pytest.approx(before[:2], rel=0.25)
    short = hatch_line(story, "Pieris orata", whole.format(40))
    assert short[0] == pytest.approx(4.96, abs=0.01)  # of Spodoptera frugiperda
    assert short[1] == pytest.approx(2.76, abs=0.01)  # of Spodoptera littoralis


def test_a_pupa_is_as_far_off_as_what_the_whole_leaves(story: Story) -> None:
    """By hand: of 40 days 12 are left, so that an error of 12 % in the whole is one of 40 %."""
    tell(story, PUPAE)
    tell(
        story,
        """
        constants 'Pieris orata' stage='egg to adult' lower_c=10 constant_dd=400
        constants 'Pieris orata' egg lower_c=10 constant_dd=80
        constants 'Pieris orata' larva lower_c=10 constant_dd=200
        """,
    )
    need = story.desk.foresight.need("Pieris orata", "pupa", "A-1")
    assert need is not None
    assert need.uncertainty == pytest.approx(hypot(near_error("pupa")[0], 0.12 * 40 / 12))


def test_a_published_whole_life_serves_its_stages(story: Story) -> None:
    """Danaus plexippus: 351 C day above 11.5 C (Zalucki 1982, from memory), 37 days at 21 C where any species takes 50."""
    tell(story, EGGS.format(taxon="Danaus plexippus"))
    needs = [
        story.desk.foresight.need("Danaus plexippus", stage, "A-1")
        for stage in ("egg", "larva", "pupa")
    ]
    assert all("Zalucki 1982" in one.words and "as usual by" in one.words for one in needs if one)
    assert sum(one.constant_dd / (26 - one.lower_c) for one in needs if one) == pytest.approx(
        351 / 14.5
    )


KEPT = """
shelf set up N
N 18/24
{constants}
K2 1 female Papilio hospiton on Ferula communis
K2 to shelf N
K2 drank
"""


def test_kept_stems_do_not_go_sooner_by_a_whole_life(story: Story) -> None:
    """Told 'may go' at 0.1 % where without the whole life it was 47 %."""
    tell(
        story,
        KEPT.format(
            constants="constants 'Papilio hospiton' stage='egg to adult' lower_c=10 constant=500"
        ),
    )
    story.later(days=1).type("N 18/24", "K2 drank", "K2 searched 4")
    story.later(days=1).type("N 18/24", "K2 searched 3", "K2 drank")
    story.type("K2 host changed Ferula communis old kept in new S2")
    story.later(hours=10).type("S2 searched 0")
    for _ in range(4):
        story.later(days=1).type("N 18/24", "S2 frass none")
    stems = story.desk.bench.at("S2")
    (held,) = stems.held
    assert story.desk.foresight.chance(stems, held, story.desk.now()).chance > 0.2


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
