"""What is asked of the calculator and what the bench says of the same facts are the same number."""

from __future__ import annotations

import json
from typing import Any

import pytest

from rounds.forecasts.stage_ends import ComingChange
from tests.stories.telling import Story, tell

BENCH = """
room air 20C
brood A-1/A taxon='{taxon}'
R4 set up rearing
R4 host in plantain
R4 stocked {what} A-1/A
"""


def coming(story: Story, change: str) -> ComingChange:
    found = story.desk.foresight.coming(story.desk.bench.containers["R4"])
    return next(one for one in found if one.change == change)


def calculated(story: Story, *words: str) -> dict[str, dict[str, Any]]:
    ran = story.shell("calc", *words, "--json")
    assert ran.status == 0, ran.err

    def never(text: str) -> float:
        raise AssertionError(f"{text} is no JSON")

    figures = json.loads(ran.out, parse_constant=never)["figures"]
    return {one["label"]: one for one in figures}


def used(story: Story, taxon: str, stage: str) -> tuple[float, float]:
    figures = calculated(
        story, "forecast", "--species", taxon, "--stage", stage, "--temperature", "20"
    )
    return figures["thermal constant used"]["value"], figures["lower threshold used"]["value"]


@pytest.mark.parametrize("taxon", ["Nova incognita", "Orthosia hibisci", "Pieris rapae"])
def test_each_stage_and_instar_takes_what_the_calculator_says(story: Story, taxon: str) -> None:
    tell(story, BENCH.format(taxon=taxon, what="10 eggs"))

    def agree(change: str, stage: str) -> None:
        need = coming(story, change).need
        assert need is not None
        assert used(story, taxon, stage) == pytest.approx((need.constant_dd, need.lower_c)), stage

    agree("hatch", "egg")
    story.later(days=1).type("R4 hatched 10")
    agree("pupation", "larva")
    agree("moult", "L1")


@pytest.mark.parametrize(
    ("instar", "change"), [(2, "moult"), (3, "moult"), (4, "moult"), (5, "pupation")]
)
@pytest.mark.parametrize("taxon", ["Nova incognita", "Orthosia hibisci"])
def test_so_does_an_instar_that_came_in(story: Story, taxon: str, instar: int, change: str) -> None:
    tell(story, BENCH.format(taxon=taxon, what=f"10 L{instar}"))
    need = coming(story, change).need
    assert need is not None
    assert used(story, taxon, f"L{instar}") == pytest.approx((need.constant_dd, need.lower_c))


def test_larval_life_is_what_its_published_instars_take_together(story: Story) -> None:
    """At 15 C the instars of Judd et al. 1994 take 4.3, 4.3, 4.6, 5.0 and 6.2 days: 24.3 by hand from its table."""
    figures = calculated(
        story,
        *("forecast", "--species", "Orthosia hibisci", "--stage", "larva", "--temperature", "15"),
    )
    by_hand = sum(
        constant / (15 - lower)
        for constant, lower in ((44.2, 4.7), (51.5, 2.9), (52.4, 3.6), (57.1, 3.5), (69.9, 3.7))
    )
    assert figures["half"]["value"] == pytest.approx(by_hand, rel=0.01)
    told = story.shell("calc", "constants", "--species", "orthosia hibisci").out
    assert "larva: L1 to L5 together: Orthosia hibisci's own" in told


def test_larval_life_of_instars_that_the_keeper_gave(story: Story) -> None:
    """By hand at 20 C, all above 10 C: 30, 30, 30, 30 and 80 C day are 20 days; from L4 on 11."""
    tell(story, BENCH.format(taxon="Nova incognita", what="10 L4"))
    story.type(
        *(
            f"constants 'Nova incognita' stage=L{instar} lower_c=10 constant_dd={constant}"
            for instar, constant in enumerate((30, 30, 30, 30, 80), start=1)
        )
    )
    need = coming(story, "pupation").need
    assert need is not None
    assert need.constant_dd == pytest.approx(110)


def test_a_stage_that_pauses_until_after_winter_has_no_date(story: Story) -> None:
    tell(story, "room air 20C\nbrood A-1/A taxon='Orthosia hibisci'\nP2 set up emergence")
    story.type("P2 stocked 6 pupae A-1/A")
    found = story.desk.foresight.coming(story.desk.bench.containers["P2"])[0]
    assert found.half is None
    assert "pauses as pupa until after winter" in found.why_not
    asked = ("calc", "forecast", "--species", "orthosia hibisci", "--temperature", "20")
    for stage in ("pupa", "egg to adult"):
        refused = story.shell(*asked, "--stage", stage)
        assert refused.status == 1
        assert "pauses as pupa until after winter" in refused.err
    story.type("P2 expected emergence on 5 Jun")
    assert story.desk.foresight.coming(story.desk.bench.containers["P2"])[0].half is not None


def test_a_stage_that_may_pause_says_so_whosever_the_line_is(story: Story) -> None:
    told = story.shell("calc", "constants", "--species", "Tyria jacobaeae").out
    assert "it can winter as pupa, where it does this does not hold" in told


def test_warmer_than_most_were_tested_is_said_of_an_unknown_species(story: Story) -> None:
    told = story.shell(
        *("calc", "forecast", "--species", "Nova incognita", "--temperature", "36")
    ).out
    assert "up to 36.0 C, above the 30 C usual for a straight line" in told


def test_own_broods_weigh_as_much_in_the_calculator_as_on_the_bench(story: Story) -> None:
    """The constant that a species' own line was, one own brood moves by a little to moderately, by no more than two thirds."""
    figures = calculated(
        story,
        *("forecast", "--lower", "10", "--constant", "100", "--own", "130", "--temperature", "20"),
    )
    assert 100 < figures["thermal constant used"]["value"] < 119


def test_where_all_died_the_life_table_is_still_json(story: Story) -> None:
    figures = calculated(story, "life-table", "--stages", "10:3,5:5")
    assert figures["stage 2: k, natural log"]["value"] is None
    assert figures["total k, natural log"]["value"] is None
    told = story.shell("calc", "life-table", "--stages", "10:3,5:5").out
    assert "all died in stage 2: its k has no bound" in told
    assert "inf" not in told


def test_where_all_of_a_brood_died_its_note_says_so_in_words(story: Story) -> None:
    tell(story, BENCH.format(taxon="Nova incognita", what="4 eggs"))
    story.later(days=2).type("R4 died 4 eggs mould")
    note = story.shell("export", "note", "A-1/A", "-", "--as", "md").out
    assert "| egg: mould | 4 | 4 | 1 | no bound | no bound |" in note


def test_a_covered_moat_that_loses_nothing_for_a_season_has_a_date(story: Story) -> None:
    """90 readings of the same depth: less than a millimetre in 90 days, so that 14 mm take years."""
    tell(story, "shelf set up sill moat\nK2 set up laying shelf=sill\nsill topped up 22 mm")
    readings = ["0:22"]
    for day in range(1, 90):
        story.later(days=1).type("sill moat full 22 mm")
        readings.append(f"{day}:22")
    assert "sill" in story.shell("shelves").out
    figures = calculated(story, "moat", "--depth", "22", "--readings", ",".join(readings))
    assert figures["low in"]["value"] > 365
    assert figures["loss"]["high"] < 1 / 30


def test_a_pedigree_of_hundreds_of_generations_is_refused_in_a_line(story: Story) -> None:
    lines = ["B1=f1xm1", *(f"B{one}=B{one - 1}xB{one - 1}" for one in range(2, 400))]
    asked = ("calc", "kinship", "--mother", "B399", "--father", "B399", "--pedigree")
    refused = story.shell(*asked, ",".join(lines))
    assert refused.status == 1
    assert "at most 100 generations" in refused.err
    for some in (lines[:100], lines[:100][::-1]):  # whatever is told first
        taken = story.shell(
            *asked[:2], "--mother=B100", "--father=B100", "--pedigree", ",".join(some)
        )
        assert taken.status == 0, taken.err
