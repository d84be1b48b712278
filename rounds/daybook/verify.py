"""Going through a whole book: what is damaged, what does not agree, what others may read."""

from __future__ import annotations

import contextlib
from collections.abc import Iterable, Iterator
from datetime import UTC, datetime, timedelta, tzinfo
from pathlib import Path, PurePosixPath

import msgspec

from rounds.bench.cuttings import letters_given_twice
from rounds.bench.entry_ids import time_of_id
from rounds.bench.incremental_fold import History, bench_of, bytes_of
from rounds.bench.instants import COUNTS_AHEAD
from rounds.bench.old_records import rival_words
from rounds.bench.permits import not_on_record, without_permit_words
from rounds.bench.plurals import count
from rounds.bench.said_apart import met_apart
from rounds.bench.state import Bench
from rounds.bench.zones import zone_not_known
from rounds.daybook import photos
from rounds.daybook.book import accepted_in
from rounds.daybook.checkpoint import Checkpoint
from rounds.daybook.files import digest_of, files_of, leftovers, readable_by_others
from rounds.daybook.full_read import FullRead
from rounds.daybook.gaps import lacking_words
from rounds.daybook.identity import Identity
from rounds.daybook.kept_aside import KeptAside, kept_words
from rounds.daybook.line_counts import LineCounts
from rounds.daybook.lines import (
    EMPTY,
    NEWER,
    Position,
    Problem,
    Progress,
    entry_files,
    id_of,
    in_the_place_of_files,
    is_copy,
    newer_words,
    stands_elsewhere,
    still_broken,
    without_end,
)
from rounds.daybook.machine_memory import cannot_remember
from rounds.daybook.own_lines import OwnLines
from rounds.daybook.partial import Partial, missed_words
from rounds.daybook.safe_files import NOT_FOLLOWED, read_plain
from rounds.daybook.series import read_series
from rounds.daybook.storage import ASIDE
from rounds.daybook.which_book import WhichBook
from rounds.daybook.writer import Writer
from rounds.entries.base import Entry
from rounds.entries.registry import LoggerRead, Photo, Taxon
from rounds.entries.taken_back import still_guarded, still_guarded_words

CLOCKS_AGREE_WITHIN = timedelta(minutes=10)
MAX_OF_A_SORT = 200
TAKEN_OUT = (
    "{} recorded on this machine had been taken out by others; whoever opens the book here next"
    " writes them again"
)
CROSS_OUT = "cross it out in the daybook if a clock was wrong"


class Finding(msgspec.Struct, frozen=True):
    """One thing found: its sort, where (a file, 0 where not on one line), and in words."""

    sort: str
    text: str
    file: str = ""
    line: int = 0

    @property
    def problem(self) -> Problem:
        """The same as it is told when the book is opened; there an end that is torn has no line of
        its own yet."""
        return Problem(self.file, 0 if self.sort == "torn" else self.line, self.text)


class VerifyReport(msgspec.Struct):
    """What a book holds, what was found wrong, and what is only worth knowing."""

    files: int = 0
    lines: int = 0
    entries: int = 0
    found: list[Finding] = msgspec.field(default_factory=list)
    told: list[Finding] = msgspec.field(default_factory=list)


def examine(
    folder: Path, name: str, now: datetime, progress: Progress | None = None, zone: tzinfo = UTC
) -> VerifyReport:
    """Read all of a book and change nothing.

    Args:
        folder: the book.
        name: the writer's, where it was given one; else empty.
        now: the present instant.
        progress: told how far it is.
        zone: this machine's.

    Raises:
        OSError: the folder cannot be read.
    """
    report = VerifyReport()
    identity = Identity(folder)
    beside = WhichBook(folder, name, identity).beside
    writer = Writer(folder, name, beside)
    own_lines = OwnLines(folder, identity, beside)
    # before the files are read: others may write meanwhile
    remembered = LineCounts(folder, beside, writer, own_lines)
    files, left = files_of(folder)
    report.files = len(files)
    report.found += _permissions(folder)
    report.found += [Finding(_sort_of(one.why), one.why, str(one.path)) for one in left]
    told = {str(file.path) for file in left}
    report.found += [
        Finding(_sort_of(one.text), one.text, one.file)
        for one in in_the_place_of_files(folder)
        if one.file not in told
    ]
    _ends(folder, report)
    past = FullRead(folder, progress, now + COUNTS_AHEAD)
    seen = _Seen(folder, now, {str(path) for path in files})
    seen.waiting = {found for line in KeptAside(identity, beside).lines() if (found := id_of(line))}
    history = History.read(seen.through(past.parts()), past.count, past.strikes)
    for _ in seen.through(iter([past.ahead])):
        pass
    report.lines = sum(mark.number for mark in past.position.values())
    report.entries = seen.entries
    report.found += [
        Finding("damage", one.text, one.file, one.number)
        for one in still_broken(folder, past.problems)
        if one.text != NEWER
    ]
    twice = "two lines under one id"
    report.found += [Finding(twice, one.text, one.file, one.number) for one in past.contradicting]
    partial = Partial(past.partial.values())
    report.found += [
        Finding("not whole", missed_words(lines))
        for lines in partial.missed(history.bench.imports, history.struck, past.strikes)
    ]
    report.found += [Finding("versions", words) for words in rival_words(history.bench.imports)]
    if past.newer:
        report.found.append(Finding("newer", newer_words(past.newer)))
    report.found += seen.found
    if seen.waiting:
        report.found.append(Finding("not saved", kept_words(len(seen.waiting))))
    for oddity in history.bench.oddities:
        text = f"{oddity.at:%Y-%m-%d %H:%M} {oddity.text} (line {oddity.entry})"
        # one that fits all the same is told: what is found is what the screens count
        (report.found if oddity.said else report.told).append(Finding("disagreement", text))
    bench = history.bench
    report.found += [Finding("lacking", lacking_words(code)) for code in bench.lacking]
    report.found += [Finding(sort, words) for sort, words in met_apart(bench)]
    report.found += [Finding("one letter for two", words) for words in letters_given_twice(bench)]
    if unknown := zone_not_known(bench.settings.get("zone", ""), bench.newest, zone):
        report.told.append(Finding("zone", unknown))
    report.told += [
        Finding("permit", f"{permit.number}: {words}")
        for permit in bench.permits.values()
        if (words := without_permit_words(bench, permit))
    ]
    kept = still_guarded(bench, [one for one in seen.taxa if one.id in history.struck])
    report.told += [Finding("protected", words) for words in still_guarded_words(bench, kept)]
    report.told += [Finding("permit", words) for words in not_on_record(bench).values()]
    report.found += _series(folder, [one for one in seen.reads if one.id not in history.struck])
    _checkpoint(Checkpoint(folder, writer), past, bench, report)
    with contextlib.suppress(OSError):  # told with the damage
        if gone := own_lines.taken_out():
            report.found.append(Finding("lost", TAKEN_OUT.format(count(len(gone), "line"))))
    report.found += [
        Finding("lost", problem.text, problem.file) for problem in remembered.compare(past.position)
    ]
    accepted = accepted_in(beside)
    report.told += [one for one in report.found if str(one.problem) in accepted]
    report.found = [finding for finding in report.found if str(finding.problem) not in accepted]
    report.told += _worth_knowing(folder, files, past)
    if not_kept := cannot_remember(beside):
        report.told.append(Finding("memory", not_kept))
    return report


def _sort_of(why: str) -> str:
    return {NOT_FOLLOWED: "link", EMPTY: "empty"}.get(why, "no file of the book")


def _permissions(folder: Path) -> Iterator[Finding]:
    """What others may read."""
    for one, mode in readable_by_others(folder):
        right = "700" if not one or (folder / one).is_dir() else "600"
        text = f"others may read it (mode {mode:03o}); chmod {right} it"
        yield Finding("permissions", text, one or folder.name)


class _Seen:
    """Looks at each entry on its way into the bench."""

    def __init__(self, folder: Path, now: datetime, files: set[str]) -> None:
        self.entries = 0
        self.found: list[Finding] = []
        self.reads: list[LoggerRead] = []
        self.taxa: list[Taxon] = []
        # ids of lines that are kept aside and were not met in the book
        self.waiting: set[str] = set()
        self._folder = folder
        self._now = now
        self._files = files

    def through(self, parts: Iterator[list[Entry]]) -> Iterator[list[Entry]]:
        for part in parts:
            self.entries += len(part)
            for entry in part:
                self.waiting.discard(entry.id)
                odd = self._clock(entry)
                if odd:
                    self._add("clock", f"{odd} (line {entry.id})")
                if isinstance(entry, Photo):
                    self._photo(entry)
                if isinstance(entry, LoggerRead):
                    self.reads.append(entry)
                if isinstance(entry, Taxon):
                    self.taxa.append(entry)
            yield part

    def _photo(self, entry: Photo) -> None:
        """Whether the picture that an entry speaks of is there, and is that one."""
        if ".." in PurePosixPath(entry.file).parts:
            self._add("photo", f"{entry.file} leads out of the book (line {entry.id})")
        elif not entry.file.startswith(f"{photos.FOLDER}/"):
            return
        elif entry.file not in self._files:
            self._add("photo", f"{entry.file} is not there (line {entry.id})")
        elif entry.digest and digest_of(self._folder / entry.file) != entry.digest:
            other = "holds another picture than was taken in"
            self._add("photo", f"{entry.file} {other} (line {entry.id})")

    def _add(self, sort: str, text: str) -> None:
        if sum(finding.sort == sort for finding in self.found) < MAX_OF_A_SORT:
            self.found.append(Finding(sort, text))

    def _clock(self, entry: Entry) -> str:
        """What is odd about an entry's times."""
        if entry.at > self._now + COUNTS_AHEAD:
            return (
                f"{entry.what} of {entry.at:%Y-%m-%d %H:%M} is still to come and does not count"
                f" until then; {CROSS_OUT}"
            )
        if entry.logged > self._now + CLOCKS_AGREE_WITHIN:
            return f"was typed at {entry.logged:%Y-%m-%d %H:%M}, which is still to come"
        if entry.at > entry.logged + CLOCKS_AGREE_WITHIN:
            return (
                f"happened at {entry.at:%Y-%m-%d %H:%M}, after it was typed at"
                f" {entry.logged:%Y-%m-%d %H:%M}"
            )
        made = time_of_id(entry.id)
        if made is not None and made < 253_000_000_000_000:  # the year 9987
            by_id = datetime.fromtimestamp(made / 1000, UTC)
            if by_id > entry.logged + CLOCKS_AGREE_WITHIN:
                return (
                    f"was typed at {entry.logged:%Y-%m-%d %H:%M} by a clock that had been at"
                    f" {by_id:%Y-%m-%d %H:%M} UTC before"
                )
        return ""


def _ends(folder: Path, report: VerifyReport) -> None:
    """Entry files whose last line has no end."""
    files = entry_files(folder)
    for path in files:
        try:
            data = read_plain(path)
        except OSError:
            continue  # told with the damage
        torn = len(data) - data.rfind(b"\n") - 1
        if torn and not stands_elsewhere(path, files):
            number = data.count(b"\n") + 1
            report.found.append(Finding("torn", without_end(torn), path.name, number))


def _series(folder: Path, reads: Iterable[LoggerRead]) -> Iterator[Finding]:
    """What is wrong in files of loggers' readings."""
    for one in {read.file: read for read in reads}.values():
        for problem in read_series(folder, one.file, one.digest).problems:
            sort = "logger" if problem.number else "series"
            yield Finding(sort, problem.text, problem.file, problem.number)


def _checkpoint(checkpoint: Checkpoint, past: FullRead, bench: Bench, report: VerifyReport) -> None:
    if not checkpoint.path.exists():
        return
    believed = checkpoint.load()
    name = checkpoint.path.name
    if believed is None:
        text = "is out of date or damaged; the next start makes it anew"
    elif _offsets(believed[1].position) != _offsets(past.position):
        text = "is good as far as its bytes tell; lines were said since"
    elif History(believed[0]).bench != bench_of(bytes_of(bench)):
        report.found.append(Finding("checkpoint", "does not agree with the lines; delete it", name))
        return
    else:
        text = "agrees with the lines"
    report.told.append(Finding("checkpoint", text, name))


def _offsets(position: Position) -> dict[str, int]:
    return {file: mark.offset for file, mark in position.items()}


def _worth_knowing(folder: Path, files: list[PurePosixPath], past: FullRead) -> Iterator[Finding]:
    for below in files:
        if below.parts[0] == ASIDE:
            size = (folder / below).stat().st_size
            text = f"{size} bytes of a line that was broken off"
            yield Finding("set aside", text, str(below))
    text = "is a second copy that a synchroniser left; its lines are read, each once"
    yield from (Finding("copy", text, path.name) for path in entry_files(folder) if is_copy(path))
    for name in leftovers(folder):
        yield Finding("left over", "of a write that was broken off; it may be deleted", name)
    if past.again:
        yield Finding("repeated", f"{past.again} lines stand there more than once and count once")
