"""Pages to read: supplies, going away, and the calculator."""

from __future__ import annotations

import shlex
from datetime import datetime

from textual import events
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widget import Widget

from rounds.app.desk import Refusal
from rounds.bench.folding.female_days import LAYS_IN
from rounds.bench.measures import measures_of
from rounds.entries.phrase.times import read_time
from rounds.forecasts.kept_stems import USUAL_EGGS_A_DAY, number_setting
from rounds.forecasts.no_eggs import why_no_eggs
from rounds.screens.lines import Lines
from rounds.screens.page import Page
from rounds.views.away_page import away_lines, next_days
from rounds.views.calculator_page import asked_lines, calculator_lines
from rounds.views.cells import Cell, Line, line
from rounds.views.laying_page import MAX_DAYS, day_lines, held_lines, laying_lines
from rounds.views.no_eggs_page import TOLD_FROM, no_eggs_lines
from rounds.views.supplies_page import supplies_lines

PAGE = 15  # lines that a key reads on


class ReadingScreen(Page):
    """A page of lines that scrolls."""

    def body(self) -> ComposeResult:
        """The page."""
        with VerticalScroll(id="reading"):
            yield Lines(id="page", markup=False)

    def fill(self, lines: tuple[Line, ...]) -> None:
        """The first line above, the rest below."""
        self.pane("head").show(lines[:1])
        self.pane("page").show(lines[1:])
        self.call_after_refresh(self.refold)

    def folded(self) -> frozenset[str]:
        """Where all of it is on the screen there is nothing to read on."""
        return self.read_on_of("reading")

    def on_key(self, event: events.Key) -> None:
        """B reads back."""
        if self.focused is self.query_one("#reading") and event.key == "b":
            event.stop()
            self._read(-PAGE)

    def action_read_on(self) -> None:
        """Read on."""
        self._read(PAGE)

    def _read(self, lines: int) -> None:
        self.query_one("#reading", VerticalScroll).scroll_relative(y=lines, animate=False)

    def work(self) -> Widget | None:
        """The page."""
        return self.query_one("#reading")


class LayingScreen(ReadingScreen, scope="laying"):
    """Who laid on what."""

    def show(self) -> None:
        if not self.has_added_up():
            return
        desk, moment = self.desk, self.desk.moment()
        tallies = desk.reckoning.tallies
        usual = number_setting(desk.bench, "usual eggs", USUAL_EGGS_A_DAY, 0.01, 1000)
        held = [
            (cup.code, lot, desk.foresight.chance(cup, lot, moment.now))
            for cup in desk.bench.standing()
            for lot in cup.held
        ]
        room = self.size.width - 6
        record = tallies.on_hosts(moment.now, desk.foresight.laid.shares)
        head, *lines = laying_lines(record, desk.zone, moment.now, room, usual)
        waits = [
            why_no_eggs(desk.bench, cup, moment.now, desk.foresight.laid)
            for cup in desk.bench.standing()
            if cup.purpose in LAYS_IN
        ]
        why = no_eggs_lines(
            [one for one in waits if one and one.waited.whole >= TOLD_FROM], desk.measures
        )
        kept = held_lines(held, moment, desk.measures)
        days = day_lines(tallies.days(moment.now, MAX_DAYS), room)
        self.fill((head, line(""), *why, *lines, *kept, *days))


class SuppliesScreen(ReadingScreen, scope="supplies"):
    """What to cut and mix."""

    def show(self) -> None:
        self.fill(supplies_lines(self.desk.bench, self.desk.moment(), self.desk.dues()))


class AwayScreen(ReadingScreen, scope="away"):
    """Leaving and coming back."""

    _leave: datetime | None = None
    _back: datetime | None = None

    def show(self) -> None:
        self._show(self._leave, self._back)

    def _show(self, leave: datetime | None, back: datetime | None) -> bool:
        """Draw for these times; where they cannot be, say so and leave what stands."""
        desk, moment, room = self.desk, self.desk.moment(), self.size.width - 6
        usual = next_days(moment)
        times = leave or usual[0], back or usual[1]
        try:
            self.fill(away_lines(desk.bench, moment, *times, desk.dues(), room, desk.foresight))
        except ValueError as refused:
            self.answered(Refusal(str(refused)))
            return False
        return True

    def action_leaving(self) -> None:
        """Ask when the keeper leaves."""
        self.ask_words("when do you leave? 18:00, tomorrow 07:30, +3h", self._set_leave, "set")

    def action_return(self) -> None:
        """Ask when the keeper is back."""
        self.ask_words("when are you back? sun 19:00, 2026-06-01 08:00, +3d", self._set_back, "set")

    def _set_leave(self, typed: str) -> None:
        instant = self._time(typed)
        if instant and self._show(instant, self._back):
            self._leave = instant

    def _set_back(self, typed: str) -> None:
        instant = self._time(typed)
        if instant and self._show(self._leave, instant):
            self._back = instant

    def _time(self, typed: str) -> datetime | None:
        result = read_time(typed, now=self.desk.now(), zone=self.desk.zone, ahead=True)
        if isinstance(result, datetime):
            return result
        usual = "18:00, tomorrow 07:30, sun 19:00 or +3h"
        self.answered(Refusal(f"'{typed.strip()}' is no time to come; as {usual}"))
        return None


class CalculatorScreen(ReadingScreen, scope="calculator"):
    """Every calculation, asked with its inputs."""

    _asked = ""

    def show(self) -> None:
        """Draw the list, or the last result."""
        title = Cell("calculator", "strong")
        if not self._asked:
            asks = f"   {self.sign('ask_calculation')}: type one; each says its formula and source"
            self.fill((line(title, Cell(asks, "quiet")), *calculator_lines()))
            return
        try:
            words = shlex.split(self._asked)
        except ValueError:
            words = self._asked.split()
        measures = measures_of(self.desk.bench.settings)
        told = asked_lines(words, measures, self.desk.foresight)
        self.fill((line(title, f"   {self._asked}"), *told))

    def action_ask_calculation(self) -> None:
        """Ask which calculation, with its inputs."""
        self.ask_words(
            "as: laying --eggs 0 --female-days 5.5   (a name alone shows its inputs)",
            self._ask,
            "work out",
        )

    def _ask(self, typed: str) -> None:
        self._asked = typed.strip().removeprefix("rounds calc ")
        self.show()
