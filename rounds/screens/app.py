"""The app: it holds the desk, shows one page at a time, and hears what others write."""

from __future__ import annotations

import asyncio
import gc
import os
import signal
import sys
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import datetime, timedelta
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from rich.console import RenderableType
from textual import events
from textual.binding import Binding, BindingType
from textual.filter import LineFilter, Monochrome

from rounds.app.desk import Desk, Outcome, Refusal
from rounds.entries import registry as k
from rounds.screens.bench_screen import BenchScreen
from rounds.screens.key_queue import OneKeyAtATime
from rounds.screens.lines import Drawn, sign_pressed
from rounds.screens.page import Page
from rounds.screens.page_host import PageHost
from rounds.screens.registry import page_class
from rounds.screens.terminal_check import read_every_byte, terminal_is_gone
from rounds.screens.themes import THEMES, Uncoloured
from rounds.views.actions import Scope
from rounds.views.alarm import Alarm
from rounds.views.cells import Line
from rounds.views.keys import keymap
from rounds.views.search import SearchHit
from rounds.views.settings import THEME_NAMES, setting_of
from rounds.views.words import literal

if TYPE_CHECKING:
    from rounds.app.first_start import FirstStart
    from rounds.screens.leave_screen import LeavingScreen

HEAR_EVERY_S = 1.0  # another laptop's or shell's lines are on the screen within two seconds
TICK_EVERY_S = 20.0
BETWEEN_BELLS_S = 0.5  # so that two are heard as two
SHOW_DEMO = 64  # how the app ends where the demo was asked for; the shell opens it then
REST_EVERY_S = 60.0
AFTER_THE_START_S, AFTER_A_KEY_S, BETWEEN_PARTS_S = 1.0, 0.5, 0.02
RECORDS_IN_PASSING = 250  # of what went by, in about the time of a frame
KEPT_WORDS = "what was not saved is kept on this machine; the next start takes it into the book"


class RoundsApp(OneKeyAtATime):
    """The daily rounds in a terminal; what it does for its pages is said in ``PageHost``."""

    CSS_PATH = Path(__file__).with_name("rounds.tcss")
    TITLE = "rounds"
    ENABLE_COMMAND_PALETTE = False
    HORIZONTAL_BREAKPOINTS = [  # noqa: RUF012 - the framework declares it for each app
        (0, "-narrow"),
        (110, "-wide"),
    ]
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+c", "quit", "quit", show=False, priority=True),
        Binding("ctrl+z", "suspend_process", "to the shell and back", show=False, priority=True),
    ]

    def __init__(
        self,
        desk: Desk,
        *,
        walk: bool = False,
        minutes: int = 0,
        greet: bool = False,
        monotonic: Callable[[], float] = time.monotonic,
    ) -> None:
        read_every_byte()
        super().__init__(monotonic)
        # by place, check, key, number: when
        self.answered_lately: dict[tuple[str, ...], tuple[float, datetime]] = {}
        self.desk = desk
        desk.reckoning.kept_dues.lag = timedelta(seconds=2 * TICK_EVERY_S)
        self._drawn_only = Drawn()
        self._walk_at_once = walk
        self._minutes = minutes  # that the round may take which is walked at once
        self._alarm = Alarm()
        self.typed: list[str] = []  # lines typed at any prompt, to be called back with the up key
        self._greets = greet  # whether an empty book begins with its questions
        self._first_start: FirstStart | None = None  # where those were left
        self.animation_level = "none"
        for theme in THEMES:
            self.register_theme(theme)
        self._leaving: LeavingScreen | None = None  # that is in front
        self._kept: list[str] = []  # ids of what is not saved and is kept beside for the next start
        self._has_gaps = bool(desk.gaps)
        self._told = 0  # how many of the desk's problems
        self._by_itself = False  # whether what changes now was set off by no key of this screen
        self._other_zone = desk.clock.other_zone  # until it is told
        self.trouble: Exception | None = None  # what nobody foresaw, and ended the screens
        self._settings: dict[str, str] = {}
        self._take_settings()

    def get_line_filters(self) -> Sequence[LineFilter]:
        """What every drawn line passes, the framework's own filters first."""
        own = [one for one in super().get_line_filters() if not isinstance(one, Monochrome)]
        return [*own, Uncoloured(), self._drawn_only] if self.no_color else [*own, self._drawn_only]

    def refresh_css(self, animate: bool = True) -> None:
        """Take the theme's colours; before the first screen no style was read that would have to be
        read anew."""
        if self.screen_stack:
            super().refresh_css(animate)
        else:
            self.stylesheet.set_variables(self.get_css_variables())

    def get_default_screen(self) -> BenchScreen:
        """Below all pages lies the bench."""
        return BenchScreen()

    def on_mount(self) -> None:
        """Begin to listen; ask a keeper whose book is empty."""
        # a terminal that was given away and taken back shows nothing of ours any more
        self.app_resume_signal.subscribe(self, lambda _: self.screen.refresh(layout=True))
        desk = self.desk
        is_new = not (desk.gaps or desk.bench.containers or desk.bench.closed)
        asks_first = self._greets and is_new
        if asks_first:  # before the bench is drawn
            self.open_first_start()
        if not self.is_headless and sys.platform != "win32":
            asyncio.get_running_loop().add_signal_handler(signal.SIGTERM, self._told_to_end)
        self.desk.listen(self.changed)
        self.set_interval(HEAR_EVERY_S, self.hear)
        self.set_interval(TICK_EVERY_S, self.time_goes_by)
        self.set_interval(REST_EVERY_S, self.rest)
        self.call_after_refresh(self._drawn)
        if self._walk_at_once and not asks_first:
            self.call_after_refresh(self.open_round, self._minutes)
        self.call_after_refresh(self._tell_problems)
        self.call_after_refresh(self._first_page_is_there, asks_first)
        self.set_timer(AFTER_THE_START_S, self._add_up)

    def _add_up(self) -> None:
        """Add up what went by while nobody presses a key, so that no page that looks back need
        wait."""
        if time.monotonic() - self.pressed < AFTER_A_KEY_S:
            self.set_timer(AFTER_A_KEY_S, self._add_up)
        elif self.desk.reckoning.add_up(RECORDS_IN_PASSING) < 1:
            self.set_timer(BETWEEN_PARTS_S, self._add_up)

    def _first_page_is_there(self, asks_first: bool) -> None:
        """Behind all that the page in front begins with, keys have their turn; those that came
        before a first question could be read answer nothing."""
        begin = partial(self.begin_keys, forgets=asks_first)
        if asks_first:
            self.screen.call_after_refresh(begin)
        elif not self.screen.call_later(begin):
            self.call_later(begin)

    def _drawn(self) -> None:
        """What was loaded while nobody looked for garbage stays to the end: it need not be looked
        through again and again."""
        if not gc.isenabled():
            gc.freeze()
            gc.enable()

    def open_first_start(self) -> None:
        """Ask the five questions, on from where they were left."""
        from rounds.app.first_start import FirstStart
        from rounds.exchange.import_setup import taken_over
        from rounds.screens.first_start_screen import FirstStartScreen

        self._first_start = self._first_start or FirstStart(self.desk, taken_over)
        self.push_screen(FirstStartScreen(self._first_start), self._started)

    def _started(self, ended: str | None) -> None:
        from rounds.app.first_start import asks_now, first_words

        if ended != "left":
            self._first_start = None
        if ended == "round" and asks_now(self.desk):
            self.open_round()
        elif ended == "round" and isinstance(self.screen, Page):
            self.screen.tell(first_words(self.desk), "strong")
        elif ended == "list":
            self.open_list()
        elif ended and ended.startswith("import "):
            self.open_import(ended.removeprefix("import "))
        elif ended == "demo":
            self.show_demo()

    def show_demo(self) -> None:
        self.exit(return_code=SHOW_DEMO)

    @property
    def _front(self) -> Page | None:
        """The page in front; None where none is, or where it was opened just now and has no widgets
        yet: it shows all that is known as soon as it has them."""
        page = self.screen_stack[-1] if self.screen_stack else None
        return page if isinstance(page, Page) and page.is_mounted else None

    def _tell_problems(self) -> None:
        """Those that were met since the last look, once; a gap stands above the page as long as it
        is one."""
        page = self._front
        if page is None:
            return
        page.show_gaps()
        gaps = set(self.desk.gaps)
        if bool(gaps) != self._has_gaps:  # no page passes for the whole under that line
            self._has_gaps = bool(gaps)
            page.show_by_itself()
        fresh = [one for one in self.desk.reading.problems[self._told :] if one not in gaps]
        self._told = len(self.desk.reading.problems)
        more = f"; {len(fresh) - 1} more, see 'rounds check'" if len(fresh) > 1 else ""
        told = [*(f"{one}{more}" for one in fresh[:1]), *filter(None, [self._other_zone])]
        if told:
            page.tell(literal("; ".join(told)), "late" if fresh else "strong")
        self._other_zone = ""

    def hear(self) -> None:
        """Pick up what others wrote; try again what could not be saved."""
        if not self.is_headless and terminal_is_gone():
            self._keep_what_is_unsaved()
            # all is on disk, and a tidy leave would wait for a terminal that takes no more
            os._exit(1)
        with self._without_a_key():
            self.desk.hear()
        self._tell_problems()
        if not self.desk.retry():
            self._keep_what_is_unsaved()
        else:
            for asked in (self._front, self._leaving):
                if asked is not None:
                    asked.settle()

    def _keep_what_is_unsaved(self) -> None:
        """Whatever ends this app now, the next start finds what the book did not take."""
        unsaved = [entry.id for entry in self.desk.unsaved.entries]
        if unsaved and unsaved != self._kept and not self.desk.unsaved.keep():
            self._kept = unsaved

    def _told_to_end(self) -> None:
        """The system orders an end: nobody can be asked, and the terminal is given back as it
        was."""
        self._keep_what_is_unsaved()
        self.exit(return_code=128 + signal.SIGTERM)

    def _handle_exception(self, error: Exception) -> None:
        """What nobody foresaw ends the screens, and is told once the terminal is given back."""
        if self.trouble is None:
            self.trouble = getattr(error, "error", error)  # a worker's is wrapped
            self._keep_what_is_unsaved()
        super()._handle_exception(error)

    def _fatal_error(self) -> None:
        """End without the framework's pages about it."""
        self._close_messages_no_wait()

    def panic(self, *renderables: RenderableType) -> None:
        """As above, for an error that the framework can draw."""
        self._close_messages_no_wait()

    def unsaved_words(self) -> str:
        """What the book did not take, and where it is; empty where all is saved."""
        if not self.desk.unsaved.entries:
            return ""
        if self._kept:
            return KEPT_WORDS
        return f"NOT SAVED, say it again: {self.desk.told(self.desk.unsaved.entries)}"

    def rest(self) -> None:
        """Write a checkpoint where enough was said since the last; no key waits for it."""
        keep = self.desk.reading.to_keep()
        if keep:
            self.run_worker(keep, thread=True, exclusive=True, group="checkpoint")

    def time_goes_by(self) -> None:
        """What hangs on the hour is reckoned again, and the page in front drawn anew."""
        with self._without_a_key():
            self.desk.reckoning.time_goes_by()
            self.changed()

    @contextmanager
    def _without_a_key(self) -> Iterator[None]:
        """What changes in here was set off by another keeper, or by the clock."""
        self._by_itself = True
        try:
            yield
        finally:
            self._by_itself = False

    def changed(self) -> None:
        """Draw the page in front anew."""
        if not self.screen_stack:  # closed, or not begun
            return
        page = self._front
        if self._settings != self.desk.bench.settings:
            self._take_settings()
            if page is not None:
                page.show_keys()
        if page is not None:
            page.show_gaps()
            page.show_by_itself() if self._by_itself else page.show()
        if setting_of(self._settings, "bell") == "on":
            self._ring()

    def _ring(self) -> None:
        """One bell where a check turned late, two where one turned urgent."""
        bells = self._alarm.bells(self.desk.dues(), self.desk.now())
        for position in range(bells):
            self.set_timer(0.01 + position * BETWEEN_BELLS_S, self.bell)

    def _take_settings(self) -> None:
        """Keys and colours as the book has them."""
        self._settings = dict(self.desk.bench.settings)
        self.set_keymap(keymap(self._settings))
        self.theme = setting_of(self.desk.bench.settings, "theme")

    def before_key(self, key: str) -> None:
        """What was said of a key that does nothing is said until the next key."""
        if (page := self._front) is not None:
            page.before_key(key)

    def one_press(self, event: events.Key) -> None:
        """A key that was held, or pressed twice at once, is said to be one answer."""
        if (page := self._front) is not None:
            page.one_press(sign_pressed(event))

    def on_key(self, event: events.Key) -> None:
        """A sign that no one took, up to here, and that is no key of the page in front."""
        page = self._front
        if page is not None and event.is_printable and event.key not in page.active_bindings:
            page.no_key(sign_pressed(event))

    def open_help(
        self,
        scopes: Sequence[Scope],
        about: Sequence[Line] = (),
        only: Mapping[str, str] | None = None,
    ) -> None:
        from rounds.screens.help_screen import HelpScreen

        self.push_screen(HelpScreen(scopes, about, self.desk.bench.settings, only))

    def open_list(self) -> None:
        from rounds.screens.running_bench_screen import RunningBenchScreen

        self.push_screen(RunningBenchScreen(self.desk), self._listed)

    def open_import(self, file: str) -> None:
        from rounds.screens.import_screen import ImportScreen

        self.push_screen(ImportScreen(self.desk, file), self._imported)

    def _imported(self, ended: tuple[Outcome | None, str] | None) -> None:
        outcome, words = ended or (None, "")
        if outcome is not None and isinstance(self.screen, Page):
            self.screen.show()
            self.screen.tell(literal(words), "good")

    def _listed(self, ended: tuple[Outcome | None, str] | None) -> None:
        outcome, words = ended or (None, "")
        if not isinstance(self.screen, Page):
            return
        if outcome is not None:
            self.screen.show()
            self.screen.answered(outcome)
        elif words:
            self.screen.tell(words, "strong")

    def open_search(self) -> None:
        from rounds.screens.search_screen import SearchScreen

        self.push_screen(SearchScreen(self.desk), self._go_to)

    def _go_to(self, search_hit: SearchHit | None) -> None:
        if search_hit is None:
            return
        sort, name = search_hit.leads
        self.show_bench()
        if sort == "container" and isinstance(self.screen, BenchScreen):
            self.screen.highlight(name)
            return
        from rounds.screens.daybook_screen import DaybookScreen

        words, entry = (name if sort == one else "" for one in ("words", "entry"))
        self.push_screen(DaybookScreen(words, entry))

    def open_page(self, name: str, at: str = "") -> None:
        page = page_class(name)()
        page.begin_at(at)
        self.push_screen(page)

    def open_round(self, minutes: int = 0) -> None:
        if self.desk.open_round is not None or not minutes:
            self.begin_round(0)
            return
        from rounds.screens.short_round_screen import ShortRoundScreen

        self.push_screen(ShortRoundScreen(minutes))

    def begin_round(self, minutes: int) -> None:
        if self.desk.open_round is None:
            outcome = self.desk.start_round(minutes=minutes)
            if isinstance(outcome, Refusal):
                if isinstance(self.screen, Page):
                    self.screen.answered(outcome)
                return
        self.show_bench()
        self.open_page("round")

    def leave_round(self, words: str = "") -> None:
        self.show_bench()
        if words and isinstance(self.screen, Page):
            self.screen.tell(words, "late")

    def show_bench(self) -> None:
        while len(self.screen_stack) > 1:
            self.pop_screen()

    def show_container(self, code: str) -> None:
        self.show_bench()
        if isinstance(self.screen, BenchScreen):
            self.screen.highlight(code)

    def next_theme(self) -> None:
        name = THEME_NAMES[(THEME_NAMES.index(self.theme) + 1) % len(THEME_NAMES)]
        outcome = self.desk.record(k.Setting, name="theme", value=name)
        if isinstance(self.screen, Page):
            self.screen.answered(outcome)

    async def action_quit(self) -> None:
        """Leave; where something is not on disk, ask first."""
        self.leave()

    def leave(self) -> None:
        from rounds.screens.leave_screen import LeavingScreen

        if self.desk.retry():
            self.exit()
        elif not isinstance(self.screen, LeavingScreen):
            self._leaving = LeavingScreen(self.desk)
            self.push_screen(self._leaving, self._left)

    def _left(self, ended: str | None) -> None:
        self._leaving = None
        if ended == "printed":
            self.exit(
                message=f"NOT SAVED, say it again: {self.desk.told(self.desk.unsaved.entries)}"
            )
        elif ended == "kept":
            self.exit(message=KEPT_WORDS)
        elif ended == "saved":
            self.exit()


def _as_pages_see_it(app: RoundsApp) -> PageHost:
    """The type checker proves here that the app gives what pages ask of it."""
    return app
