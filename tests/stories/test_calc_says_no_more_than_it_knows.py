"""The calculator: what is contradictory is refused, nought is nought, one is no plural, and no limit is pointed at that is not there."""

from __future__ import annotations

import json

import pytest

from tests.stories.telling import Story


def figures(story: Story, *words: str) -> dict[str, float]:
    ran = story.shell("calc", *words, "--json")
    assert ran.status == 0, ran.err
    return {one["label"]: one["value"] for one in json.loads(ran.out)["figures"]}


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("laying --eggs 0 --female-days 1", "not enough to say: 1 female-day, under 2"),
        ("laying --eggs 3 --female-days 4", "eggs of one female are no independent choices"),
        ("moat --depth 20 --temperature 20 --humidity 100", "look again when the air changes"),
        ("moat --depth 20 --temperature 20 --humidity 50", "look again before the earlier limit"),
        ("effective-number --males 1 --females 1 --generations 1", "after 1 generation 0"),
    ],
)
def test_words_fit_the_numbers(story: Story, line: str, words: str) -> None:
    ran = story.shell("calc", *line.split())
    assert words in ran.out, ran.out + ran.err


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("laying --eggs 1 --female-days 0", "1 egg in 0 female-days"),
        ("hidden-eggs --prior 0.4 --lays 0", "--lays goes with --rate and --female-days"),
        ("choice-trial --used 1000000000,5 --available 1,1", "used has 1e+09 eggs in all"),
    ],
)
def test_what_cannot_be_is_refused_in_its_own_words(story: Story, line: str, words: str) -> None:
    ran = story.shell("calc", *line.split())
    assert ran.status == 1
    assert words in ran.err


def test_no_sugar_is_no_strength(story: Story) -> None:
    assert figures(story, "strength-by-weight", "--grams", "0")["strength by weight"] == 0


def test_one_pair_is_a_pedigree_of_one_pair(story: Story) -> None:
    """Wright 1922 (from memory): children of unrelated founders 0, of brother with sister 0.25, then 0.375."""
    pedigree, pair = "A=f1xm1,B=AxA,C=BxB", ["--males", "1", "--females", "1"]
    for generation, (mother, father) in enumerate(
        [("f1", "m1"), ("A", "A"), ("B", "B"), ("C", "C")], start=1
    ):
        kin = figures(
            story, "kinship", "--pedigree", pedigree, "--mother", mother, "--father", father
        )
        ahead = figures(story, "effective-number", *pair, "--generations", str(generation))
        (mean,) = (value for label, value in ahead.items() if label.startswith("mean inbreeding"))
        assert mean == pytest.approx(kin["inbreeding of their offspring"])


def test_rounding_is_no_temperature_below_nought(story: Story) -> None:
    """By hand: 10 days at 10 C, 5 at 20 C and 10 / 3 at 30 C go through 0 C."""
    told = story.shell("calc", "development", "--points", "10:10,20:5,30:3.3333333333333335").out
    assert "lower threshold                    0 C" in told
    assert "e-1" not in told


def test_constants_are_of_a_stage_that_there_is(story: Story) -> None:
    asked = ("calc", "forecast", "--lower=10", "--constant=100", "--temperature=20")
    refused = story.shell(*asked, "--stage", "imago")
    assert refused.status == 1
    assert "'imago' is no stage; give egg, larva, pupa, L1 to L7 or egg to adult" in refused.err
    assert story.shell(*asked, "--stage", "egg to adult").status == 0


def test_no_share_without_bound_is_told_and_no_days_where_there_are_enough(story: Story) -> None:
    dead = story.shell("calc", "life-table", "--stages", "10:3,7:7", "--json").out
    hosts = ["--eggs-1", "400", "--female-days-1", "60", "--eggs-2", "410", "--female-days-2", "60"]
    alike = story.shell(
        "calc", "hosts-compared", *hosts, "--females-1", "9", "--females-2", "9"
    ).out

    assert "its k has no bound" in dead
    assert "base 10: inf" not in dead
    assert "there are enough female-days to settle a two-fold difference" in alike
