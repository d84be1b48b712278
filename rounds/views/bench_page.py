"""The bench as a page: what is in danger above, a line a container below, and the few words around
them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import datetime, timedelta
from typing import Literal

from msgspec import Struct

from rounds.bench.measures import measures_of
from rounds.bench.permits import pressing_of_catches
from rounds.bench.plurals import and_more, count, of_stage
from rounds.bench.state import Bench, Container
from rounds.checks import ants
from rounds.checks.due_state import (
    PRESSING,
    Due,
    Pressing,
    comes,
    container_of,
    how_bad,
    place_name,
    pressing,
    urgency,
)
from rounds.checks.facts import left_be_until
from rounds.checks.plan import Plan, plan_of
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment, utc
from rounds.checks.walking_order import walking_order
from rounds.entries.base import Purpose
from rounds.entries.check_labels import called
from rounds.forecasts.foresight import Forecasts
from rounds.forecasts.tonight import sill_spans, tonight
from rounds.grouping import summed
from rounds.surroundings.air import feel_of_air
from rounds.views.as_it_stands import Fact, facts, holds_words, kept_words, short_stage_word
from rounds.views.cells import EDGE, GAP, Cell, CellsLater, Column, Line, Row, Tone, line
from rounds.views.danger_lines import MAX_LINES, danger_rows, danger_words, row_key, worst
from rounds.views.empty_bench import empty_head, empty_rows, is_empty
from rounds.views.keys import key_label
from rounds.views.queries import with_words
from rounds.views.species import FORMS, Form, SpeciesNames
from rounds.views.states import (
    LIST_BAR,
    SIGNS,
    TONES,
    WORSE_THAN_DUE,
    State,
    bar,
    check_at,
    left_words,
    place_words,
    state_of,
    state_word,
)
from rounds.views.words import ago, day_and_time, literal, number, of_what_is_read

# cells that what stands there wants, those that it is content with, and those before it goes
STANDS, FEWER, LEAST_STANDS = 20, 17, 13
WIDE_BAR, WIDE = 10, 110
NEXT = 16  # cells for what comes next
NAMED = FORMS[:-1]  # with the species
LOW, TALL = 12, 24  # rows: less than that leave no room for a sentence, for the surroundings
ROOMY = 36  # rows that have room for more than the list
HEADING = "container, what it holds"
NO_PERMITS: Mapping[str, str] = {}


class BenchFilter(Struct, frozen=True):
    """Which lines are shown, and how sorted."""

    sort: Literal["walk", "urgency"] = "walk"
    only_due: bool = False
    purpose: Purpose | None = None
    words: str = ""


class ScreenRoom(Struct, frozen=True):
    """How many cells and rows there are for all of the bench."""

    width: int = 80
    height: int = 24
    is_drawn: bool = True  # on lines to be read aloud there are no bars


ON_LINES = ScreenRoom(10_000, 10_000, is_drawn=False)


class BenchPage(Struct, frozen=True):
    """The bench as it is shown: the words above, the lines of danger, the list under its
    headings."""

    head: tuple[Line, ...]
    rows: tuple[Row, ...]
    columns: tuple[Column, ...] = ()
    heading: Row = Row("", ())
    danger: tuple[Row, ...] = ()
    note: str = ""
    first: str = ""  # the line to begin with


def bench_page(
    bench: Bench,
    dues: list[Due],
    moment: Moment,
    shown: BenchFilter,
    unsaved: int = 0,
    *,
    room: ScreenRoom = ON_LINES,
    foresight: Forecasts | None = None,
    kept: KeptLines | None = None,
    is_whole: bool = True,
) -> BenchPage:
    """The page for that moment; ``dues`` are all checks of the bench.

    Args:
        kept: what the lines said when the page was made last.
        is_whole: whether all of the book could be read.
    """
    if room.is_drawn and is_empty(bench):
        columns, ways = empty_rows(bench, room.width, is_whole=is_whole)
        head = empty_head(bench, moment, room.height, is_whole=is_whole)
        return BenchPage(head, ways, columns, Row("", ()))
    by_container = most_urgent(dues, moment.now)
    chosen = walking_order(
        bench,
        (
            container
            for container in bench.standing()
            if _is_shown(container, by_container.get(container.code), shown, moment.now)
        ),
    )
    if shown.sort == "urgency":
        chosen.sort(key=lambda container: urgency(by_container.get(container.code), moment.now))
    harms: dict[str, list[Due]] = {one.code: [] for one in chosen}
    for due in dues:
        if due.place_kind == "container" and due.where in harms and due.danger is not None:
            harms[due.where].append(due)
    names, plan = SpeciesNames(bench), plan_of(bench)
    permits = pressing_of_catches(bench, moment.now)
    kept = kept or KeptLines(lambda code: None)
    kept.begin(permits)

    def told(container: Container) -> _Told:
        code, due = container.code, by_container.get(container.code)
        undisturbed = left_be_until(container, moment.now) is not None
        state = state_of(due, moment.now, undisturbed=undisturbed)
        return kept.of(code, due, state, moment.now) or kept.keep(
            code,
            due,
            _told(
                bench, container, due, state, moment, permits, foresight, names, plan, harms[code]
            ),
            moment.now,
        )

    now = utc(moment.now)
    stand: dict[Pressing, list[Due]] = {state: [] for state in PRESSING}
    for due in dues:
        stand[pressing(due, now)].append(due)
    graves = worst((*stand["in danger"], *stand["urgent"]), moment)
    tolds = [told(one) for one in chosen]
    if shown.words:
        said = {row_key(due): danger_words(bench, due, moment, names) for due in graves}
        fits = with_words(shown.words)
        tolds = [
            one
            for one, container in zip(tolds, chosen, strict=True)
            if fits({"text": _found_by(bench, container, one, said.get(one.key, ""))})
        ]
    if shown == BenchFilter(sort=shown.sort):
        tolds += [_of_place(bench, due, moment) for due in late_places(dues, moment.now)]
    most = MAX_LINES if room.height >= 20 else (2 if room.height >= 15 else 1)
    danger = danger_rows(bench, graves[:most], moment, names, min(room.width, 200) - EDGE - 1)
    layout = _layout(tolds, room)
    rows = tuple(_row(one, layout) for one in tolds)
    stands = {state: len(those) for state, those in stand.items()}
    is_calm = not danger
    head = _head(
        bench,
        dues,
        stands,
        moment,
        (shown, sum(1 for one in tolds if one.code)),
        unsaved,
        room,
        is_calm=is_calm,
        is_whole=is_whole,
    )
    coming = None if danger or not rows else _coming_next(dues, moment)
    first = row_key(graves[0]) if danger else (row_key(coming) if coming else "")
    return BenchPage(
        head,
        rows,
        _columns(layout),
        _heading(layout),
        danger,
        _nothing_shown(bench, rows, shown, is_whole=is_whole),
        first,
    )


class _Holds(dict[Form, Fact]):
    """What a line says that it holds, by the form of its names; told once it is asked for."""

    def __init__(self, told: Callable[[Form], Fact]) -> None:
        super().__init__()
        self._told = told

    def __missing__(self, form: Form) -> Fact:
        self[form] = told = self._told(form)
        return told


class _Told(Struct, frozen=True):
    """What one line has to say: what it holds by the form of its names, and the rest each in
    several lengths."""

    key: str
    code: str
    state: State
    holds: _Holds
    stands: Callable[[], tuple[Fact, ...]]  # reckoned where the line is drawn
    next: Fact
    word: str
    bar: Mapping[int, str]
    bar_tone: Tone  # of the check whose time is left
    left: Fact  # in words, with the name of that check where another comes next, and without


class KeptLines:
    """What the line of each container said, as long as its checks stand as they were reckoned.

    Args:
        reckoned: what stands for the last reckoning of a container's checks, another for each; None
            where they are to be reckoned anew.
        lag: how long a line is kept at most, for it tells how old things are.
    """

    def __init__(
        self, reckoned: Callable[[str], object | None], lag: timedelta = timedelta(0)
    ) -> None:
        self._reckoned, self._lag = reckoned, lag
        self._of: dict[str, tuple[object, Due | None, datetime, _Told]] = {}
        self._permits: Mapping[str, str] = NO_PERMITS

    def begin(self, permits: Mapping[str, str]) -> None:
        """A page begins; where it says otherwise of permits, no line is kept."""
        if permits != self._permits:
            self._of.clear()
            self._permits = permits

    def of(self, code: str, due: Due | None, state: State, now: datetime) -> _Told | None:
        """The line of a container whose most urgent check stands like this; None where it is to be
        made anew."""
        reckoned = self._reckoned(code)
        by, before, at, told = self._of.get(code, (None, None, now, None))
        same = by is reckoned and before is due and timedelta(0) <= now - at <= self._lag
        return told if reckoned is not None and same and told and told.state == state else None

    def keep(self, code: str, due: Due | None, told: _Told, now: datetime) -> _Told:
        """Keep the line of a container."""
        self._of[code] = self._reckoned(code), due, now, told
        return told


def _told(
    bench: Bench,
    container: Container,
    due: Due | None,
    state: State,
    moment: Moment,
    permits: Mapping[str, str],
    foresight: Forecasts | None,
    names: SpeciesNames,
    plan: Plan,
    harms: Sequence[Due],
) -> _Told:
    checks, word = _next(due, moment, state)
    return _Told(
        container.code,
        literal(container.code),
        state,
        _Holds(lambda form: holds_words(container, names, form)),
        lambda: tuple(facts(bench, container, due, moment, permits, foresight, plan)),
        checks,
        word,
        *_time_left(due, moment, harms),
    )


def _of_place(bench: Bench, due: Due, moment: Moment) -> _Told:
    """A line of a shelf, the room or the book: of a check there that is late."""
    checks, word = _next(due, moment, state_of(due, moment.now))
    name = literal(place_name(due))
    held: Fact = (name, name.removeprefix("shelf "))
    shelf = bench.shelves.get(due.where) if due.check == ants.CHECK.name else None
    reason = literal(due.reason)
    stands: Fact = (reason, reason.split(",")[0]) if reason else ()
    if shelf is not None:
        stands = ants.barrier_words(bench, shelf.barrier, shelf.moat, moment.now)
    return _Told(
        row_key(due),
        "",
        state_of(due, moment.now),
        _Holds(lambda form: held),
        lambda: (stands,) if stands else (),
        checks,
        word,
        *_time_left(due, moment, [due]),
    )


def _next(due: Due | None, moment: Moment, state: State) -> tuple[Fact, str]:
    """What comes next: the check's verb and how late it is, now, or when; and the words of that
    which tell the state."""
    if due is None:
        return ("",), ""
    word = state_word(due, moment)
    if state == "do not disturb" and pressing(due, moment.now) == "ahead":
        return (state,), state
    label = CHECKS[due.check].label
    return (f"{label} {word}", f"{label} {word}", word), word


def _time_left(
    due: Due | None, moment: Moment, harms: Sequence[Due]
) -> tuple[Mapping[int, str], Tone, Fact]:
    """The time left until the first harm of those there, drawn in so many cells, in the tone of its
    check's own state, and in words, with the name of that check where another comes next; where
    nothing is due yet neither.
    """
    state = state_of(due, moment.now)
    known = [(one.danger, one.check != due.check, one) for one in harms if due and one.danger]
    if state == "in order" or due is None or not known:
        return {}, "plain", ("", "")
    harm, is_other, first = min(known, key=lambda one: (*one[:2], one[2].check))
    left, state = harm - moment.now, state_of(first, moment.now)
    drawn: State = "due" if state == "in order" else state
    bars = {cells: bar(drawn, left, cells) for cells in (LIST_BAR, WIDE_BAR)}
    words = left_words(left)
    named = f"{CHECKS[first.check].label} {words}" if is_other and words else words
    return bars, TONES[drawn], (named, words)


class _Layout(Struct, frozen=True):
    """How wide each part of a line is; a part without cells is not drawn."""

    form: Form  # of the names
    check: int  # which length of what comes next
    code: int
    holds: int
    stands: int
    next: int
    bar: int
    left: int


def _layout(told: Sequence[_Told], room: ScreenRoom) -> _Layout:
    """What fits into the width of the list, and nothing cut.

    First the names of species are written shorter, the same in all lines; then what stands there is
    dropped, the bar, the time left; then the name of the check.
    """
    width = room.width - EDGE - 1
    code = max([2, *(len(one.code) for one in told)]) + 1
    cells = WIDE_BAR if width >= WIDE else LIST_BAR
    full_bar = cells if room.is_drawn and any(one.bar.get(cells) for one in told) else 0
    named_left, full_left = (
        max((len(one.left[form]) for one in told), default=0) for form in (0, 1)
    )
    needs: dict[Form, int] = {}
    comings = [max([0, *(len(_nth(one.next, check)) for one in told)]) for check in range(3)]

    def fits(form: Form, room: int) -> bool:
        if form not in needs:
            needs[form] = max((len(one.holds[form][-1]) for one in told), default=0)
        return needs[form] <= room

    wide = [
        (forms, stands, full_bar, left, 0)
        for forms, least in ((NAMED[:2], FEWER), (NAMED[2:], LEAST_STANDS))
        for left in dict.fromkeys((named_left, full_left))
        for stands in range(STANDS, least - 1, -1)
    ]
    narrow = [
        (NAMED, 0, *rest)
        for rest in ((full_bar, full_left, 0), (0, full_left, 0), (0, 0, 0), (0, 0, 1), (0, 0, 2))
    ]
    spare, form = 0, FORMS[-1]
    for forms, stands, bar_cells, left, check in (*wide, *narrow, (FORMS, 0, 0, 0, 2)):
        coming = comings[check]
        others = [size for size in (code, stands and stands + 1, coming, bar_cells, left) if size]
        spare = width - sum(others) - GAP * len(others) - 1
        fitting = next((form for form in forms if fits(form, spare)), None)
        if fitting is not None:
            form = fitting
            break
    heading = min(spare, len(HEADING) - code - GAP)
    holds = max([heading, *(len(_longest(one.holds[form], spare)) for one in told)])
    return _Layout(
        form,
        check,
        code,
        holds + 1,
        stands + 1 + spare - holds if stands else 0,
        coming,
        bar_cells,
        left,
    )


def _nth(lengths: Fact, place: int) -> str:
    """What comes next in that length; one that is too long for its column goes shorter alone, but
    not without its check."""
    if not place and len(lengths) > 1 and len(lengths[0]) > NEXT:
        return lengths[1]
    return lengths[min(place, len(lengths) - 1)]


def _longest(lengths: Fact, room: int) -> str:
    """The longest that fits, else the shortest."""
    return next((length for length in lengths if len(length) <= room), lengths[-1])


def _columns(layout: _Layout) -> tuple[Column, ...]:
    parts = (
        Column("", layout.code),
        Column("what it holds", layout.holds),
        Column("as it stands", layout.stands),
        Column("next check", layout.next),
        Column("", layout.bar),
        Column("time left", layout.left, right=True),
    )
    return tuple(part for part in parts if part.width)


def _heading(layout: _Layout) -> Row:
    """The headings: one over code and stock, one over bar and time left."""
    first = layout.code + GAP + layout.holds
    last = layout.bar + GAP + layout.left if layout.bar else layout.left
    parts = (
        (_longest((HEADING, "container", ""), first), first, False),
        (_longest(("as it stands", ""), layout.stands), layout.stands, False),
        (_longest(("next check", "next", ""), layout.next), layout.next, False),
        (_longest(("time left", "left", ""), last), last, True),
    )
    shown = [part for part in parts if part[1]]
    return Row(
        "",
        tuple(Cell(words, "quiet") for words, _, _ in shown),
        columns=tuple(Column("", size, right=right) for _, size, right in shown),
    )


def _row(told: _Told, layout: _Layout) -> Row:
    cells = CellsLater(lambda: _cells(told, layout), told, layout)
    return Row(told.key, cells, SIGNS[told.state])


def _cells(told: _Told, layout: _Layout) -> tuple[Cell, ...]:
    is_calm = told.state in ("in order", "do not disturb")
    tone = TONES[told.state]
    stands = _joined(told.stands(), layout.stands - 1) if layout.stands else ""
    drawn, coming = told.bar.get(layout.bar, ""), _nth(told.next, layout.check)
    cells = (
        (layout.code, Cell(told.code)),
        (layout.holds, Cell(_longest(told.holds[layout.form], layout.holds - 1))),
        (layout.stands, Cell(stands)),
        (layout.next, Cell(coming, "quiet") if is_calm else Cell(coming, tone, "", told.word)),
        (layout.bar, Cell(drawn, told.bar_tone)),
        (layout.left, Cell(_longest(told.left, layout.left))),
    )
    return tuple(cell for size, cell in cells if size)


def _joined(stands: Sequence[Fact], room: int) -> str:
    """As many facts as there is room for, each whole, in as many words as fit."""
    text = ""
    for lengths in stands:
        before = f"{text}, " if text else ""
        more = next((length for length in lengths if len(before) + len(length) <= room), "")
        if more:
            text = before + more
        elif not text:
            continue
    return text


def _nothing_shown(
    bench: Bench, rows: tuple[Row, ...], shown: BenchFilter, *, is_whole: bool
) -> str:
    if rows:
        return ""
    if not any(True for _ in bench.standing()):
        keys = (key_label(bench.settings, "bench", name) for name in ("prompt", "ask_look"))
        words = (
            "Nothing stands on this bench yet. Press {} and type, as: L2 set up laying; {} lists a"
            " bench that already runs"
        )
        if not is_whole:
            return of_what_is_read("Nothing stands on this bench.", is_whole=False)
        return words.format(*keys)
    shows_all = f"{key_label(bench.settings, 'bench', 'unmark')} shows all."
    if shown.words:
        return f"No line has '{literal(shown.words)}'. {shows_all}"
    nothing = of_what_is_read("Nothing is due here now.", is_whole=is_whole)
    return f"{nothing} {shows_all}"


def _is_shown(container: Container, due: Due | None, shown: BenchFilter, now: datetime) -> bool:
    """Whether a line passes the filters, whatever its words are."""
    if shown.purpose and container.purpose != shown.purpose:
        return False
    return not shown.only_due or (due is not None and pressing(due, now) != "ahead")


def _found_by(bench: Bench, container: Container, told: _Told, danger: str) -> str:
    """What a line is found by: all that it and its line of danger say, in every length, and what
    is known of what is there."""
    held = [told.holds[form] for form in FORMS]
    return " ".join(
        [container.code, called(container.purpose), container.shelf, told.state, danger]
        + [length for fact in (*held, *told.stands(), told.next) for length in fact]
        + [f"{lot.brood} {bench.taxon_of(lot.brood)} {lot.stage}" for lot in container.lots]
        + [f"{host.plant} {host.batch}" for host in container.hosts]
        + [note.text for note in container.notes]
    )


def most_urgent(dues: Iterable[Due], now: datetime) -> dict[str, Due]:
    """The most urgent check of each container; one of its shelf or room is not its own."""
    found: dict[str, tuple[tuple[int, int, datetime], Due]] = {}
    now = utc(now)
    for due in dues:
        if due.place_kind != "container":
            continue
        known, urgent = found.get(due.where), urgency(due, now)
        if known is None or urgent < known[0]:
            found[due.where] = urgent, due
    return {code: due for code, (_, due) in found.items()}


def _head(
    bench: Bench,
    dues: list[Due],
    stand: Mapping[Pressing, int],
    moment: Moment,
    filtered: tuple[BenchFilter, int],
    unsaved: int,
    room: ScreenRoom,
    *,
    is_calm: bool,
    is_whole: bool,
) -> tuple[Line, ...]:
    lines = [_top(bench, stand, moment, unsaved, room, is_whole=is_whole)]
    if filtered[0] != BenchFilter():  # a list that is not whole must not look whole
        lines.append(line(_shown_words(bench, *filtered), tone="due"))
    if not room.is_drawn:
        second = [_rest_words(dues, moment), room_words(bench, moment), sill_words(bench, moment)]
        return (*lines, line("   ".join(part for part in second if part), tone="quiet"))
    if not is_calm and room.height >= ROOMY:
        lines.append(line(_fitting(_surroundings(bench, moment), room.width - 3), tone="quiet"))
    if is_calm and room.height >= LOW and any(True for _ in bench.standing()):
        sentences = tuple(
            of_what_is_read(words, is_whole=is_whole)
            for words in _calm_sentences(bench, dues, moment)
        )
        told = line("  ", Cell(_longest(sentences, room.width - 5), "strong"))
        lines += [line(""), told] if room.height >= TALL else [told]
        if room.height >= TALL:
            lines.append(
                line(f"  {_fitting(_surroundings(bench, moment), room.width - 5)}", tone="quiet")
            )
    return tuple(lines)


def _top(
    bench: Bench,
    stand: Mapping[Pressing, int],
    moment: Moment,
    unsaved: int,
    room: ScreenRoom,
    *,
    is_whole: bool,
) -> Line:
    """Where, when, how many checks stand how; what does not fit goes whole, what matters least
    first."""
    grave: tuple[Pressing, ...] = ("in danger", "urgent", "late")
    counts = [Cell(f"{stand[state]} {state}") for state in grave if stand[state]]
    due_now = stand["due"]
    more = Cell(f"{due_now} {'more ' if counts else ''}due", "quiet") if due_now else None
    calm: Cell | None = Cell("nothing is late" if due_now else "nothing is late or due")
    calm = calm if is_whole and not counts else None  # a book not whole says so above this line
    name = Cell(literal(bench.settings.get("bench", "")) or "the bench", "quiet")
    day, hour = (
        Cell(day_and_time(moment.now, moment.zone)),
        Cell(f"{moment.now.astimezone(moment.zone):%H:%M}"),
    )
    warned = [Cell(f" {unsaved} NOT SAVED ", "danger")] if unsaved else []
    whole = [one for one in (*warned, name, day, *counts, calm, more) if one]
    wide = (
        [*whole[: 2 + len(warned)], Cell(_room_now(bench), "quiet"), *whole[2 + len(warned) :]]
        if _room_now(bench)
        else whole
    )
    forms = (
        *([wide] if room.width >= WIDE else []),
        whole,
        [one for one in (*warned, day, *counts, calm, more) if one],
        [one for one in (*warned, hour, *counts, calm, more) if one],
        [one for one in (*warned, hour, *counts, calm) if one],
        [cell for cell in (*warned, *counts, calm) if cell],
    )
    for form in forms:
        for gap in (3, 2):
            if sum(len(one.text) for one in form) + gap * (len(form) - 1) <= room.width - 2:
                return _spaced(form, gap)
    return _spaced(forms[-1], 1)


def _spaced(parts: Sequence[Cell], gap: int) -> Line:
    cells = [cell for part in parts for cell in (Cell(" " * gap), part)]
    return Line(tuple(cells[1:]))


def _calm_sentences(bench: Bench, dues: list[Due], moment: Moment) -> Fact:
    """What there is to know where nothing is in danger or urgent: what is late, what is due, until
    when all is in order."""
    now = moment.now
    late = sorted(
        (due for due in dues if pressing(due, now) == "late"),
        key=lambda due: how_bad(due, now),
    )
    begin = f"{key_label(bench.settings, 'bench', 'round')} begins the round"
    if late:
        named = [_what(due) for due in late]
        number = f"{count(len(late), 'check')} {'is' if len(late) == 1 else 'are'} late"
        begun = [", ".join(named[:most]) + and_more(len(named), most) for most in (4, 3, 2, 1)]
        return (*(f"{number}: {words}." for words in begun), f"{number}.")
    due_now = sum(1 for due in dues if pressing(due, now) == "due")
    if due_now:
        number = f"{count(due_now, 'check')} {'is' if due_now == 1 else 'are'} due"
        return f"Nothing is late. {number}: {begin}.", f"Nothing is late. {number}.", f"{number}."
    coming = _coming_next(dues, moment)
    if coming is None:
        return ("Nothing is due, and nothing is to come.",)
    at = moment.clock(comes(coming, now))
    same = [due for due in dues if comes(due, now) == comes(coming, now)]
    what = _what(coming)
    more = f", and {count(len(same) - 1, 'more check')}" if len(same) > 1 else ""
    container = container_of(bench, coming)
    held = f", {stock_words(bench, container)}" if container is not None and container.lots else ""
    order = f"Nothing is due until {at}."
    return (
        f"{order} Then {what}{held}{more}.",
        f"{order} Then {what}{more}.",
        f"{order} Then {what}.",
        order,
    )


def _what(due: Due) -> str:
    """The place and the check by its label; of the room, which is called as its place, what is
    read there."""
    place, label = place_words(due), CHECKS[due.check].label
    return f"read the {place}'s temperature" if label == place else f"{place}: {label}"


def _coming_next(dues: Iterable[Due], moment: Moment) -> Due | None:
    """The check that comes next where none is due now."""
    ahead = [due for due in dues if comes(due, moment.now) > moment.now]
    return min(
        ahead,
        key=lambda due: (
            comes(due, moment.now),
            due.place_kind != "container",
            -due.severity,
            due.where,
        ),
        default=None,
    )


def _room_now(bench: Bench) -> str:
    last = next(iter(reversed(bench.air.get("", []))), None)
    if last is None or last.temperature_c is None:
        return ""
    humid = f", {number(last.humidity_percent)} %" if last.humidity_percent is not None else ""
    return f"room {measures_of(bench.settings).warmth(last.temperature_c)}{humid}"


def _surroundings(bench: Bench, moment: Moment) -> list[str]:
    """The room, the sill, the barriers of the shelves."""
    guarded = [shelf for shelf in bench.shelves.values() if shelf.moat.seen is not None]
    barriers = [
        f"{literal(shelf.name)}"
        f" {ants.barrier_words(bench, shelf.barrier, shelf.moat, moment.now)[-1]}"
        for shelf in guarded
    ]
    return [room_words(bench, moment), sill_words(bench, moment), *barriers]


def _fitting(parts: Sequence[str], width: int) -> str:
    """As many parts as fit, each whole."""
    text = ""
    for part in parts:
        more = f"{text}   {part}" if text and part else text or part
        text = more if len(more) <= width else text
    return text


def _rest_words(dues: Iterable[Due], moment: Moment) -> str:
    """On lines: the late checks of places that have no line of their own, and when the next check
    comes."""
    late = ", ".join(
        f"{check_at(due)} {state_of(due, moment.now)}" for due in late_places(dues, moment.now)
    )
    coming = _coming_next(dues, moment)
    ahead = f"next {moment.clock(comes(coming, moment.now))}" if coming else "nothing ahead"
    return f"{late}   {ahead}" if late else ahead


def late_places(dues: Iterable[Due], now: datetime) -> list[Due]:
    """The worst late check of each shelf, the room and the book, which have no line of their own
    while all is in order."""
    late = [
        due
        for due in dues
        if due.place_kind != "container" and state_of(due, now) in WORSE_THAN_DUE
    ]
    late.sort(key=lambda due: urgency(due, now))
    found: dict[tuple[str, str], Due] = {}
    for due in late:
        found.setdefault((due.place_kind, due.where), due)
    return list(found.values())


def room_words(bench: Bench, moment: Moment) -> str:
    """The room as it was last read."""
    readings = bench.air.get("", [])
    if not readings:
        return "room not read yet"
    last = readings[-1]
    parts = ["room"]
    measures = measures_of(bench.settings)
    if last.temperature_c is not None:
        parts.append(measures.warmth(last.temperature_c))
    if last.low_c is not None and last.high_c is not None:
        parts.append(measures.span(last.low_c, last.high_c))
    if last.humidity_percent is not None:
        parts.append(f"{number(last.humidity_percent)} %")
    if last.temperature_c is not None and last.humidity_percent:
        night = tonight(bench, moment.now)
        low_c = night.low_c if night else None
        parts.append(
            feel_of_air(
                temperature_c=last.temperature_c,
                humidity_percent=last.humidity_percent,
                tonight_low_c=low_c,
            )
        )
    return " ".join(parts) + f", {ago(last.at, moment.now)}"


def sill_words(bench: Bench, moment: Moment) -> str:
    """When the sun is on the sill today; empty where the book does not say where the bench is and
    how its window looks."""
    if not all(bench.settings.get(name) for name in ("latitude", "longitude", "sill")):
        return ""
    text = ", ".join(
        f"{start:%H:%M}-{end:%H:%M}" for start, end in sill_spans(bench, moment.today, moment.zone)
    )
    return f"sun on the sill {text}" if text else "no sun on the sill today"


def _shown_words(bench: Bench, shown: BenchFilter, left: int) -> str:
    """What the filters leave, and of how many: ``3 of 23 containers, only laying``."""
    every = sum(1 for _ in bench.standing())
    parts = [
        f"{left} of {count(every, 'container')}" if left < every else count(every, "container")
    ]
    if shown.purpose:
        parts.append(f"only {called(shown.purpose)}")
    if shown.only_due:
        parts.append("only what is due")
    if shown.words:
        parts.append(f"only '{literal(shown.words)}'")
    parts.append("in walking order" if shown.sort == "walk" else "most urgent first")
    return ", ".join(parts)


def without_stock(container: Container) -> str:
    """What a container without animals holds: sprigs, plants, or nothing."""
    if container.held:
        return kept_words(container)
    if container.hosts:
        return ", ".join(sorted({f"{literal(host.plant)}" for host in container.hosts}))
    return "empty"


def stock_words(bench: Bench, container: Container, *, names: bool = True) -> str:
    """The stock in a few words: ``4 f dia``, ``11 L3 inachus``; without names ``11 L3``."""
    stock = summed(
        ((short_stage_word(lot), literal(bench.short_name(lot.brood)) if names else ""), lot.number)
        for lot in container.lots
    )
    adults = {short_stage_word(lot) for lot in container.lots if lot.stage == "adult"}
    in_order = sorted(stock.items(), key=lambda one: (one[0][0] not in adults, -one[1]))
    parts = {key: of_stage(how_many, key[0]) for key, how_many in in_order}
    texts = sorted({name for _, name in stock if name})
    # of one stage several: each with its name
    if len(texts) > 1 and len({stage for stage, _ in stock}) < len(stock):
        return ", ".join(f"{words} {name}".rstrip() for (_, name), words in parts.items())
    return " ".join([(", " if names else " ").join(parts.values()), *texts])
