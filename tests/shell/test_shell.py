"""The commands: what they print, what they refuse, how they exit."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from datetime import timedelta
from pathlib import Path

import pytest

from rounds.app.book_folder import book_folder
from rounds.app.startup import local_zone
from rounds.shell.due import read_span
from rounds.shell.main import main
from tests.command import rounds, started


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A book with one laying cup."""
    folder = tmp_path / "book"
    story = """
    # a comment is passed over
    shelf set up B moat
    L2 set up laying shelf=B place=1
    L2 founder QUE-26-02, Boloria dia female
    """
    done = rounds(
        "log", "-", book=folder, typed="\n".join(line.strip() for line in story.splitlines())
    )
    assert done.returncode == 0, done.stderr
    return folder


def test_log_says_one_thing_and_prints_the_line(book: Path) -> None:
    done = started("log", "L2", "drank", "1", "when", "helped", book=book)

    assert done.returncode == 0
    assert "L2 drank, 1, hand-fed" in done.stdout
    (file,) = book.glob("entries-*.jsonl")
    last = json.loads(file.read_text().splitlines()[-1])
    assert (last["what"], last["container"], last["by"]) == ("drank", "L2", "KM")


def test_log_keeps_quoted_words_together(book: Path) -> None:
    done = rounds("log", "L2", "note", "one worn, left hind wing", book=book)

    assert "L2 note 'one worn, left hind wing'" in done.stdout


def test_a_refusal_shows_its_line_and_what_was_typed_and_exits_with_1(book: Path) -> None:
    done = rounds("log", "L2", "drank", "7", book=book)

    assert done.returncode == 1
    assert (
        done.stderr
        == "rounds: 7 adults drank, but L2 holds 1; give 1 or fewer\ntyped:  L2 drank 7\n"
    )
    assert rounds("log", book=book).returncode == 2


def test_one_bad_line_of_many_does_not_stop_the_rest(book: Path) -> None:
    done = rounds("log", "-", book=book, typed="L2 drank\nL2 drnk\nL2 misted\n")

    assert done.returncode == 1
    assert "L2 misted" in done.stdout
    assert "perhaps drank" in done.stderr


def test_due_prints_what_is_due_and_exits_with_1_when_asked_and_late(book: Path) -> None:
    done = rounds("due", "--within", "2d", book=book)
    assert done.returncode == 0
    assert "L2" in done.stdout
    assert "drink" in done.stdout

    as_data = json.loads(rounds("due", "--json", "--within", "2d", book=book).stdout)["due"]
    drink = next(one for one in as_data if one["check"] == "drink")
    assert drink["where"] == "L2"
    assert {
        "due",
        "amber",
        "red",
        "harm",
        "rule",
        "last",
        "arithmetic",
        "source",
        "standing",
    } <= drink.keys()
    assert rounds("due", "--exit-code", book=book).returncode == 0
    rounds("log", "shelf", "B", "barrier", "dry", book=book)
    assert rounds("due", "--exit-code", book=book).returncode == 1


def test_the_bench_without_a_terminal_is_plain_lines(book: Path) -> None:
    done = rounds(book=book)

    assert done.returncode == 0
    assert "L2" in done.stdout
    assert "due now:" in done.stdout
    assert "\x1b" not in done.stdout


def test_the_demo_without_a_terminal_prints_the_bench_and_what_is_due() -> None:
    done = started("demo")

    assert done.returncode == 0, done.stderr
    assert "Weir House bench" in done.stdout
    assert "34 eggs Kallima inachus" in done.stdout
    assert "leaf" in done.stdout.split("due now:")[1]


def test_wrong_use_exits_with_2(book: Path) -> None:
    assert started("frobnicate", book=book).returncode == 2
    assert rounds("due", "--within", "soon", book=book).returncode == 2
    assert "must be as 2h, 90m or 1d" in rounds("due", "--within", "soon", book=book).stderr


def test_a_book_that_cannot_be_opened_is_one_line(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")

    done = rounds("log", "L2", "drank", book=tmp_path / "file" / "book")

    assert done.returncode == 1
    assert done.stderr.startswith("rounds: Not a directory")
    assert len(done.stderr.splitlines()) == 1


def test_a_reader_that_stops_reading_is_no_trouble(book: Path) -> None:
    done = subprocess.run(
        f"{sys.executable} -m rounds demo | head -1",
        shell=True,
        capture_output=True,
        text=True,
        check=False,
    )

    assert done.stderr == ""


@pytest.mark.parametrize(
    ("text", "span"),
    [("2h", timedelta(hours=2)), ("90m", timedelta(minutes=90)), ("1d12h", timedelta(hours=36)), ("0h", timedelta(0)),
     ("", None), ("soon", None), ("2", None)],
)  # fmt: skip
def test_spans(text: str, span: timedelta | None) -> None:
    assert read_span(text) == span


def test_where_the_book_lies() -> None:
    assert book_folder("/here", {"ROUNDS_BOOK": "/there"}) == Path("/here")
    assert book_folder(None, {"ROUNDS_BOOK": "/there"}) == Path("/there")
    assert book_folder(None, {"XDG_DATA_HOME": "/data"}).name == "rounds"


def test_this_machine_has_a_zone() -> None:
    assert str(local_zone({"TZ": "Asia/Tokyo"})) == "Asia/Tokyo"
    assert local_zone({}) is not None


def test_no_verb_loads_the_screens() -> None:
    for verb in (["log", "L2", "drank"], ["due"], ["demo"], []):
        code = (
            "import sys, tempfile, os\n"
            "os.environ['ROUNDS_BOOK'] = tempfile.mkdtemp() + '/book'\n"
            "from rounds.shell.main import main\n"
            f"main({verb!r})\n"
            "assert 'textual' not in sys.modules, 'textual was loaded'\n"
        )
        done = subprocess.run(
            [sys.executable, "-c", code], capture_output=True, text=True, input="", check=False
        )
        assert done.returncode == 0, (verb, done.stderr)


def test_a_line_that_is_said_loads_no_check_and_no_forecast(book: Path) -> None:
    code = (
        "import sys\n"
        "from rounds.shell.main import main\n"
        f"assert main(['log', '--book', {str(book)!r}, 'note', 'the sill is dry']) == 0\n"
        f"assert main(['log', '--book', {str(book)!r}, 'L2', 'drank']) == 0\n"
        "parts = 'rounds.checks.registry', 'rounds.forecasts', 'rounds.screens', 'shutil', 'hashlib'\n"
        "loaded = [one for one in parts if one in sys.modules]\n"
        "assert not loaded, loaded\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)

    assert done.returncode == 0, done.stderr


def test_what_is_due_is_told_again_without_a_bench_or_a_check() -> None:
    code = (
        "import sys, rounds.shell.due\n"
        "parts = 'rounds.bench.state', 'rounds.checks.registry', 'rounds.entries.base'\n"
        "loaded = [one for one in parts if one in sys.modules]\n"
        "assert not loaded, loaded\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)

    assert done.returncode == 0, done.stderr


def test_main_gives_its_status_back(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["due", "--book", str(book)]) == 0
    assert "L2" in capsys.readouterr().out


def test_the_helpers_sheet_is_plain_words_in_walking_order(book: Path) -> None:
    done = rounds("sheet", "--to", "+2d", book=book)

    assert done.returncode == 0, done.stderr
    words = " ".join(done.stdout.split())
    assert "Wash your hands before, after, and where this sheet says so." in words
    assert "L2 on shelf B: 1 winged adult." in words
    assert "no telephone number" in done.stderr
    assert rounds("sheet", "--to", "soon", book=book).returncode == 2
    refused = rounds("sheet", "--from", "+3d", "--to", "+2d", book=book)
    assert (refused.returncode, refused.stderr) == (
        1,
        "rounds: the return is not after the leaving; it must be later\n",
    )


def test_what_only_reads_refuses_a_folder_without_a_book_and_makes_none(tmp_path: Path) -> None:
    nowhere, file = tmp_path / "nowhere", tmp_path / "file"
    file.write_text("no book")
    for verb in (
        ["due"],
        ["sheet", "--to", "+2d"],
        ["export", "csv", str(tmp_path / "out.zip")],
        ["photo", "x.jpg", "--for", "L2"],
    ):
        done = rounds(*verb, book=nowhere)
        assert (done.returncode, done.stdout) == (2 if verb[0] in ("due", "sheet") else 1, ""), verb
        assert f"there is no book in {nowhere}" in done.stderr
        assert not nowhere.exists()
        assert f"{file} is no folder" in rounds(*verb, book=file).stderr


def test_an_empty_book_is_not_told_as_a_bench_where_nothing_is_due(tmp_path: Path) -> None:
    assert rounds("log", "setting", "bench", "sill", book=tmp_path).returncode == 0
    done = rounds("due", book=tmp_path)

    assert done.returncode == 0
    assert "this book is empty" in done.stderr


def test_log_tells_that_a_book_begins_and_takes_no_option_for_words(
    tmp_path: Path, book: Path
) -> None:
    new = tmp_path / "new"
    assert (
        f"a new book begins in {new}" in rounds("log", "L2", "set", "up", "laying", book=new).stderr
    )

    done = rounds("log", "L2", "note", "worn", "--by", "KM", book=book)
    assert (done.returncode, done.stdout) == (2, "")
    assert "--by goes before what happened" in done.stderr
    assert "note '--by KM'" in rounds("log", "L2", "note", "--", "--by KM", book=book).stdout


def test_a_strike_says_what_it_struck(book: Path) -> None:
    entry = rounds("log", "L2", "drank", "1", book=book).stdout.split()[-1]

    assert (
        "crossed out: L2 drank, 1 (wrong cup)"
        in rounds("log", "strike", entry, "--", "wrong cup", book=book).stdout
    )


def test_a_refusal_says_no_more_of_a_long_text_than_it_needs(book: Path) -> None:
    done = rounds("log", "L2", "note", "x" * 9000, book=book)

    assert done.returncode == 1
    assert "9,000 characters long" in done.stderr
    assert len(done.stderr.splitlines()[0]) < 150
    assert "x" * 9000 in done.stderr.splitlines()[1], "what was typed is not lost"


@pytest.mark.parametrize(
    "verb",
    [
        ["calc", "\x1b[31m"],
        ["calc", "air", "--humidity", "\x1b[31m"],
        ["due", "--within", "\x1b[31m"],
        ["sheet", "--to", "\x1b[31m"],
    ],
)
def test_no_refusal_sends_an_escape_to_the_terminal(book: Path, verb: list[str]) -> None:
    done = rounds(*verb, book=book)

    assert done.returncode in (1, 2)
    assert "\x1b" not in done.stdout + done.stderr


def test_bytes_that_are_no_text_are_refused_and_not_half_kept(book: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "rounds", "log", "-"],
        capture_output=True,
        env=os.environ | {"ROUNDS_BOOK": str(book), "PYTHONUTF8": "1"},
        input="L2 note 'H\u00e4ndler'\nL2 note fine\n".encode("latin-1"),
        check=False,
    )

    assert done.returncode == 1
    assert b"L2 note 'fine'" in done.stdout
    assert b"save or send the text as UTF-8" in done.stderr
    assert not any("ndler" in file.read_text() for file in book.glob("entries-*.jsonl"))


def test_a_beginning_that_is_broken_off_says_so(tmp_path: Path) -> None:
    done = rounds("begin", book=tmp_path / "new", typed="The sill\n")

    assert done.returncode == 1
    assert done.stdout.endswith(
        "No container stands yet. What was answered is kept; 'rounds begin' asks on.\n"
    )
