"""A check counts from the animals and plants that it is about, and a place's cold is told for all that live there."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

PORCH = """
shelf set up porch apart cold_c=2
S2 set up rearing shelf=porch
brood LL taxon='Lasiocampa lenta'
S2 stocked 12 L3 LL
"""


@pytest.mark.parametrize("air", ["-4", "-6/-4", "-6/9"])
@pytest.mark.parametrize(
    "stock", ["S2 stocked 5 L4 LL", "E2 set up eggs shelf=porch\nE2 stocked 9 eggs LL"]
)
def test_the_cold_limit_of_a_place_apart_is_told_for_larvae_and_eggs(
    story: Story, air: str, stock: str
) -> None:
    tell(story, f"{PORCH}\n{stock}\nshelf porch air {air}")
    assert "under its limit of 2 C" in story.due("porch")["heat"]["arithmetic"]
    story.later(minutes=10).type("shelf porch air 6")
    assert "heat" not in story.due("porch")


@pytest.mark.parametrize("air", ["-4", "-6/-4"])
def test_the_cold_limit_is_told_for_adults_too_however_it_was_read(story: Story, air: str) -> None:
    tell(
        story,
        f"""
        shelf set up porch apart cold_c=2
        L2 set up laying shelf=porch
        L2 founder W2 'Lasiocampa lenta'
        shelf porch air {air}
        """,
    )
    assert "heat" in story.due("porch")


def test_an_empty_porch_may_be_cold(story: Story) -> None:
    tell(
        story,
        "shelf set up porch apart cold_c=2\nS2 set up rearing shelf=porch\nshelf porch air -4",
    )
    assert "heat" not in story.due("porch")


def test_no_host_counts_from_when_the_host_was_taken_out(story: Story) -> None:
    tell(story, "L2 set up laying\nL2 founder W2 'Pieris vaga'\nL2 host in Cardamine leaf")
    story.later(days=4).type("L2 drank", "L2 host out")
    story.later(hours=1)
    due = story.due("L2")["host"]
    assert due["standing"] == "due"
    assert "no host, since Wed 08:05" not in due["arithmetic"]
    assert "1 h 00 min ago" in due["arithmetic"]


def test_stems_discarded_later_do_not_begin_it_again(story: Story) -> None:
    tell(story, "L2 set up laying\nL2 founder W2 'Pieris vaga'\nL2 host in Cardamine leaf")
    tell(story, "R2 set up rearing\nbrood PV\nR2 stocked 4 L2 PV\nR2 host in Cardamine leaf")
    story.later(days=1).type("L2 host out held", "R2 host out")
    story.later(hours=20).type("L2 host out binned lot=1 sure")
    assert "20 h 00 min ago" in story.due("L2")["host"]["arithmetic"]
    assert "20 h 00 min ago" in story.due("R2")["food"]["arithmetic"]


def test_a_feeding_moth_is_thirsty_from_when_she_came_not_from_a_non_feeder_before_her(
    story: Story,
) -> None:
    tell(
        story,
        """
        taxon 'Saturnia alta' no_adult_food
        brood SA taxon='Saturnia alta'
        brood MV taxon='Macroglossum vernum'
        W2 set up pairing
        W2 stocked 1 adult SA male
        W2 stocked 1 pupa MV
        """,
    )
    story.later(days=5).type("W2 emerged 1 female")
    story.later(minutes=30)
    due = story.due("W2")
    assert due["drink"]["hours_until_harm"] > 24
    assert due["drink"]["standing"] == "due"
    # Nor is she searched for eggs, or without a host, from when the male came.
    story.type("W2 changed laying")
    due = story.due("W2")
    assert due["host"]["standing"] == "due"
    assert due.get("eggs", {}).get("standing", "ahead") in ("ahead", "due")


def test_a_helper_feeds_night_feeders_at_the_last_round_also_if_they_are_late_at_leaving(
    story: Story,
) -> None:
    story.at("2027-06-01 18:30")
    tell(
        story,
        """
        taxon 'Deilephila nocturna' night_fed
        W2 set up pairing
        W2 founder D1 'Deilephila nocturna'
        W2 drank
        """,
    )
    story.at("2027-06-03 05:00")
    assert story.due("W2")["drink"]["standing"] == "late"
    sheet = story.shell("sheet", "--from", "+1h", "--to", "+4d").out
    assert "fresh wet sugar pad, hold each" in " ".join(sheet.split())
    feeding = next(line for line in sheet.splitlines() if "W2 at" in line)
    assert "1 Thu 3 Jun 18:00; 2 Fri 4 Jun 07:00; 3 Fri 4 Jun 18:00" in " ".join(sheet.split())
    assert feeding.endswith("[ ] ( ) [ ] ( ) [ ] ( ) [ ]")


def test_a_look_each_round_begins_when_the_females_have_gone(story: Story) -> None:
    """Once a day while they are fed; their eggs alone each round, and not for the rounds before."""
    story.at("2027-05-05 18:00").type("G1 2 females 'Pieris vaga' on Cardamine")
    story.at("2027-05-07 07:07").type("G1 looked", "G1 fed", "G1 host fresh", "G1 searched 5")
    story.at("2027-05-08 07:04")
    assert story.due("G1")["look"]["standing"] == "due"
    story.later(minutes=1).type("G1 released 2")
    story.later(minutes=1)
    assert "look" not in story.due("G1")
    story.at("2027-05-08 18:05")
    assert story.due("G1")["look"]["standing"] == "due"


def test_a_look_that_was_late_stays_late_when_the_females_go(story: Story) -> None:
    story.at("2027-05-05 18:00").type("G1 2 females 'Pieris vaga' on Cardamine")
    story.at("2027-05-06 07:07").type("G1 looked", "G1 searched 5")
    story.at("2027-05-09 07:05").type("G1 released 2")
    assert story.due("G1")["look"]["standing"] in ("late", "red")


def test_no_host_is_asked_for_where_no_female_is(story: Story) -> None:
    """Stems that she left are yellow for nobody: they wait to be searched, and are not urgent."""
    story.at("2027-05-05 18:00").type("G4 1 female 'Pieris vaga' on Cardamine")
    story.at("2027-05-07 07:05").type("G4 released 1", "G4 plant yellow")
    story.at("2027-05-07 07:10")
    assert "host" not in story.due("G4")
    story.at("2027-05-08 18:05")
    assert story.due("G4")["host"]["standing"] == "late"
    assert "eggs" in story.due("G4")
