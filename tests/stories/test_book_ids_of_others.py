"""Ids of other programs and other clocks stand in the book as they are, and never steer ours."""

from __future__ import annotations

import json

import pytest

from tests.stories.telling import Story

FOREIGN = [
    "note-1",
    "zzzzzzzzzzzzzzzzzzzzzzzz",
    "~",
    "zzzzzzzzzz-zzzzzz",
    "yzzzzzzzzz-222222",
    "5-of 24 signs, with more",
    "é" * 24,
]


@pytest.mark.parametrize("foreign", FOREIGN)
def test_one_foreign_line_stops_nothing(story: Story, foreign: str) -> None:
    story.type("K2 set up laying")
    line = {
        "what": "note",
        "id": foreign,
        "at": "2027-05-01T07:00:00+02:00",
        "logged": "2027-05-01T07:00:00+02:00",
        "text": "theirs",
    }
    (story.folder / "entries-foreign1-2027-05.jsonl").write_text(json.dumps(line) + "\n")
    story.desk.hear()
    for turn in range(40):
        if turn % 10 == 0:
            story.reopen()
        story.later(seconds=turn % 3).type(f"note number {turn}")
    assert story.shell("log", "note", "and a command").status == 0

    ours = [one["id"] for one in story.on_disk() if one["id"] != foreign]
    assert len(ours) == len(set(ours)) == 43
    assert {len(one) for one in ours} == {17}
    assert max(ours)[:3] == min(ours)[:3], "made by our clock"
    said = [one["text"] for one in story.on_disk() if one.get("text", "").startswith("number")]
    assert said == [f"number {turn}" for turn in range(40)]
    assert any(one.id == foreign for one in story.desk.entries())


@pytest.mark.parametrize("foreign", FOREIGN)
def test_a_foreign_line_is_crossed_out_and_brought_back_like_any_other(
    story: Story, foreign: str
) -> None:
    story.type("K2 set up laying")
    line = {
        "what": "note",
        "id": foreign,
        "at": "2027-05-01T07:00:00+02:00",
        "logged": "2027-05-01T07:00:00+02:00",
        "text": "theirs",
    }
    (story.folder / "entries-foreign1-2027-05.jsonl").write_text(json.dumps(line) + "\n")
    story.desk.hear()
    assert [one.text for one in story.desk.bench.notes] == ["theirs"]

    story.later(seconds=1).type(f'struck entry="{foreign}"')

    assert not story.desk.bench.notes
    story.reopen()
    assert not story.desk.bench.notes
    strike = next(one["id"] for one in story.on_disk() if one["what"] == "struck")
    story.later(seconds=1).type(f'struck entry="{strike}"')
    assert [one.text for one in story.desk.bench.notes] == ["theirs"]
    story.reopen()
    assert [one.text for one in story.desk.bench.notes] == ["theirs"]
