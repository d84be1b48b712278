"""How stories are told: keys in the real screens, lines at the prompt, questions on lines, and commands."""

from __future__ import annotations

import json
import re
import zipfile
from collections.abc import AsyncIterator, Iterable, Iterator
from contextlib import asynccontextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from textual.pilot import Pilot
from textual.widgets import Static

from rounds.app import startup
from rounds.app.desk import Desk, Recorded, Refusal
from rounds.app.prompt_line import preview, say_phrase
from rounds.daybook import Daybook
from rounds.forecasts.stage_ends import ComingChange
from rounds.screens.app import RoundsApp
from rounds.screens.bench_screen import BenchScreen
from rounds.screens.question import QuestionBar
from rounds.screens.rowlist import RowList
from rounds.shell.round import PlainRound
from tests.command import commanded
from tests.conftest import Clock, Hand, demo_told

ZONE = ZoneInfo("Europe/Paris")


@dataclass
class Ran:
    """What a command printed and how it ended."""

    out: str
    err: str
    status: int


@dataclass
class Screen:
    """The real screens, driven by keys."""

    app: RoundsApp
    pilot: Pilot[None]

    async def press(self, *keys: str) -> None:
        """Press keys one after the other; a word of several letters is a key's name, as 'enter'."""
        for key in keys:
            await self.pilot.press(key)

    async def type(self, line: str) -> None:
        """Open the prompt, clear it, type a line letter by letter, and press Enter."""
        await self.press("t", "ctrl+u")
        await self.pilot.press(*(_KEY_NAMES.get(letter, letter) for letter in line))
        await self.press("enter")

    def highlight(self, code: str) -> None:
        """Put the cursor of the list on a container, and on the bench open its card."""
        assert self.app.screen.query_one(RowList).highlight(code), f"{code} is not in the list"
        if isinstance(self.app.screen, BenchScreen) and self.app.screen.query_one(
            "#card"
        ).has_class("-folded"):
            self.app.screen.action_open_card()

    async def walk_to(self, check: str, where: str) -> None:
        """In the round: pass over what is asked until a check of a container is asked."""
        for _ in range(80):
            bar = self.app.screen.query_one(QuestionBar)
            if bar.due is None:
                await self.press("enter")
            elif bar.due.where == where and check in self.checks:
                if len(self.checks) == 1:
                    return
                await self.press("semicolon")
            else:
                await self.press("minus", "m")
        pytest.fail(f"{check} of {where} was not asked:\n{self.text}")

    @property
    def message(self) -> str:
        """The message line."""
        return str(self.app.screen.query_one("#message", Static).render())

    @property
    def words(self) -> str:
        """All words drawn on the screen, with one space between them."""
        return " ".join(self.text.split())

    @property
    def check(self) -> str:
        """The check that is asked; '' if none is."""
        bar = self.app.screen.query_one(QuestionBar)
        return bar.due.check if bar.due else ""

    @property
    def where(self) -> str:
        """The place that is asked about; '' if nothing is asked, or if it is the room."""
        bar = self.app.screen.query_one(QuestionBar)
        return bar.due.where if bar.due else ""

    @property
    def checks(self) -> list[str]:
        """All checks that the question answers at once; in the round it may be several."""
        page = getattr(self.app.screen, "page", None)
        return (
            [due.check for due in page.dues]
            if page is not None
            else [self.check]
            if self.check
            else []
        )

    @property
    def card(self) -> str:
        """The words of the card below the list, whatever lines they are cut into."""
        return " ".join(self.text.partition("▔")[2].partition("\n")[2].split())

    @property
    def text(self) -> str:
        """All text drawn on the screen, a row a line."""
        rows = []
        for strip in self.app.screen._compositor.render_strips():
            rows.append("".join(segment.text for segment in strip).rstrip())
        return "\n".join(rows)


_KEY_NAMES = {" ": "space"}


# A line that is suggested begins with a code of a container, of a new one, or of an animal, with a
# shelf, or with what is said of the whole bench; words of these are about one and no line.
_CODE = r"[A-Z]{1,3}-?\d[\w/-]*"
_BEGINS = re.compile(
    rf"(?:{_CODE}|sill|shelf|permit|brood|setting|room) (?!holds|stands?\b|does|did|is |are |was |has"
    r"|had|and |or |to |on record|comes?\b|came|goes|keeps|still |identified |each\b|drank already|misses|not\b|(?:\w+ ){1,2}(?:\d+ )?on \w{3} \d)"
)
_PARTS = re.compile(
    rf"; |[:?.] |,? (?:or|and):? (?={_CODE} )|,? (?=then {_CODE} )|, (?={_CODE} |where |that )|(?<!--) \("
)
ASKS = re.compile(r"say which|which plant|add 'sure'|already; if those are|\? ")


def suggested(told: str) -> list[str]:
    """The lines that a refusal says would be right; of those that follow each other the first."""
    parts = re.split(_PARTS, re.sub(r"there (?:are|is) [A-Z]+\d[^;]*", "", told))
    lines = (re.sub(r"^(?:or|first),? ", "", part).strip(" ,") for part in parts)
    return [line for line in lines if _BEGINS.match(line)]


class Story:
    """One keeper, one book, a clock that goes only when told."""

    def __init__(
        self, folder: Path, monkeypatch: pytest.MonkeyPatch, laptop: str = "aaaa1111"
    ) -> None:
        self.folder = folder
        self._laptop = laptop
        self.keeper = "KM"
        self.clock = Clock()
        self.hand = Hand()
        self._monkeypatch = monkeypatch
        self._ids = iter(range(int(laptop, 16) << 20, (int(laptop, 16) + 1) << 20))
        self._desk: Desk | None = None

    @property
    def desk(self) -> Desk:
        """The desk at the book; opened when first asked for."""
        if self._desk is None:
            self._desk = Desk(
                Daybook.open(self.folder, self._laptop),
                clock=self.clock,
                entropy=lambda size: next(self._ids).to_bytes(size, "big"),
                zone=ZONE,
                keeper=self.keeper,
            )
        return self._desk

    def reopen(self) -> None:
        """Close the lid and open the book again."""
        self._desk = None

    def on_other_laptop(self) -> Story:
        """The same book in the same folder, at the same time, at another laptop."""
        other = Story(self.folder, self._monkeypatch, laptop="bbbb2222")
        other.clock = self.clock
        return other

    def elsewhere(self) -> Story:
        """Another book in another folder, at the same time."""
        other = Story(self.folder.with_name("elsewhere"), self._monkeypatch, laptop="cccc3333")
        other.clock = self.clock
        return other

    def at(self, local: str) -> Story:
        """Set the clock to a local time, as '2027-05-01 07:05'."""
        self.clock.now = datetime.fromisoformat(local).replace(tzinfo=ZONE)
        return self

    def later(self, **span: float) -> Story:
        """Let time pass, as hours=2."""
        self.clock.on(**span)
        return self

    def type(self, *lines: str) -> list[str]:
        """Type lines at the prompt, each of which must be taken; what each is shown to have recorded."""
        recorded = []
        for line in lines:
            outcome = say_phrase(self.desk, line)
            assert isinstance(outcome, Recorded), f"{line!r}: {getattr(outcome, 'line', outcome)}"
            recorded.append(self.desk.told(list(outcome.entries)))
        return recorded

    def refused(self, line: str) -> str:
        """Type a line that must be refused; the reason."""
        outcome = say_phrase(self.desk, line)
        assert isinstance(outcome, Refusal), f"{line!r} was taken: {outcome}"
        self._takes_what_is_suggested(line, outcome.line)
        return outcome.line

    def _takes_what_is_suggested(self, line: str, told: str) -> None:
        """Each line that a refusal says would be right is taken on the same bench, or asks which of
        those that are there are meant, which no example can know; of lines that follow each other
        the first."""
        if "(as it stood" in told:
            return  # what was then may be no more: the line wants its own time
        for suggestion in suggested(told):
            shown, taken = preview(self.desk, suggestion)
            assert taken or ASKS.search(shown), f"{line!r}: {told}\n{suggestion!r}: {shown}"

    def preview(self, line: str) -> str:
        """What the prompt shows below a line before Enter."""
        return preview(self.desk, line)[0]

    def plain(self, lines: Iterable[str]) -> list[str]:
        """Walk the round on lines with these answers; all that was printed."""
        printed: list[str] = []
        PlainRound(self.desk, iter(lines), printed.append).go()
        return printed

    def shell(self, *arguments: str, typed: str = "") -> Ran:
        """Run ``rounds ...`` on this book at this clock."""
        defaults = startup.open_desk.__kwdefaults__
        assert defaults is not None
        self._monkeypatch.setitem(defaults, "clock", self.clock)
        for command in ("check", "due"):
            self._monkeypatch.setattr(f"rounds.shell.{command}.system_clock", self.clock)
        self._monkeypatch.setenv("ROUNDS_BOOK", str(self.folder))
        self._monkeypatch.setenv("TZ", ZONE.key)
        ran = commanded(*arguments, typed=typed)
        return Ran(ran.stdout, ran.stderr, ran.returncode)

    def due(self, container: str = "") -> dict[str, dict[str, Any]]:
        """What ``rounds due --json`` lists of a container (or of all), by check."""
        rows = json.loads(self.shell("due", "--json", "--within", "0h").out)["due"]
        return {row["check"]: row for row in rows if not container or row.get("where") == container}

    def on_disk(self) -> list[dict[str, Any]]:
        """Every entry as it lies in the book, the newest last."""
        lines: list[dict[str, Any]] = []
        for file in sorted(self.folder.glob("entries-*.jsonl")):
            lines += [json.loads(line) for line in file.read_text().splitlines()]
        return sorted(lines, key=lambda line: str(line.get("id", "")))

    @asynccontextmanager
    async def screens(self, size: tuple[int, int] = (80, 24)) -> AsyncIterator[Screen]:
        """The real screens at this book."""
        app = RoundsApp(self.desk, monotonic=self.hand)
        async with app.run_test(size=size) as pilot:
            await pilot.pause()
            yield Screen(app, pilot)


def tell_demo(story: Story) -> None:
    """The story of the demo, up to now."""
    story.desk.book.append_many(demo_told(story.clock.now, ZONE))
    story.reopen()


def tell(story: Story, text: str) -> None:
    """Type an indented block of lines; blank ones and those that begin with # are passed over."""
    story.type(*lines_of(text))


def lines_of(text: str) -> Iterator[str]:
    """The lines of an indented block."""
    for line in text.splitlines():
        if line.strip() and not line.lstrip().startswith("#"):
            yield line.strip()


async def shown(story: Story, code: str) -> str:
    """What the bench shows of a container, card and all."""
    async with story.screens(size=(160, 50)) as screen:
        screen.highlight(code)
        await screen.pilot.pause()
        return screen.text


def coming(story: Story, where: str, change: str = "hatch") -> ComingChange:
    found = story.desk.foresight.coming(story.desk.bench.containers[where])
    return next(one for one in found if one.change == change)


def there(story: Story, code: str = "R2") -> list[str]:
    """Each lot of a container in words."""
    lots = story.desk.bench.containers[code].lots
    return sorted(
        f"{lot.number} {f'L{lot.instar}' if lot.instar else lot.stage} {lot.brood}" for lot in lots
    )


def figures(story: Story, *words: str) -> dict[str, dict[str, Any]]:
    ran = story.shell("calc", *words, "--json")
    assert ran.status == 0, ran.err
    return {one["label"]: one for one in json.loads(ran.out)["figures"]}


def everything(file: Path) -> str:
    """All text of a file, of a ZIP that of all its members."""
    if file.suffix != ".zip":
        return file.read_text()
    with zipfile.ZipFile(file) as archive:
        return "\n".join(archive.read(name).decode() for name in archive.namelist())


def notes(folder: Path) -> list[str]:
    """The texts of all notes, read in the plainest way."""
    lines = [
        json.loads(line)
        for path in sorted(folder.glob("entries-*"))
        for line in path.read_bytes().splitlines()
    ]
    return [line["text"] for line in lines if line["what"] == "note"]


def survival(story: Story, brood: str) -> list[list[float]]:
    """The rows of the survival curve in the life history: age, share alive, lowest, highest."""
    file = story.folder.parent / "note.md"
    ran = story.shell("export", "note", brood, str(file), "--replace")
    assert ran.status == 0, ran.err
    section = file.read_text().split("## Survival")[1].split("\n## ")[0]
    rows = [line.split() for line in section.split("died\n")[1].splitlines()]
    return [[float(cell) for cell in row] for row in rows if len(row) > 2 and row[0][0].isdigit()]
