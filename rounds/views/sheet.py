"""The helper's sheet: what somebody who knows nothing of insects does at each visit, on paper, with
a box for each visit.

The words stand here once; ``sheet_pages`` lays them out as plain text, ``exchange/sheet_page.py``
as a page to print.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime, tzinfo

from msgspec import Struct, structs

from rounds.bench.measures import Measures, measures_of
from rounds.bench.plurals import count, in_a_row
from rounds.bench.state import Bench
from rounds.checks import ants, food, host, leaf, look, room
from rounds.checks.away import Away
from rounds.checks.due_state import Due, pressing, urgency
from rounds.checks.registry import CHECKS, HELPED
from rounds.checks.visits import SOON, Danger, Task, VisitPlace, Visits
from rounds.checks.walking_order import WASH_BEFORE
from rounds.entries.base import BARRIERS_LOOKED_AT, STICKY, Stage
from rounds.entries.plant_parts import eaten_part
from rounds.views.gaps import NOT_WHOLE
from rounds.views.words import day_and_time, literal

WIDTH, HEIGHT = 80, 60  # of a printed page, in characters and lines
WIDE, MAX_VISITS = 4, 8  # visits beside which the hour still has room, and the most on one sheet
MAX_BEFORE = 8  # checks that are named before leaving
BLANK = "____________"
CAUTIONS = (
    "Wash your hands before, after, and where this sheet says so. Hairs and sap can sting: gloves"
    " if it says so, no rubbing of eyes. No insect spray, flea drops or plug-ins near cups. A"
    " lamp that smells or flickers: off at the wall, telephone. Go from the first number to the"
    " last. Look from outside. Open only what a line says to open (in a room: window and"
    " door shut first), and close it again. Whatever is in a cup stays in: old plants and leaves"
    " may bear eggs."
)
NORMAL = (
    "Normal: a caterpillar that does not move for a day as it changes its skin (leave it where it"
    " sits), wanders, spins, shrinks into a pupa; tiny caterpillars that leave their eggs, eat the"
    " shells; a pupa that shakes, darkens, colours; wings shut, not moving in the dark."
)
HOT_ROOM = "curtain shut, door open (shut to open a cup), telephone."
WASH = "Wash your hands."
OWN_TOOLS = f"{WASH} Take only the tools kept for these, from {BLANK}."
LACKING = (
    f"{NOT_WHOLE}: places, animals or things to do may lack on this sheet. Ask the keeper before"
    " the first visit."
)
JARS = "From the jars take all needed below; do not go back."
NO_VISIT = "The keeper is back before the next visit: nothing to do."
ONLY_THEN = "Come only at the visits named here: at others there is nothing to do."
TICK = (
    "Tick a box when you have done all from its line down to the next box. Round brackets: only"
    " look, from outside. --: nothing to do."
)
DO, ONLY_LOOK, NOTHING = "[", "(", ""  # what is done at a visit, by the sign its box begins with
CLOSES = {DO: "]", ONLY_LOOK: ")"}
TOGETHER = 6  # cups under one number: as many as one keeps in mind until the box; our estimate
RING = (
    "Telephone, touch nothing: mould or ants in a cup, an animal limp, smelling, dead or outside"
    " its cup, one that will not drink twice, caterpillars that hatched or sit on bare stems if no"
    " line gives them a leaf, a plant that runs out."
)
# stout moths fight a hold and lose their scales: common practice, no source
DRINKING = (
    "Hold a butterfly by all four wings, shut, its feet on the pad; hold no moth with a stout body,"
    " let it walk onto the pad. Will not drink: the pad stays in."
)
SEEN_BY = f"Seen by: {BLANK}   Odd things: {BLANK * 3}"


class SheetRow(Struct, frozen=True):
    """What is done together, and at which of the sheet's visits: all of it, only its look, or
    nothing."""

    text: str
    boxes: tuple[str, ...]


class SheetEntry(Struct, frozen=True):
    """One numbered place, or several that stand together and want the same."""

    number: int
    wash: bool
    rows: tuple[SheetRow, ...]
    jars: bool = False  # before it, all that is wanted from the jars is fetched
    own_tools: bool = False

    @property
    def before(self) -> tuple[str, ...]:
        """What is done before one comes to it."""
        wash = (OWN_TOOLS if self.own_tools else WASH,) if self.wash else ()
        jars = (JARS,) if self.jars else ()
        return (*jars, *wash) if self.own_tools else tuple(filter(None, [" ".join(jars + wash)]))


class SheetSpan(Struct, frozen=True):
    """The visits that share one sheet, the places in walking order, and those where nothing falls
    due."""

    visits: tuple[datetime, ...]
    entries: tuple[SheetEntry, ...]
    leave_alone: tuple[str, ...]

    @property
    def alone(self) -> str:
        """Where there is nothing to do, in one sentence."""
        return f"Leave alone, nothing to do: {', '.join(self.leave_alone)}."


class Sheet(Struct, frozen=True):
    """All words of a helper's sheet; nothing in it is obeyed by a terminal or hidden from the eye.

    Args:
        plants: each plant and where it stands, '' where that is not on record.
        pads: where sugar pads and solution stand, '' where that is not on record; None where nobody
            is fed with them.
        warnings: what the keeper is told besides.
    """

    name: str
    head: tuple[str, ...]
    phone: str
    plants: tuple[tuple[str, str], ...]
    pads: str | None
    stretches: tuple[SheetSpan, ...]
    zone: tzinfo
    warnings: tuple[str, ...]


def sheet(bench: Bench, plan: Away, zone: tzinfo, *, is_whole: bool = True) -> Sheet:
    """The sheet of an absence; long ones on several, each of which stands on its own.

    Args:
        is_whole: whether all of the book could be read; where not, the sheet itself says so.
    """
    visits = plan.visits
    keeper = literal(bench.settings.get("keeper", ""))
    back = day_and_time(plan.back, zone, plan.leave)
    times = (
        f"From {day_and_time(plan.leave, zone)} to {back}, when the keeper{keeper and f' {keeper}'}"
        " is back."
    )
    numbers = _wanted_visits(visits)
    if len(numbers) < len(visits.at):
        times = f"{times} {ONLY_THEN}"
    parts = -(-len(numbers) // MAX_VISITS) or 1
    size = -(-len(numbers) // parts)
    words = _Words(bench, visits, zone)
    feeds = any(
        HELPED[task.check].pad for visit_place in visits.places for task in visit_place.tasks
    )
    plants = tuple((literal(plant), words.stands(plant)) for plant in visits.plants)
    return Sheet(
        literal(bench.settings.get("bench", "")) or "The bench",
        (times,) if is_whole else (times, LACKING),
        literal(bench.settings.get("phone", "")),
        plants,
        literal(bench.settings.get("pads", "")) if feeds else None,
        tuple(
            _stretch(words, visits, numbers[first : first + size])
            for first in range(0, parts * size or 1, size or 1)
        ),
        zone,
        (
            *_stores_warnings(bench, visits, plants),
            *(_danger_words(danger, zone) for danger in visits.dangers),
        ),
    )


def _wanted_visits(visits: Visits) -> Sequence[int]:
    """The visits at which anything is to be done or looked at; all where that is at none."""
    asked = {number for place in visits.places for task in place.tasks for number in task.at}
    return sorted(asked) or range(len(visits.at))


def sheet_warnings(told: Sheet) -> Iterator[str]:
    """What the keeper still has to fill in by hand, to type before printing, or to see to before
    leaving."""
    if not told.phone:
        yield (
            "no telephone number: the sheet has a blank for it; 'setting phone 01234 567890' puts"
            " it there"
        )
    if told.pads == "":
        yield (
            "where sugar pads and solution stand is not on record: 'setting pads fridge door' puts"
            " it there"
        )
    yield from told.warnings


def _to_record(bench: Bench, plant: str) -> str:
    """What to type so that a plant has a store: the one that stands there, else a new one."""
    store = next(
        (one.code for one in bench.standing() if one.is_store and one.suspect_since is None),
        "",
    )
    new = bench.free_code("S")
    set_up = "" if store else f"'{new} set up host store', "
    return f"{set_up}'{literal(store) or new} host in {plant}'"


def _stores_warnings(
    bench: Bench, visits: Visits, plants: tuple[tuple[str, str], ...]
) -> Iterator[str]:
    unknown = [
        literal(place.where) for place in visits.places if place.wants_plant and not place.plant
    ]
    if unknown:
        yield (
            f"no plant is on record for {', '.join(unknown)}: write on the sheet which one, and"
            " where it stands"
        )
    missing = [plant for plant, stands in plants if not stands]
    if missing:
        unfit = (literal(visits.unfit[one]) for one in visits.plants if one in visits.unfit)
        why = ", ".join(unfit)
        yield (
            f"no store of {in_a_row(missing, 'or')} is on record{f' ({why})' if why else ''}:"
            f" {_to_record(bench, missing[0])} puts it there; or write on the sheet where it stands"
        )
    lost = [
        literal(visit_place.where)
        for visit_place in visits.places
        if _is_placed_nowhere(visit_place) and visit_place.tasks
    ]
    if lost:
        yield (
            f"where {', '.join(lost)} {'stands' if len(lost) == 1 else 'stand'} is not on record:"
            " write it on the sheet"
        )
    apart = [
        literal(place.where) for place in visits.places if place.group in APART and place.tasks
    ]
    if apart:
        yield f"where the tools of {', '.join(apart)} lie is not on record: write it on the sheet"
    for plant in visits.plants:
        store, wanted = visits.stores.get(plant), visits.stems(plant)
        if store is not None and store.stems is not None and store.stems < wanted:
            holds = count(store.stems, "stem")
            yield (
                f"{literal(store.code)} holds {holds} of {literal(plant)} on record, the sheet asks"
                f" for {wanted}: cut more"
            )


def _danger_words(danger: Danger, zone: tzinfo) -> str:
    harm, where = day_and_time(danger.harm, zone), literal(danger.where)
    if danger.closed_until is None:
        first = "before the first visit that sees to it"
        return (
            f"{where} is in danger ({CHECKS[danger.check].label}) from about {harm}, {first}:"
            " see to it before you leave"
        )
    until = day_and_time(danger.closed_until, zone)
    return (
        f"{where} is not to be disturbed until {until}, and is in danger"
        f" ({CHECKS[danger.check].label}) from about {harm}: see to it before you leave, or end it"
        f" sooner, as '{where} do not disturb +4h'"
    )


def before_leaving(dues: Iterable[Due], plan: Away, zone: tzinfo) -> list[str]:
    """What is due or worse on leaving: a line each, and how many more there are.

    First what comes into danger before anybody comes, or before the keeper is back where no helper
    may do it, by the hour of danger; all else as ``rounds due`` has it.
    """
    leave, first = plan.leave, next(iter(plan.visits.at), plan.back)

    def is_early(due: Due) -> bool:
        seen_to = first if CHECKS[due.check].helped else plan.back
        return due.danger is not None and due.danger < seen_to

    def order(due: Due) -> tuple[object, ...]:
        return (
            not is_early(due),
            due.danger if is_early(due) else first,
            *urgency(due, leave),
            due.where,
            due.check,
        )

    texts = []
    held = [due for due in dues if not (due.put_off_until and due.put_off_until > leave)]
    result = sorted((due for due in held if due.due <= leave + SOON or is_early(due)), key=order)
    for due in result[:MAX_BEFORE]:
        state: str = "due" if pressing(due, leave) == "ahead" else pressing(due, leave)
        if due.danger is not None and due.danger > leave and is_early(due):
            harm = day_and_time(due.danger, zone)
            state = f"in danger from about {harm}"
            if CHECKS[due.check].own_end:
                state = (
                    f"{literal(due.subject)} by {harm} at the latest, no helper does it".lstrip()
                )
        texts.append(
            f"before you leave: {literal(due.where) or f'the {due.place_kind}'}"
            f" {CHECKS[due.check].label}, {state}"
        )
    more = len(result) - MAX_BEFORE
    return [*texts, *([f"and {more} more: rounds due"] if more > 0 else [])]


def _stretch(words: _Words, visits: Visits, numbers: Sequence[int]) -> SheetSpan:
    entries: list[SheetEntry] = []
    alone: list[str] = []
    asked: list[VisitPlace] = []
    for place in visits.places:
        if words.rows((place,), numbers):
            asked.append(place)
        else:
            alone.append(f"{literal(place.where)}{words.on(place)}")
    group, fetched = "", False
    for alike in words.together(asked, numbers):
        place = alike[0]
        wash = place.group != group and place.group in WASH_BEFORE
        group = place.group
        jars = (
            wash and not fetched and any(later.wants_plant for later in asked[asked.index(place) :])
        )
        fetched = fetched or wash
        rows = words.rows(alike, numbers)
        entries.append(SheetEntry(len(entries) + 1, wash, rows, jars, group in APART))
    return SheetSpan(tuple(visits.at[number] for number in numbers), tuple(entries), tuple(alone))


class _Words:
    """What is said at a place."""

    def __init__(self, bench: Bench, visits: Visits, zone: tzinfo) -> None:
        self._visits, self._zone = visits, zone
        self._measures: Measures = measures_of(bench.settings)
        self._shelves = {container.code: container.shelf for container in bench.standing()}

    def stands(self, plant: str) -> str:
        """Where a plant stands in store; '' where that is not on record."""
        store = self._visits.stores.get(plant)
        if store is None:
            return ""
        return f"{literal(store.code)}{f' on shelf {literal(store.shelf)}' if store.shelf else ''}"

    def on(self, place: VisitPlace) -> str:
        """Where a place stands, as ' in R3 on shelf A'; '' where that is not on record."""
        inside = f" in {literal(place.inside)}" if place.inside else ""
        shelf = place.shelf or self._shelves.get(place.inside, "")
        return f"{inside} on shelf {literal(shelf)}" if shelf else inside

    def together(
        self, places: Iterable[VisitPlace], numbers: Sequence[int]
    ) -> Iterator[tuple[VisitPlace, ...]]:
        """The places, those that follow one another on a shelf and want the same at the same visits
        as one; of each its own stems are told. What may infect others stays alone."""
        alike: list[VisitPlace] = []
        before: tuple[object, ...] | None = None
        for place in places:
            key = self._wanted(place, numbers)
            if alike and (key is None or key != before or len(alike) == TOGETHER):
                yield tuple(alike)
                alike = []
            alike.append(place)
            before = key
        if alike:
            yield tuple(alike)

    def _wanted(self, place: VisitPlace, numbers: Sequence[int]) -> tuple[object, ...] | None:
        """What is said of a place but for its name, animals and stems; None where it stays
        alone."""
        if place.place_kind != "container" or place.inside or place.group in APART:
            return None
        if _is_placed_nowhere(place) or place.label:
            return None  # each has a blank of its own
        tasks = tuple(structs.replace(task, stems=0) for task in place.tasks)
        rows = self._rows((structs.replace(place, tasks=tasks),), numbers, "")
        return place.shelf, place.group, place.is_store, rows

    def rows(self, alike: tuple[VisitPlace, ...], numbers: Sequence[int]) -> tuple[SheetRow, ...]:
        """The rows of a place, or of several that want the same, those with the most boxes first;
        none where nothing falls due and nothing warns."""
        return self._rows(alike, numbers, self._title(alike))

    def _rows(
        self, alike: tuple[VisitPlace, ...], numbers: Sequence[int], title: str
    ) -> tuple[SheetRow, ...]:
        place = alike[0]
        by_boxes: dict[tuple[bool, tuple[str, ...]], list[Task]] = {}
        is_closed = bool(self._closed(place, numbers))
        for task in place.tasks:
            alone = _asked_alone(task, place.tasks)
            boxes = tuple(DO if number in alone else NOTHING for number in numbers)
            if any(boxes):  # what a closed cup is opened for has a box of its own
                opens = is_closed and not HELPED[task.check].outside
                by_boxes.setdefault((opens, boxes), []).append(task)
        sorted_by = sorted(
            by_boxes.items(), key=lambda one: (one[0][0], -sum(map(bool, one[0][1])))
        )
        in_order = [(boxes, tasks) for (_, boxes), tasks in sorted_by]
        if not is_closed:  # there the look says how it is handled
            in_order = _with_its_look(in_order)
        rows: list[SheetRow] = []
        for boxes, done in in_order:
            before: list[str] = []
            if not rows:
                checks = {task.check for task in place.tasks}
                before = [title, *self._first(place, numbers, checks)]
            asked = (self._asked(alike, task, numbers) for task in done)
            if all(map(_only_looks, done)):
                boxes = tuple(box and ONLY_LOOK for box in boxes)
            if words := " ".join(filter(None, (*before, *asked))):
                rows.append(SheetRow(words, boxes))
        return tuple(rows)

    def _first(self, place: VisitPlace, numbers: Sequence[int], checks: set[str]) -> Iterator[str]:
        """What is said of a place before all else: how it is handled, what is normal in it."""
        if place.place_kind != "container":
            return
        if place.inside:
            yield self._around(place, numbers, opens=any(HELPED[name].opens for name in checks))
        if place.group in APART:
            if place.suspect is not None:
                what = f": {literal(place.suspect).rstrip('.')}" if place.suspect else ""
                yield f"Known suspect{what}."
            yield "Own tools."
        if closed := self._closed(place, numbers):
            yield closed
        elif not place.is_store and not any(HELPED[name].opens for name in checks):
            yield "Look, do not open." if _is_only_seen(place) else "Do not open."
        if place.stinging or (place.irritant and any(HELPED[name].touches for name in checks)):
            yield f"Gloves: {'hairs sting' if place.stinging else 'sap irritates'}."
        if place.cannibals:
            larvae = dict(place.animals).get("larva", 0)
            if not larvae:
                yield "Those that hatch eat each other and eggs: telephone once some are out."
            elif larvae == 1:
                yield "It eats others: add none."
            else:
                yield "May eat each other: move none, add none."
        yield from _known(place)
        if HANGS & {place.seen[0], *(stage for stage, _ in place.animals)} and any(
            HELPED[name].opens for name in checks
        ):
            yield "Some may hang from the lid: lift it softly."

    def _around(self, place: VisitPlace, numbers: Sequence[int], *, opens: bool) -> str:
        """What is done with the cup in which another stands."""
        inside = literal(place.inside)
        if not opens:
            return f"Look at it through {inside}."
        is_closed = any(
            around.place_kind == "container"
            and around.where == place.inside
            and around.opens > numbers[0]
            for around in (self._visits.places if len(numbers) else ())
        )
        return f"{'Telephone before you open' if is_closed else 'Open'} {inside} for it."

    def _closed(self, place: VisitPlace, numbers: Sequence[int]) -> str:
        if not len(numbers) or place.opens <= numbers[0]:
            return ""
        if place.opens > numbers[-1]:
            opens = ""
        else:
            opens = day_and_time(self._visits.at[place.opens], self._zone)
        if any(
            task.check in (food.BESIDE, leaf.BESIDE) and set(task.at) & set(numbers)
            for task in place.tasks
        ):
            if not opens:
                return "Look from outside. Do not move it. Open it only for leaves."
            return f"Look from outside. Until {opens} do not move it, open it only for leaves."
        if not opens:
            return "Look from outside. Do not open or move it."
        if not any(
            HELPED[task.check].opens and set(task.at) & set(numbers) for task in place.tasks
        ):
            return ""  # at no visit is there anything to open it for
        return f"Look from outside. Until {opens} do not open or move it."

    def _title(self, alike: tuple[VisitPlace, ...]) -> str:
        place = alike[0]
        where = literal(place.where)
        if place.place_kind == "room":
            return "The room."
        if place.place_kind != "container":
            return f"Shelf {where}."
        at = self.on(place) or f" at {BLANK}"
        if len(alike) == 1:
            holds = _holds(place)
            label = f" (its label may say {literal(place.label)})" if place.label else ""
            return f"{where}{label}{at}{': ' if holds else ''}{holds}."
        held = [_holds(one) for one in alike]
        if len({*held}) == 1:
            codes = ", ".join(literal(one.where) for one in alike)
            return f"{codes}{at}. Each:{held[0] and f' {held[0]}.'}"
        codes = ", ".join(
            f"{literal(one.where)} ({holds or 'empty'})"
            for one, holds in zip(alike, held, strict=True)
        )
        return f"{codes}{at}. Each:"

    def _asked(self, alike: tuple[VisitPlace, ...], task: Task, numbers: Sequence[int]) -> str:
        place = alike[0]
        is_handled = _is_only_seen(place) or self._closed(place, numbers)
        if task.check == look.CHECK.name and is_handled:
            return ""  # it is said with how it is handled
        if task.check == room.CHECK.name:
            return f"Write the temperature into the box. {self._warmth(place)}"
        if task.check == ants.CHECK.name:
            return self._barrier(place)
        if task.check == host.POT:
            water = ": water if dry. Limp," if place.rooted == "potted" else " limp or"
            return f"{place.rooted.capitalize()} {literal(place.plant)}{water} bare? Telephone."
        if task.check == host.CHECK.name:  # as many as are limp
            wanted = [(plant, "") for plant, _ in task.of] or [(place.plant, "")]
        elif task.of:
            wanted = [(plant, count(stems, "stem") if stems else "") for plant, stems in task.of]
        else:
            wanted = [(place.plant, _stems(alike, task.check))]
        fresh = " and ".join(self._fresh(plant, stems) for plant, stems in wanted)
        words = HELPED[task.check].words
        if any(eaten_part(plant) for plant, _ in wanted):
            words = words.replace("one small leaf of", "a little of")
        return f"{words.format(fresh)}{_who_drinks(place) if HELPED[task.check].pad else ''}"

    def _warmth(self, place: VisitPlace) -> str:
        """What to do outside the limits of the room, or of a place of its own."""
        over = f"Over {self._measures.warmth(place.warm_c)}: " if place.warm_c is not None else ""
        under = ""
        if place.cold_c is not None:
            under = f" Under {self._measures.warmth(place.cold_c)}: telephone."
        return f"{over}{HOT_ROOM if place.place_kind == 'room' else 'shade it, telephone.'}{under}"

    def _barrier(self, place: VisitPlace) -> str:
        if place.barrier in STICKY:
            return (
                f"See that nothing lies across the {place.barrier}, against ants; do not touch it."
            )
        if place.barrier not in BARRIERS_LOOKED_AT:
            return "Ants were seen here. Any there? Telephone."
        full = f"to {self._measures.depth(place.full_mm)}" if place.full_mm else "up"
        return f"Fill its water {full} against ants."

    def _fresh(self, plant: str, stems: str) -> str:
        """The plant and from where, each a blank where it is not on record, and how many stems."""
        store = self._visits.stores.get(plant)
        from_store = literal(store.code) if store else BLANK
        return f"{literal(plant) or BLANK} from {from_store}{stems and f': {stems}'}"


def _is_only_seen(place: VisitPlace) -> bool:
    """Whether a container is looked at, and nothing else is done there."""
    is_cup = place.place_kind == "container" and not place.is_store
    return is_cup and {task.check for task in place.tasks} == {look.CHECK.name}


def _only_looks(task: Task) -> bool:
    """Whether nothing is done for it but a look from outside."""
    helped = HELPED[task.check]
    return bool(helped.words) and helped.outside and not helped.touches


def _with_its_look(
    rows: list[tuple[tuple[str, ...], list[Task]]],
) -> list[tuple[tuple[str, ...], list[Task]]]:
    """The rows with the look in the first of the others, where it has boxes of its own for the
    visits at which nothing else is done; apart from what is done only if something is seen, or
    without opening, for nobody could tell whether that goes with such a look."""
    at, looked = next((row for row in rows if row[1][0].check == look.CHECK.name), ((), []))
    others = [(boxes, [task for task in tasks if task not in looked[:1]]) for boxes, tasks in rows]
    others = [row for row in others if row[1]]
    if not looked or not others:
        return rows
    (boxes, tasks), *more = others
    joined = tuple(
        box or (ONLY_LOOK if looks else NOTHING) for box, looks in zip(boxes, at, strict=True)
    )
    helped = [HELPED[task.check] for task in tasks]
    if ONLY_LOOK in joined and not all(one.opens and "?" not in one.words for one in helped):
        return rows
    return [(joined, [looked[0], *tasks]), *more]


def _holds(place: VisitPlace) -> str:
    """What is in a cup, in the words of who knows nothing of insects."""
    if place.is_store:
        return "jars"
    holds = [f"{number} {_ANIMALS[stage][number != 1]}" for stage, number in place.animals]
    return ", ".join([*holds, *(["kept stems"] if place.kept_stems else [])])


def _stems(alike: tuple[VisitPlace, ...], check: str) -> str:
    """How many stems each takes, '' where that is not asked."""
    stems = {
        place.where: task.stems for place in alike for task in place.tasks if task.check == check
    }
    if not any(stems.values()):
        return ""
    if len({*stems.values()}) == 1:
        return f"{count(max(stems.values()), 'stem')}{' each' if len(alike) > 1 else ''}"
    return ", ".join(f"{literal(where)} {count(each, 'stem')}" for where, each in stems.items())


def _known(place: VisitPlace) -> Iterator[str]:
    """What the keeper knows of the animals there, so that nobody is called for it."""
    animals = dict(place.animals)
    sign, number = place.seen
    if stage := SIGN_OF.get(sign):
        number = min(number, animals.get(stage, 0)) or animals.get(stage, 0)
        all_of = number == animals.get(stage, 0)
        if number:
            yield (
                f"{'It' if number == 1 and all_of else 'They' if all_of else number}"
                f" {SIGN_WORDS[sign][number != 1]}: normal."
            )
    if sign == "darkening" and animals.get("egg"):
        yield "Some eggs are dark; they hatch soon."
    winged = animals.get("adult", 0)
    if animals.get("pupa"):
        known = "Wings"
        if winged:
            known = f"The {winged} with wings {'is' if winged == 1 else 'are'} known. More wings"
        yield f"{known} out? Do not touch, telephone."
    if winged and place.fasting == winged:
        yield f"{'It takes' if winged == 1 else 'They take'} no food: normal."


def _who_drinks(place: VisitPlace) -> str:
    """How many of the adults there take food, where not all do."""
    there = sum(number for stage, number in place.animals if stage == "adult")
    names = ", ".join(literal(name) for name, _ in place.drinkers)
    fed = sum(number for _, number in place.drinkers)
    takes = f"{fed} of the {there} {'takes' if fed == 1 else 'take'} food ({names})"
    return f" {takes}, the others none." if fed else ""


def _is_placed_nowhere(place: VisitPlace) -> bool:
    return place.place_kind == "container" and not place.shelf and not place.inside


def _asked_alone(task: Task, tasks: tuple[Task, ...]) -> set[int]:
    """The visits of a task at which no other task already gives what it would."""
    others = (other.at for other in tasks if other.check in HELPED[task.check].within)
    return set(task.at).difference(*others)


APART = ("suspects", "isolation")
# signs and stages of those that may hang from a lid
HANGS = frozenset({"hanging", "wandering", "pupa"})
SIGN_OF: dict[str, Stage] = {"still": "larva", "hanging": "larva", "wandering": "larva"}
SIGN_WORDS = {
    "still": ("changes its skin, does not move", "change their skin, do not move"),
    "hanging": ("hangs, becomes a pupa, does not move", "hang, become pupae, do not move"),
    "wandering": ("wanders, soon hangs", "wander, soon hang"),
}
_ANIMALS = {
    "egg": ("egg", "eggs"),
    "larva": ("caterpillar", "caterpillars"),
    "pupa": ("pupa", "pupae"),
    "adult": ("winged adult", "winged adults"),
}


class SheetPage(Struct, frozen=True):
    """What of a stretch stands on one page of paper; the first has the whole head, the last says
    where nothing is to do."""

    stretch: SheetSpan
    entries: tuple[SheetEntry, ...]
    is_first: bool
    is_last: bool


def sheet_pages(told: Sheet, width: int = WIDTH) -> list[list[str]]:
    """The pages as plain text, none longer or wider than the paper; no place is broken between
    two."""
    pages = [page for stretch in told.stretches for page in _pages_of(told, stretch, width)]
    return [
        _as_text(told, page, f"sheet, page {number} of {len(pages)}", width)
        for number, page in enumerate(pages, 1)
    ]


def sheet_text(told: Sheet) -> list[str]:
    """The pages one below the other, each but the last filled up to a whole page of paper."""
    *full, last = sheet_pages(told)
    return [line for page in full for line in [*page, *[""] * (HEIGHT - len(page))]] + last


def phone_line(told: Sheet) -> str:
    """Whom to telephone."""
    return f"Telephone: {told.phone or BLANK * 2}"


def head_parts(told: Sheet) -> list[str]:
    """What stands above the first place, besides name, time and telephone."""
    pads = (
        [] if told.pads is None else [f"Sugar pads and solution: {told.pads or BLANK}. {DRINKING}"]
    )
    return [CAUTIONS, NORMAL, *([plants_line(told)] if told.plants else []), *pads, TICK]


def _pages_of(told: Sheet, stretch: SheetSpan, width: int) -> list[SheetPage]:
    """As many places on each page as its lines hold."""
    room = HEIGHT - len(_above(told, stretch, width, is_first=True)) - len(_foot(width))
    on_pages: list[list[SheetEntry]] = [[]]
    for entry in stretch.entries:
        lines = len(_block(entry, len(stretch.visits), width))
        if lines > room:
            on_pages.append([])
            room = HEIGHT - len(_above(told, stretch, width, is_first=False)) - len(_foot(width))
        on_pages[-1].append(entry)
        room -= lines
    if stretch.leave_alone and len(_wrap(stretch.alone, width)) > room:
        on_pages.append([])
    last = len(on_pages) - 1
    return [
        SheetPage(stretch, tuple(entries), number == 0, number == last)
        for number, entries in enumerate(on_pages)
    ]


def _above(told: Sheet, stretch: SheetSpan, width: int, *, is_first: bool) -> list[str]:
    columns = _columns(stretch, told.zone, width) if stretch.visits else ["", NO_VISIT]
    head = [line for part in told.head for line in _wrap(part, width)] if is_first else []
    more = [line for part in head_parts(told) for line in _wrap(part, width)] if is_first else []
    return ["", *head, *_wrap(phone_line(told), width), *more, *columns]


def _foot(width: int) -> list[str]:
    return [*_wrap(RING, width), SEEN_BY]


def _as_text(told: Sheet, page: SheetPage, right: str, width: int) -> list[str]:
    lines = _above(told, page.stretch, width, is_first=page.is_first)
    lines[0] = f"{_short(told.name, width - len(right) - 2):<{width - len(right)}}{right}"
    for entry in page.entries:
        lines += _block(entry, len(page.stretch.visits), width)
    alone = _wrap(page.stretch.alone, width) if page.is_last and page.stretch.leave_alone else []
    return [*lines, *alone, *_foot(width)]


def plants_line(told: Sheet) -> str:
    """Which plants are wanted and where each stands, in one sentence."""
    return (
        "Plants:"
        f" {'; '.join(f'{plant} stands in {stands or BLANK}' for plant, stands in told.plants)}."
    )


def _columns(stretch: SheetSpan, zone: tzinfo, width: int) -> list[str]:
    """Day, date and hour over the boxes; of many visits their numbers, with the hours above."""
    local = [visit.astimezone(zone) for visit in stretch.visits]
    if len(local) <= WIDE:
        rows = (
            [f"{at:%a}" for at in local],
            [f"{at.day} {at:%b}" for at in local],
            [f"{at:%H:%M}" for at in local],
        )
        return [_right(row, 6, width) for row in rows]
    visits = "; ".join(
        f"{number} {day_and_time(at, zone)}" for number, at in enumerate(stretch.visits, 1)
    )
    return [
        *_wrap(f"Visits: {visits}.", width),
        _right([str(number) for number in range(1, len(local) + 1)], 4, width),
    ]


def _right(words: list[str], cell: int, width: int) -> str:
    return "".join(f" {word:^{cell - 1}}" for word in words).rjust(width).rstrip()


def _block(entry: SheetEntry, visits: int, width: int) -> list[str]:
    """The lines of a place, its boxes on the right."""
    cell = 6 if visits <= WIDE else 4
    room = width - cell * visits - 3
    lines = [line for one in entry.before for line in _wrap(f"--- {one} ---", width)]
    for first, row in enumerate(entry.rows):
        beside, *more = _wrap(row.text, room)
        boxes = "".join(
            f" {(box + ' ' * (cell - 3) + CLOSES[box]) if box else '--':^{cell - 1}}"
            for box in row.boxes
        )
        number = "" if first else str(entry.number)
        lines.append(f"{number:<3}{beside:<{room}}{boxes}".rstrip())
        lines += [f"   {line}" for line in (_wrap(" ".join(more), width - 3) if more else ())]
    return lines


def _wrap(text: str, width: int) -> list[str]:
    return textwrap.wrap(text, width, break_on_hyphens=False) or [""]


def _short(text: str, width: int) -> str:
    return text if len(text) <= width else f"{text[: width - 3]}..."
