"""Of two lines under one id ``rounds check`` says which counts."""

from __future__ import annotations

import json

import pytest

from rounds.entries import codec
from tests.stories.telling import Story


@pytest.mark.parametrize(
    ("changed", "told"),
    [
        ({"text": "aaa"}, "this one counts, which is first in the alphabet, at one time"),
        ({"text": "zzz"}, "the other counts, which is first in the alphabet, at one time"),
        ({"at": "2027-05-01T06:00:00+02:00"}, "this one counts, which says an earlier time"),
        ({"at": "2027-05-01T07:09:00+02:00"}, "the other counts, which says an earlier time"),
    ],
)
def test_which_of_them_counts_is_said(story: Story, changed: dict[str, str], told: str) -> None:
    story.type("K2 set up laying", "K2 note middle")
    (said,) = [line for line in story.on_disk() if line["what"] == "note"]
    other = story.folder / "entries-bbbb2222-2027-05.jsonl"
    other.write_text(json.dumps(said | changed) + "\n")
    assert told in story.shell("check").out
    story.reopen()
    (counting,) = [one for one in story.desk.entries() if one.id == said["id"]]
    is_this = codec.read(json.dumps(said | changed).encode()) == counting
    assert is_this == told.startswith("this one")
