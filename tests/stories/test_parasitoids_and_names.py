"""What is said of a parasitoid: a word for what happens is no name, a new name is shown as new, and an empty cup has no host."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

REARING = """
taxon "Pieris orata"
R8 set up rearing
R9 set up rearing
brood A-1/A taxon="Pieris orata"
R9 stocked 5 L3 A-1/A
"""


@pytest.mark.parametrize(
    "line", ["R9 parasitoid emerged 2", "R9 parasitoid 2 emerged", "R9 parasitoid 2 hatched"]
)
def test_a_verb_behind_it_is_no_name(story: Story, line: str) -> None:
    tell(story, REARING)
    (told,) = story.type(line)
    assert (
        "parasitoid: 2, out of larva L3 of A-1/A" in told
        or "parasitoid: 2, out of larva of A-1/A" in told
    )
    assert "taxon" not in story.on_disk()[-1]


@pytest.mark.parametrize("word", ["emerged", "pupated", "larva", "pupae", "died", "drank"])
@pytest.mark.parametrize(
    "line",
    [
        "R9 parasitoid 2 taxon={}",
        "taxon {}",
        "brood B-1/A taxon={}",
        "R9 founder W9 taxon={} female",
    ],
)
def test_what_happens_and_stages_are_no_names(story: Story, word: str, line: str) -> None:
    tell(story, REARING)
    refused = story.refused(line.format(word))
    assert f"'{word}' is no name" in refused or refused == "'taxon' needs name (scientific name)"


def test_in_double_quotes_it_is_meant_as_written(story: Story) -> None:
    tell(story, REARING)
    story.type('R9 parasitoid 2 taxon="Emerged"')
    assert story.on_disk()[-1]["taxon"] == "Emerged"


def test_a_new_name_is_shown_as_new_once(story: Story) -> None:
    tell(story, REARING)
    assert "NEW" in story.preview("R9 parasitoid 2 Cotesia wasps")
    story.type("R9 parasitoid 2 Cotesia wasps")
    assert "NEW" not in story.preview("R9 parasitoid 1 Cotesia wasps")


def test_nothing_comes_out_of_an_empty_cup(story: Story) -> None:
    tell(story, REARING)
    assert "R8 is empty and always was" in story.refused("R8 parasitoid 2 wasps")
    assert "R8 is empty and always was" in story.refused("R8 parasitoid 2 wasps brood=A-1/A")


def test_wasps_may_come_out_when_their_host_is_dead_on_record(story: Story) -> None:
    tell(story, REARING)
    story.type("R9 died 5 parasitised")
    assert "brood=A-1/A" in story.refused("R9 parasitoid 4 wasps")
    story.type("R9 parasitoid 4 wasps brood=A-1/A")


@pytest.mark.parametrize("line", ["20 Jul 10:00 R9 parasitoid 1", "R9 parasitoid 1 20 Jul 10:00"])
def test_nothing_comes_out_of_a_cup_before_it_stood(story: Story, line: str) -> None:
    story.at("2027-07-22 19:00").type("R9 5 larvae L3 Pieris orata on rocket")
    assert "R9 was set up later, on Thu 22 Jul 19:00" in story.preview(line)
    assert "R9 was set up later, on Thu 22 Jul 19:00" in story.refused(line)


@pytest.mark.parametrize(
    ("said", "number", "name", "kept", "note"),
    [
        ("14 Cotesia hosts=1 kept voucher=N2", 14, "Cotesia", 14, ""),
        ("1 Sturmia bella kept voucher=W7", 1, "Sturmia bella", 1, ""),
        ("14 Cotesia, all kept", 14, "Cotesia", 14, ""),
        ("14 Cotesia, 3 kept voucher=W1-W3", 14, "Cotesia", 3, ""),
        ("14 Cotesia, 3 pinned", 14, "Cotesia", 3, "3 pinned"),
        ("2 flies dead", 2, "flies", None, "dead"),
        ("14 Cotesia glomerata, 2 dead", 14, "Cotesia glomerata", None, "2 dead"),
        ("1 Sturmia bella emerged, pinned", 1, "Sturmia bella", 1, "pinned"),
        ("3 Cotesia alive in Museum Bern", 3, "Cotesia", None, "alive"),
    ],
)
def test_how_they_are_is_no_part_of_the_name(
    story: Story, said: str, number: int, name: str, kept: int | None, note: str
) -> None:
    tell(story, REARING)
    story.type(f"R9 parasitoid {said}")
    (line,) = [one for one in story.on_disk() if one["what"] == "parasitoid"]
    assert (line["number"], line["taxon"], line.get("kept")) == (number, name, kept)
    notes = [one["text"] for one in story.on_disk() if one["what"] == "note"]
    assert notes == [note] * bool(note)
