"""``rounds temperatures FILE``: a logger's readings come into the book."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta, timezone, tzinfo
from pathlib import Path

from rounds import late
from rounds.app.desk import Desk, Recorded
from rounds.bench.plurals import count
from rounds.bench.state import Bench
from rounds.bench.zones import zone_named
from rounds.daybook.safe_files import read_given
from rounds.entries.registry import Air
from rounds.exchange.loggers import Log, ReadingOptions, UnclearFile, read_log
from rounds.exchange.loggers.daily import DailyLog, DayRead, read_days
from rounds.exchange.loggers.intake import New, holes_in, new_readings, take_in
from rounds.exchange.tables_in.sheet import as_text
from rounds.exchange.tables_in.unclear import UnclearTable
from rounds.shell.open_book import desk_of, tell_gaps
from rounds.shell.terminal import refused, say
from rounds.views.json_out import as_json
from rounds.views.words import age, literal

MAX_BYTES = 500_000_000
TELL_EVERY = 100_000  # lines between two words of progress where no terminal shows them
_OFFSET = late.pattern(r"^([+-])(\d{2}):?(\d{2})$")
_WISHED = ("date_order", "unit", "temperature", "humidity", "time", "device")


def temperatures(options: argparse.Namespace) -> int:
    """Read the file and take its new readings in; 1 where it was refused, 130 where it was
    stopped."""
    try:
        return _temperatures(options)
    except KeyboardInterrupt:
        print("\nrounds: stopped; nothing was taken in", file=sys.stderr)
        return 130


def _temperatures(options: argparse.Namespace) -> int:
    desk = desk_of(options)
    tell_gaps(desk)
    zone = _zone(options.zone, desk)
    if zone is None:
        return refused(f"--zone is '{options.zone}'; it must be as Europe/Paris, UTC or +01:00", 2)
    place = _place(options.place, desk.bench)
    if place is None:
        return refused(
            f"no container or shelf is called {options.place}; {_places_told(desk.bench)}"
        )
    path = Path(options.file).expanduser()
    if path.stat().st_size > MAX_BYTES:
        most = f"{MAX_BYTES // 1_000_000} MB"
        return refused(f"{path.name} is longer than {most}; give the logger's file in parts")
    try:
        raw = as_text(path, read_given(path))
    except UnclearTable as unclear:
        return refused(unclear.line)
    container, shelf = place
    log = _read(raw, options, desk, zone)
    if isinstance(log, str):
        return refused(log)
    if isinstance(log, DailyLog):
        return _take_days(desk, log, container, shelf, options)
    new = new_readings(
        log, desk.reading.logged.readings(desk.bench.logged.get(container or shelf, []))
    )
    told = _Told(desk, options.file, _place_words(container, shelf), log, new)
    outcome = None
    if new.seconds and not options.dry_run:
        outcome = take_in(desk, new, container=container, shelf=shelf, source=path.name)
        if not isinstance(outcome, Recorded):
            return refused(outcome.line)
    if options.json:
        print(as_json("temperatures", told.data(outcome, dry_run=options.dry_run)))
    else:
        say(told.lines(outcome, dry_run=options.dry_run))
    return 0


def _place_words(container: str, shelf: str) -> str:
    return container or (f"shelf {shelf}" if shelf else "the room")


def _zone(name: str, desk: Desk) -> tzinfo | None:
    offset = _OFFSET.match(name)
    if offset:
        span = timedelta(hours=int(offset[2]), minutes=int(offset[3]))
        return timezone(-span if offset[1] == "-" else span) if span < timedelta(hours=16) else None
    return zone_named(name) if name else desk.zone


def _place(name: str, bench: Bench) -> tuple[str, str] | None:
    """The container and the shelf that are meant, both empty for the room."""
    text = name.strip().casefold()
    if text in ("room", ""):
        return "", ""
    codes = {container.code.casefold(): container.code for container in bench.standing()}
    shelves = {shelve.casefold(): shelve for shelve in bench.shelves}
    if text in codes:
        return codes[text], ""
    shelf = shelves.get(text.removeprefix("shelf ").strip())
    return ("", shelf) if shelf else None


def _places_told(bench: Bench) -> str:
    known = [
        *(container.code for container in bench.standing()),
        *(f"shelf {shelve}" for shelve in bench.shelves),
    ]
    more = " and more" if len(known) > 12 else ""
    return f"there are {', '.join(known[:12])}{more}, and room" if known else "there is room"


def _take_days(
    desk: Desk, log: DailyLog, container: str, shelf: str, options: argparse.Namespace
) -> int:
    """Say each day's lowest and highest as it would be read off a thermometer at its end.

    Those that the book has are passed over, and those that the door refuses told.
    """
    known = {air.at for air in desk.bench.air.get(container or shelf, [])}
    new = [day for day in log.days if day.at not in known]
    lines = [options.file, *(f"  {line}" for line in log.taken)]
    lines.append(f"  place: {_place_words(container, shelf)}")
    lines += [f"  left out {count(one.count, 'line')}: {one.why}" for one in log.not_taken]
    refused: dict[str, list[DayRead]] = {}
    for day in new if not options.dry_run else ():
        read = {"low_c": day.low_c, "high_c": day.high_c, "sure": True}
        outcome = desk.record(Air, day.at, container=container, shelf=shelf, **read)
        if not isinstance(outcome, Recorded):
            refused.setdefault(outcome.line, []).append(day)
    lines += [f"  left out {count(len(some), 'day')}: {why}" for why, some in refused.items()]
    taken = len(new) - sum(map(len, refused.values()))
    number = f"lowest and highest of {count(taken, 'new day')}"
    end = f"not taken in, for --dry-run was given: {number}" if options.dry_run else ""
    lines.append(end or (f"taken in: {number}" if taken else "nothing new was taken in"))
    if options.json:
        told = {
            "file": options.file,
            "taken": list(log.taken),
            "days": len(log.days),
            "new": taken,
            "dry_run": options.dry_run,
        }
        print(as_json("temperatures", told))
    else:
        say(lines)
    return 0


def _read(
    raw: bytes, options: argparse.Namespace, desk: Desk, zone: tzinfo
) -> Log | DailyLog | str:
    """The readings, or days with their lowest and highest.

    What the file does not tell is asked where somebody is there, else a line says why they cannot
    be had.
    """
    wishes = ReadingOptions(**{field: getattr(options, field) for field in _WISHED})
    while True:
        try:
            daily = read_days(raw, zone=zone, now=desk.now(), wishes=wishes)
            if daily is not None:
                return daily
            return read_log(
                raw,
                zone=zone,
                zone_name=options.zone or str(desk.zone),
                zone_said=bool(options.zone),
                now=desk.now().timestamp(),
                wishes=wishes,
                progress=_progress(),
            )
        except UnclearFile as unclear:
            answer = _asked(unclear)
            if not answer:
                return unclear.line
            wishes = replace(wishes, **{unclear.option.replace("-", "_"): answer})


def _asked(unclear: UnclearFile) -> str:
    """The keeper's answer, one of the choices; empty where nobody can be asked or nothing was
    answered."""
    if not unclear.choices or not (sys.stdin.isatty() and sys.stderr.isatty()):
        return ""
    print(literal(unclear.line), file=sys.stderr)
    while True:
        asked = f"{' or '.join(unclear.choices)}, or nothing to stop: "
        print(asked, end="", file=sys.stderr, flush=True)
        answer = sys.stdin.readline().strip().casefold()
        if not answer or answer in (choice.casefold() for choice in unclear.choices):
            return answer


def _progress() -> Callable[[int, int], None]:
    """Tells on standard error how many lines are done: over and over on one line of a terminal,
    else now and then."""
    shown = sys.stderr.isatty()

    def tell(done: int, lines: int) -> None:
        if lines < TELL_EVERY or not done or (not shown and done % TELL_EVERY and done != lines):
            return
        begin, end = ("\r", "\n" if done == lines else "") if shown else ("", "\n")
        print(f"{begin}  read {done:,} of {lines:,} lines", end=end, file=sys.stderr, flush=True)

    return tell


class _Told:
    """What came of a file, for people and for scripts."""

    def __init__(self, desk: Desk, file: str, place: str, log: Log, new: New) -> None:
        self._zone = desk.zone
        self._measures = desk.measures
        self._file = file
        self._place = place
        self._log = log
        self._new = new
        self._holes = holes_in(log.seconds)

    def _at(self, seconds: float) -> datetime:
        return datetime.fromtimestamp(seconds, self._zone)

    def lines(self, outcome: object, *, dry_run: bool) -> list[str]:
        """The lines to print."""
        log, new = self._log, self._new
        first, last = self._at(log.seconds[0]), self._at(log.seconds[-1])
        low_c, high_c = min(log.temperatures_c), max(log.temperatures_c)
        warmth = self._measures.in_words(f"{low_c:.4g} to {high_c:.4g} C")
        ends = f"{last:%a %d %b %Y %H:%M}, {warmth}"
        another = "; --place names another" if self._place == "the room" else ""
        texts = [
            self._file,
            *(f"  {line}" for line in log.taken),
            f"  place: {self._place}{another}",
            f"  {count(len(log.seconds), 'reading')} from {first:%a %d %b %Y %H:%M} to {ends}",
        ]
        if self._holes:
            start, end = max(self._holes, key=lambda hole: hole[1] - hole[0])
            texts.append(
                f"  {count(len(self._holes), 'hole')} longer than 3 h; the longest"
                f" {age(end - start)} from {start.astimezone(self._zone):%a %d %b %Y %H:%M}"
            )
        for left_out in log.not_taken:
            numbers = ", ".join(str(line) for line in left_out.lines)
            more = " and on" if left_out.count > len(left_out.lines) else ""
            which = f"{'line' if left_out.count == 1 else 'lines'} {numbers}{more}"
            lines = count(left_out.count, "line")
            texts.append(f"  left out {lines}: {left_out.why} ({which})")
        if new.known:
            are = "is" if new.known == 1 else "are"
            times = f"{count(new.known, 'reading')} of these times"
            texts.append(f"  {times} {are} in the book already")
        if new.differing:
            texts.append(f"  {new.differing} of them with another temperature; the book's stays")
        return [*texts, self._end(outcome, dry_run=dry_run)]

    def _end(self, outcome: object, *, dry_run: bool) -> str:
        number = count(len(self._new.seconds), "new reading")
        if not self._new.seconds:
            return "nothing new: every reading is in the book already"
        if dry_run or not isinstance(outcome, Recorded):
            return f"not taken in, for --dry-run was given: {number}"
        return f"taken in: {number}, {getattr(outcome.entry, 'file', '')}  {outcome.entry.id}"

    def data(self, outcome: object, *, dry_run: bool) -> dict[str, object]:
        """The same as data: instants as RFC 3339 in the bench's zone."""
        log, new = self._log, self._new
        entry = outcome.entry if isinstance(outcome, Recorded) else None
        return {
            "file": self._file,
            "place": self._place,
            "taken": list(log.taken),
            "readings": len(log.seconds),
            "from": self._at(log.seconds[0]).isoformat(),
            "to": self._at(log.seconds[-1]).isoformat(),
            "low_c": min(log.temperatures_c),
            "high_c": max(log.temperatures_c),
            "holes": [
                [at.astimezone(self._zone).isoformat() for at in hole] for hole in self._holes
            ],
            "left_out": [
                {"why": one.why, "count": one.count, "lines": list(one.lines)}
                for one in log.not_taken
            ],
            "known": new.known,
            "differing": new.differing,
            "new": len(new.seconds),
            "dry_run": dry_run,
            "series": getattr(entry, "file", None),
            "entry": entry.id if entry else None,
        }
