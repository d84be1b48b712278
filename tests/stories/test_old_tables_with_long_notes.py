"""A cell that is longer than a note may be comes in whole, as several notes."""

from __future__ import annotations

from pathlib import Path

from tests.stories.telling import Story
from tests.stories.test_old_tables_taken_in_again import imported

ROWS = """Date;Cup;Species;Event;Number;Remarks
13.5.2020;A1;Pieris verrina;laid;30;{}
18.5.2020;A1;Pieris verrina;hatched;28;
"""


def test_nothing_of_a_long_remark_is_lost(story: Story, tmp_path: Path) -> None:
    words = [f"word{number}" for number in range(700)]
    imported(story, tmp_path, "alt.csv", ROWS.format(" ".join(words)))
    notes = [one["text"] for one in story.on_disk() if one["what"] == "note"]
    texts = [text for text in notes if "word" in text]
    assert len(texts) == 3
    assert max(map(len, texts)) <= 2_000
    assert " ".join(texts).split()[-700:] == words


def test_more_than_a_spreadsheet_holds_is_refused(story: Story, tmp_path: Path) -> None:
    ran = imported(story, tmp_path, "alt.csv", ROWS.format("eaten " * 6_000))
    assert ran.status == 1
    assert "line 2 has a cell of 35,999 letters; give 32,767 at most" in ran.out + ran.err
    assert story.on_disk() == []
