"""What every screen has: the head, a message line, the prompt, the keys, and the desk behind
them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from typing import ClassVar, Literal, TypeVar, cast

from msgspec.structs import replace
from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.geometry import Size
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Input, Static

from rounds.app.desk import Desk, Outcome, Recorded, Refusal, Unsaved
from rounds.bench.plurals import percent
from rounds.entries.registry import CrossedOut, SetUp
from rounds.entries.validation import advice
from rounds.screens.lines import KeysLine, Lines
from rounds.screens.page_host import PageHost
from rounds.screens.prompt import WRITES, Prompt, Words, lines_in
from rounds.screens.rowlist import RowList
from rounds.views.actions import (
    TYPING,
    Action,
    Scope,
    actions_of,
    scopes_of,
    sign_of,
    typing_words,
)
from rounds.views.cells import Cell, Line, Tone
from rounds.views.gaps import gap_words, in_lines, unsaved_words
from rounds.views.keys import actions_in, binding_id, key_label
from rounds.views.words import clock, literal

LOW = 15  # rows of a screen that has one line for what of the book cannot be read
# typed at the prompt before a file, it opens the page where an old table comes in
IMPORTS = "import "
RECORDS_AT_ONCE = 1_000  # of what went by: so many are added in less time than a key may wait
BETWEEN_PARTS_S = 0.001
AnyInput = TypeVar("AnyInput", Prompt, Words)
LISTS = "list"  # typed at the prompt, it opens the page of a running bench


class Page(Screen[None]):
    """A screen over the desk."""

    SCOPES: ClassVar[tuple[Scope, ...]] = ("everywhere",)  # those of its keys, its own last
    # actions whose keys matter most here, the first first
    KEYS_FIRST: ClassVar[tuple[str, ...]] = ()

    GOES_BY_SIZE: ClassVar[bool] = False  # whether what is drawn depends on the room there is

    _stands: Literal["", "refused", "unsaved", "saved", "caution"] = ""  # what is said, while true
    _undoes: tuple[str, ...] = ()  # the lines of which it says that they can be undone
    _gaps = ""  # what is shown of them
    _shown_at: Size | None = None  # for which size it was drawn last
    _said = Cell("")
    _hidden = ""  # the row that was highlighted before a filter left none
    _folded: frozenset[str] = frozenset()
    _typing = TYPING  # the keys of a line while it is typed
    _nothing_done = False  # whether the message is that the last key does nothing

    def __init_subclass__(cls, scope: Scope | None = None) -> None:
        """Bind the keys of a screen, from the table of actions; the app's keymap puts the keeper's
        own keys over them."""
        if scope is not None:
            cls.SCOPES = scopes_of(scope)
            cls.BINDINGS = [
                Binding(
                    action.key,
                    action.does,
                    action.label or action.id,
                    show=False,
                    tooltip=action.help,
                    id=binding_id(scope, action),
                )
                for action in actions_of(*cls.SCOPES)
            ]
        super().__init_subclass__()

    def compose(self) -> ComposeResult:
        """Head above, keys below, the screen's own body between."""
        # as the framework does once all widgets are there, each of which it styles anew then
        width, breakpoints = self.app.size.width, self.app.HORIZONTAL_BREAKPOINTS or ()
        fitting = (name for cells, name in sorted(breakpoints, reverse=True) if width >= cells)
        self.add_class(*list(fitting)[:1])
        yield Static("", id="gaps", markup=False)
        yield Lines(id="head", markup=False)
        with Vertical(id="body"):
            yield from self.body()
        yield Static("", id="message", markup=False)
        yield KeysLine(id="keys", markup=False)

    def body(self) -> ComposeResult:
        """What stands between the head and the keys."""
        yield from ()

    @property
    def host(self) -> PageHost:
        """The app, as far as a page knows it."""
        return cast("PageHost", self.app)

    @property
    def desk(self) -> Desk:
        """The desk behind every screen."""
        return self.host.desk

    def on_mount(self) -> None:
        """Show the keys; what is known is shown when the screen comes to the front."""
        self.query_one("#message").display = False
        self.set_focus(self.work())
        self.show_gaps()
        self.show_keys()

    @property
    def rows(self) -> RowList:
        """The list of a page that has one."""
        return self.query_one(RowList)

    def pane(self, name: str) -> Lines:
        """The lines of that name."""
        return self.query_one(f"#{name}", Lines)

    @property
    def scopes(self) -> tuple[Scope, ...]:
        """The scopes of the keys that do something now, this screen's own last."""
        return self.SCOPES

    def actions(self) -> tuple[Action, ...]:
        """What the keys do here, with the keys that they have in this book."""
        return actions_in(self.desk.bench.settings, *self.scopes)

    def sign(self, action_id: str) -> str:
        """The key of an action here, as it stands on the keyboard."""
        return key_label(self.desk.bench.settings, self.scopes[-1], action_id)

    def show_keys(self) -> None:
        """The line of keys: this screen's own first."""
        order = {scope: place for place, scope in enumerate(reversed(self.scopes))}
        first = {name: position for position, name in enumerate(self.KEYS_FIRST)}
        self._folded = self._needless()
        shown = (action for action in self.actions() if action.id not in self._folded)
        own_first = sorted(shown, key=lambda action: order[action.scope])
        self.query_one(KeysLine).show(
            sorted(own_first, key=lambda action: first.get(action.id, len(first)))
        )

    def refold(self) -> None:
        """The line of keys anew where others are of use now."""
        if self.is_attached and self._needless() != self._folded:
            self.show_keys()

    def _needless(self) -> frozenset[str]:
        """Keys that are not shown: those folded, and undo where it would undo nothing."""
        return self.folded() | frozenset(() if self.desk.undoes else ("strike_last",))

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """The keys in the last row are those that are alive: of the line while it is typed."""
        typed = event.widget
        of_words = typing_words(typed.does) if isinstance(typed, Words) else ()
        self.query_one(KeysLine).type(
            self._keys_of(typed) if isinstance(typed, Prompt) else of_words
        )

    def _keys_of(self, prompt: Prompt) -> tuple[Action, ...]:
        """The keys of a line while it is typed, of which each does something now."""
        idle = {*(() if prompt.has_earlier else ("up",)), *(() if prompt.completes else ("tab",))}
        return tuple(action for action in self._typing if action.key not in idle)

    def folded(self) -> frozenset[str]:
        """Keys that are of no use here now: ``?`` alone lists them."""
        return frozenset()

    def read_on_of(self, pane: str) -> frozenset[str]:
        """Where all of a pane is on the screen, the key that would read on."""
        return frozenset(() if self.query_one(f"#{pane}").max_scroll_y > 0 else ("read_on",))

    def show_gaps(self) -> None:
        """Above all else, as long as it is so: that the book cannot be read wholly, or that lines
        do not fit."""
        room = self.app.size.width - 2, 1 if self.app.size.height < LOW else 2
        text = gap_words(self.desk.gaps, *room) or in_lines(
            self.desk.clock.zone_not_known or self.desk.reckoning.misfits, *room
        )
        # none yet where the page was opened just now: it asks again then
        for row in self.query("#gaps").results(Static):
            if text != self._gaps:
                self._gaps = text
                row.update(text)
            row.display = bool(text)

    def on_resize(self) -> None:
        """As much of the gaps as there is room for, and what is said where it fits."""
        self.show_gaps()
        if self.is_mounted:
            self._place_told()
            if self.GOES_BY_SIZE and self.size != self._shown_at:
                self._show_now()

    def on_screen_resume(self, event: events.ScreenResume) -> None:
        """Show what is known now."""
        event.refresh_styles = False  # each widget was styled as it came in
        self.show_gaps()
        self.show_keys()
        self.settle()
        self._show_now()

    def _show_now(self) -> None:
        self._shown_at = self.size
        self.show()

    def show(self) -> None:
        """Draw the screen anew from the desk; each screen says how."""

    def show_by_itself(self) -> None:
        """Draw it anew where no key of this screen asked for it."""
        self.show()

    def has_added_up(self) -> bool:
        """Whether what went by is added up; until it is, how far that is stands above, keys go on,
        and the page is shown once it is."""
        share = self.desk.reckoning.add_up(RECORDS_AT_ONCE)
        if share < 1:
            words = f"what went by is added up: {percent(share)} of it so far"
            self.pane("head").show((Line((Cell(words, "due"),)),))
            self.set_timer(BETWEEN_PARTS_S, self._show_if_in_front)
        return share >= 1

    def _show_if_in_front(self) -> None:
        if self.is_current:
            self.show()

    def tell(self, text: str, tone: Tone = "quiet") -> None:
        """Say something in the message line."""
        self._said = Cell(text, tone)
        self._stands = ""
        self._place_told()

    def _place_told(self) -> None:
        """What is said stands before the keys where it fits there, else on rows of its own above
        them."""
        fits = self.query_one(KeysLine).tell(self._said)
        message = self.query_one("#message", Static)
        message.set_classes(f"-{self._said.tone}")
        message.update(self._said.text, layout=not fits)
        message.display = not fits

    def moved_on(self) -> None:
        """Another line or question is in front: a refusal of before is said no more."""
        if self._stands == "refused":
            self.tell("")

    def settle(self) -> None:
        """What was not saved and is saved by now is said to be; an offer to undo goes where undo
        would take back something else."""
        if self._stands == "saved" and self._undoes != self.desk.undoes:
            self.tell("")
        if self._stands == "unsaved" and not self.desk.unsaved.entries:
            self.tell("what was not saved is saved now", "good")

    def answered(self, outcome: Outcome, before: str = "") -> bool:
        """Tell how it went, behind what is to be said before that; True where it is said and
        saved."""
        if isinstance(outcome, Recorded):
            at = clock(outcome.entry.at, self.desk.now(), self.desk.zone)
            advised = advice(outcome.entries, self.desk.bench)
            words = literal(self.desk.told(outcome.entries))
            key = self.sign("strike_last")
            many = len({one.container for one in outcome.entries if isinstance(one, SetUp)})
            undo = f"saved {words} {at}, {key} undo"
            if many > 1:  # all their words would be cut off
                undo = f"saved {many} containers, {key} takes all back"
            # itself what undoes
            text = _turned_words(words, at) if isinstance(outcome.entry, CrossedOut) else undo
            self.tell(f"{before}{text}{f'; {literal(advised)}' if advised else ''}", "good")
            if text == undo:
                self._stands, self._undoes = "saved", self.desk.undoes
            self.refold()
            return True
        if isinstance(outcome, Unsaved):
            self.desk.unsaved.keep()
            kept = unsaved_words(self.desk.unsaved.are_kept)
            self.tell(f"NOT SAVED, {kept}: {literal(outcome.line)}", "danger")
            self._stands = "unsaved"
            return False
        self.tell(f"{before}{literal(outcome.line)}", "late")
        self._stands = "refused"
        return False

    def before_key(self, key: str) -> None:
        """What a fresh key ends before it is heard."""
        self.no_key("")

    def no_key(self, key: str, gone: str = "") -> None:
        """Say that a key does nothing here, so that nobody waits for it, and that a number which
        was begun went with it; with none, that is no longer said."""
        if key:
            again = f"; type {gone} again" if gone else ""
            help_key = self.sign("help")
            self.tell(f"{sign_of(key)} does nothing here{again}. {help_key} shows the keys.")
        elif self._nothing_done:
            self.tell("")
        self._nothing_done = bool(key)

    def one_press(self, key: str) -> None:
        """Say before what a key did that its repeat, within half a second, did no more."""
        repeated = f"{sign_of(key)} again at once: held key, one answer"
        if self._said.text.partition(". ")[0] != repeated:
            self._said = replace(self._said, text=f"{repeated}. {self._said.text}".strip(". "))
            self._place_told()

    def action_prompt(self) -> None:
        """Open the prompt."""
        self.open_prompt(self.prompt_begun())

    def action_note(self) -> None:
        """Open the prompt with a note begun."""
        self.open_prompt(f"{self.here()} note ".lstrip())

    def action_photo(self) -> None:
        """Open the prompt with a photo begun."""
        self.open_prompt(f"{self.here()} photo ".lstrip())

    def show_photo(self, name: str) -> None:
        """Open a picture of the book with the system's viewer."""
        if not name:
            self.tell("there is no picture here")
            return
        from rounds.exchange.viewer import open_photo

        wrong = open_photo(self.desk.book.folder, name)
        self.tell(literal(wrong or f"opened {name}"), "late" if wrong else "quiet")

    def prompt_begun(self) -> str:
        """What the prompt begins with: the container that is meant here."""
        return f"{self.here()} ".lstrip()

    def here(self) -> str:
        """The container that is meant where nothing else is said."""
        return ""

    def begin_at(self, code: str) -> None:
        """Highlight this container first; a page that shows no containers passes it over."""

    def when(self) -> datetime | None:
        """When the next answers happened, where that is not now."""
        return None

    def open_prompt(self, begun: str) -> None:
        """Open the prompt with these words begun."""
        self._typed_line(Prompt, "prompt").begin(begun, self.desk, self.host.typed)

    def _typed_line(self, kind: type[AnyInput], name: str) -> AnyInput:
        """A line to type in, above the keys; it comes in when it is first asked for."""
        known = next(iter(self.query(kind)), None)
        if known is None:
            known = kind(id=name)
            self.mount(known, before="#keys")
        return known

    def action_strike_last(self) -> None:
        """Strike what was said last here."""
        self.host.answered_lately.clear()
        self.answered(self.desk.strike_last())

    def action_help(self) -> None:
        """Open the help."""
        self.host.open_help(self.scopes, self.about(), self.only_keys())

    def only_keys(self) -> Mapping[str, str] | None:
        """The actions that do something here now, with what each does; None where all of the page
        do."""
        return None

    def about(self) -> tuple[Line, ...]:
        """What is highlighted or asked here: what it is, why it is due, what the rule is."""
        return ()

    def action_open_page(self, name: str) -> None:
        """Open the page of that name, at what is highlighted here."""
        self.host.open_page(name, self.here())

    def action_back_reading(self) -> None:
        """Back to the bench."""
        self.host.show_bench()

    action_back = action_back_broods = action_back_reading

    def action_find_anything(self) -> None:
        """Find anything by its words, and go there."""
        self.host.open_search()

    @on(Input.Changed, "#prompt")
    def _prompt_typed(self, event: Input.Changed) -> None:
        """Show beforehand what will be written, or what is not clear yet."""
        event.stop()
        text = event.value.strip()
        self._typing = TYPING
        prompt = event.input
        assert isinstance(prompt, Prompt)
        if not text or not prompt.display:
            if prompt.display and prompt.has_focus:
                self.query_one(KeysLine).type(self._keys_of(prompt))
            return
        opens = ""
        if self._asks_for_list(text):
            opens = "opens a page where containers are listed, typed or pasted"
        elif self._file_to_import(text):
            opens = "opens a page where an old table comes in; nothing is recorded before F10"
        elif self.desk.bench.code_alone(text, self.here()):
            opens = f"goes to {literal(text)}"
        if opens:
            self._typing = TYPING[1:]  # Enter writes nothing
        if prompt.has_focus:
            self.query_one(KeysLine).type(self._keys_of(prompt))
        if opens:
            self.tell(f"Enter {opens}")
            return
        from rounds.app.prompt_line import preview  # no first page needs it

        first, *rest = lines_in(text) or [text]
        told, can_be = preview(self.desk, self._as_meant(first), self.when())
        if self._is_begun_alone(event.value) or (
            not can_be and event.value == self.query_one(Prompt).begun
        ):
            self.tell("")  # nothing was typed yet that could be wrong
            return
        lines = f"{len(rest) + 1} lines, taken one after the other; the first: " if rest else ""
        self.tell(
            f"{lines}will write  {literal(told)}" if can_be else f"{lines}{literal(told)}",
            "plain" if can_be else "quiet",
        )

    def _is_begun_alone(self, typed: str) -> bool:
        """Whether nothing was typed yet behind what the prompt had begun."""
        return typed.endswith(" ") and typed == self.query_one(Prompt).begun

    def _behind_code(self, text: str) -> str:
        """What was typed behind the code that the prompt had begun."""
        return text.removeprefix(self.query_one(Prompt).begun.strip()).strip()

    def _asks_for_list(self, text: str) -> bool:
        """Whether the page of a running bench is asked for."""
        return LISTS in (text.casefold(), self._behind_code(text).casefold())

    def _file_to_import(self, text: str) -> str:
        """The file of an old table that is asked for."""
        told = self._behind_code(text)
        return told[len(IMPORTS) :].strip() if told.casefold().startswith(IMPORTS) else ""

    def _as_meant(self, text: str) -> str:
        from rounds.app.prompt_line import as_meant

        return as_meant(self.desk, text, self.query_one(Prompt).begun)

    @on(Prompt.Left)
    def _prompt_left(self) -> None:
        self.tell("")
        self.back_to_work()

    @on(Input.Submitted, "#prompt")
    def _prompt_said(self, event: Input.Submitted) -> None:
        event.stop()
        text = event.value.strip()
        if not lines_in(text):
            self.query_one(Prompt).leave()
            return
        lists, file = self._asks_for_list(text), self._file_to_import(text)
        if lists or file:
            self.query_one(Prompt).said(text)
            self.back_to_work()
            self.host.open_list() if lists else self.host.open_import(file)
            return
        scanned = self.desk.bench.code_alone(text, self.here())
        if scanned:
            self.query_one(Prompt).said(scanned)
            self.go_to(scanned)
            return
        if self._is_begun_alone(event.value):
            self.answered(Refusal(f"type on behind '{literal(text)}', or Esc leaves"))
            return
        first, *rest = lines_in(text)
        self._say_in_order([self._as_meant(first), *rest], text)

    def _say_in_order(self, lines: Sequence[str], typed: str) -> None:
        """Say them one after the other; the first that is refused stays in the prompt with the
        rest."""
        from rounds.app.prompt_line import say_phrase

        rest = lines[1:]
        for number, line in enumerate(lines):
            outcome = say_phrase(self.desk, line, self.when())
            if isinstance(outcome, Refusal):
                self.answered(outcome, f"{number} of {len(lines)} lines saved; " if rest else "")
                if number:
                    self.query_one(Prompt).keep_rest(lines[number:])
                return
            self.answered(outcome, f"{len(lines)} lines saved, the last: " if rest else "")
        self.query_one(Prompt).said(typed)
        self.back_to_work()

    def go_to(self, code: str) -> None:
        """Show a container, as its label was scanned or its code typed: on the bench, whatever is
        filtered there."""
        self.host.show_container(code)

    def ask_words(self, wanted: str, then: Callable[[str], None], does: str = WRITES) -> None:
        """Ask for a few words, and hand them on; ``does`` is what Enter does with them."""
        self._typed_line(Words, "words").begin(wanted, then, does)

    @on(Words.Left)
    def _words_left(self, event: Words.Left) -> None:
        self.back_to_work()
        if event.then:
            event.then(event.typed)

    def action_find(self) -> None:
        """Ask for words to find."""
        self.ask_words("find", self.find, "find")

    def find(self, words: str) -> None:
        """Show only lines with these words; each list says how."""

    def show_those_left(self, wanted: str = "") -> None:
        """Show what a filter leaves: the highlight goes to the row that is wanted, else stays on
        its own row in the list, be it one that a filter left nothing of, else goes to the first
        that is left; never to one above it."""
        rows = self.rows
        key = rows.key or self._hidden
        self.show()
        if not (rows.highlight(wanted) or rows.highlight(key)):
            rows.cursor = len(rows.above)
        self._hidden = key if not rows.rows else ""
        self.refold()

    def work(self) -> Widget | None:
        """What has the keys while nothing is typed: the page's list, where it has one."""
        return next(iter(self.query(RowList)), None)

    def back_to_work(self) -> None:
        """Give the keys back to the screen's own list or question."""
        self.set_focus(self.work())


def _turned_words(words: str, at: str) -> str:
    """What a crossing out says once it is saved: ``saved: K7 drank 10:38 crossed out``."""
    did, _, what = words.partition(": ")
    return f"saved: {words} {at}" if f"; {did}: " in what else f"saved: {what} {at} {did}"
