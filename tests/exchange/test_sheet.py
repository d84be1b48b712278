"""The helper's sheet as a page: the same words as its plain text, in walking order, cautions first."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pytest

from rounds.app.desk import Desk
from rounds.checks.away import away
from rounds.entries import registry as k
from rounds.exchange.sheet_page import sheet_page
from rounds.shell.main import main
from rounds.views.sheet import CAUTIONS, Sheet, sheet, sheet_pages, sheet_text
from tests.exchange.browser import asked_for, needs_browser, overflow, run
from tests.exchange.conftest import HOSTILE, Told
from tests.exchange.test_labels import Page

Export = Callable[..., Path]


def worded(desk: Desk) -> Sheet:
    """The words of two days away."""
    leave, back = desk.now() + timedelta(hours=1), desk.now() + timedelta(days=2)
    return sheet(desk.bench, away(desk.bench, desk.moment(), leave, back), desk.zone)


def made(desk: Desk) -> tuple[Page, list[str]]:
    """The page of two days away, and its plain text."""
    told = worded(desk)
    return Page(sheet_page(told).decode()), sheet_text(told)


def test_the_page_says_what_the_plain_text_says_in_the_same_order(demo_desk: Desk) -> None:
    found, _ = made(demo_desk)
    told = worded(demo_desk)

    rows = [
        row.text for stretch in told.stretches for entry in stretch.entries for row in entry.rows
    ]
    assert len(rows) > 20
    assert [one for one in found.text if one in set(rows)] == rows


def test_cautions_stand_before_the_first_place(demo_desk: Desk) -> None:
    found, plain = made(demo_desk)

    first = next(number for number, one in enumerate(found.text) if one.startswith("The room."))
    assert found.text.index(CAUTIONS) < first
    assert CAUTIONS in " ".join(plain[:15])


def test_no_end_of_a_page_parts_what_belongs_to_one_number(demo_desk: Desk) -> None:
    page = sheet_page(worded(demo_desk)).decode()
    style, _, body = page.partition("</style>")
    entries = [entry for stretch in worded(demo_desk).stretches for entry in stretch.entries]
    assert re.search(r"tbody[^{]*{ break-inside: avoid }", style)
    assert body.count("<tbody>") == len(entries) + body.count("<section>") - 1
    numbers = [re.findall(r"<td>(\d+)</td>", part) for part in body.split("<tbody>")[1:]]
    assert [one for one in numbers if one] == [[str(entry.number)] for entry in entries]


def test_whom_to_ring_stands_on_it_where_the_book_says(told: Told) -> None:
    told.log("L2 set up laying")
    told.record(k.Setting, name="phone", value="0123 456")

    found, plain = made(told.desk)

    assert "Telephone: 0123 456" in found.text
    assert "Telephone: 0123 456" in plain


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_is_shown_and_never_obeyed(told: Told, text: str) -> None:
    told.record(k.Setting, name="bench", value=text)
    told.record(k.Setting, name="phone", value=text)
    told.log(
        "L2 set up laying", "L2 founder Q-1, Boloria dia female", "L2 host in violet leaf water"
    )
    told.record(k.Note, container="L2", text=text)

    found, _ = made(told.desk)

    tags = {tag for tag, _ in found.elements}
    assert tags <= {
        "html",
        "head",
        "meta",
        "title",
        "style",
        "body",
        "h1",
        "p",
        "br",
        "span",
        "section",
        "table",
        "thead",
        "tfoot",
        "tbody",
        "tr",
        "th",
        "td",
    }
    assert all(one.replace("\n", "").isprintable() for one in found.text)


def test_the_command_writes_it_beside_and_refuses_to_overwrite(
    told: Told, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    told.log("L2 set up laying")
    monkeypatch.setattr("rounds.shell.sheet.desk_of", lambda book, **_: told.desk)
    path = tmp_path / "sheet.html"
    command = ["sheet", "--to", "+2d", "--html", str(path)]

    assert main(command) == 0
    assert path.read_text().startswith("<!doctype html>")
    assert main(command) == 1
    assert "--replace takes its place" in capsys.readouterr().err
    assert main([*command, "--replace"]) == 0
    capsys.readouterr()
    assert main([*command[:-1], "-"]) == 0
    assert capsys.readouterr().out == path.read_text(), "as other files: - is standard output"


@needs_browser
def test_it_is_readable_on_a_phone_and_asks_for_nothing(demo_desk: Desk, tmp_path: Path) -> None:
    path = tmp_path / "sheet.html"
    path.write_bytes(sheet_page(worded(demo_desk)))

    assert overflow(path, tmp_path, 360) <= 0
    assert asked_for(path, tmp_path) == set()


@needs_browser
def test_it_prints_on_no_more_pages_than_the_text_has(demo_desk: Desk, tmp_path: Path) -> None:
    path, printed = tmp_path / "sheet.html", tmp_path / "sheet.pdf"
    path.write_bytes(sheet_page(worded(demo_desk)))
    run(path, tmp_path, "--no-pdf-header-footer", f"--print-to-pdf={printed}")

    # ISO 32000-1, 7.7.3.3: each page of a document is a dictionary whose Type is Page.
    pages = len(re.findall(rb"/Type\s*/Page\b", printed.read_bytes()))
    assert 1 <= pages <= len(sheet_pages(worded(demo_desk)))
