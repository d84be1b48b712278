"""How entries about animals change the bench."""

from __future__ import annotations

from rounds.bench.folding.lots import (
    clear_empty_founders,
    container_for,
    entered,
    fared,
    got_out,
    matching,
    odd,
    part_of_lot,
    put,
    short,
    take,
)
from rounds.bench.folding.not_seen import close, escaped_here, may_be, open_here
from rounds.bench.folding.passing import look_before, passed, stayed
from rounds.bench.folding.tending import hidden_eggs_shown, larvae_found, went_on
from rounds.bench.folding.unsure import furthest_first, meant, regroup
from rounds.bench.kinds import (
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
    Split,
    Stocked,
)
from rounds.bench.kinds.base import Entry, Stage
from rounds.bench.mates import WILD, joined
from rounds.bench.state import NO_MARK, Bench, Container, Hunger, Lot


def founder(bench: Bench, entry: FounderIntake) -> None:
    """A founder comes in under a code of its own."""
    if entry.code in bench.founders or entry.code in bench.broods:
        odd(bench, entry, f"code {entry.code} was used before")
    bench.founders.setdefault(entry.code, entry)
    if entry.mark:
        bench.marks[entry.code] = entry.mark
    container = container_for(bench, entry.container, entry)
    put(container, brood=entry.code, stage=entry.stage, number=1, at=entry.at, sex=entry.sex, began_before=entry.stage != "adult")
    entered(bench, entry.code, entry.stage, 1)


def brood(bench: Bench, entry: BroodBegun) -> None:
    """A brood gets its code and parents."""
    if entry.code in bench.founders or entry.code in bench.broods:
        odd(bench, entry, f"code {entry.code} was used before")
    for parent in (*entry.mothers, *entry.fathers):
        _came_in(bench, entry, parent)
    bench.broods.setdefault(entry.code, entry)


def _came_in(bench: Bench, entry: Entry, parent: str) -> None:
    """Tell of a parent that nobody brought in, or whose coming in was crossed out."""
    if parent != WILD and parent not in bench.founders and parent not in bench.broods:
        odd(bench, entry, f"its parent {parent} never came in")


def stocked(bench: Bench, entry: Stocked) -> None:
    """Animals put in, which began their stage before; of eggs their brood may say between when they were laid."""
    container = container_for(bench, entry.container, entry)
    hidden_eggs_shown(bench, container, entry)
    larvae_found(bench, container, entry)
    told = bench.broods.get(entry.brood) if entry.stage == "egg" else None
    laid_to = told.laid_to if told and told.laid_from and told.laid_to and told.laid_to <= entry.at else None
    put(
        container,
        brood=entry.brood,
        stage=entry.stage,
        number=entry.number,
        at=entry.at,
        instar=entry.instar,
        sex=entry.sex,
        latest=laid_to,
        began_before=entry.stage != "adult" and laid_to is None,
    )
    entered(bench, entry.brood, entry.stage, entry.number)


def _carry(source: Container, container: Container, entry: Entry, lots: list[Lot]) -> None:
    for lot in lots:
        put(
            container,
            brood=lot.brood,
            stage=lot.stage,
            number=lot.number,
            at=lot.since or entry.at,
            instar=lot.instar,
            sex=lot.sex,
            latest=lot.latest,
            began_before=lot.began_before,
            stays=stayed(lot, source, entry),
            came=entry.at,
            begun_after=lot.begun_after,
            mates=lot.mates,
            hunger=lot.hunger,
            unfed=None if source.purpose == "overwintering" else lot.unfed,  # what rests needs no food
        )


def _part(lots: list[Lot], number: int) -> tuple[list[Lot], list[Lot]]:
    """The first so many of some lots, and the rest."""
    first: list[Lot] = []
    rest: list[Lot] = []
    for lot in lots:
        share = min(lot.number, number)
        number -= share
        if share:
            first.append(part_of_lot(lot, share))
        if lot.number > share:
            rest.append(part_of_lot(lot, lot.number - share))
    return first, rest


def moved(bench: Bench, entry: Moved) -> None:
    """Animals change container; those that did not arrive are missing from where they left."""
    source = container_for(bench, entry.container, entry)
    regroup(bench, entry)
    taken = take(bench, entry, source, entry.number, meant(source, entry))
    arrived, lost = _part(taken, entry.number if entry.arrived is None else entry.arrived)
    _carry(source, container_for(bench, entry.to, entry), entry, arrived)
    short(bench, entry, entry.container, lost, to=entry.to)
    if not source.lots:
        source.emptied = entry.at


def split(bench: Bench, entry: Split) -> None:
    """One lot goes into several containers."""
    source = container_for(bench, entry.container, entry)
    regroup(bench, entry)
    for code, number in zip(entry.into, entry.numbers, strict=False):
        taken = take(bench, entry, source, number, meant(source, entry))
        _carry(source, container_for(bench, code, entry), entry, taken)
    if entry.missing:
        lost = take(bench, entry, source, entry.missing, meant(source, entry))
        short(bench, entry, entry.container, lost)
    if not source.lots:
        source.emptied = entry.at


def merged(bench: Bench, entry: Merged) -> None:
    """Several containers' animals come into one."""
    target = container_for(bench, entry.container, entry)
    left_to_arrive = entry.number
    for code in entry.sources:
        source = container_for(bench, code, entry)
        if source is target:
            continue
        taken = take(bench, entry, source, source.count(), list(source.lots))
        source.emptied = entry.at
        total = sum(lot.number for lot in taken)
        arrived, lost = _part(taken, total if left_to_arrive is None else left_to_arrive)
        if left_to_arrive is not None:
            left_to_arrive -= sum(lot.number for lot in arrived)
        _carry(source, target, entry, arrived)
        short(bench, entry, code, lost)


def counted(bench: Bench, entry: Counted) -> None:
    """A count: what is short stays open, what is over closes what was short."""
    container = container_for(bench, entry.container, entry)
    lots = matching(container, brood=entry.brood, stage=entry.stage, instar=entry.instar)
    expected = sum(lot.number for lot in lots)
    if entry.number < expected:
        taken = take(bench, entry, container, expected - entry.number, list(reversed(lots)))
        if entry.method == "exact":
            short(bench, entry, container.code, taken)
    elif entry.number > expected:
        _found_again(bench, entry, container, entry.number - expected, lots)
    if entry.instar and lots and entry.stage in (None, "larva"):
        _say_instar(container, entry)


def _say_instar(container: Container, entry: Counted) -> None:
    """A count that names the instar tells it for larvae whose instar was not known."""
    unknown = [lot for lot in container.lots_of("larva", entry.brood) if lot.instar == 0]
    container.lots = [lot for lot in container.lots if lot not in unknown]
    for lot in unknown:
        put(
            container,
            brood=lot.brood,
            stage="larva",
            number=lot.number,
            at=lot.since or entry.at,
            instar=entry.instar or 0,
            came=lot.came,
            begun_after=lot.begun_after,
            unfed=lot.unfed,
        )


def _found_again(bench: Bench, entry: Counted, container: Container, surplus: int, lots: list[Lot]) -> None:
    surplus = close(bench, entry, container, surplus, may_be(bench, entry, container, lots))
    if not surplus:
        return
    if entry.method == "exact":
        odd(bench, entry, f"{container.code} holds {surplus} more than the book says", fits=True)
    if lots:
        _more_of(lots[0], surplus, entry)
        entered(bench, lots[0].brood, lots[0].stage, surplus)
    elif entry.brood and entry.stage:
        put(
            container,
            brood=entry.brood,
            stage=entry.stage,
            number=surplus,
            at=entry.at,
            instar=entry.instar or 0,
        )
        entered(bench, entry.brood, entry.stage, surplus)


def _more_of(lot: Lot, surplus: int, entry: Counted) -> None:
    """More of a lot than were on record; whether those drank nobody knows."""
    lot.number += surplus
    if lot.stage == "adult":
        lot.hunger = (*lot.hunger, Hunger(entry.at, surplus))


def settled(bench: Bench, entry: Settled) -> None:
    """What became of those not seen."""
    container = container_for(bench, entry.container, entry)
    if entry.fate == "found":
        missed = open_here(bench, container.code, entry.brood, entry.stage)
        out = escaped_here(bench, container.code, entry.brood, entry.stage)
        over = close(bench, entry, container, entry.number, [*missed, *out])
        if over:
            odd(bench, entry, f"{over} more found than were missing from {container.code}")
        return
    number = entry.number
    fate = {"dead": "died", "given up": "missing"}.get(entry.fate, entry.fate)
    for one in open_here(bench, container.code, entry.brood, entry.stage):
        share = min(one.number, number)
        one.number -= share
        number -= share
        if share:
            lot = Lot(one.brood, one.stage, share, one.instar, one.sex)
            fared(bench, fate, [lot])
            if fate == "escaped":
                got_out(bench, entry, container.code, [lot])
    bench.shortfalls = [one for one in bench.shortfalls if one.number > 0]
    if number:
        odd(bench, entry, f"{number} more settled than were missing from {container.code}")


def _grow(bench: Bench, entry: Hatched | Moulted | Pupated | Emerged, lots: list[Lot], stage: Stage, instar: int = 0) -> None:
    container = container_for(bench, entry.container, entry)
    taken = take(bench, entry, container, entry.number, lots)
    sex = entry.sex if isinstance(entry, Emerged) else ""
    for lot in taken:
        passed(bench, entry, container, lot)
        put(
            container,
            brood=lot.brood,
            stage=stage,
            number=lot.number,
            at=entry.at,
            instar=instar,
            sex=sex or lot.sex,
            stays=lot.stays if isinstance(entry, Moulted) else (),
            came=lot.came if isinstance(entry, Moulted) else None,
            begun_after=look_before(container, entry.at),
            unfed=lot.unfed if isinstance(entry, Moulted) else None,
        )
        entered(bench, lot.brood, f"L{instar}" if isinstance(entry, Moulted) else stage, lot.number)
    went_on(container, entry)


def hatched(bench: Bench, entry: Hatched) -> None:
    """Eggs become first-instar larvae."""
    container = container_for(bench, entry.container, entry)
    regroup(bench, entry)
    _grow(bench, entry, meant(container, entry), "larva", 1)


def moulted(bench: Bench, entry: Moulted) -> None:
    """Larvae of the instar before, else the nearest younger ones, reach the instar said."""
    container = container_for(bench, entry.container, entry)
    regroup(bench, entry)
    younger = meant(container, entry)
    younger.sort(key=furthest_first)
    _grow(bench, entry, younger, "larva", entry.instar)


def pupated(bench: Bench, entry: Pupated) -> None:
    """The most advanced larvae become pupae."""
    container = container_for(bench, entry.container, entry)
    regroup(bench, entry)
    larvae = meant(container, entry)
    larvae.sort(key=furthest_first)
    _grow(bench, entry, larvae, "pupa")


def emerged(bench: Bench, entry: Emerged) -> None:
    """Pupae become adults."""
    container = container_for(bench, entry.container, entry)
    regroup(bench, entry)
    _grow(bench, entry, meant(container, entry), "adult")


def gone(bench: Bench, entry: Died | Escaped | Released | Preserved) -> None:
    """Animals leave the bench for good."""
    container = container_for(bench, entry.container, entry)
    regroup(bench, entry)
    taken = take(bench, entry, container, entry.number, meant(container, entry))
    found_dead = isinstance(entry, Preserved) and bool(entry.cause)
    fared(bench, "died" if found_dead else entry.what, taken)
    if isinstance(entry, Escaped):
        got_out(bench, entry, container.code, taken)
    clear_empty_founders(bench, taken)
    if not container.lots:
        container.emptied = entry.at


def missing(bench: Bench, entry: Missing) -> None:
    """Not found: a shortfall."""
    container = container_for(bench, entry.container, entry)
    regroup(bench, entry)
    lost = take(bench, entry, container, entry.number, meant(container, entry))
    short(bench, entry, container.code, lost)


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
