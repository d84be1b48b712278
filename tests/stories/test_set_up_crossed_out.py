"""A set-up that was crossed out: what the cup holds stays, and one advice says how it is mended, which works."""

from __future__ import annotations

import json

import pytest

from tests.stories.telling import Story, tell

ASKS = "K2 was not set up before this; say how it is, as: K2 set up laying"


@pytest.fixture
def crossed(story: Story) -> Story:
    """A laying cup whose set-up was a slip and was crossed out after the female was in."""
    story.at("2027-05-02 09:00").type("shelf set up A", "K2 set up rearing")
    first = story.on_disk()[-1]["id"]
    story.at("2027-05-02 09:05")
    tell(story, "K2 founder SIN-1, Leptidea sinapis female\nK2 host in vetch leaf water")
    story.later(hours=1)
    story.desk.strike(first, "wrong purpose")
    return story.later(hours=1)


def test_it_is_said_what_mends_it(crossed: Story) -> None:
    assert ASKS in crossed.shell("due").err + crossed.shell("due").out
    assert "close it first" not in crossed.shell("due").err


@pytest.mark.parametrize("when", ["", " at 2027-05-02 09:00", " at 2027-05-02 11:00"])
async def test_set_up_anew_it_keeps_what_it_holds_and_is_asked_as_such(
    crossed: Story, when: str
) -> None:
    crossed.type(f"K2 set up laying shelf A{when}")
    ran = crossed.shell("due")
    assert "NOT FIT" not in ran.err + ran.out
    assert "nothing wrong was found" in crossed.shell("check").out
    crossed.later(hours=22)
    assert "search" in {row["label"] for row in crossed.due("K2").values()}
    async with crossed.screens(size=(100, 40)) as screen:
        screen.highlight("K2")
        await screen.pilot.pause()
        assert "K2 laying: 1 f sinapis shelf A" in screen.card
        assert "NOT FIT" not in screen.words
    assert "stands on the bench already" in crossed.refused("K2 set up laying")


def test_taken_back_once_more_it_is_told_once_more(crossed: Story) -> None:
    crossed.type("K2 set up laying")
    crossed.desk.strike_last()
    crossed.reopen()
    assert ASKS in crossed.shell("due").err + crossed.shell("due").out


def test_without_a_set_up_it_keeps_the_checks_of_what_it_holds(story: Story) -> None:
    story.at("2027-05-22 08:00").type("room 22")
    story.at("2027-05-22 08:01").type("K2 2 females Hyles gallii on bedstraw")
    story.at("2027-05-22 08:05").type("K2 drank")
    story.at("2027-05-23 08:30")
    before = set(story.due("K2"))
    set_up = next(line for line in story.on_disk() if line["what"] == "set up")
    story.desk.strike(set_up["id"], "a slip")
    story.reopen()
    assert {"host", "drink"} <= before
    assert set(story.due("K2")) == before
    story.type("7:00 K2 set up laying")
    story.reopen()
    ran = story.shell("due")
    assert "NOT FIT" not in ran.err + ran.out
    assert set(story.due("K2")) == before


@pytest.mark.parametrize(("what", "purpose"), [("12 eggs", "eggs"), ("5 L3", "rearing")])
def test_young_in_it_are_cared_for_by_their_stage(story: Story, what: str, purpose: str) -> None:
    story.at("2027-05-22 08:00").type(f"R4 set up {purpose}", 'brood HY taxon="Hyles gallii"')
    set_up = next(line for line in story.on_disk() if line["what"] == "set up")
    story.type(f"R4 stocked {what} HY")
    story.at("2027-05-24 08:00")
    before = set(story.due("R4"))
    story.desk.strike(set_up["id"], "a slip")
    story.reopen()
    assert before
    assert set(story.due("R4")) == before


def test_a_foreign_line_of_long_before_changes_no_check(story: Story) -> None:
    story.at("2027-05-22 08:00").type("A2 2 females Hyles gallii on bedstraw")
    story.at("2027-05-22 19:00")
    before = set(story.due("A2"))
    line = {"what": "note", "id": "0-foreign", "container": "A2", "text": "x"}
    times = {"at": "1969-01-01T00:00:00+00:00", "logged": "1969-01-01T00:00:00+00:00"}
    file = story.folder / "entries-foreign2-1969-01.jsonl"
    file.write_text(json.dumps(line | times) + "\n")
    story.reopen()
    assert set(story.due("A2")) == before
    assert story.desk.bench.containers["A2"].since.year == 2027
