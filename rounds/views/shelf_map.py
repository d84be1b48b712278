"""The bench as it stands: shelf by shelf, cup by cup, drawn in characters that need no colour.

A cup is four rows: its edge, which is the bar of the time left until danger, then up to three rows
of words. No word is cut: what does not fit is written shorter or left out; the code, and what is to
be done, never.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime, timedelta
from itertools import groupby

from msgspec import Struct
from rich.cells import cell_len, set_cell_size

from rounds import late
from rounds.bench.codes import in_order
from rounds.bench.folding.signs import SIGN_WORDS
from rounds.bench.plurals import of_stage
from rounds.bench.state import Bench, Container
from rounds.checks import ants
from rounds.checks.due_state import Due, comes, time_left, urgency
from rounds.checks.facts import left_be_until
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment
from rounds.checks.walking_order import order_key, shelf_of
from rounds.entries.check_labels import called
from rounds.forecasts.tonight import sill_spans
from rounds.grouping import summed
from rounds.views.as_it_stands import animals_of, kept_words, short_stage_word, stage_word
from rounds.views.bench_page import most_urgent
from rounds.views.cells import Cell, Column, Line, Row, Tone, line, row_of, widths
from rounds.views.fitting import joined
from rounds.views.queries import with_words
from rounds.views.species import SpeciesNames
from rounds.views.states import (
    SIGNS,
    TONES,
    State,
    edge,
    harm_words,
    left_words,
    state_of,
    when_words,
)
from rounds.views.words import day_and_time, literal, of_what_is_read

LEAST_CUP, MAX_CUP = 10, 22  # cells of a cup
WORD_ROWS = 3  # rows of words under the edge
NOT_PLACED = "not placed"
WORDED: tuple[State, ...] = ("in danger", "urgent")  # told in a word, never by the sign alone
COUNTED: tuple[State, ...] = ("in danger", "urgent", "late")
LEGEND = (
    "# in danger",
    "= urgent",
    ": late",
    ". due",
    "~ do not disturb",
    "full edge: no time",
)
_UNIT = late.pattern(r"\+ \d+ more|\d[\d,]* \S+|\S+")
HELD = 3  # which column of the table tells what is there


class Cup(Struct, frozen=True):
    """One container on the map.

    Attributes:
        left: the time until danger; None where none is expected.
        holds: what is in it, the longest way to say it first.
        name: the species or plant, or that it is suspect, or what is missing.
        needs: what is to be done there, the longest way to say it first; none while all is in
            order.
        check: the check that is asked there first, by its verb; '' where none is.
        when: since when it is in danger, how long until it is, or when the check comes.
        told: the animals with their species in whole.
    """

    code: str
    place: int
    inside: str
    state: State
    left: timedelta | None
    holds: tuple[str, ...]
    name: str
    needs: tuple[str, ...]
    check: str
    when: str
    told: str
    searched: str

    @property
    def is_in_order(self) -> bool:
        """Whether nothing is asked there now."""
        return self.state == "in order"

    @property
    def aloud(self) -> str:
        """The cup as it is read out: words alone, no sign and no bar."""
        where = (
            f"inside {self.inside}" if self.inside else f"place {self.place}" if self.place else ""
        )
        return ", ".join(filter(None, (self.code, where, self.told, *self._state_words())))

    def line(self, room: int) -> str:
        """The same in a line of that many cells, shorter where it must be."""
        text = f"{self.code}, {self.told}"
        state = ", ".join(filter(None, self._state_words()))
        ways = (
            self.aloud,
            f"{text}, {state}",
            f"{self.code}, {self.holds[-1]}, {state}",
            f"{self.code}, {state}",
        )
        return next((way for way in ways if cell_len(way) <= room), ways[-1])

    def _state_words(self) -> Iterator[str]:
        if self.is_in_order:
            yield "in order"
            if self.check:
                yield f"next {self.check} {self.when}"
            return
        is_quiet = self.state == "do not disturb"
        state = "now" if self.state == "due" else self.state
        if is_quiet:
            yield f"{state} {self.when}"
            yield self.check
        elif self.check.endswith("?"):
            yield f"{state}: {self.check} {self.when}".rstrip()
        else:
            yield f"{self.check} {state}"
            yield self.when


class MapShelf(Struct, frozen=True):
    """A shelf with its cups, left to right; ``told`` is its name, its sun, its barrier; ``need``
    what is to be done there."""

    name: str
    told: tuple[str, ...]
    state: State
    need: str
    cups: tuple[Cup, ...]

    @property
    def aloud(self) -> str:
        """Its board as it is read out."""
        return ", ".join(filter(None, (*self.told, self.need)))


class Band(Struct, frozen=True):
    """Some cups of a shelf side by side, and whether the shelf begins with them or ends."""

    shelf: MapShelf
    cups: tuple[Cup, ...]
    is_first: bool
    is_last: bool

    def rows(self, *, on_top: bool = False) -> int:
        """How many rows it takes: the cups, and the board over the first of them, and over those
        that stand on top."""
        return 1 + WORD_ROWS + (self.is_first or on_top)


def rows_of(bands: Sequence[Band]) -> int:
    """How many rows some bands take, shown one below the other."""
    return sum(band.rows(on_top=not place) for place, band in enumerate(bands))


class Layout(Struct, frozen=True):
    """Where each cup stands in a given width."""

    bands: tuple[Band, ...]
    cup: int  # cells of each

    def at(self, code: str) -> tuple[int, int]:
        """Band and column of a cup; those of the first where it is not on the map."""
        for position, band in enumerate(self.bands):
            for column, cup in enumerate(band.cups):
                if cup.code == code:
                    return position, column
        return 0, 0

    def beside(self, code: str, steps: int) -> str:
        """The cup so many places further on its shelf; it stops at the ends."""
        cups = self._shelf_of(code).cups
        codes = [cup.code for cup in cups]
        return codes[max(0, min(len(codes) - 1, codes.index(code) + steps))]

    def above(self, code: str, steps: int) -> str:
        """The cup in the same column so many rows of cups further down, or up; the last of a
        shorter row."""
        band, column = self.at(code)
        cups = self.bands[max(0, min(len(self.bands) - 1, band + steps))].cups
        return cups[min(column, len(cups) - 1)].code

    def end(self, code: str, *, last: bool) -> str:
        """The first or last cup of its shelf."""
        return self._shelf_of(code).cups[-1 if last else 0].code

    def _shelf_of(self, code: str) -> MapShelf:
        return self.bands[self.at(code)[0]].shelf


def shelves_of(bench: Bench, dues: Sequence[Due], moment: Moment) -> tuple[MapShelf, ...]:
    """The shelves in the order of the walk, each with its cups by place; what stands on none comes
    last."""
    urgent, species = most_urgent(dues, moment.now), SpeciesNames(bench)
    order = sorted(
        bench.standing(),
        key=lambda one: (not shelf_of(bench, one), order_key(bench, one)[1:]),
    )
    shelves = []
    for shelf, cups in groupby(order, key=lambda one: shelf_of(bench, one)):
        told, state, need = _board(bench, shelf, moment, dues)
        shelves.append(
            MapShelf(
                shelf,
                told,
                state,
                need,
                tuple(
                    _cup(bench, species, container, urgent.get(container.code), moment)
                    for container in cups
                ),
            )
        )
    return tuple(shelves)


def _board(
    bench: Bench, name: str, moment: Moment, dues: Iterable[Due]
) -> tuple[tuple[str, ...], State, str]:
    """What a shelf's board says, its state, and what is to be done there."""
    if not name:
        return (NOT_PLACED,), "in order", ""
    shelf = bench.shelves.get(name)
    texts = [literal(name) if name.startswith("shelf") else f"shelf {literal(name)}"]
    if shelf is not None and shelf.apart:
        texts.append("apart from the room")
    texts.append(_sun_words(bench, name, moment))
    if shelf is not None and shelf.barrier not in ("none", "not applicable"):
        texts.append(ants.barrier_words(bench, shelf.barrier, shelf.moat, moment.now)[0])
    own = [due for due in dues if due.place_kind == "shelf" and due.where == name]
    worst = min(own, key=lambda due: urgency(due, moment.now), default=None)
    state = state_of(worst, moment.now)
    need = ""
    if worst and state != "in order":
        need = f"{CHECKS[worst.check].label} {when_words(worst, moment)}"
    return tuple(filter(None, texts)), state, need


def _sun_words(bench: Bench, shelf: str, moment: Moment) -> str:
    """The sun of today on a shelf where a cup is said to stand in the sun."""
    if not any(
        container.lit == "sun" and container.shelf == shelf for container in bench.standing()
    ):
        return ""
    begins, ends = next(
        (span for span in sill_spans(bench, moment.today, moment.zone) if span[1] > moment.now),
        (None, None),
    )
    if begins is None or ends is None:
        return ""
    if begins <= moment.now:
        return f"in the sun until {ends:%H:%M}"
    return f"sun from {begins:%H:%M} to {ends:%H:%M}"


def _cup(
    bench: Bench, species: SpeciesNames, container: Container, due: Due | None, moment: Moment
) -> Cup:
    quiet_until = left_be_until(container, moment.now)
    state = state_of(due, moment.now, undisturbed=quiet_until is not None)
    is_quiet = state == "do not disturb" and quiet_until is not None
    verb = CHECKS[due.check].label if due else ""
    is_due = due is not None and comes(due, moment.now) <= moment.now
    when = ""
    if quiet_until is not None and is_quiet:
        when = f"until {moment.clock(quiet_until)}"
        verb = f"{verb} now" if is_due else ""
    elif due is not None:
        when = when_words(due, moment) if state == "in order" else harm_words(due, moment)
    names = _names(species, container)
    holds = _holds(container)
    return Cup(
        code=container.code,
        place=container.place,
        inside=container.inside,
        state=state,
        left=time_left(due, moment.now) if due else None,
        holds=holds,
        name=_mark(bench, container) or ", ".join(names.values()),
        needs=_needs(container, due, state),
        check=verb,
        when=when,
        told=_told(bench, container, holds[0], names),
        searched=" ".join(
            [
                container.code,
                called(container.purpose),
                container.shelf,
                *holds,
                *names,
                *names.values(),
            ]
            + [f"{host.plant} {host.batch}" for host in container.hosts]
            + [note.text for note in container.notes]
        ),
    )


def _told(bench: Bench, container: Container, holds: str, names: Iterable[str]) -> str:
    """The animals in whole words, with their species, what matters more, and stems that are kept
    beside them."""
    groups = summed((stage_word(lot), lot.number) for lot in container.lots)
    animals = ", ".join(animals_of(number, stage) for stage, number in groups.items())
    mark = _mark(bench, container)
    kept = kept_words(container) if animals and container.held else ""
    return ", ".join(
        filter(None, (" ".join(filter(None, (animals or holds, ", ".join(names)))), mark, kept))
    )


def _needs(container: Container, due: Due | None, state: State) -> tuple[str, ...]:
    if state == "in order" or due is None:
        return ()
    if state == "do not disturb":
        return tuple(filter(None, (SIGN_WORDS.get(container.sign, ""), "do not disturb")))
    check = CHECKS[due.check]
    if state == "due":
        return f"{check.label} now", check.label, "due"
    return f"{check.label} {state}", state, state.removeprefix("in ")


def _mark(bench: Bench, container: Container) -> str:
    """What matters more than the species."""
    missing = sum(
        shortfall.number for shortfall in bench.shortfalls if shortfall.container == container.code
    )
    return "suspect" if container.suspect_since else f"{missing} not seen" if missing else ""


def _names(species: SpeciesNames, container: Container) -> dict[str, str]:
    """The species in whole, each with its short name; without animals the plants."""
    if container.lots:
        broods = sorted({lot.brood for lot in container.lots}, key=in_order)
        return {species.of(brood, "whole"): species.of(brood, "epithet") for brood in broods}
    return {literal(host.plant): literal(host.plant) for host in container.hosts}


def _holds(container: Container) -> tuple[str, ...]:
    """What it holds, the longest way first; of many stages the two most numerous, and how many
    more."""
    if not container.lots:
        if container.held:
            kept = kept_words(container)
            return (kept, kept.partition(",")[0], "stems")
        return ("plants",) if container.hosts else ("empty",)
    groups = summed((short_stage_word(lot), lot.number) for lot in container.lots)
    most = sorted(groups, key=lambda stage: -groups[stage])
    ways = [" ".join(of_stage(number, stage) for stage, number in groups.items())]
    for shown in (2, 1):
        if len(groups) > shown:
            rest = sum(groups[stage] for stage in most[shown:])
            ways.append(
                " ".join(
                    [*(of_stage(groups[stage], stage) for stage in most[:shown]), f"+ {rest} more"]
                )
            )
    return tuple(ways)


def layout(shelves: Sequence[MapShelf], width: int) -> Layout:
    """As many cups side by side as fit, the same for every shelf; spare room makes them wider."""
    longest = max((len(cup.code) for shelf in shelves for cup in shelf.cups), default=0)
    least = max(LEAST_CUP, longest)
    widest = max((len(shelf.cups) for shelf in shelves), default=1)
    across = max(1, min(widest, (width - 1) // (least + 1)))
    cup = min(MAX_CUP, (width - 1) // across - 1)
    bands = []
    for shelf in shelves:
        for begin in range(0, len(shelf.cups), across):
            cups = shelf.cups[begin : begin + across]
            bands.append(Band(shelf, cups, not begin, begin + across >= len(shelf.cups)))
    return Layout(tuple(bands), max(1, cup))


def window(bands: Sequence[Band], top: int, at: int, room: int) -> tuple[int, int]:
    """Which bands are shown in so many rows, from where they were shown last: the one at the cursor
    always, in whole."""
    top = max(0, min(top, at))
    while top < at and rows_of(bands[top : at + 1]) > room:
        top += 1
    end = top + 1
    while end < len(bands) and rows_of(bands[top : end + 1]) <= room:
        end += 1
    while top and rows_of(bands[top - 1 : end]) <= room:
        top -= 1  # the room grew, or the shelves below are fewer now
    return top, end


def map_lines(shown: Layout, bands: Sequence[Band], cursor: str, width: int) -> tuple[Line, ...]:
    """Some bands drawn, the board over the first cups of each shelf, and over those on top."""
    lines: list[Line] = []
    for place, band in enumerate(bands):
        if band.is_first or not place:
            lines.append(_board_line(band.shelf, width, goes_on=not band.is_first))
        drawn = [_drawn(cup, shown.cup, is_cursor=cup.code == cursor) for cup in band.cups]
        lines += [_side_by_side([cup[row] for cup in drawn]) for row in range(1 + WORD_ROWS)]
    return tuple(lines)


def _side_by_side(cups: Sequence[tuple[Cell, ...]]) -> Line:
    """A row of each cup; between words that would read on from one into the next stands a bar."""
    cells: list[Cell] = []
    for sign, *words in cups:
        last = "".join(cell.text for cell in cells)[-1:]
        touches = last.strip() and last not in SIGNS.values()
        reads_on = touches and sign.text == " " and words[0].text[:1].strip()
        cells += [Cell("|", "quiet") if reads_on else sign, *words]
    return line(*cells)


def _drawn(cup: Cup, width: int, *, is_cursor: bool) -> list[tuple[Cell, ...]]:
    """A cup in rows of equal width, each with the column before it, where the cursor stands."""
    words = cup_words(cup, width)
    cells: list[tuple[Cell, ...]] = [
        _filled_up(edge(cup.state, cup.left, width), TONES[cup.state], " ", width)
    ]
    for position in range(WORD_ROWS):
        text, is_need = words[position] if position < len(words) else ("", False)
        tone = TONES[cup.state] if is_need else "quiet" if cup.is_in_order else "plain"
        sign = ">" if is_cursor and not position else " "
        cells.append(_filled_up(text, "cursor" if is_cursor and not is_need else tone, sign, width))
    return cells


def _filled_up(text: str, tone: Tone, sign: str, width: int) -> tuple[Cell, ...]:
    rest = " " * (width - cell_len(text))
    if tone == "cursor":
        return Cell(sign, "cursor"), Cell(text + rest, "cursor")
    return Cell(sign), Cell(text, tone), Cell(rest)


def cup_words(cup: Cup, width: int) -> list[tuple[str, bool]]:
    """The rows of words of a cup, each with whether it says what is to be done.

    Where not all fits the species goes, then what it holds is said shorter; the code and what is to
    be done stay, and where it is urgent or in danger the word for that.
    """
    ways = [(need, _held_rows(cup, WORD_ROWS - len(need), width)) for need in _needs_by(cup, width)]
    said = len(_held_rows(cup, WORD_ROWS - 1, width))  # what is said of it at the most
    if cup.state in WORDED:
        said = min(said, 1)
        ways = [way for way in ways if way[1] != [cup.code]] or ways
    need, held = next((way for way in ways if len(way[1]) >= said), ways[0])
    return [*((row, False) for row in held), *((row, True) for row in need)]


def _held_rows(cup: Cup, room: int, width: int) -> list[str]:
    """The code, what it holds and of which species, as far as so many rows have room for it."""
    ways = (joined([cup.code, *_UNIT.findall(way)], width) for way in cup.holds)
    holds = next(
        (
            rows
            for rows in ways
            if len(rows) <= room and all(cell_len(row) <= width for row in rows)
        ),
        [cup.code],
    )
    name = [cup.name] if cup.name and cell_len(cup.name) <= width and len(holds) < room else []
    return [*holds, *name]


def _needs_by(cup: Cup, width: int) -> list[list[str]]:
    """What is to be done, in every way that has room: in a row; the check over its state, as
    ``search`` over ``late``; the check behind the sign of its state, as ``: search``; the state."""
    longest, *shorter = cup.needs or ("",)
    state = next((way for way in shorter if longest.endswith(f" {way}")), "")
    check = longest.removesuffix(state).rstrip()
    apart = [check, state] if state else shorter[:1]
    signed = [f"{SIGNS[cup.state]} {check}"] if state and cup.state not in WORDED else []
    ways = [[longest], apart, signed, *([way] for way in shorter)]
    fitting = [rows for rows in ways if rows and all(cell_len(row) <= width for row in rows)]
    return fitting or [joined((shorter or [longest])[-1].split(), width)]


def _board_line(shelf: MapShelf, width: int, *, goes_on: bool) -> Line:
    """The shelf itself: a rule of dashes with its name, and what is to be done there; in little
    room what is told goes first."""
    whole = f"   {SIGNS[shelf.state]} {shelf.need}" if shelf.need else ""
    brief = f"   {SIGNS[shelf.state]} {shelf.state}" if shelf.need else ""
    name, *texts = shelf.told
    name = f"{name}, further on" if goes_on else name
    begins = [f" -- {'   '.join([name, *texts[:shown]])}" for shown in range(len(texts), -1, -1)]
    ways = [(begun, whole) for begun in begins] + [
        (begins[-1], brief),
        (f" {name}", brief),
        (f" {name}", ""),
    ]
    begun, need = next(
        (way for way in ways if cell_len("".join(way)) < width),
        (set_cell_size(f" {name}", width), ""),
    )
    rest = width - 2 - cell_len(begun) - cell_len(need)
    return line(
        Cell(begun, "quiet" if shelf.state == "in order" else "plain"),
        Cell(need, TONES[shelf.state]),
        Cell(f" {'-' * rest}" if rest > 0 else "", "quiet"),
    )


def count_words(dues: Iterable[Due], now: datetime, *, is_whole: bool = True) -> str:
    """How many checks are in danger, urgent, late; ``is_whole`` says whether all of the book could
    be read."""
    states = [state_of(due, now) for due in dues]
    counts = "  ".join(f"{states.count(state)} {state}" for state in COUNTED if state in states)
    if "due" in states or counts:
        return counts or f"{states.count('due')} due"
    return of_what_is_read("nothing is late or due", is_whole=is_whole)


def map_head(
    shelves: Sequence[MapShelf], shown: Sequence[Band], moment: Moment, counts: str, width: int
) -> Line:
    """What is shown, all shelves or which of them; when; and how many checks are in each state."""
    names = [shelf.name for shelf in shelves]
    first, last = (
        (names.index(band.shelf.name) + 1 for band in (shown[0], shown[-1])) if shown else (0, 0)
    )
    is_whole = not shown or (first == 1 and shown[-1].is_last and last == len(names))
    part = f"shelf {first}" if first == last else f"shelves {first} to {last}"
    title = "the shelves, as they stand" if is_whole else f"{part} of {len(names)}"
    parts = [title, day_and_time(moment.now, moment.zone), counts]
    while len(parts) > 1 and len("   ".join(parts)) > width:
        parts.pop(1 if len(parts) > 2 else 0)
    return line("   ".join(parts))


def legend(width: int) -> Line:
    """What signs and edge mean, as far as there is room."""
    parts = list(LEGEND)
    while len(parts) > 1 and len(f" {'  '.join(parts)}") > width:
        parts.pop()
    return line("  ".join(parts), tone="quiet")


def cup_of(shelves: Sequence[MapShelf], code: str) -> Cup | None:
    """The cup of that code."""
    return next((cup for shelf in shelves for cup in shelf.cups if cup.code == code), None)


def found(shelves: Sequence[MapShelf], words: str, after: str) -> str:
    """The next cup after one that has these words, from the first again behind the last; '' where
    none has."""
    cups = [cup for shelf in shelves for cup in shelf.cups]
    begin = next((position for position, cup in enumerate(cups) if cup.code == after), -1) + 1
    fits = with_words(words)
    return next(
        (cup.code for cup in [*cups[begin:], *cups[:begin]] if fits({"text": cup.searched})), ""
    )


def map_table(
    shelves: Sequence[MapShelf], width: int
) -> tuple[tuple[Column, ...], tuple[Row, ...]]:
    """The map as a table of that many cells: the same cups with the same numbers."""
    cups = [(literal(shelf.name) or NOT_PLACED, cup) for shelf in shelves for cup in shelf.cups]

    def column(
        heading: str, words: Iterable[str], *, right: bool = False, gives: int = 0
    ) -> Column:
        size = max(map(cell_len, (heading, *words)))
        return Column(heading, size, right=right, gives=gives)

    columns = (
        column("shelf", (shelf for shelf, _ in cups)),
        Column("place", 5, right=True, gives=2),
        column("container", (literal(cup.code) for _, cup in cups)),
        Column("what it holds", 16, grows=1, least=10),
        column("state", (cup.state for _, cup in cups)),
        column("check", (cup.check for _, cup in cups)),
        Column("left", 6, right=True, gives=1),
    )
    room = widths(columns, width)[HELD]
    return columns, tuple(
        row_of(
            cup.code,
            shelf,
            Cell(str(cup.place) if cup.place else "", "quiet"),
            literal(cup.code),
            next((way for way in _held_ways(cup) if cell_len(way) <= room), cup.holds[-1]),
            Cell(cup.state, TONES[cup.state]),
            cup.check,
            left_words(cup.left),
        )
        for shelf, cup in cups
    )


def _held_ways(cup: Cup) -> Iterator[str]:
    """What it holds, the longest way first: with the species, then without."""
    yield cup.told
    yield from (f"{way} {cup.name}".rstrip() for way in cup.holds)
    yield from cup.holds


def aloud_lines(shelves: Sequence[MapShelf], *, short: bool = False) -> Iterator[str]:
    """The map as it is read out: what is in danger or urgent, then a line a shelf and a line a cup;
    in short only what is not in order."""
    for state in WORDED:
        named = [
            *(f"{shelf.told[0]}, {shelf.need}" for shelf in shelves if shelf.state == state),
            *(
                f"{cup.code}, {cup.check}"
                for shelf in shelves
                for cup in shelf.cups
                if cup.state == state
            ),
        ]
        if named:
            yield _ended(f"{state}: {'; '.join(named)}")
    for shelf in shelves:
        cups = [cup for cup in shelf.cups if not (short and cup.is_in_order)]
        if cups or shelf.need or not short:
            yield from (_ended(words) for words in (shelf.aloud, *(cup.aloud for cup in cups)))


def _ended(sentence: str) -> str:
    """A sentence with its stop; a check that is called by a question has its own."""
    return sentence if sentence.endswith("?") else f"{sentence}."
