"""One word for one thing on the screen: words that were given up stay out of what is shown."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import rounds
from rounds.views.calculations.frame import Figure
from rounds.views.calculations.report import figure_words
from tests.stories.telling import Story, tell

ROOT = Path(rounds.__file__).parent
GUIDE = ROOT / "app" / "guide"
GIVEN_UP = re.compile(
    r"\b(struck|strikes?|stranger|hatchlings|sprigs?|binned|wet inside|by the book|when helped|told(?! apart| from)|tells(?! females apart)|leave be)\b"
)
ID = re.compile(r"^ *[a-z_]+ \|", re.MULTILINE)  # the first column of a table: names for scripts
SHOWN = ("views", "screens", "app", "shell", "checks", "exchange")
STORED = {
    "when helped",  # a value of an entry, which is shown as hand-fed
    "taxon sprigs offered taken_out",  # fields of what is kept
}


def texts(folder: str) -> Iterator[tuple[str, str]]:
    """Every text of several words in a folder's modules, but for docstrings."""
    for module in sorted((ROOT / folder).rglob("*.py")):
        tree = ast.parse(module.read_text())
        documented = (ast.Module, ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef)
        docs = {
            id(node.body[0].value)
            for node in ast.walk(tree)
            if isinstance(node, documented) and node.body and isinstance(node.body[0], ast.Expr)
        }
        for node in ast.walk(tree):
            text = node.value if isinstance(node, ast.Constant) else None
            if isinstance(text, str) and id(node) not in docs and " " in text:
                yield f"{folder}/{module.name}", text


def test_words_that_were_given_up_are_not_shown() -> None:
    shown = [
        (module, text)
        for folder in SHOWN
        for module, text in texts(folder)
        if GIVEN_UP.search(ID.sub("", text).replace("struck: crossed out", ""))
        and text not in STORED
        and "(?:" not in text  # a pattern of what is typed
    ]
    assert not shown


@pytest.mark.parametrize(
    "path", ["README.md", *sorted(f"rounds/app/guide/{one.name}" for one in GUIDE.glob("*.md"))]
)
def test_words_that_were_given_up_are_in_no_page_of_help(path: str) -> None:
    page = re.sub(
        r"`[^`]*`", "", (ROOT.parent / path).read_text()
    )  # what is typed, or a name in a file
    assert not GIVEN_UP.findall(page)


def test_a_purpose_is_called_as_on_the_screen_and_both_names_are_taken(story: Story) -> None:
    story.at("2027-05-01 18:00")
    assert "purpose young larvae" in story.preview("H2 set up hatchlings")
    story.type(
        "H2 set up young larvae", "brood MEL-1/A taxon='Boloria dia'", "H2 stocked 7 L1 MEL-1/A"
    )
    assert story.on_disk()[-3]["purpose"] == "hatchlings"
    for arguments in (
        ["due", "--within", "3d"],
        ["export", "labels"],
        ["shelves"],
        ["help", "settings"],
    ):
        assert "hatchlings" not in story.shell(*arguments).out
    story.later(hours=13)
    said = "\n".join(story.plain(["?", *["- m"] * 8, "q"]))
    assert "young larvae" in said
    assert "hatchlings" not in said


def test_what_is_not_of_a_container_is_called_as_on_the_screen(story: Story) -> None:
    tell(story.at("2027-05-01 18:00"), "K2 set up laying")
    assert "struck" not in story.refused("K2 struck 2458")
    assert story.preview("K2 leave be +4h").split("  ")[1].startswith("K2 do not disturb")


def test_an_interval_without_width_is_not_shown() -> None:
    assert figure_words(Figure("days", 2.7, "d", 2.68, 2.72, "95 %", 1)) == "2.7 d"
    assert (
        figure_words(Figure("days", 2.7, "d", 2.5, 2.9, "95 %", 1)) == "2.7 d  (2.5 to 2.9; 95 %)"
    )


async def test_one_female_is_she_and_numbers_are_read_as_numbers(story: Story) -> None:
    story.at("2027-05-01 18:00")
    tell(
        story,
        """
        K2 set up laying
        K2 founder W3 "Boloria dia" female
        K3 set up laying
        K3 founder W4 "Boloria dia" female
        K3 founder W5 "Boloria dia" female
        """,
    )
    said = "\n".join(story.plain(["21", "", "", "", "q"]))
    assert "Did she drink?" in said
    assert "Or a number, then Enter: how many drank." in said
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("drink", "K3")
        assert "Did they drink?" in screen.text


def test_hand_fed_and_crossed_out_are_shown_so(story: Story) -> None:
    story.at("2027-05-01 18:00")
    tell(story, 'K2 set up laying\nK2 founder W3 "Boloria dia" female')
    assert story.type("K2 drank 1 when helped") == ["K2 drank, 1, hand-fed"]
    assert story.type("R9 set up rearing", "R9 leave be +24h")[1].startswith(
        "R9 do not disturb until"
    )
