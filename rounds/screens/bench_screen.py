"""The bench: a line a container, and a card for the highlighted one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import get_args

from msgspec.structs import replace
from textual import events, on
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.widget import Widget

from rounds.app.desk import Recorded, Refusal
from rounds.checks import ants, count, drink, eggs, food, host, look
from rounds.checks.base import Check
from rounds.checks.due import chosen
from rounds.checks.due_state import Due, place_name
from rounds.checks.question import Amount, Answer
from rounds.checks.questions import question_for_all
from rounds.checks.registry import CHECKS
from rounds.entries import registry as k
from rounds.entries.base import Entry, Purpose
from rounds.screens.lines import KeysLine, Lines
from rounds.screens.question_page import QuestionPage
from rounds.screens.rowlist import RowList
from rounds.screens.shelf_map import ShelfMap
from rounds.views.actions import Action
from rounds.views.bench_page import (
    ROOMY,
    BenchFilter,
    KeptLines,
    ScreenRoom,
    bench_page,
    most_urgent,
)
from rounds.views.cells import Line
from rounds.views.danger_lines import row_key
from rounds.views.empty_bench import is_empty, is_new, ways_in
from rounds.views.shelf_map import shelves_of
from rounds.views.words import clock, literal, of_what_is_read

MAX_DIGITS = 3
WIDE_FOR_WORDS = 70  # columns: below it a hint keeps to one row
# columns from which the map stands beside the list, and those that it takes
MAP_BESIDE, MAP_CELLS = 150, 63
CARD_ROWS, OTHER_ROWS = 9, 3  # of the card with its rule; the top, the headings, the keys
ON_AN_EMPTY_BENCH = ("answer_next", "prompt", "help", "quit")
OF_A_CONTAINER = ("ask_host", "ask_eggs", "ask_count", "ask_look", "suspect", "open_photo")
FEW = 4  # fewer containers are seen in one look


class BenchScreen(QuestionPage, scope="bench"):
    """Where the keeper starts and comes back to."""

    KEYS_FIRST = ("answer_next", "round", "map", "find", "prompt", "open_card")
    GOES_BY_SIZE = True

    def __init__(self) -> None:
        super().__init__()
        self.shown = BenchFilter()
        self._dues: list[Due] = []
        self._lines = KeptLines(lambda code: None)
        self._minutes = ""  # a number begun
        self._noted = ""  # what was said of a list in which nothing is
        self._begun = False
        self._ways_in: tuple[bool, frozenset[str]] | None = None  # by which the keys were shown
        self._walks_map = False  # whether the arrows walk the map beside the list
        # the card, by the keeper's own key; None: as there is room for it
        self._opened: bool | None = None

    def body(self) -> ComposeResult:
        """The list, the map beside it where there is room, the card below where it is open, the
        question."""
        with Horizontal(id="sides"):
            yield RowList(id="rows")
            yield ShelfMap(id="map")
        yield Lines(id="card", classes="-folded", markup=False, reads_on="Right")
        yield self.bar

    def on_mount(self) -> None:
        """Begin on the list."""
        kept = self.desk.reckoning.kept_dues
        self.rows.moved = self._show_place
        self._lines = KeptLines(kept.reckoned, kept.lag)
        self.rows.gathers_digits = True

    def on_resize(self) -> None:
        """The card has what the head and the list leave."""
        if self.is_mounted:
            self._show_card()

    def show(self) -> None:
        desk = self.desk
        moment = desk.moment()
        self._dues = desk.dues()
        size = self.app.size
        page = bench_page(
            desk.bench,
            self._dues,
            moment,
            self.shown,
            len(desk.unsaved.entries),
            room=ScreenRoom(size.width - (MAP_CELLS if self._has_map else 0), size.height),
            foresight=desk.foresight,
            kept=self._lines,
            is_whole=not desk.gaps,
        )
        self.pane("head").show(self.head_lines(page.head))
        rows = self.rows
        rows.show(page.columns, page.rows, above=page.danger, heading=page.heading)
        ways_in = is_empty(desk.bench), self.folded()
        if ways_in != self._ways_in:
            self._ways_in = ways_in
            self.show_keys()
        if not self._begun and page.rows:
            self._begun = True
            rows.highlight_first(page.first)
        if page.note or (self._noted and self._said.text == self._noted):
            self.tell(page.note)
        self._noted = page.note
        self._show_map()
        self._show_card()

    @property
    def _has_map(self) -> bool:
        """Whether the map stands beside the list."""
        return self.app.size.width >= MAP_BESIDE and not is_empty(self.desk.bench)

    def _show_map(self) -> None:
        shelf_map = self.query_one(ShelfMap)
        shelf_map.display = self._has_map
        if self._has_map:
            shelf_map.show_shelves(shelves_of(self.desk.bench, self._dues, self.desk.moment()))
            shelf_map.highlight(self.here())
        elif self._walks_map:
            self._walks_map = False
            self.back_to_work()

    @on(ShelfMap.Highlighted)
    def _walked(self) -> None:
        """The list follows where the arrows walk the map; a container that a filter hides is meant
        all the same."""
        if self._walks_map:
            self.rows.highlight(self.here())
            self.moved_on()
            self._show_card()

    def action_other_side(self) -> None:
        """The arrows walk the map, or the list again."""
        if not self._has_map:
            beside = f"the map stands beside the list from {MAP_BESIDE} columns on"
            self.tell(f"{beside}; {self.sign('map')} opens it alone")
            return
        self._walks_map = not self._walks_map
        self.back_to_work()

    @property
    def _is_card_open(self) -> bool:
        """Whether the card is shown: as the keeper has it, else where all lines and it have
        room."""
        height = self.app.size.height
        fits = self._rows_of_list + CARD_ROWS <= height or height >= ROOMY
        return not is_empty(self.desk.bench) and (fits if self._opened is None else self._opened)

    @property
    def _rows_of_list(self) -> int:
        return len(self.rows.rows) + len(self.rows.above) + OTHER_ROWS

    def _show_card(self) -> None:
        pane = self.pane("card")
        is_open = self._is_card_open
        pane.set_class(not is_open, "-folded")
        if is_open:
            from rounds.views.card import card, place_card  # open on small benches alone

            used = self._rows_of_list + self.pane("head").size.height
            # what the list leaves
            pane.styles.height = max(CARD_ROWS - 1, self.app.size.height - used)
            desk = self.desk
            moment, foresight = desk.moment(), desk.foresight
            place = None if self.here() else self._due_here()
            pane.show(
                card(desk.bench, self._dues, moment, self.here(), foresight)
                if place is None
                else place_card(desk.bench, place, moment, foresight)
            )
        self._show_place()
        self.call_after_refresh(self._show_place)  # where the card took rows or gave some back

    def _show_place(self) -> None:
        self.query_one(KeysLine).place(self.rows.place_words)

    def action_open_card(self) -> None:
        """Open the card of the highlighted line; again, on a screen of its own with what is drawn
        of it. A line of a shelf or the room has no such screen."""
        if self._is_card_open and self.here():
            self.host.open_page("card", self.here())
            return
        self._opened = True
        self._show_card()
        self.refold()

    def action_fold_card(self) -> None:
        """Fold the card."""
        self._opened = False
        self._show_card()
        self.refold()

    @on(RowList.Highlighted)
    def _highlighted(self) -> None:
        self.moved_on()
        self.refold()
        if self._has_map and not self._walks_map:
            self.query_one(ShelfMap).highlight(self.here())
        self._show_card()

    def about(self) -> tuple[Line, ...]:
        """The highlighted container, and its most urgent check."""
        due = most_urgent(self._dues, self.desk.now()).get(self.here()) or self._due_here()
        return self.about_due(due)

    def here(self) -> str:
        """The highlighted container; empty where the line is of a shelf, the room or the book."""
        key = self.query_one(ShelfMap).key if self._walks_map else self.rows.key
        return key if key in self.desk.bench.containers else ""

    def _due_here(self) -> Due | None:
        """The check of the highlighted line where that is of a shelf, the room or the book."""
        key = self.rows.key
        places = (due for due in self._dues if due.place_kind != "container")
        return next((due for due in places if row_key(due) == key), None)

    def _shelf_barrier(self) -> Due | None:
        """The check of the barrier of the highlighted line's shelf."""
        place = None if self._meant() else self._due_here()
        of_place = (due for due in self._dues if due.check == ants.CHECK.name)
        return next(
            (due for due in of_place if place and place_name(due) == place_name(place)), None
        )

    def _ask_place(self, place: Due) -> None:
        question = question_for_all(self.desk.bench, [place], self.desk.now())
        self.ask(question, place, f"{literal(place_name(place))}: ")

    def highlight(self, code: str) -> None:
        """Highlight a container; where a filter hides it, the filter goes."""
        rows = self.rows
        if not rows.highlight(code):
            self.shown = BenchFilter(sort=self.shown.sort)
            self.show()
            rows.highlight(code)
        self.back_to_work()
        self.tell("")  # the line itself says where one is

    def begin_at(self, code: str) -> None:
        """Highlight the container of the card that was left."""
        for part in (self.rows, self.query_one(ShelfMap)):
            part.highlight(code)

    def _meant(self) -> list[str]:
        rows = self.rows
        marked = [row.key for row in (*rows.rows, *rows.above) if row.key in rows.marked]
        return list(dict.fromkeys(marked)) or ([self.here()] if self.here() else [])

    def _say_for_each(self, action: str, check: str, kind: type[Entry]) -> None:
        codes = self._meant()
        if not codes:
            self.tell("no container is highlighted")
            return
        key, checks = self.sign(action), [(code, check) for code in codes]
        lately = self.answered_lately(checks, Answer(key, "", lambda context: []), Amount())
        if lately:
            self.answered(Refusal(lately))
            return
        outcome = self.desk.say_many([(kind, {"container": code}) for code in codes], self.when())
        if self.answered(outcome) and isinstance(outcome, Recorded):
            self.note_answered(checks, key, Amount())
            self.rows.clear_marks()

    def action_drank(self) -> None:
        """All females here drank."""
        self._say_for_each("drank", drink.CHECK.name, k.Drank)

    def action_open_photo(self) -> None:
        """Open the newest picture of the highlighted container."""
        from rounds.app.photos import newest_of

        self.show_photo(newest_of(self.desk, self.here()))

    def action_offered(self) -> None:
        """Food put before her."""
        self._say_for_each("offered", drink.CHECK.name, k.Offered)

    def action_ask_host(self) -> None:
        """Ask about the host or food."""
        asked = {self._feeding_check(code): code for code in self._meant()}
        if len(asked) > 1:
            females, larvae = (literal(asked[one.CHECK.name]) for one in (host, food))
            text = f"{females} is asked about its host, {larvae} about its food"
            self.answered(Refusal(f"{text}; mark those of one kind"))
            return
        self._ask(next(iter(asked), host.CHECK.name))

    def _feeding_check(self, code: str) -> str:
        container = self.desk.bench.at(code)
        check: Check = (food if container and container.count("larva") else host).CHECK
        return check.name

    def action_ask_ants(self) -> None:
        """Ask about the barrier; on a line of a shelf about the shelf's."""
        if self._way_in("ask_ants"):
            return
        shelf = self._shelf_barrier()
        if shelf is None:
            self._ask(ants.CHECK.name)
        else:
            self._ask_place(shelf)

    def action_ask_eggs(self) -> None:
        """Ask what a search found."""
        self._ask(eggs.CHECK.name)

    def action_ask_count(self) -> None:
        """Ask for a count."""
        self._ask(count.CHECK.name)

    def action_ask_look(self) -> None:
        """Ask what is seen; where nothing stands yet, list what does."""
        if not self._way_in("ask_look"):
            self._ask(look.CHECK.name)

    def actions(self) -> tuple[Action, ...]:
        """What the keys do here; where nothing stands, only what can be done."""
        known = super().actions()
        if not is_empty(self.desk.bench):
            return known
        return tuple(
            replace(action, label="does it") if action.id == "answer_next" else action
            for action in known
            if action.id in ON_AN_EMPTY_BENCH
        )

    def folded(self) -> frozenset[str]:
        """Of a few containers neither a map nor a search is needed; where nobody drinks, no
        drink; where a filter leaves nothing, no answer; of a shelf or the room nothing that is
        asked of a container, nor a card on a screen of its own."""
        few = len(list(self.desk.bench.standing())) < FEW
        meant = [self.desk.bench.at(code) for code in self._meant()]
        drinks = any(one is not None and one.lots_of("adult") for one in meant)
        return frozenset(
            (
                *(("map", "find") if few else ()),
                *(() if drinks else ("drank", "offered")),
                *(() if self.rows.key else ("answer_next", "open_card")),
                *(("open_card",) if self._is_card_open and not meant else ()),
                *(() if meant or is_empty(self.desk.bench) else OF_A_CONTAINER),
                *(
                    ()
                    if meant or is_empty(self.desk.bench) or self._shelf_barrier()
                    else ("ask_ants",)
                ),
            )
        )

    def only_keys(self) -> Mapping[str, str] | None:
        """All but what a wide terminal alone has; where nothing stands, the ways in and what any
        page has."""
        if not is_empty(self.desk.bench):
            idle = () if self._has_map else ("other_side",)
            return {one.id: one.words for one in self.actions() if one.id not in idle}
        ways = ways_in(self.desk.bench, is_whole=not self.desk.gaps).values()
        return {
            "answer_next": "does what is highlighted",
            "prompt": "type anything",
            "help": "these keys; words",
            "quit": "quit, all is saved",
        } | {way.action: way.does for way in ways}

    @property
    def _is_new(self) -> bool:
        """Whether nothing ever stood here, as far as all of the book is known."""
        return not self.desk.gaps and is_new(self.desk.bench)

    def _way_in(self, action: str) -> bool:
        """Take a way in where nothing stands yet; False where something does."""
        if not is_empty(self.desk.bench):
            return False
        if action in ("ask_ants", "only_due") and self._is_new:
            self.host.open_first_start()
        elif action == "suspect" and self._is_new:
            self.host.show_demo()
        elif action == "ask_look":
            self.host.open_list()
        elif action == "prompt":
            self.action_prompt()
        elif action == "round":
            nothing = "No round: nothing stands here yet."
            self.tell(of_what_is_read(nothing, is_whole=not self.desk.gaps))
        else:
            nothing = of_what_is_read("Nothing stands here yet.", is_whole=not self.desk.gaps)
            self.tell(f"{nothing} Nothing is recorded.")
        return True

    def action_answer_next(self) -> None:
        """Ask the most urgent check of the highlighted container, or of the first marked one of
        which any is asked."""
        if self._way_in(self.rows.key):
            return
        place = self._due_here()
        if place is not None and not self.rows.marked:
            self._ask_place(place)
            return
        urgent, codes = most_urgent(self._dues, self.desk.now()), self._meant()
        due = next((urgent[code] for code in codes if code in urgent), None)
        if due is None:
            asked_of = "these containers" if len(codes) > 1 else "this container"
            self.tell(f"nothing is asked of {asked_of}" if codes else "no container is highlighted")
            return
        self._ask(due.check)

    def _ask(self, check: str) -> None:
        codes = self._meant()
        if not codes:
            self.tell("no container is highlighted")
            return
        if any(self._waits(check, code) for code in codes):
            return
        dues = self._chosen(check, codes)
        question = question_for_all(self.desk.bench, dues, self.desk.now())
        about = f"{', '.join(codes)}: " if len(codes) < 5 else f"{len(codes)} containers: "
        if not question.answers:
            self.answered(Refusal(f"{about}no answer fits all of them; ask each alone"))
            return
        self.ask(question, dues[0], about)

    def _chosen(self, check: str, codes: list[str]) -> list[Due]:
        """The check of each container, once where several are guarded by one barrier."""
        moment = self.desk.moment()
        dues = [chosen(self.desk.bench, self._dues, moment, check, code) for code in codes]
        return list({(due.place_kind, due.where): due for due in dues}.values())

    def _waits(self, check: str, code: str) -> bool:
        """Whether a container is not to be disturbed by a check now, which is told."""
        container = self.desk.bench.at(code)
        until = CHECKS[check].waits_until(container, self.desk.now()) if container else None
        if until is None:
            return False
        text = clock(until, self.desk.now(), self.desk.zone)
        anyway = f"{self.sign('prompt')} types it all the same"
        self.answered(Refusal(f"do not disturb {code} until {text}; nothing is recorded, {anyway}"))
        return True

    def others_asked(self, due: Due) -> list[Due]:
        """The same question for every marked container."""
        return self._chosen(due.check, self._meant()) if self.rows.marked else [due]

    def after_answer(self) -> None:
        """Back to the list."""
        self.rows.clear_marks()
        self.stop_asking()

    def action_mark(self) -> None:
        """Mark the highlighted container; a shelf, the room or a way in is none."""
        rows = self.rows
        if self.desk.bench.at(rows.key) is None:
            self.tell("Only containers can be marked. Nothing is recorded.")
            return
        rows.toggle_mark()
        self.refold()

    def action_unmark(self) -> None:
        """Take marks and filters away."""
        self.rows.clear_marks()
        self.tell("")
        before, self.shown = self.shown, BenchFilter(sort=self.shown.sort)
        if self.shown != before:
            self.show_those_left()
        else:
            self.show()

    def action_sort(self) -> None:
        """As walked, or most urgent first."""
        self.shown = replace(self.shown, sort="urgency" if self.shown.sort == "walk" else "walk")
        self.show()

    def action_only_due(self) -> None:
        """Only what is due, or everything."""
        if self._way_in("only_due"):
            return
        self.shown = replace(self.shown, only_due=not self.shown.only_due)
        self.show_those_left()

    def action_purpose(self) -> None:
        """One purpose after another, then all."""
        here = {container.purpose for container in self.desk.bench.standing()}
        order: list[Purpose | None] = [None, *(one for one in get_args(Purpose) if one in here)]
        position = order.index(self.shown.purpose) if self.shown.purpose in order else 0
        self.shown = replace(self.shown, purpose=order[(position + 1) % len(order)])
        self.show_those_left()

    def find(self, words: str) -> None:
        """Only lines with these words; a code is the container's own line."""
        self.shown = replace(self.shown, words=words)
        found = self.desk.bench.at(words.strip().upper()) or self.desk.bench.at(words.strip())
        self.show_those_left(found.code if found else "")

    def show_those_left(self, wanted: str = "") -> None:
        """Show what a filter leaves; where the arrows walk the map, its highlight goes along."""
        super().show_those_left(wanted)
        if self._walks_map:
            self.query_one(ShelfMap).highlight(self.rows.key)

    def work(self) -> Widget | None:
        """The question while one is asked; else the list, or the map beside it."""
        own = self.query_one(ShelfMap) if self._walks_map else self.rows
        return self.bar if self.is_asking else own

    def action_suspect(self) -> None:
        """Mark the container suspect: it goes to the end of the walk."""
        if not self._way_in("suspect"):
            self._say_for_each("suspect", "suspect", k.Suspect)

    def action_round(self) -> None:
        """Begin the round, or go on."""
        if self._way_in("round"):
            return
        typed, self._minutes = self._minutes, ""
        if typed:
            self.tell("")
        if typed and not int(typed):
            self.answered(Refusal("a round needs at least 1 minute"))
            return
        self.host.open_round(int(typed or 0))

    def before_key(self, key: str) -> None:
        """A number that was begun is forgotten, and told no more, by any key but its digits and the
        one it goes with."""
        super().before_key(key)
        bound = self.active_bindings.get(key)
        goes_on = key.isdecimal() or key == "backspace"
        if self._minutes and not goes_on and not (bound and bound.binding.action == "round"):
            self._minutes = ""
            self.tell("")

    def on_key(self, event: events.Key) -> None:
        """A digit that opens no page begins a number of minutes, which goes with the round's
        key."""
        begins = event.key.isdecimal() and (self._minutes or event.key not in self.active_bindings)
        if self.is_asking or not (begins or (event.key == "backspace" and self._minutes)):
            return
        event.stop()
        event.prevent_default()
        self._minutes = (self._minutes + event.key if begins else self._minutes[:-1])[:MAX_DIGITS]
        words = "begins a round in so many minutes"
        if self.desk.open_round is not None:
            words = "goes on: a round is open"
        elif self.size.width < WIDE_FOR_WORDS:
            words = "round"
        number = f"number {self._minutes}_   {self.sign('round')} {words}"
        self.tell(number if self._minutes else "")

    def action_quit(self) -> None:
        """Leave."""
        self.host.leave()
