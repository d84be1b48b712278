"""What became suspect is looked at each round from then on: no round before it was missed, and what was asked before is asked still."""

from __future__ import annotations

from tests.stories.telling import Story

STORE = ("S2 set up host store shelf=cold", "K3 2 females Pieris napi", "K3 host in garlic mustard")


def _a_kept_lot(story: Story) -> None:
    story.at("2027-05-15 07:05").type(*STORE)
    story.at("2027-05-16 07:05").type("K3 host out kept in S2", "K3 host in garlic mustard")


def test_a_store_that_becomes_suspect_missed_no_round_before(story: Story) -> None:
    _a_kept_lot(story)
    story.at("2027-05-24 18:20").type("S2 frass none")
    story.later(minutes=1).type("S2 suspect")
    assert "look" not in story.due("S2")
    story.at("2027-05-25 07:10")
    look = story.due("S2")["look"]
    assert look["state"] == "due"
    assert "missed" not in look["arithmetic"]
    story.at("2027-05-26 07:10")
    assert "2 rounds missed" in story.due("S2")["look"]["arithmetic"]


def test_a_cup_seen_a_day_ago_missed_no_round_before(story: Story) -> None:
    story.at("2027-05-15 07:10").type("P7 4 pupae Pieris napi", "P7 looked")
    story.at("2027-05-16 18:30").type("P7 suspect")
    look = story.due("P7")["look"]  # as every day
    assert look["state"] == "due"
    assert "missed" not in look["arithmetic"]
    story.at("2027-05-17 07:10")
    assert story.due("P7")["look"]["state"] == "due"
    story.at("2027-05-17 19:10")
    assert story.due("P7")["look"]["state"] == "urgent"


def test_what_was_asked_before_is_asked_still(story: Story) -> None:
    story.at("2027-05-15 07:05").type("K3 2 females Pieris napi", "K3 looked")
    story.at("2027-05-17 07:10")
    before = story.due("K3")["look"]
    story.type("K3 suspect")
    after = story.due("K3")["look"]
    assert (after["due"], after["state"]) == (before["due"], before["state"])
