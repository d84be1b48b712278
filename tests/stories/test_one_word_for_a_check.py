"""Each check has one word, and list, map, due, plan, prompt, daybook and help use it."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

import rounds
from rounds.checks.registry import CHECKS
from rounds.entries.check_labels import LABELS
from tests.stories.telling import Story, tell

ROOT = Path(rounds.__file__).parent


@pytest.fixture
def kept(story: Story) -> Story:
    """Stems kept so long that nothing can hatch from them any more."""
    story.at("2027-05-01 18:00")
    tell(
        story,
        """
        K2 set up laying
        E2 set up eggs
        K2 founder W3 "Boloria dia" female place="Bank A" caught=2027-04-28
        K2 host in Viola water sprigs=2
        """,
    )
    story.at("2027-05-02 18:00").type("K2 host out held in E2")
    for day in range(3, 31):
        story.at(f"2027-05-{day:02} 08:00").type("E2 frass none", "E2 looked", "E2 misted")
    return story.at("2027-05-30 08:05")


async def test_kept_stems_are_asked_about_in_one_word(kept: Story) -> None:
    due = kept.shell("due").out
    assert "discard?" in due
    assert "keep " not in due
    assert kept.due("E2")["keep"]["label"] == "discard?"
    async with kept.screens((120, 40)) as screen:
        await screen.press("m", "v")
        assert "discard?" in next(row for row in screen.text.splitlines() if " E2 " in row)
        await screen.press("m")
        assert "discard?" in next(row for row in screen.text.splitlines() if " E2 " in row)
    assert "discard?" in kept.shell("shelves").out


@pytest.mark.parametrize("word", ["discard?", "discard", "keep"])
def test_the_plan_is_changed_by_the_word_that_is_shown(kept: Story, word: str) -> None:
    assert kept.type(f"plan {word} every_h=48") == ["plan: discard?, every 48 h"]
    assert kept.on_disk()[-1]["check"] == "keep", "books keep the name they always had"


def test_a_word_of_two_is_quoted(kept: Story) -> None:
    assert kept.type('plan "leaf in" off=yes why=enough') == ["plan: leaf, switched off, enough"]
    assert "there are drink, " in kept.refused("plan nibbling every_h=3")


async def test_the_plan_page_begins_a_line_that_is_taken(kept: Story) -> None:
    async with kept.screens() as screen:
        await screen.press("p")
        rows = screen.app.screen._page.begun.values()  # type: ignore[attr-defined]
        lines = [line for line in dict.fromkeys(rows) if line.startswith("plan ")]
    assert len(lines) > 40
    for line in lines:
        shown = kept.preview(f"{line}9000")
        assert "no check" not in shown, (line, shown)
        assert "plan" in shown, (line, shown)


def test_words_are_short_and_each_is_one_check() -> None:
    words = [check.label for check in CHECKS.values()]
    assert len(set(words)) == len(words)
    assert set(LABELS) <= set(CHECKS)
    assert max(map(len, words)) <= 8  # as lists and map have room for
    others = {check.name for check in CHECKS.values()} - set(LABELS)
    assert not set(LABELS.values()) & others


def test_no_text_names_a_check_but_by_its_word() -> None:
    """Where text is made, a check's stored name stands in no f-string; row keys aside."""
    shown = []
    for folder in ("views", "screens", "app", "exchange", "shell", "checks"):
        for module in sorted((ROOT / folder).rglob("*.py")):
            for node in ast.walk(ast.parse(module.read_text())):
                if not isinstance(node, ast.FormattedValue):
                    continue
                if not isinstance(node.value, ast.Constant):  # a heading is the word itself
                    words = ast.unparse(node.value)
                    if words.endswith((".check", "check.name", "'check'")):
                        shown.append((f"{folder}/{module.name}", words))
    assert sorted(set(shown)) == [
        ("checks/short_round.py", "one.due.check"),  # what the line of a round names
        ("checks/walk.py", "due.check"),  # the same, read back
        ("exchange/calendar_events.py", "due.check"),  # the id of an event
        ("views/danger_lines.py", "due.check"),  # the key of a row
        ("views/overdue_page.py", "due.check"),  # the same
        ("views/shelf_map.py", "cup.check"),  # a cup's, which is the word already
        ("views/shelf_map.py", "self.check"),  # the same
    ]
