"""Taking animals out of lots and putting them in, so that every number balances."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from datetime import datetime
from typing import Any

from msgspec.structs import replace

from rounds.bench.beginnings import (
    any_of,
    begin,
    beginnings,
    brought_together,
    first_of,
    known_as,
    renamed,
    without,
)
from rounds.bench.codes import OR, members
from rounds.bench.diapause import has_rested
from rounds.bench.folding.hunger import leave_part
from rounds.bench.folding.stage_completions import SAME_LOOK, newly_come
from rounds.bench.mates import joined, stand_together
from rounds.bench.movements import (
    BACK,
    ESCAPED,
    ESTIMATED,
    GROWN,
    HATCHED,
    MISCOUNTED,
    MOULTED,
    RENAMED,
    Group,
    Movement,
    shares,
)
from rounds.bench.plants_of import PlantsOnRecord, with_plants_for
from rounds.bench.state import (
    STAGES,
    Animals,
    Bench,
    CameIn,
    Container,
    Hunger,
    Lot,
    Oddity,
    Shortfall,
    Tally,
    hungriest,
)
from rounds.entries.base import Entry, Purpose, Sex, Stage
from rounds.entries.wording import saying
from rounds.grouping import summed

CAUSE_NOT_KNOWN = "unknown"
MAX_ODDITIES = 200
MAX_ESCAPED = 200  # lots that escaped and are remembered, the newest


# What a container is for that was never set up, until animals come into it.
MADE_UP: Purpose = "holding"
# What a container is for that holds animals of a stage, adults by their sex.
PURPOSE_OF: Mapping[str, Purpose] = {
    "female": "laying",
    "male": "holding",
    "egg": "eggs",
    "larva": "rearing",
    "pupa": "pupation",
    "adult": "holding",
}


def container_for(bench: Bench, code: str, entry: Entry) -> Container:
    """The container of that code; an unknown one is made up, and the oddity told, so that nothing
    said is lost."""
    container = bench.containers.get(code)
    if container is None:
        note_inconsistency(bench, entry, _never_set_up(code), rests_on=code)
        container = bench.containers[code] = Container(code=code, purpose=MADE_UP, since=entry.at)
    return container


def _never_set_up(code: str) -> str:
    return f"{code} was not set up before this; say how it is, as: {code} set up laying"


def make_good(bench: Bench, code: str) -> None:
    """A container that was made up is set up after all: what was said of it before fits now, and
    what does not is no gap any more."""
    bench.oddities[:] = [
        replace(odd, lacks="") if odd.lacks == code else odd
        for odd in bench.oddities
        if odd.text != _never_set_up(code)
    ]


def note_inconsistency(
    bench: Bench, entry: Entry, text: str, *, fits: bool = False, rests_on: str = ""
) -> None:
    """Tell of something that the entries do not agree on; ``fits`` where the entry counts wholly
    all the same, ``rests_on`` a code that is not known. Of a line that names what no line here
    gave, all that does not fit is of that gap."""
    said = "" if fits else saying(entry)
    lacks = rests_on if rests_on and _is_not_here(bench, entry, rests_on) else ""
    if not lacks and (lacking := bench.lacking):
        lacks = next((code for code, _ in entry.cups if code in lacking), "")
    bench.oddities.append(Oddity(entry=entry.id, at=entry.at, text=text, said=said, lacks=lacks))
    del bench.oddities[:-MAX_ODDITIES]


def _is_not_here(bench: Bench, entry: Entry, code: str) -> bool:
    """Whether no line is here that gave a code that an entry names: it was not crossed out."""
    given = {line for said, line in entry.cups if said == code}
    return code not in bench.closed and given.isdisjoint(bench.strikes.values())


def new_lot(
    brood: str,
    stage: Stage,
    at: datetime,
    *,
    instar: int = 0,
    sex: Sex = "",
    latest: datetime | None = None,
    began_before: bool = False,
    begun_after: datetime | None = None,
) -> Lot:
    """Animals that come to be on the bench; ``at`` is when the first reached the stage, ``latest``
    the last."""
    return Lot(
        brood,
        stage,
        0,
        instar,
        sex,
        at,
        latest or at,
        began_before,
        came=at,
        begun_after=begun_after,
    )


def put(bench: Bench, container: Container, lot: Lot) -> None:
    """Add animals to the lot that they belong to.

    Adults that bring no hunger are hungry since they came. Of animals that stood in different
    places before, the lot remembers where most did, and whether those were in diapause.
    """
    if lot.stage == "adult":
        since = lot.since or container.since
        lot.hunger = (
            *lot.hunger,
            *_never_drank(lot.number - sum(hunger.number for hunger in lot.hunger), since),
        )
    if lot.stage == "larva":
        there = with_plants_for(bench, container, bench.taxon_of(lot.brood))
        lot.unfed = None if there.has_food else lot.unfed or lot.came
        lot.fed = _fed_since(there, lot)
    for known in container.lots:
        if _lot_order(known) == _lot_order(lot):
            _join(known, lot)
            break
    else:
        container.lots.append(lot)
        container.lots.sort(key=_lot_order)
    if lot.stage == "adult":
        stand_together(container, lot.came or container.since)
    if container.is_made_up and container.purpose == MADE_UP:
        container.purpose = PURPOSE_OF[(lot.stage == "adult" and lot.sex) or lot.stage]


def _fed_since(container: Container, lot: Lot) -> datetime | None:
    """When larvae that come to stand here last had food enough: brought to a plant or hatched on
    it, they have it as old as it is, whatever they had before."""
    if lot.came is None or not container.has_food_enough:
        return lot.fed or lot.came
    if lot.fed is not None and lot.fed > lot.came:
        return lot.fed  # seen here since
    return min(lot.came, container.food_since or lot.came)


def _join(lot: Lot, more: Lot) -> None:
    """Take more animals into a lot."""
    if not lot.sex and (lot.at_most or more.at_most):
        lot.at_most = (
            lot.may_be("female") + more.may_be("female"),
            lot.may_be("male") + more.may_be("male"),
        )
    lot.came_in = _of_one_look((*lot.came_in, *more.came_in))
    if lot.of_instars != more.of_instars:
        lot.of_instars = ()
    if more.number > lot.number:
        lot.stays, lot.rested = more.stays, more.rested
    lot.began = brought_together(lot, more)
    lot.number += more.number
    lot.began_before = lot.began_before or more.began_before
    lot.begun_after = (
        min(lot.begun_after, more.begun_after) if lot.begun_after and more.begun_after else None
    )
    pairs = (
        (lot.since, more.since),
        (lot.came, more.came),
        (lot.unfed, more.unfed),
        (lot.fed, more.fed),
    )
    lot.since, lot.came, lot.unfed, lot.fed = (
        min(filter(None, pair), default=None) for pair in pairs
    )
    lot.latest = max(filter(None, (lot.latest, more.latest)), default=None)
    lot.mates = joined(lot.mates, more.mates)
    lot.hunger = _together(lot.hunger, more.hunger)


def _of_one_look(came_in: CameIn) -> CameIn:
    """Of what came on record what the newest look can have seen."""
    newest = max((at for at, _ in came_in), default=None)
    return tuple(sorted(one for one in came_in if newest and newest - one[0] < SAME_LOOK))


def _never_drank(number: int, since: datetime) -> tuple[Hunger, ...]:
    return (Hunger(since, number),) if number > 0 else ()


def _together(*several: tuple[Hunger, ...]) -> tuple[Hunger, ...]:
    """The hunger of animals that come together, those that wait longest first."""
    numbers = summed(((one.since, one.drank), one.number) for some in several for one in some)
    return tuple(Hunger(since, number, drank) for (since, drank), number in sorted(numbers.items()))


def split_off(lot: Lot, number: int, *, first: bool = False, brood: str = "") -> Lot:
    """Take so many out of a lot, nobody knows which, or those that began their stage ``first``, of
    a ``brood`` that is named again its own: those that go and those that stay are both taken for
    the hungriest."""
    if brood:
        known_as(lot, brood, number)
    part = part_of(lot, number, first=first, brood=brood)
    begin(lot, without(lot, beginnings(part)))
    lot.number -= number
    lot.hunger = hungriest(lot.hunger, lot.number)
    return part


def part_of(lot: Lot, number: int, *, first: bool, brood: str = "") -> Lot:
    """So many of a lot as they are if they are taken out of it."""
    part = replace(lot, number=number, hunger=hungriest(lot.hunger, number), goes_on=False)
    begin(part, first_of(lot, number, brood) if first else any_of(lot, number))
    return part


def feed_larvae(
    bench: Bench, container: Container, at: datetime, enough: Collection[str] = ()
) -> None:
    """Food that came, went or was eaten ends the hunger of the larvae here, or begins it; those not
    seen may sit in it too.

    Args:
        enough: the plants of which there was seen to be enough for them; a report of less never
            makes their hunger younger.
    """
    hidden = [
        shortfall
        for shortfall in bench.shortfalls
        if shortfall.container == container.code and shortfall.stage == "larva"
    ]
    larvae: list[Lot | Shortfall] = [*container.lots_of("larva"), *hidden]
    on_record = PlantsOnRecord(bench)
    for lot in larvae:
        there = with_plants_for(bench, container, bench.taxon_of(lot.brood), on_record)
        lot.unfed = None if there.has_food else lot.unfed or at
        lot.fed = at if any(host.plant in enough for host in there.hosts) else lot.fed


def _lot_order(lot: Lot) -> tuple[str, int, int, str, bool]:
    return lot.brood, STAGES.index(lot.stage), lot.instar, lot.sex, lot.crippled


def group_of(code: str, lot: Animals, *, missing: bool = False) -> Group:
    """The group in a container that animals are of."""
    return Group(code, lot.brood, lot.stage, lot.instar, lot.sex, missing, lot.crippled)


def matching(
    container: Container,
    *,
    brood: str = "",
    stage: Stage | None = None,
    instar: int | None = None,
    sex: Sex | None = None,
) -> list[Lot]:
    """The lots that fit what was said; what was not said does not choose."""
    return [
        lot
        for lot in container.lots_of(stage, brood, sex)
        if instar in (None, 0) or lot.instar == instar or lot.stage != "larva"
    ]


def chosen(
    bench: Bench, entry: Entry, container: Container, number: int, lots: list[Lot]
) -> list[tuple[Lot, int]]:
    """How many of each of the given lots go, in their order; the oddity is told where there are not
    as many."""
    found = shares(lots, number)
    there = sum(share for _, share in found)
    if there < number:
        note_inconsistency(bench, entry, f"{container.code} had {there}, not {number}")
    return found


def _cause_of(entry: Entry) -> str:
    """What an entry says that they died of; '' too where it says that nobody knows."""
    cause = str(getattr(entry, "cause", ""))
    return "" if cause == CAUSE_NOT_KNOWN else cause


def move(
    bench: Bench,
    entry: Entry,
    how: str,
    lot: Lot,
    number: int,
    *,
    source: Container | Shortfall | None = None,
    to: Container | None = None,
    missing_to: str | None = None,
    laid: tuple[datetime, datetime] | None = None,
    instars: tuple[int, ...] = (),
    **now: Any,
) -> Movement:
    """Change the stock, which nothing else does: so many animals go from where they are to where
    they are then.

    Args:
        lot: which animals; those of a container are taken out of it.
        source: where they are: in a container, not seen, or (None) outside.
        to: the container that they come into; None if they leave the bench, or are not seen.
        missing_to: they are not seen, and should have arrived there; '' if they should be where
            they were.
        laid: of eggs that came, between when they were laid.
        instars: of larvae whose instar is not known any more, which it may be.
        now: what is otherwise of them from now on: any fields of a lot.
    """
    before = None
    if source:
        code = source.container if isinstance(source, Shortfall) else source.code
        before = group_of(code, lot, missing=isinstance(source, Shortfall) and how != BACK)
    hatched = newly_come(entry, lot, number) if how == HATCHED else 0
    rested = how in GROWN and isinstance(source, Container) and has_rested(bench, source, lot)
    # of adults the oldest die, leave or get lost, and of young whose sisters go on those late
    first = how in (*GROWN, RENAMED) or (to is None and (lot.stage == "adult" or lot.goes_on))
    brood, former = now.get("brood", lot.brood), lot.brood
    again = brood if how == RENAMED and OR in former and OR not in brood else ""
    part = _taken(bench, lot, number, source, to, first=first, brood=again)
    part.began = () if now.keys() & {"since", "begun_after", "latest"} else part.began
    for name, value in now.items():
        setattr(part, name, value)
    if how == HATCHED:
        lot.came_in = _without(lot.came_in, hatched)
    if part.stage != "egg":
        part.came_in = ()
    elif to and source is None:
        part.came_in = ((entry.at, number),)
    if brood != former:
        renamed(part, former)
    if part.sex != lot.sex:
        _sex_told(lot, part)
    if part.instar or part.stage != "larva":
        part.of_instars = ()
    after = None
    if to:
        put(bench, to, part)
        after = group_of(to.code, part)
    elif before and (missing_to is not None or how == ESCAPED):
        alike = {name: getattr(part, name) for name in Animals.__struct_fields__}
        lost = Shortfall(
            **alike | {"number": number},
            container=before.container,
            at=entry.at,
            entry=entry.id,
            to=missing_to or "",
        )
        if how == ESCAPED:  # they may be found again
            bench.escaped = [*bench.escaped, lost][-MAX_ESCAPED:]
        else:
            bench.shortfalls.append(lost)
            after = group_of(before.container, part, missing=True)
    there = to or (source if isinstance(source, Container) else None)
    moved = Movement(
        entry.id,
        entry.at,
        how,
        number,
        before,
        after,
        _cause_of(entry),
        getattr(entry, "evidence", "seen"),
        laid,
        bench.places_of(to.code) if to else (),
        tuple(dict.fromkeys(host.plant for host in there.hosts)) if there else (),
        rested,
        instars,
        getattr(entry, "at_least", False),
        first,
        getattr(entry, "stage_days", None),
        hatched,
    )
    lot.goes_on = lot.goes_on or how in GROWN
    _tally(bench, moved)
    return moved


def _without(came_in: CameIn, number: int) -> CameIn:
    """What came on record without so many of the newest."""
    left = []
    for at, many in reversed(came_in):
        gone = min(number, many)
        number -= gone
        left += [(at, many - gone)] if many > gone else []
    return tuple(reversed(left))


def _sex_told(rest: Lot, part: Lot) -> None:
    """Those of which nobody knows the sex any more are no more than they were of either; one whose
    sex is known again is none of the rest."""
    if not part.sex:
        females = part.number if rest.sex == "female" else 0
        part.at_most = females, part.number - females
        return
    part.at_most = None
    if rest.at_most is not None:
        females, males = rest.at_most
        told_females = part.number if part.sex == "female" else 0
        told_males = part.number - told_females
        rest.at_most = max(0, females - told_females), max(0, males - told_males)


def _taken(
    bench: Bench,
    lot: Lot,
    number: int,
    source: Container | Shortfall | None,
    to: Container | None,
    *,
    first: bool,
    brood: str,
) -> Lot:
    """So many of a lot, taken from where they are; the ``first`` are those that began their stage
    first."""
    if not isinstance(source, Container):
        if source:
            source.number -= number
            bench.shortfalls = [shortfall for shortfall in bench.shortfalls if shortfall.number > 0]
            bench.escaped = [one for one in bench.escaped if one.number > 0]
        return replace(lot, number=number)
    part = split_off(lot, number, first=first, brood=brood)
    source.lots = [one for one in source.lots if one.number > 0]
    if to is not source:
        for code in lot.codes if lot.mates else ():
            bench.mated[code] = joined(bench.mated.get(code, ()), lot.mates)
        if lot.stage == "adult" and lot.sex != "male":
            leave_part(source, number)
    return part


def _tally(bench: Bench, moved: Movement) -> None:
    """Count animals into a stage that they came in or reached, and what became of them, or did not
    after all."""
    before, after = moved.before, moved.after
    if before and moved.how == BACK:
        escaped = bench.tallies.setdefault(before.brood, Tally()).fates.setdefault(ESCAPED, {})
        escaped[before.stage] = max(0, escaped.get(before.stage, 0) - moved.number)
        return
    if after and (before is None or moved.how in GROWN):
        if before is None and OR in after.brood:
            bench.mixed[after.brood] = bench.mixed.get(after.brood, 0) + moved.number
        stage = after.stage_name if moved.how == MOULTED else after.stage
        entered = bench.tallies.setdefault(after.brood, Tally()).entered
        entered[stage] = entered.get(stage, 0) + moved.number
    elif before and moved.how == MISCOUNTED:
        entered = bench.tallies.setdefault(before.brood, Tally()).entered
        entered[before.stage] = max(0, entered.get(before.stage, 0) - moved.number)
    elif before and not after and moved.how != ESTIMATED:
        fate = bench.tallies.setdefault(before.brood, Tally()).fates.setdefault(moved.how, {})
        fate[before.stage] = fate.get(before.stage, 0) + moved.number


def clear_empty_founders(bench: Bench, gone: Iterable[str]) -> None:
    """A founder that is gone needs no deadline; of several that nobody can tell apart, none until
    all are gone."""
    for brood in gone:
        for code in members(brood):
            if code == brood or not any(
                any(code in members(lot.brood) for lot in container.lots)
                for container in bench.standing()
            ):
                bench.release_by.pop(code, None)
