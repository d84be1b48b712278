"""What a container is for ends a name on every line that brings animals in, and is taken for that."""

from __future__ import annotations

import pytest

from rounds.app.first_start import FirstStart
from tests.stories.telling import Story


@pytest.mark.parametrize(
    ("line", "purpose", "taxon", "plant"),
    [
        (
            "K1 one wild female Pieris napi set up laying on garlic mustard",
            "laying",
            "Pieris napi",
            "garlic mustard",
        ),
        ("K1 2 females Lycaena phlaeas laying on sorrel", "laying", "Lycaena phlaeas", "sorrel"),
        (
            "K1 set up laying 2 females Lycaena phlaeas on sorrel",
            "laying",
            "Lycaena phlaeas",
            "sorrel",
        ),
        ("K1 2 females Lycaena phlaeas for pairing", "pairing", "Lycaena phlaeas", ""),
        ("K1 5 L3 Lycaena phlaeas rearing on sorrel", "rearing", "Lycaena phlaeas", "sorrel"),
        ("K1 4 pupae Lycaena phlaeas overwintering", "overwintering", "Lycaena phlaeas", ""),
        ("K1 9 L4 Pieris napi on sorrel set up rearing", "rearing", "Pieris napi", "sorrel"),
    ],
)
def test_a_purpose_ends_a_name(
    story: Story, line: str, purpose: str, taxon: str, plant: str
) -> None:
    story.at("2027-06-02 07:05").type(line)
    cup = story.desk.bench.containers["K1"]
    assert (cup.purpose, [host.plant for host in cup.hosts]) == (purpose, [plant] if plant else [])
    assert {story.desk.bench.taxon_of(lot.brood) for lot in cup.lots} == {taxon}


def test_a_purpose_in_a_listed_bench(story: Story) -> None:
    row = "K2  2 females Leptidea sinapis pairing  vetchling  yesterday"
    ran = story.at("2027-06-02 07:05").shell("begin", "--list", "-", typed=f"{row}\n")
    assert ran.status == 0, ran.err
    cup = story.desk.bench.containers["K2"]
    assert cup.purpose == "pairing"
    assert {one.taxon for one in story.desk.bench.founders.values()} == {"Leptidea sinapis"}


def test_the_first_start_takes_the_line_that_it_proposes(story: Story) -> None:
    start = FirstStart(story.at("2027-06-02 07:05").desk, lambda _: "none", place=3)
    said = start.take("one wild female Pieris napi set up laying on garlic mustard")
    assert start.take(said.partition(", as: ")[2]) == ""
    assert {one.taxon for one in story.desk.bench.founders.values()} == {"Pieris napi"}


def test_a_name_elsewhere_ends_with_no_word_of_lines(story: Story) -> None:
    story.at("2027-06-02 07:05").type("K1 1 female Pieris napi on sorrel")
    assert "'laying' is no part of a name" in story.refused("taxon Pieris napi laying")
    assert "'rearing' is no part of a name" in story.refused("K1 host in garlic mustard rearing")
    story.type('K1 host in "garlic mustard rearing"')
    assert story.refused("K1 host in , :"), "no name at all is no name either"


@pytest.mark.parametrize("purpose", ["", "young larvae "])
def test_animals_for_a_cup_that_was_closed_are_refused(story: Story, purpose: str) -> None:
    story.at("2027-06-02 07:05").type("R5 3 L2 Aglais io on nettle", "R5 died 3 larvae")
    story.type("R5 closed")
    refused = story.refused(f"R5 {purpose}3 L2 Aglais io on nettle")
    assert refused.startswith("R5 was closed and washed; set it up again")
