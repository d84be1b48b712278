"""Keys and pages in a pseudo-terminal of 80x24, against a bare table there; each line of the promise has its bar.

Run: python -m tests.benchmarks.bench_terminal [--keep FOLDER] [--only start,keys,pages,marked,checks,shell,many,memory] [--times N]

Ours and the baseline take turns in one run. The first and last byte after a key are those that come before the program is
at rest: nothing drawn for 80 ms, and no processor time spent in them.
"""

from __future__ import annotations

import argparse
import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

from rounds.app.startup import open_desk
from rounds.checks.due import all_dues
from tests.benchmarks.long_book import write_book
from tests.benchmarks.terminal import Answer, Terminal, rounds

BOOKS = {"long": (1_000_000, 100), "wide": (100_000, 500), "many": (100_000, 5_000)}
TABLE = """
from textual.app import App
from textual.widgets import DataTable
class Bare(App):
    def compose(self):
        yield DataTable(cursor_type="row")
    def on_mount(self):
        table = self.query_one(DataTable)
        table.add_columns("a", "b", "c", "d", "e", "f")
        for number in range(ROWS):
            table.add_row(f"C{number}", "rearing: 11 L3 inachus", "12 h", "violet 9 h", "ok 2 h", "look 18:00")
Bare().run()
"""
EMPTY = TABLE.replace("ROWS", "0")
IMPORTS = "import msgspec, tinydb, argparse"
DOWN, UP, ESCAPE, END, ENTER = "\x1b[B", "\x1b[A", "\x1b", "\x1b[F", "\r"
FRAME_MS, FLUSHES, BENCH = 16.0, 20, ESCAPE * 2
BETWEEN_KEYS_S = 0.05
BETWEEN_PRESSES_S, PURPOSES = 1.0, 12  # sooner the same key is a held one
MARKED = 100
PAGES: dict[str, tuple[Sequence[str], str]] = {  # the keys before, and the one that is measured
    "laying, days": ((), "i"),
    "broods": ((), "z"),
    "a brood": (("z",), ENTER),
    "batches": ((), "8"),
    "coming": ((), "."),
    "coming, outcomes": ((".",), "c"),
    "card, of a page": ((END, *(UP,) * 30, "\x1b[D", "\x1b[C"), "\x1b[C"),
    "learned": ((), "6"),
    "overdue": ((), "v"),
    "daybook": ((), "y"),
    "plan": ((), "p"),
}


def told(what: str, values: Sequence[float], bar: float | None = None, unit: str = "ms") -> None:
    """A line of the table."""
    low, mid, high = min(values), statistics.median(values), max(values)
    kept = "" if bar is None else f"  <= {bar:g}: {'met' if mid <= bar else 'NOT MET'}"
    print(f"{what:<66} {low:9.2f} {mid:9.2f} {high:9.2f} {unit}{kept}", flush=True)


@contextmanager
def running(terminal: Terminal) -> Iterator[Terminal]:
    """A program whose first page is there, and its end."""
    try:
        terminal.started()
        yield terminal
    finally:
        terminal.close()


def table(rows: int) -> Terminal:
    """A bare table of so many rows."""
    return Terminal([sys.executable, "-c", TABLE.replace("ROWS", str(rows))])


def lasts(answers: Sequence[Answer]) -> list[float]:
    """The last bytes."""
    return [one.last for one in answers]


def keys(book: Path, name: str, rows: int, times: int) -> None:
    """Arrows and a feeding, against the arrow of a bare table."""
    ours: list[Answer] = []
    drank: list[Answer] = []
    theirs: list[Answer] = []
    with running(rounds(book)) as here, running(table(rows)) as there:
        only_females(here)
        there.key(END)
        for turn in range(times):
            ours.append(here.key(UP))
            theirs.append(there.key(UP))
            if turn % 2:
                answer = here.key("d")
                if b"saved" in answer_text(here):
                    drank.append(answer)
    told(f"{name}, arrow: first byte", [one.first for one in ours])
    told(f"{name}, arrow: last byte", lasts(ours), FRAME_MS)
    told("   a bare table", lasts(theirs))
    ratios = [one.last / other.last for one, other in zip(ours, theirs, strict=True)]
    told("   ratio", ratios, unit="")
    flush = statistics.median(flushes(book.parent))
    told(
        f"{name}, 'd' ({len(drank)}): last byte, bar a frame and a flush",
        lasts(drank),
        FRAME_MS + flush,
    )


def only_females(terminal: Terminal) -> None:
    """Show only cups whose females lay, and highlight the last."""
    for _ in range(PURPOSES):
        terminal.key("g")
        if b"only laying" in terminal.drawn:
            break
        time.sleep(BETWEEN_PRESSES_S)
    terminal.key(END)


def answer_text(terminal: Terminal) -> bytes:
    """What was drawn after the last key."""
    return terminal.drawn


def flushes(folder: Path) -> list[float]:
    """How long a line appended and flushed there takes [ms]."""
    spent = []
    with (folder / "flushed").open("ab") as file:
        for _ in range(FLUSHES):
            begun = time.perf_counter()
            file.write(b"x" * 200 + b"\n")
            file.flush()
            os.fsync(file.fileno())
            spent.append((time.perf_counter() - begun) * 1000)
    return spent


def pages(book: Path, name: str, times: int) -> None:
    """Each page, the first time and again, and what the first that looks back takes of memory."""
    with running(rounds(book)) as here:
        before = here.memory_mb()
        for page, (way, key) in PAGES.items():
            answers = []
            for _ in range(times):
                for sign in way:
                    here.key(sign)
                    time.sleep(BETWEEN_PRESSES_S if sign == key else BETWEEN_KEYS_S)
                answers.append(here.key(key))
                assert answers[-1].size, f"{page}: nothing was drawn"
                time.sleep(BETWEEN_KEYS_S)
                back(here)
            told(f"{name}, {page}: the first time, last byte", lasts(answers[:1]), 100)
            told("   again", lasts(answers[1:]), 100)
            if page == "laying, days":
                told("   memory over the bench", [here.memory_mb() - before], 30, "MB")


def back(terminal: Terminal) -> None:
    """Back to the bench, from wherever; a held escape is one press."""
    for _ in range(2):
        terminal.key(ESCAPE)
        time.sleep(1)


def marked(book: Path, name: str) -> None:
    """An answer for a hundred marked cups, and for half and a quarter as many."""
    for number in (MARKED // 4, MARKED // 2, MARKED):
        with running(rounds(book)) as here:
            only_females(here)
            here.key(" ")
            for _ in range(number - 1):
                here.key(UP)
                here.key(UP)  # a mark goes on to the next
                here.key(" ")
            name_of = f"{name}, 'd' for {number} marked cups"
            answer = here.key("d")
            assert here.drawn.count(b"drank") > 0
            told(name_of, [answer.last], 1.0 * number + FRAME_MS)


def checks(times: int) -> None:
    """All checks of a thousand containers with forecasts."""
    with tempfile.TemporaryDirectory() as folder:
        book = Path(folder) / "book"
        write_book(book, 20_000, 1_000, until())
        desk = open_desk(book)
        spent, kept = [], []
        for _ in range(times):
            begun = time.perf_counter()
            all_dues(desk.bench, desk.moment(), foresight=desk.foresight)
            spent.append((time.perf_counter() - begun) * 1000)
            begun = time.perf_counter()
            desk.dues()
            kept.append((time.perf_counter() - begun) * 1000)
        told("all checks of 1,000 containers with forecasts", spent, 10)
        told("   where nothing changed", kept)


def ran(*arguments: str) -> float:
    """How long a process takes [ms]."""
    environment = {
        name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"
    }
    begun = time.perf_counter()
    subprocess.run([sys.executable, *arguments], check=True, capture_output=True, env=environment)
    return (time.perf_counter() - begun) * 1000


def shell(book: Path, name: str, times: int) -> None:
    """Commands at the prompt against the imports that they cannot do without."""
    of = ("--book", str(book))
    commands: dict[str, Callable[[], float]] = {
        "rounds due": lambda: ran("-m", "rounds", "due", *of),
        "rounds log": lambda: ran("-m", "rounds", "log", *of, "note", "the sill is dry"),
    }
    for said, command in commands.items():
        command()
        pairs = [(command(), ran("-c", IMPORTS)) for _ in range(times)]
        told(f"{name}, {said} / {IMPORTS}", [one / other for one, other in pairs], 2.0, "")


def starts(book: Path, name: str, times: int, bar: float, baseline: Callable[[], Terminal]) -> None:
    """Starting to the last byte of the first page, as a ratio."""
    ratios = []
    for _ in range(times):
        spent = []
        for program in (lambda: rounds(book), baseline):
            terminal = program()
            spent.append(terminal.started().last)
            terminal.close()
        ratios.append(spent[0] / spent[1])
    told(f"start, {name}", ratios, bar, "")


def memory(book: Path, presses: int) -> None:
    """What ten thousand keys leave behind."""
    with running(rounds(book)) as here:
        sizes = []
        for press in range(presses):
            here.key((DOWN, UP, DOWN, "i", "")[press % 4])
            if press % (presses // 10) == presses // 20:
                sizes.append(here.memory_mb())
        told(f"memory over {presses} keys, at each tenth", sizes, sizes[0] + 3, "MB")


def until() -> datetime:
    """The benches were tended until some minutes ago."""
    return datetime.now(UTC).replace(microsecond=0) - timedelta(minutes=6)


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--keep", type=Path, help="a folder for the books, to measure them again")
    parser.add_argument("--only", default="start,keys,pages,marked,checks,shell,many")
    parser.add_argument("--times", type=int, default=9)
    parser.add_argument("--books", default="wide,long")
    options = parser.parse_args()
    wanted = options.only.split(",")
    with tempfile.TemporaryDirectory() as named:
        folder = options.keep or Path(named)
        os.environ["HOME"] = str(folder / "home")
        chosen = [*options.books.split(","), *(["many"] if "many" in wanted else [])]
        for book in chosen:
            if not (folder / book).exists():
                write_book(folder / book, *BOOKS[book], until())
                with running(rounds(folder / book)) as first:
                    first.key("q")
        print(f"{'':<66} {'min':>9} {'median':>9} {'max':>9}")
        for book in options.books.split(","):
            entries, containers = BOOKS[book]
            name = f"{entries:,} entries, {containers}"
            if "start" in wanted:
                starts(
                    folder / book,
                    name,
                    options.times,
                    1.2,
                    lambda: Terminal([sys.executable, "-c", EMPTY]),
                )
            if "keys" in wanted:
                keys(folder / book, name, containers, 4 * options.times)
            if "pages" in wanted:
                pages(folder / book, name, 3)
            if "shell" in wanted:
                shell(folder / book, name, options.times)
            if "memory" in wanted:
                memory(folder / book, 10_000)
        if "marked" in wanted:
            marked(folder / "wide", "500 containers")
        if "checks" in wanted:
            checks(options.times)
        if "many" in wanted:
            starts(
                folder / "many",
                "5,000 containers / 100",
                options.times,
                1.3,
                lambda: rounds(folder / "long"),
            )
            keys(folder / "many", "5,000 containers", 5_000, options.times)


if __name__ == "__main__":
    main()
