"""The helper's sheet as a page: the same words as its plain text, in walking order, cautions first."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pytest

from rounds.bench import kinds as k
from rounds.care.away import away
from rounds.desk import Desk
from rounds.exchange.sheet_page import sheet_page
from rounds.shell.main import main
from rounds.views.away_page import CAUTIONS, sheet_text
from tests.exchange.browser import asked_for, needs_browser, overflow
from tests.exchange.conftest import HOSTILE, Told
from tests.exchange.test_labels import Page

Export = Callable[..., Path]


def made(desk: Desk) -> tuple[Page, list[str]]:
    """The page of two days away, and its plain text."""
    plan = away(desk.bench, desk.moment(), desk.now() + timedelta(hours=1), desk.now() + timedelta(days=2))
    return Page(sheet_page(desk.bench, plan, desk.zone).decode()), sheet_text(desk.bench, plan, desk.zone)


def test_the_page_says_what_the_plain_text_says_in_the_same_order(demo_desk: Desk) -> None:
    found, plain = made(demo_desk)

    told = [one.strip() for one in found.text if one.strip()]
    lines = [line.strip().removeprefix("[ ] ").removeprefix("! ") for line in plain if line.strip()]
    lines = ["Wash your hands." if line == "--- wash your hands ---" else line for line in lines]
    told = told[told.index(lines[0], 1) :]  # after the title and the style
    assert told == lines


def test_cautions_stand_before_the_first_place(demo_desk: Desk) -> None:
    found, _ = made(demo_desk)

    first = found.text.index("the room")
    assert all(found.text.index(caution) < first for caution in CAUTIONS)


def test_whom_to_ring_stands_on_it_where_the_book_says(told: Told) -> None:
    told.log("L2 set up laying")
    told.say(k.Setting, name="phone", value="0123 456")

    found, plain = made(told.desk)

    assert "ring 0123 456" in found.text
    assert "ring 0123 456" in plain


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_is_shown_and_never_obeyed(told: Told, text: str) -> None:
    told.say(k.Setting, name="bench", value=text)
    told.say(k.Setting, name="phone", value=text)
    told.log("L2 set up laying", "L2 founder Q-1, Boloria dia female", "L2 host in violet leaf water")
    told.say(k.Note, container="L2", text=text)

    found, _ = made(told.desk)

    tags = {tag for tag, _ in found.elements}
    assert tags <= {"html", "head", "meta", "title", "style", "body", "h1", "p", "br", "ul", "ol", "li", "span"}
    assert all(one.replace("\n", "").isprintable() for one in found.text)


def test_the_command_writes_it_beside_and_refuses_to_overwrite(
    told: Told, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    told.log("L2 set up laying")
    monkeypatch.setattr("rounds.shell.sheet.open_desk", lambda book, **_: told.desk)
    path = tmp_path / "sheet.html"
    command = ["sheet", "--to", "+2d", "--html", str(path)]

    assert main(command) == 0
    assert path.read_text().startswith("<!doctype html>")
    assert main(command) == 1
    assert "--replace takes its place" in capsys.readouterr().err
    assert main([*command, "--replace"]) == 0


@needs_browser
def test_it_is_readable_on_a_phone_and_asks_for_nothing(demo_desk: Desk, tmp_path: Path) -> None:
    plan = away(demo_desk.bench, demo_desk.moment(), demo_desk.now() + timedelta(hours=1), demo_desk.now() + timedelta(days=2))
    path = tmp_path / "sheet.html"
    path.write_bytes(sheet_page(demo_desk.bench, plan, demo_desk.zone))

    assert overflow(path, tmp_path, 360) <= 0
    assert asked_for(path, tmp_path) == set()
