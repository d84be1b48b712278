"""The door for scripts: a book opened, recorded in, asked and walked, at the caller's clock."""

from __future__ import annotations

import csv
from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

import rounds
from tests.conftest import Clock

ZONE = ZoneInfo("Europe/Vienna")
EVENING = datetime(2027, 5, 3, 18, 10, tzinfo=ZONE)


@pytest.fixture
def clock() -> Clock:
    return Clock(EVENING)


@pytest.fixture
def book(tmp_path: Path, clock: Clock) -> rounds.Book:
    """A laying cup with two females and a cup of eggs."""
    book = rounds.open_book(tmp_path / "book", keeper="AB", clock=clock, zone=ZONE)
    for line in (
        "shelf set up sill moat",
        "K2 set up laying shelf=sill place=2",
        "K2 founder TAR-27-02, Melitaea cinxia female",
        "K2 founder TAR-27-03, Melitaea cinxia female",
        "K2 host in plantain leaf 3 sprigs batch=P",
        "E2 set up eggs",
        "brood TAR-27-02/A mothers=TAR-27-02",
        "E2 stocked TAR-27-02/A egg 24",
    ):
        book.record(line)
    return book


def test_a_phrase_and_a_kind_record_the_same(book: rounds.Book, clock: Clock) -> None:
    clock.on(hours=1)
    typed = book.record("K2 drank 1 -20m")
    named = book.record("drank", at="-20m", container="K2", number=1)
    assert typed.text == named.text
    assert typed.at == named.at == EVENING + timedelta(minutes=40)
    assert len(typed.ids) == 1


def test_what_cannot_be_is_refused_and_writes_nothing(book: rounds.Book) -> None:
    before = len(book.table("entries"))
    with pytest.raises(rounds.Refused, match="holds 2"):
        book.record("K2 drank 7")
    with pytest.raises(rounds.Refused, match="no kind"):
        book.record("drnk", container="K2")
    assert len(book.table("entries")) == before


def test_undo_and_cross_out(book: rounds.Book) -> None:
    first = book.record("K2 misted")
    book.record("K2 drank")
    book.undo()
    book.cross_out(first.ids[0], "another cup")
    told = {row["id"]: row for row in book.table("entries")}
    assert told[first.ids[0]]["counts"] != "yes"
    with pytest.raises(rounds.Refused):
        book.cross_out("nothing-like-it", "why")


def test_due_knows_now_and_any_other_instant(book: rounds.Book, clock: Clock) -> None:
    book.record("K2 drank")
    drink = [due for due in book.due() if (due.where, due.check) == ("K2", "drink")]
    assert not drink
    later = [
        due
        for due in book.due(at=EVENING + timedelta(hours=40))
        if (due.where, due.check) == ("K2", "drink")
    ]
    assert later
    assert later[0].state in ("urgent", "in danger")
    assert later[0].late is not None
    assert later[0].danger is not None
    assert "drank" in later[0].reason
    assert [
        due.check
        for due in book.due(within=timedelta(days=2))
        if due.where == "K2" and due.check == "drink"
    ]


def test_containers_tell_what_they_hold(book: rounds.Book) -> None:
    by_code = {container.code: container for container in book.containers()}
    assert [(stock.brood, stock.stage, stock.number) for stock in by_code["E2"].stock] == [
        ("TAR-27-02/A", "egg", 24)
    ]
    assert by_code["K2"].barrier == "moat"
    assert sum(stock.number for stock in by_code["K2"].stock if stock.sex == "female") == 2


def test_a_forecast_has_a_date_or_says_why_not(book: rounds.Book) -> None:
    (hatch,) = book.forecasts("E2")
    assert hatch.change == "hatch"
    assert hatch.number == 24
    assert (hatch.half is None) == bool(hatch.why_not)
    assert all(change in book.forecasts() for change in book.tonight())


def test_kept_stems_have_a_chance_and_a_day(book: rounds.Book, clock: Clock) -> None:
    clock.on(days=2)
    book.record("K2 host out held in E2")
    (kept,) = book.kept_stems()
    assert (kept.container, kept.plant, kept.batch, kept.stems) == ("E2", "plantain", "P", 3)
    assert 0 < kept.chance <= 1
    assert kept.keep_until is not None
    assert kept.keep_until > clock.now


def test_a_round_is_walked_to_its_end_with_the_usual_answers(
    book: rounds.Book, clock: Clock
) -> None:
    walk = book.round()
    asked = []
    while not walk.is_over:
        question = walk.question
        assert question is not None
        asked.append(question.check)
        clock.on(seconds=20)
        if any(answer.usual for answer in walk.answers):
            walk.answer("enter" if not question.check else " ")
        else:
            walk.skip("not now")
        if len(asked) > 60:
            walk.finish()
            break
    assert "drink" in asked
    assert [row["what"] for row in book.table("entries")].count("round finished") == 1
    with pytest.raises(rounds.Refused, match="ended"):
        walk.answer(" ")


def test_a_wrong_key_in_a_round_writes_nothing(book: rounds.Book) -> None:
    walk = book.round()
    before = len(book.table("entries"))
    with pytest.raises(rounds.Refused, match="no answer"):
        walk.answer("%")
    assert len(book.table("entries")) == before
    walk.leave()
    assert walk.is_over
    assert not book.round().is_over


def test_supplies_sheet_and_export(book: rounds.Book, tmp_path: Path) -> None:
    assert all(need.number > 0 and need.arithmetic for need in book.supplies())
    assert "K2" in book.sheet("+2d")
    with pytest.raises(rounds.Refused):
        book.sheet("-2d")
    book.export("csv", tmp_path / "stock.csv", table="stock")
    with (tmp_path / "stock.csv").open(encoding="utf-8-sig", newline="") as file:
        assert [row["container"] for row in csv.DictReader(file)] == [
            row["container"] for row in book.table("stock")
        ]
    with pytest.raises(rounds.Refused, match="is there already"):
        book.export("csv", tmp_path / "stock.csv", table="stock")
    with pytest.raises(rounds.Refused, match="no export"):
        book.export("tsv", tmp_path / "stock.tsv")
    with pytest.raises(rounds.Refused, match="no table"):
        book.table("stok")


def test_the_example_for_developers_runs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    text = (Path(__file__).parents[2] / "DEVELOPERS.md").read_text(encoding="utf-8")
    example = text[text.index("    import rounds\n") :].split("\n\n")[0]
    monkeypatch.chdir(tmp_path)
    names: dict[str, object] = {}
    exec("\n".join(line[4:] for line in example.splitlines()), names)
    assert isinstance(names["book"], rounds.Book)
    assert (tmp_path / "spring").is_dir()


def test_an_export_warns_a_script_as_it_warns_at_the_shell(
    book: rounds.Book, tmp_path: Path
) -> None:
    book.record("K2 note seen at the mill")
    told = book.export("csv", tmp_path / "all.csv", table="entries")
    assert any(line.startswith("free text leaves as typed, 1 line") for line in told), told
