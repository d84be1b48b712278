"""The helper's sheet: what somebody who knows nothing of insects does at each visit, on paper, with a box for each visit.

The words stand here once; ``sheet_pages`` lays them out as plain text, ``exchange/sheet_page.py`` as a page to print.
"""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterator
from datetime import datetime, tzinfo

from msgspec import Struct

from rounds.bench.kinds.base import STICKY
from rounds.bench.measures import Measures, measures_of
from rounds.bench.state import Bench
from rounds.care.away import Away
from rounds.care.order import WASH_BEFORE
from rounds.care.places import WARM_C
from rounds.care.visits import NEW_PLANT, Place, Task, Visits
from rounds.views.words import day_and_time, literal

WIDTH, HEIGHT = 80, 60  # of a printed page, in characters and lines
WIDE, MOST_VISITS = 4, 8  # visits beside which the hour still has room, and the most on one sheet
BLANK = "____________"
CAUTIONS = (
    "Wash your hands before, after, and where this sheet says so. Hairs can sting: gloves where it says gloves, no rubbing of "
    "eyes. No insect spray, flea drops or plug-ins near cups. A lamp that smells or flickers: off at the wall, telephone. "
    "Go from the first number to the last. To look is from outside. Open only what a line tells you to open, with the window "
    "shut, and close it again. Whatever is in a cup stays in: old plants and leaves may bear eggs."
)
NORMAL = "Normal: a caterpillar that does not move for a day, while it changes its skin; wings shut and not moving in the dark."
WASH = "Wash your hands."
NO_VISIT = "The keeper is back before the next visit: nothing to do."
TICK = "Tick a box when all beside it, down to the next box, is done. --: nothing to do."
RING = (
    "Telephone, and leave the cup as it is: mould or ants in a cup, an animal that is limp or smells, nothing alive in it, "
    "a plant that runs out."
)
SEEN_BY = f"Seen by: {BLANK}   Odd things: {BLANK * 3}"


class Row(Struct, frozen=True):
    """What is done together, and at which of the sheet's visits there is something to do."""

    text: str
    boxes: tuple[bool, ...]


class Entry(Struct, frozen=True):
    """One numbered place."""

    number: int
    wash: bool
    rows: tuple[Row, ...]


class Stretch(Struct, frozen=True):
    """The visits that share one sheet, the places in walking order, and those where nothing falls due."""

    visits: tuple[datetime, ...]
    entries: tuple[Entry, ...]
    leave_alone: tuple[str, ...]

    @property
    def alone(self) -> str:
        """Where there is nothing to do, in one sentence."""
        return f"Leave alone, nothing to do: {', '.join(self.leave_alone)}."


class Sheet(Struct, frozen=True):
    """All words of a helper's sheet; nothing in it is obeyed by a terminal or hidden from the eye."""

    name: str
    head: tuple[str, ...]
    phone: str
    plants: tuple[tuple[str, str], ...]  # each plant and where it stands, '' where that is not on record
    stretches: tuple[Stretch, ...]
    zone: tzinfo


def sheet(bench: Bench, plan: Away, zone: tzinfo) -> Sheet:
    """The sheet of an absence; long ones on several, each of which stands on its own."""
    visits = plan.visits
    keeper = literal(bench.settings.get("keeper", ""))
    back = day_and_time(plan.back, zone, plan.leave)
    times = f"From {day_and_time(plan.leave, zone)} to {back}, when the keeper{keeper and f' {keeper}'} is back."
    parts = -(-len(visits.at) // MOST_VISITS) or 1
    size = -(-len(visits.at) // parts)
    words = _Words(visits, measures_of(bench.settings), zone)
    return Sheet(
        literal(bench.settings.get("bench", "")) or "The bench",
        (times,),
        literal(bench.settings.get("phone", "")),
        tuple((literal(plant), words.stands(plant)) for plant in visits.plants),
        tuple(
            _stretch(words, visits, range(first, min(first + size, len(visits.at))))
            for first in range(0, parts * size or 1, size or 1)
        ),
        zone,
    )


def sheet_warnings(told: Sheet) -> list[str]:
    """What the keeper still has to fill in by hand, or to type before printing."""
    found = []
    if not told.phone:
        found.append("no telephone number: the sheet has a blank for it; 'setting phone 01234 567890' puts it there")
    missing = [plant for plant, stands in told.plants if not stands]
    if missing:
        found.append(f"no store of {', '.join(missing)} is on record: write on the sheet where it stands")
    return found


def _stretch(words: _Words, visits: Visits, numbers: range) -> Stretch:
    entries: list[Entry] = []
    alone: list[str] = []
    group = ""
    for place in visits.places:
        rows = words.rows(place, numbers)
        if not rows:
            alone.append(literal(place.where))
            continue
        wash = place.group != group and place.group in WASH_BEFORE
        group = place.group
        entries.append(Entry(len(entries) + 1, wash, rows))
    return Stretch(tuple(visits.at[number] for number in numbers), tuple(entries), tuple(alone))


class _Words:
    """What is said at a place."""

    def __init__(self, visits: Visits, measures: Measures, zone: tzinfo) -> None:
        self._visits, self._measures, self._zone = visits, measures, zone

    def stands(self, plant: str) -> str:
        """Where a plant stands in store; '' where that is not on record."""
        store = self._visits.stores.get(plant)
        if store is None:
            return ""
        return f"{literal(store.code)}{f' on shelf {literal(store.shelf)}' if store.shelf else ''}"

    def rows(self, place: Place, numbers: range) -> tuple[Row, ...]:
        """The rows of a place, those with the most boxes first; none where nothing falls due and nothing warns."""
        by_boxes: dict[tuple[bool, ...], list[Task]] = {}
        drinks = any(task.check == "drink" for task in place.tasks)
        for task in place.tasks:
            if task.check == "feeder" and drinks:
                continue  # they drink from it, so it is fresh each time
            boxes = tuple(number in task.at for number in numbers)
            if any(boxes):
                by_boxes.setdefault(boxes, []).append(task)
        closed = self._closed(place, numbers)
        if not by_boxes:
            return (Row(" ".join([self._title(place), closed, *_normal(place)]), (False,) * len(numbers)),) if closed else ()
        rows: list[Row] = []
        for boxes, tasks in sorted(by_boxes.items(), key=lambda one: -sum(one[0])):
            done = [self._asked(place, task) for task in tasks]
            if not rows:
                opens = any(task.check in _OPENS for task in place.tasks)
                shut = [] if opens or place.place_kind != "container" or place.is_store else ["Do not open."]
                gloves = ["Gloves: its hairs sting."] if place.stinging else []
                done = [self._title(place), *([closed] if closed else shut), *done, *gloves, *_normal(place), *self._comes(place)]
            rows.append(Row(" ".join(done), boxes))
        return tuple(rows)

    def _closed(self, place: Place, numbers: range) -> str:
        if place.closed_until is None or not len(numbers) or place.closed_until <= self._visits.at[numbers[0]]:
            return ""
        if place.closed_until > self._visits.at[numbers[-1]]:
            return "Do not open it and do not move it."
        return f"Do not open it and do not move it before {day_and_time(place.closed_until, self._zone)}."

    def _title(self, place: Place) -> str:
        where = literal(place.where)
        if place.place_kind == "room":
            return "The room."
        if place.place_kind != "container":
            return f"Shelf {where}."
        on = f" in {literal(place.inside)}" if place.inside else f" on shelf {literal(place.shelf)}" if place.shelf else ""
        holds = [f"{number} {_ANIMALS[stage][number != 1]}" for stage, number in place.animals]
        holds += ["kept stems"] if place.kept_stems else []
        if place.is_store:
            holds = ["the cut plants"]
        return f"{where}{on}{': ' if holds else ''}{', '.join(holds)}."

    def _asked(self, place: Place, task: Task) -> str:
        if task.check == "room":
            return f"Write the temperature into the box. Over {self._measures.warmth(WARM_C)}: curtain shut, door open."
        if task.check == "ants":
            return self._barrier(place)
        if task.check == "host" and place.rooted:
            return f"{place.rooted.capitalize()} {literal(place.plant)} limp? Telephone."
        if task.check == "food" and place.rooted:
            return f"{place.rooted.capitalize()} {literal(place.plant)} bare? Telephone."
        return ASKED[task.check](self._fresh(place))

    def _barrier(self, place: Place) -> str:
        if place.barrier in STICKY:
            return f"See that nothing lies across the {place.barrier}, against ants; do not touch it."
        full = f"to {self._measures.depth(place.full_mm)}" if place.full_mm else "up"
        return f"Fill the water round it {full}, against ants."

    def _fresh(self, place: Place) -> str:
        """The plant and from where, each a blank where it is not on record."""
        store = self._visits.stores.get(place.plant)
        return f"{literal(place.plant) or BLANK} from {literal(store.code) if store else BLANK}"

    def _comes(self, place: Place) -> Iterator[str]:
        """What to do when what is normal has happened."""
        if place.may_hatch and not any(task.check in ("leaf", "turn") for task in place.tasks):
            yield f"Any out? Open, add one small leaf of {self._fresh(place)}."


_ANIMALS = {"egg": ("egg", "eggs"), "larva": ("caterpillar", "caterpillars"), "pupa": ("pupa", "pupae"),
            "adult": ("winged adult", "winged adults")}  # fmt: skip
_OPENS = frozenset({"drink", "feeder", "host", NEW_PLANT, "food", "leaf", "turn", "clean", "air"})
# What is asked, with the plant and from where.
ASKED: dict[str, Callable[[str], str]] = {
    "look": lambda fresh: "Look.",
    "drink": lambda fresh: "Open, fresh wet sugar pad in, hold each to it until it drinks.",
    "feeder": lambda fresh: "Open, put in a fresh wet sugar pad.",
    "host": lambda fresh: f"Plant limp? Open, add {fresh}.",
    NEW_PLANT: lambda fresh: f"Open, add fresh {fresh}.",
    "food": lambda fresh: f"Open, add fresh {fresh}.",
    "clean": lambda fresh: "Open, brush the droppings out, no leaf.",
    "air": lambda fresh: "Lift the lid for a minute.",
    "leaf": lambda fresh: f"Open, add one small leaf of {fresh}.",
    "turn": lambda fresh: f"Open, add one small leaf of {fresh}, telephone: caterpillars may be on the stems.",
    "frass": lambda fresh: "Black specks under the stems? Telephone.",
    "mist": lambda fresh: "One light spray onto the gauze, no drops.",
    "store": lambda fresh: "Take out what is slimy or yellow.",
}


def _normal(place: Place) -> Iterator[str]:
    """What looks alarming and is not, and what comes of it."""
    stages = {stage for stage, _ in place.animals}
    if place.sign in ("still", "hanging"):
        yield "They do not move while they change their skin: normal."
    if "egg" in stages:
        yield "Eggs turn dark, then tiny caterpillars: normal."
    if "pupa" in stages:
        yield "Pupae shake, darken, colour: normal. Wings out? Do not touch, telephone."


def sheet_pages(told: Sheet, width: int = WIDTH, height: int = HEIGHT) -> list[list[str]]:
    """The pages as plain text, none longer or wider than the paper; no place is broken between two."""
    pages: list[list[str]] = []
    for stretch in told.stretches:
        pages += _pages_of(told, stretch, width, height)
    for number, page in enumerate(pages, 1):
        right = f"sheet, page {number} of {len(pages)}"
        page[0] = f"{_short(told.name, width - len(right) - 2):<{width - len(right)}}{right}"
    return pages


def sheet_text(told: Sheet) -> list[str]:
    """The pages one below the other, each but the last filled up to a whole page of paper."""
    *full, last = sheet_pages(told)
    return [line for page in full for line in [*page, *[""] * (HEIGHT - len(page))]] + last


def _pages_of(told: Sheet, stretch: Stretch, width: int, height: int) -> list[list[str]]:
    phone = _wrap(f"Telephone: {told.phone or BLANK * 2}", width)
    plants = [plants_line(told)] if told.plants else []
    head = [line for part in (*told.head, "", CAUTIONS, NORMAL, *plants, TICK) for line in (_wrap(part, width) if part else phone)]
    columns = _columns(stretch, told.zone, width) if stretch.visits else ["", NO_VISIT]
    foot = [*_wrap(RING, width), SEEN_BY]
    blocks = [_block(entry, len(stretch.visits), width) for entry in stretch.entries]
    if stretch.leave_alone:
        blocks.append(_wrap(stretch.alone, width))
    pages = [["", *head, *columns]]
    for block in blocks:
        if len(pages[-1]) + len(block) > height - len(foot):
            pages.append(["", *phone, *columns])
        pages[-1] += block
    return [[*page, *foot] for page in pages]


def plants_line(told: Sheet) -> str:
    """Which plants are wanted and where each stands, in one sentence."""
    return f"Plants: {'; '.join(f'{plant} stands in {stands or BLANK}' for plant, stands in told.plants)}."


def _cell(count: int) -> int:
    """How wide a box with its gap is."""
    return 6 if count <= WIDE else 4


def _columns(stretch: Stretch, zone: tzinfo, width: int) -> list[str]:
    """Day, date and hour over the boxes; of many visits their numbers, with the hours above."""
    local = [visit.astimezone(zone) for visit in stretch.visits]
    if len(local) <= WIDE:
        rows = ([f"{at:%a}" for at in local], [f"{at.day} {at:%b}" for at in local], [f"{at:%H:%M}" for at in local])
        return [_right(row, 6, width) for row in rows]
    visits = "; ".join(f"{number} {day_and_time(at, zone)}" for number, at in enumerate(stretch.visits, 1))
    return [*_wrap(f"Visits: {visits}.", width), _right([str(number) for number in range(1, len(local) + 1)], 4, width)]


def _right(words: list[str], cell: int, width: int) -> str:
    return "".join(f" {word:^{cell - 1}}" for word in words).rjust(width).rstrip()


def _block(entry: Entry, visits: int, width: int) -> list[str]:
    """The lines of a place, its boxes on the right."""
    cell = _cell(visits)
    room = width - cell * visits - 3
    lines = [f"--- {WASH} ---"] if entry.wash else []
    for first, row in enumerate(entry.rows):
        text = _wrap(row.text, room)
        boxes = "".join(f" {('[' + ' ' * (cell - 3) + ']') if box else '--':^{cell - 1}}" for box in row.boxes)
        number = "" if first else str(entry.number)
        lines.append(f"{number:<3}{text[0]:<{room}}{boxes}".rstrip())
        lines += [f"   {more}" for more in text[1:]]
    return lines


def _wrap(text: str, width: int) -> list[str]:
    return textwrap.wrap(text, width, break_on_hyphens=False) or [""]


def _short(text: str, width: int) -> str:
    return text if len(text) <= width else f"{text[: width - 3]}..."
