"""How entries about animals change the bench."""

from __future__ import annotations

from typing import Any

from msgspec.structs import replace

from rounds.bench.folding.lots import chosen, clear_empty_founders, container_for, move, new_lot, odd
from rounds.bench.folding.not_seen import counted_lots, escaped_here, lot_of, may_be, open_here, turn_up
from rounds.bench.folding.passing import laid_as_said, look_before, passed, stayed
from rounds.bench.folding.tending import hidden_eggs_shown, larvae_found, went_on
from rounds.bench.folding.unsure import furthest_first, meant, regroup, tell_sex
from rounds.bench.mates import WILD, joined
from rounds.bench.movements import (
    CAUGHT,
    COUNTED,
    ESTIMATED,
    GIVEN_UP,
    INSTAR_KNOWN,
    LOST,
    MOVED,
    NOT_SEEN,
    PUT_IN,
    Movement,
    shares,
)
from rounds.bench.parents import foreign_mother
from rounds.bench.resting import rested_until
from rounds.bench.state import NO_MARK, Bench, Container, Hunger, Lot
from rounds.entries.base import Entry, Stage
from rounds.entries.registry import (
    BroodBegun,
    Counted,
    Died,
    Emerged,
    Escaped,
    FounderIntake,
    Hatched,
    Marked,
    Merged,
    Missing,
    Moulted,
    Moved,
    Paired,
    PairingPlanned,
    Parasitoid,
    Preserved,
    Pupated,
    Related,
    ReleaseBy,
    Released,
    Settled,
    Sexed,
    Split,
    Stocked,
)

Moves = list[Movement]


def founder(bench: Bench, entry: FounderIntake) -> Moves:
    """A founder comes in under a code of its own."""
    if entry.code in bench.founders or entry.code in bench.broods:
        odd(bench, entry, f"code {entry.code} was used before")
    bench.founders.setdefault(entry.code, entry)
    if entry.mark:
        bench.marks[entry.code] = entry.mark
    container = container_for(bench, entry.container, entry)
    her = new_lot(entry.code, entry.stage, entry.at, sex=entry.sex, began_before=entry.stage != "adult")
    return [move(bench, entry, CAUGHT, her, 1, to=container)]


def brood(bench: Bench, entry: BroodBegun) -> None:
    """A brood gets its code and parents."""
    if entry.code in bench.founders or entry.code in bench.broods:
        odd(bench, entry, f"code {entry.code} was used before")
    for parent in (*entry.mothers, *entry.fathers):
        _came_in(bench, entry, parent)
    foreign = foreign_mother(bench, entry)
    if foreign:
        odd(bench, entry, foreign)
    bench.broods.setdefault(entry.code, entry)


def _came_in(bench: Bench, entry: Entry, parent: str) -> None:
    """Tell of a parent that nobody brought in, or whose coming in was crossed out."""
    if parent != WILD and parent not in bench.founders and parent not in bench.broods:
        odd(bench, entry, f"its parent {parent} never came in")


def stocked(bench: Bench, entry: Stocked) -> Moves:
    """Animals put in, which began their stage before; of eggs their brood may say between when they were laid."""
    container = container_for(bench, entry.container, entry)
    hidden_eggs_shown(bench, container, entry)
    larvae_found(bench, container, entry)
    brood = bench.broods.get(entry.brood) if entry.stage == "egg" else None
    laid_to = brood.laid_to if brood and brood.laid_from and brood.laid_to and brood.laid_to <= entry.at else None
    lot = new_lot(
        entry.brood,
        entry.stage,
        entry.at,
        instar=entry.instar,
        sex=entry.sex,
        latest=laid_to or entry.at,
        began_before=entry.stage != "adult" and laid_to is None,
    )
    return [move(bench, entry, PUT_IN, lot, entry.number, to=container, laid=laid_as_said(bench, entry.brood, entry.at))]


def _carry(bench: Bench, entry: Entry, source: Container, to: Container, lots: list[tuple[Lot, int]]) -> Moves:
    return [
        move(
            bench,
            entry,
            MOVED,
            lot,
            number,
            source=source,
            to=to,
            stays=stayed(lot, source, entry),
            came=entry.at,
            unfed=None if source.purpose == "overwintering" else lot.unfed,  # what rests needs no food
            rested=rested_until(bench, source, lot, entry.at),
        )
        for lot, number in lots
    ]


def _lose(bench: Bench, entry: Entry, source: Container, lots: list[tuple[Lot, int]], to: str = "") -> Moves:
    """They were not seen; ``to`` is where they should have arrived."""
    how = NOT_SEEN if isinstance(entry, Counted | Missing) else LOST
    return [move(bench, entry, how, lot, number, source=source, missing_to=to) for lot, number in lots]


def _emptied(container: Container, entry: Entry) -> None:
    if not container.lots:
        container.emptied = entry.at


def moved(bench: Bench, entry: Moved) -> Moves:
    """Animals change container; those that did not arrive are missing from where they left."""
    source = container_for(bench, entry.container, entry)
    renamed = regroup(bench, entry)
    lots = meant(source, entry)
    leaving = sum(number for _, number in chosen(bench, entry, source, entry.number, lots))
    arrived = leaving if entry.arrived is None else min(entry.arrived, leaving)
    carried = _carry(bench, entry, source, container_for(bench, entry.to, entry), shares(lots, arrived))
    lost = _lose(bench, entry, source, shares(lots, leaving - arrived), entry.to)
    _emptied(source, entry)
    return renamed + carried + lost


def split(bench: Bench, entry: Split) -> Moves:
    """One lot goes into several containers."""
    source = container_for(bench, entry.container, entry)
    found = regroup(bench, entry)
    for code, number in zip(entry.into, entry.numbers, strict=False):
        going = chosen(bench, entry, source, number, meant(source, entry))
        found += _carry(bench, entry, source, container_for(bench, code, entry), going)
    if entry.missing:
        found += _lose(bench, entry, source, chosen(bench, entry, source, entry.missing, meant(source, entry)))
    _emptied(source, entry)
    return found


def merged(bench: Bench, entry: Merged) -> Moves:
    """Several containers' animals come into one."""
    target = container_for(bench, entry.container, entry)
    left_to_arrive = entry.number
    found: Moves = []
    for code in entry.sources:
        source = container_for(bench, code, entry)
        if source is target:
            continue
        lots, there = list(source.lots), source.count()
        arrived = there if left_to_arrive is None else min(left_to_arrive, there)
        if left_to_arrive is not None:
            left_to_arrive -= arrived
        found += _carry(bench, entry, source, target, shares(lots, arrived))
        found += _lose(bench, entry, source, shares(lots, there - arrived))
        source.emptied = entry.at
    return found


def counted(bench: Bench, entry: Counted) -> Moves:
    """A count: what is short stays open, what is over closes what was short."""
    container = container_for(bench, entry.container, entry)
    found = regroup(bench, entry)
    if entry.instar and entry.stage in (None, "larva"):
        found += _say_instar(bench, container, entry)
    lots = counted_lots(container, entry)
    fewer = sum(lot.number for lot in lots) - entry.number
    if fewer > 0:
        missed = shares(reversed(lots), fewer)
        if entry.method == "exact":
            found += _lose(bench, entry, container, missed)
        else:
            found += [move(bench, entry, ESTIMATED, lot, number, source=container) for lot, number in missed]
    elif fewer < 0:
        found += _found_again(bench, entry, container, -fewer, lots)
    return found


def _say_instar(bench: Bench, container: Container, entry: Counted) -> Moves:
    """A count that names the instar tells it for so many larvae whose instar was not known."""
    wanting = entry.number - sum(lot.number for lot in counted_lots(container, entry))
    unknown = shares([lot for lot in container.lots_of("larva", entry.brood) if lot.instar == 0], max(0, wanting))
    return [
        move(bench, entry, INSTAR_KNOWN, lot, share, source=container, to=container, instar=entry.instar) for lot, share in unknown
    ]


def _found_again(bench: Bench, entry: Counted, container: Container, more: int, lots: list[Lot]) -> Moves:
    found = turn_up(bench, entry, container, more, may_be(bench, entry, container, lots))
    more -= sum(one.number for one in found)
    if not more:
        return found
    if entry.method == "exact":
        odd(bench, entry, f"{container.code} holds {more} more than the book says", fits=True)
    if lots:  # more of a lot than were on record; whether those drank nobody knows
        lot = replace(lots[0], came=entry.at, hunger=(Hunger(entry.at, more),) if lots[0].stage == "adult" else (), mates=())
    elif entry.brood and entry.stage:
        lot = new_lot(entry.brood, entry.stage, entry.at, instar=entry.instar or 0)
    else:
        return found
    laid = laid_as_said(bench, lot.brood, entry.at)
    return [*found, move(bench, entry, COUNTED, lot, more, to=container, laid=laid)]


def settled(bench: Bench, entry: Settled) -> Moves:
    """What became of those not seen."""
    container = container_for(bench, entry.container, entry)
    missed = open_here(bench, container.code, entry.brood, entry.stage)
    if entry.fate == "found":
        out = escaped_here(bench, container.code, entry.brood, entry.stage)
        found = turn_up(bench, entry, container, entry.number, [*missed, *out])
    else:
        fate = {"dead": "died", "given up": GIVEN_UP}.get(entry.fate, entry.fate)
        found = [move(bench, entry, fate, lot_of(one, entry.at), number, source=one) for one, number in shares(missed, entry.number)]
    more = entry.number - sum(one.number for one in found)
    if more:
        odd(bench, entry, f"{more} more {'found' if entry.fate == 'found' else 'settled'} than were missing from {container.code}")
    return found


def _grow(bench: Bench, entry: Hatched | Moulted | Pupated | Emerged, lots: list[Lot], stage: Stage, instar: int = 0) -> Moves:
    container = container_for(bench, entry.container, entry)
    found: Moves = []
    now: dict[str, Any] = {"began_before": False, "begun_after": look_before(container, entry.at), "mates": (), "hunger": ()}
    now |= {"stage": stage, "instar": instar, "since": entry.at, "latest": entry.at}
    if not isinstance(entry, Moulted):
        now |= {"stays": (), "came": entry.at, "unfed": None}
    if isinstance(entry, Emerged) and entry.sex:
        now["sex"] = entry.sex
    for lot, number in chosen(bench, entry, container, entry.number, lots):
        passed(bench, entry, container, lot, number)
        now["rested"] = rested_until(bench, container, lot, entry.at) if isinstance(entry, Moulted) else None
        found.append(move(bench, entry, entry.what, lot, number, source=container, to=container, **now))
    went_on(container, entry)
    return found


def hatched(bench: Bench, entry: Hatched) -> Moves:
    """Eggs become first-instar larvae."""
    container = container_for(bench, entry.container, entry)
    return regroup(bench, entry) + _grow(bench, entry, meant(container, entry), "larva", 1)


def moulted(bench: Bench, entry: Moulted) -> Moves:
    """Larvae of the instar before, else the nearest younger ones, reach the instar said."""
    container = container_for(bench, entry.container, entry)
    renamed = regroup(bench, entry)
    younger = sorted(meant(container, entry), key=furthest_first)
    return renamed + _grow(bench, entry, younger, "larva", entry.instar)


def pupated(bench: Bench, entry: Pupated) -> Moves:
    """The most advanced larvae become pupae."""
    container = container_for(bench, entry.container, entry)
    renamed = regroup(bench, entry)
    larvae = sorted(meant(container, entry), key=furthest_first)
    return renamed + _grow(bench, entry, larvae, "pupa")


def emerged(bench: Bench, entry: Emerged) -> Moves:
    """Pupae become adults."""
    container = container_for(bench, entry.container, entry)
    return regroup(bench, entry) + _grow(bench, entry, meant(container, entry), "adult")


def sexed(bench: Bench, entry: Sexed) -> Moves:
    """The sex of some is known from now on."""
    return tell_sex(bench, container_for(bench, entry.container, entry), entry)


def gone(bench: Bench, entry: Died | Escaped | Released | Preserved) -> Moves:
    """Animals leave the bench for good."""
    container = container_for(bench, entry.container, entry)
    found = regroup(bench, entry)
    fate = "died" if isinstance(entry, Preserved) and entry.cause else entry.what
    for lot, number in chosen(bench, entry, container, entry.number, meant(container, entry)):
        found.append(move(bench, entry, fate, lot, number, source=container))
    clear_empty_founders(bench, [one.before.brood for one in found if one.before and not one.after])
    _emptied(container, entry)
    return found


def missing(bench: Bench, entry: Missing) -> Moves:
    """Not found: a shortfall."""
    container = container_for(bench, entry.container, entry)
    renamed = regroup(bench, entry)
    return renamed + _lose(bench, entry, container, chosen(bench, entry, container, entry.number, meant(container, entry)))


def parasitoid(bench: Bench, entry: Parasitoid) -> None:
    """What came out of animals instead of them."""
    bench.parasitoids.append(entry)


def paired(bench: Bench, entry: Paired) -> None:
    """Two were seen coupled; what was planned of them is done."""
    for parent in (entry.female, entry.male):
        _came_in(bench, entry, parent)
    bench.pairings.append(entry)
    seen = ((entry.male, entry.at),)
    bench.mated[entry.female] = joined(bench.mated.get(entry.female, ()), seen)
    hers = [(one, lot) for one in bench.standing() for lot in one.lots_of("adult") if entry.female in lot.codes]
    here = [(one, lot) for one, lot in hers if one.code == entry.container]
    for _, lot in here or hers:
        if lot.sex != "male":
            lot.mates = joined(lot.mates, seen)
    bench.planned = [one for one in bench.planned if (one.female, one.male) != (entry.female, entry.male)]


def marked(bench: Bench, entry: Marked) -> None:
    """A mark by which one is known; the newest word holds."""
    bench.marks.pop(entry.brood, None)
    if entry.mark.casefold() != NO_MARK:
        bench.marks[entry.brood] = entry.mark


def related(bench: Bench, entry: Related) -> None:
    """How two founders are related; the newest word holds."""
    bench.related["\n".join(sorted((entry.first, entry.second)))] = entry


def pairing_planned(bench: Bench, entry: PairingPlanned) -> None:
    """A pairing thought of; said again, the newest stands."""
    bench.planned = [one for one in bench.planned if (one.female, one.male) != (entry.female, entry.male)]
    bench.planned.append(entry)


def release_by(bench: Bench, entry: ReleaseBy) -> None:
    """A deadline for one founder, or for every founder in the container."""
    container = container_for(bench, entry.container, entry)
    here = [code for lot in container.lots for code in lot.codes if code in bench.founders]
    codes = [entry.code] if entry.code else list(dict.fromkeys(here))
    for code in codes or [entry.container]:
        bench.release_by[code] = entry
