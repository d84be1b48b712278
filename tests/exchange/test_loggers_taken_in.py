"""A logger's readings in the book: once, whole or not at all, in plain text that is private; and what reads them later."""

from __future__ import annotations

import json
import os
import signal
import stat
import subprocess
import sys
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pexpect
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rounds.app.desk import Desk, Recorded, Refusal
from rounds.bench.series_names import is_series_name, series_name
from rounds.daybook import logger_cache
from rounds.daybook.series import WHAT_TO_DO, as_text, read_series, write_series
from rounds.entries.registry import BroodBegun, LoggerRead, SetUp, Stocked
from rounds.exchange.loggers.intake import holes_in, new_readings, take_in
from rounds.exchange.loggers.reading import Log, read_log
from rounds.tallies.warmth import instant_of
from rounds.views.ahead_page import _coming_why
from tests.command import rounds

HEADING = "Time,Temp (C),RH\n"


@pytest.fixture
def book(tmp_path: Path) -> Path:
    folder = tmp_path / "book"
    for words in ("shelf set up B moat", "R4 set up rearing shelf=B place=1"):
        assert rounds("log", *words.split(), book=folder).returncode == 0
    return folder


def log_of(
    temperatures: list[float],
    start: datetime = datetime(2026, 5, 18, tzinfo=UTC),
    minutes: int = 10,
) -> Log:
    lines = [
        f"{start + timedelta(minutes=minutes * turn):%Y-%m-%dT%H:%M:%SZ},{one},50"
        for turn, one in enumerate(temperatures)
    ]
    text = HEADING + "\n".join(lines) + "\n"
    now = datetime(2026, 5, 20, tzinfo=UTC).timestamp()
    return read_log(text.encode(), zone=UTC, zone_name="UTC", zone_said=False, now=now)


def take(desk: Desk, log: Log, **place: str) -> Recorded | None:
    """Take what is new of a log in; None where nothing is."""
    reads = desk.bench.logged.get(next(iter(place.values()), ""), [])
    new = new_readings(log, desk.reading.logged.readings(reads))
    if not new.seconds:
        return None
    outcome = take_in(desk, new, source="log.csv", **place)
    assert isinstance(outcome, Recorded), outcome
    return outcome


def test_a_file_comes_in_once(book: Path, tmp_path: Path) -> None:
    file = tmp_path / "log.csv"
    file.write_text(HEADING + "2026-05-20 07:00,21.4,55\n2026-05-20 07:10,21.5,54\n")

    first = rounds("temperatures", str(file), "--place", "r4", book=book)
    second = rounds("temperatures", str(file), "--place", "R4", book=book)

    assert (first.returncode, second.returncode) == (0, 0), first.stderr
    assert "taken in: 2 new readings, series/R4-" in first.stdout
    assert "nothing new: every reading is in the book already" in second.stdout
    (series,) = (book / "series").iterdir()
    assert series.read_text() == (
        "time,temperature_c,humidity_percent\n2026-05-20T05:00:00Z,21.4,55\n2026-05-20T05:10:00Z,21.5,54\n"
    )
    assert stat.S_IMODE(series.stat().st_mode) == 0o600
    assert stat.S_IMODE(series.parent.stat().st_mode) == 0o700
    entries = [
        json.loads(line)
        for file in book.glob("entries-*.jsonl")
        for line in file.read_text().splitlines()
    ]
    (said,) = [one for one in entries if one["what"] == "logger read"]
    assert (said["container"], said["rows"], said["low_c"], said["high_c"]) == ("R4", 2, 21.4, 21.5)
    assert "R4 logger read: 2 readings 20 May 07:00 to 20 May 07:10" in rounds(
        "check", book=book
    ).stdout + _told(book)


def _told(book: Path) -> str:
    from rounds.app.startup import open_desk
    from rounds.entries.wording import saying

    desk = open_desk(book, environment={"TZ": "Europe/Paris"})
    return "\n".join(saying(entry) for entry in desk.entries())


def test_a_dry_run_tells_and_takes_nothing_in(book: Path, tmp_path: Path) -> None:
    file = tmp_path / "log.csv"
    file.write_text(
        HEADING + "2026-05-20 07:00,21.4,55\n2026-05-20 12:10,21.5,54\n2026-05-20 12:20,,\n"
    )

    done = rounds("temperatures", str(file), "--place", "shelf B", "--dry-run", book=book)

    assert done.returncode == 0
    assert "place: shelf B" in done.stdout
    assert "1 hole longer than 3 h; the longest 5 h from Wed 20 May 2026 07:00" in done.stdout
    assert "left out 1 line: no temperature (line 4)" in done.stdout
    assert "not taken in, for --dry-run was given: 2 new readings" in done.stdout
    assert not (book / "series").exists()


def test_the_same_as_data(book: Path, tmp_path: Path) -> None:
    file = tmp_path / "log.csv"
    file.write_text(HEADING + "2026-05-20 07:00,21.4,55\n2026-05-20 07:10,21.6,54\n")

    data = json.loads(
        rounds("temperatures", str(file), "--json", "--zone", "+01:00", book=book).stdout
    )

    assert (data["place"], data["readings"], data["new"], data["known"]) == ("the room", 2, 2, 0)
    assert data["from"] == "2026-05-20T08:00:00+02:00"
    assert is_series_name(data["series"])
    assert data["entry"]


@pytest.mark.parametrize(
    ("text", "arguments", "status", "line"),
    [
        ("05/06/2025 07:00,20,50", [], 1, "say which with --date-order dmy or mdy"),
        (
            "2026-05-20 07:00,20,50",
            ["--place", "Q4"],
            1,
            "no container or shelf is called Q4; there are R4, shelf B, and room",
        ),
        (
            "2026-05-20 07:00,20,50",
            ["--zone", "Mars"],
            2,
            "--zone is 'Mars'; it must be as Europe/Paris, UTC or +01:00",
        ),
        (
            "2026-05-20 07:00,20,50",
            ["--temperature", "roof"],
            1,
            "no column is called 'roof'; there are 'Time' (column 1)",
        ),
        ("2026-05-20,20,50", [], 1, "no line has a time and a temperature"),
        ("\x1b[2J\x1b]0;x\x07", [], 1, "no line has a time and a temperature"),
    ],
)
def test_what_cannot_be_is_refused_in_one_line(
    book: Path, tmp_path: Path, text: str, arguments: list[str], status: int, line: str
) -> None:
    file = tmp_path / "log.csv"
    file.write_text(HEADING + text + "\n")

    done = rounds("temperatures", str(file), *arguments, book=book)

    assert done.returncode == status
    assert line in done.stderr
    assert done.stderr.count("\n") == 1
    assert not (book / "series").exists()


def test_a_file_that_is_not_there_is_refused(book: Path, tmp_path: Path) -> None:
    done = rounds("temperatures", str(tmp_path / "none.csv"), book=book)

    assert done.returncode == 1
    assert done.stderr == f"rounds: No such file or directory: {tmp_path / 'none.csv'}\n"


def test_a_heading_is_shown_literally(book: Path, tmp_path: Path) -> None:
    file = tmp_path / "log.csv"
    file.write_text("Time,Temp (C) \x1b[31m[b]\u202ered\n2026-05-20 07:00,20\n")

    done = rounds("temperatures", str(file), book=book)

    assert done.returncode == 0
    assert "'Temp (C) ‹001B›[31m[b]‹202E›red' (column 2)" in done.stdout
    assert "\x1b" not in done.stdout + done.stderr


def test_what_is_unclear_is_asked_at_a_terminal(book: Path, tmp_path: Path) -> None:
    file = tmp_path / "log.csv"
    file.write_text("Time,Temp\n05/06/2025 07:00,40\n")
    env = os.environ | {"TZ": "Europe/Paris", "ROUNDS_BOOK": str(book)}

    child = pexpect.spawn(
        sys.executable,
        ["-m", "rounds", "temperatures", str(file)],
        env=env,
        encoding="utf-8",
        timeout=60,
    )
    child.expect_exact("c or f, or nothing to stop: ")
    child.sendline("f")
    child.expect_exact("dmy or mdy, or nothing to stop: ")
    child.sendline("dmy")
    child.expect_exact("taken in: 1 new reading")
    child.expect(pexpect.EOF)

    (series,) = (book / "series").iterdir()
    assert series.read_text().splitlines()[1] == "2025-06-05T05:00:00Z,4.444,"


def test_an_interruption_leaves_nothing(book: Path, tmp_path: Path) -> None:
    file = tmp_path / "log.csv"
    start = datetime(2024, 1, 1, tzinfo=UTC)
    lines = (
        f"{start + timedelta(minutes=turn):%Y-%m-%dT%H:%M:%SZ},{turn % 20},50\n"
        for turn in range(300_000)
    )
    file.write_text(HEADING + "".join(lines))
    env = os.environ | {"TZ": "Europe/Paris", "ROUNDS_BOOK": str(book)}

    child = subprocess.Popen(
        [sys.executable, "-m", "rounds", "temperatures", str(file)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env=env,
    )
    assert child.stderr is not None
    assert "read 100,000 of 300,002 lines" in child.stderr.readline()
    child.send_signal(signal.SIGINT)
    out, err = child.communicate(timeout=60)

    assert child.returncode == 130
    assert "stopped; nothing was taken in" in err
    assert "Traceback" not in err
    assert out == ""
    assert not (book / "series").exists()
    assert "logger read" not in _told(book)


def test_overlapping_files_add_only_new_readings(desk: Desk) -> None:
    take(desk, log_of([20, 21, 22]))

    again = new_readings(
        log_of([20, 21.5, 22, 23]), desk.reading.logged.readings(desk.bench.logged[""])
    )

    assert (list(again.temperatures_c), again.known, again.differing) == ([23], 3, 1)
    take(desk, log_of([20, 21.5, 22, 23]))
    assert list(desk.reading.series("").temperatures_c) == [20, 21, 22, 23]
    assert take(desk, log_of([20, 21, 22, 23])) is None


def test_the_series_of_one_place_is_not_that_of_another(desk: Desk) -> None:
    take(desk, log_of([20, 21]))

    assert list(desk.reading.series("").days) == sorted(desk.reading.series("").days)
    assert instant_of(desk.reading.series("").days[0]) == datetime(2026, 5, 18, tzinfo=UTC)
    assert list(desk.reading.series("R4").days) == []


def test_the_same_file_on_two_laptops_counts_once(open_desk: Callable[..., Desk]) -> None:
    one, other = open_desk("aaaa1111"), open_desk("bbbb2222")
    take(one, log_of([20, 21]))
    take(other, log_of([20, 21]))

    third = open_desk("cccc3333")

    assert len(third.bench.logged[""]) == 1
    assert list(third.reading.series("").temperatures_c) == [20, 21]


def test_a_struck_import_no_longer_counts_and_can_come_in_again(desk: Desk) -> None:
    said = take(desk, log_of([20, 21]))
    assert said is not None
    assert isinstance(desk.strike(said.entry.id, why="wrong place"), Recorded)

    assert list(desk.reading.series("").temperatures_c) == []
    assert take(desk, log_of([20, 21])) is not None
    assert list(desk.reading.series("").temperatures_c) == [20, 21]


def test_what_the_daybook_does_not_take_leaves_no_file(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    new = new_readings(log_of([20, 21]), desk.reading.logged.readings([]))

    outcome = take_in(desk, new, container="Q4")

    assert isinstance(outcome, Refusal)
    assert list((desk.book.folder / "series").iterdir()) == []


def test_a_file_that_cannot_be_written_leaves_nothing(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    new = new_readings(log_of([20, 21]), desk.reading.logged.readings([]))
    monkeypatch.setattr(os, "fsync", full)

    with pytest.raises(OSError, match="No space left"):
        take_in(desk, new)
    monkeypatch.undo()
    assert list((desk.book.folder / "series").iterdir()) == []
    assert desk.bench.logged == {}


def test_a_series_that_is_gone_is_told_and_found_again(
    desk: Desk, open_desk: Callable[..., Desk]
) -> None:
    take(desk, log_of([20, 21]))
    (file,) = (desk.book.folder / "series").iterdir()
    away = file.rename(desk.book.folder / "away.csv")

    other = open_desk("bbbb2222")
    assert list(other.reading.series("").days) == []
    assert other.reading.problems == [
        f"series/{file.name}: the logger's readings cannot be read: No such file or directory;"
        f" {WHAT_TO_DO}"
    ]
    away.rename(file)
    assert len(other.reading.series("").days) == 2


def test_a_series_that_was_changed_is_told(desk: Desk, open_desk: Callable[..., Desk]) -> None:
    take(desk, log_of([20, 21, 22]))
    (file,) = (desk.book.folder / "series").iterdir()
    file.write_text(file.read_text().replace(",21,", ",warm,"))

    other = open_desk("bbbb2222")

    assert list(other.reading.series("").temperatures_c) == [20, 22]
    assert other.reading.problems == [
        f"series/{file.name}: is not as it was written; its readings are used as they are; {WHAT_TO_DO}",
        f"series/{file.name} line 3: is no reading",
    ]
    assert "is no reading" in rounds("check", book=desk.book.folder).stdout


@pytest.mark.parametrize(
    "name",
    [
        "../secret-0123456789ab.csv",
        "series/../x-0123456789ab.csv",
        "/etc/passwd",
        "series/a.csv",
        "",
    ],
)
def test_no_name_leads_out_of_the_book(tmp_path: Path, desk: Desk, name: str) -> None:
    assert not is_series_name(name)
    assert read_series(tmp_path, name).problems
    at = desk.now()
    outcome = desk.record(LoggerRead, file=name, rows=1, since=at, until=at, low_c=1, high_c=2)
    assert isinstance(outcome, Refusal)


def test_no_link_leads_out_of_the_book(tmp_path: Path) -> None:
    secret = tmp_path / "secret.csv"
    secret.write_bytes(as_text([0], [20], [50]))
    folder = tmp_path / "book"
    (folder / "series").mkdir(parents=True)
    (folder / "series" / "R4-0123456789ab.csv").symlink_to(secret)

    found = read_series(folder, "series/R4-0123456789ab.csv")

    assert len(found.seconds) == 0
    assert "is a link to somewhere else; it is not followed" in str(found.problems[0])


@given(st.text(max_size=60), st.text("0123456789abcdef", min_size=64, max_size=64))
def test_any_place_has_a_name_of_its_own_kind(place: str, digest: str) -> None:
    assert is_series_name(series_name(place, digest))


readings = st.dictionaries(
    st.integers(631_152_000, 4_000_000_000),
    st.tuples(
        st.floats(-40, 60).map(lambda one: round(one, 3)),
        st.one_of(st.just(float("nan")), st.floats(0, 100)),
    ),
    min_size=1,
    max_size=40,
)


@given(readings)
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_what_was_written_reads_back(tmp_path: Path, found: dict[int, tuple[float, float]]) -> None:
    seconds = sorted(found)
    text = as_text(seconds, [found[one][0] for one in seconds], [found[one][1] for one in seconds])

    written = write_series(tmp_path, "R4", text)
    back = read_series(tmp_path, written.name, written.digest)

    assert back.problems == ()
    assert list(back.seconds) == seconds
    assert list(back.temperatures_c) == pytest.approx([found[one][0] for one in seconds], abs=1e-9)
    # RFC 3339 as the standard library reads it.
    assert [
        round(datetime.fromisoformat(line.split(",")[0]).timestamp())
        for line in text.decode().splitlines()[1:]
    ] == seconds


@given(st.binary(max_size=300))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_bytes_in_a_series_are_answered(tmp_path: Path, raw: bytes) -> None:
    (tmp_path / "series").mkdir(exist_ok=True)
    (tmp_path / "series" / "R4-0123456789ab.csv").write_bytes(raw)

    found = read_series(tmp_path, "series/R4-0123456789ab.csv")

    assert len(found.seconds) == len(found.temperatures_c)


def test_holes_of_a_logger_are_those_longer_than_it_is_silent() -> None:
    log = log_of([20] * 4, minutes=60)
    assert holes_in(log.seconds) == []
    assert len(holes_in(log_of([20] * 3, minutes=181).seconds)) == 2


def test_a_forecast_rests_on_the_logger_of_its_container(desk: Desk) -> None:
    set_up = datetime(2026, 5, 1, tzinfo=UTC)
    desk.record(SetUp, at=set_up, container="R4", purpose="rearing")
    take(desk, log_of([24.0] * 288), container="R4")

    warmth = desk.foresight.warmth("R4")

    assert warmth.used.endswith("logger readings of R4")
    assert {temperature for _, temperature in warmth.readings} == {24.0}


def test_a_hole_in_a_series_is_told_beside_the_forecast_with_what_stands_in_for_it(
    desk: Desk,
) -> None:
    begun = datetime(2026, 5, 18, tzinfo=UTC)
    for kind, fields in (
        (SetUp, {"container": "R4", "purpose": "eggs"}),
        (
            BroodBegun,
            {"code": "Q-26-02/A", "taxon": "Panchala ganesa", "laid_from": begun, "laid_to": begun},
        ),
        (Stocked, {"container": "R4", "brood": "Q-26-02/A", "stage": "egg", "number": 12}),
    ):
        assert isinstance(desk.record(kind, at=begun, **fields), Recorded)
    take(desk, log_of([22.0] * 36), container="R4")
    take(desk, log_of([22.0] * 60, start=begun + timedelta(hours=14)), container="R4")

    (coming,) = desk.foresight.coming(desk.bench.containers["R4"])
    told = "\n".join(line.text for line in _coming_why(coming, desk.moment(), desk.measures))

    assert "96 logger readings of R4" in told
    assert "nothing read" in told
    assert "07:50" in told
    assert "16:00 (a straight line across)" in told


def test_files_that_were_found_whole_are_not_read_again_at_the_next_start(
    desk: Desk, open_desk: Callable[..., Desk], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(
        "rounds.daybook.lines.JUST_THEN_NS", -10_000_000
    )  # clocks of files are coarse
    take(desk, log_of([20, 21, 22]))
    (file,) = (desk.book.folder / "series").iterdir()
    before = file.stat()
    assert not open_desk("aaaa1111").reading.problems
    read: list[str] = []
    look = logger_cache.trouble_with

    def counted(folder: Path, name: str, digest: str) -> object:
        read.append(name)
        return look(folder, name, digest)

    monkeypatch.setattr(logger_cache, "trouble_with", counted)
    assert not open_desk("aaaa1111").reading.problems
    assert not read

    file.write_text(file.read_text().replace(",21,", ",27,"))  # as long, and as old to look at
    os.utime(file, ns=(before.st_atime_ns, before.st_mtime_ns))
    for _ in range(2):
        assert "is not as it was written" in " ".join(open_desk("aaaa1111").reading.problems)
    assert len(read) == 2
    file.unlink()
    assert "No such file" in " ".join(open_desk("aaaa1111").reading.problems)


def test_a_long_file_is_made_numbers_of_once_as_long_as_it_is_whole(
    desk: Desk, open_desk: Callable[..., Desk], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("rounds.daybook.lines.JUST_THEN_NS", -10_000_000)
    desk.record(SetUp, container="R4", purpose="rearing")
    take(
        desk,
        log_of([20 + number % 7 / 10 for number in range(800)], minutes=3),
        container="R4",
    )
    right = open_desk("aaaa1111").reading.series("R4")
    parsed: list[str] = []
    read = logger_cache.read_series

    def counted(folder: Path, name: str, digest: str) -> object:
        parsed.append(name)
        return read(folder, name, digest)

    monkeypatch.setattr(logger_cache, "read_series", counted)
    again = open_desk("aaaa1111").reading.series("R4")
    assert not parsed
    assert [list(again.days), list(again.temperatures_c)] == [
        list(right.days),
        list(right.temperatures_c),
    ]

    assert desk.book.beside is not None
    (kept,) = desk.book.beside.with_suffix(".readings").iterdir()
    whole = kept.read_bytes()
    for harmed in (whole[:-9], whole.replace(b'"read_as":1', b'"read_as":0'), b"", b"{}\n\n"):
        kept.write_bytes(harmed)
        parsed.clear()
        assert list(open_desk("aaaa1111").reading.series("R4").days) == list(right.days)
        assert len(parsed) == 1
    assert kept.read_bytes() == whole

    (file,) = (desk.book.folder / "series").iterdir()
    file.write_text(file.read_text().replace(",20.1,", ",27.1,"))
    changed = open_desk("aaaa1111")
    assert "is not as it was written" in " ".join(changed.reading.problems)
    assert max(changed.reading.series("R4").temperatures_c) == 27.1
