"""Animals of which nobody knows which they are: lots that are thrown together, or told apart again.

Of three unmarked females in one cup one is found dead and nobody knows which. From then on the two
that are left are 'W2 or W3 or W4', and so is the dead one: every number stays right, and none is
said to live that may be dead. Of two broods that are seen apart, as by their instars, one of each
may have been it, and no more than these are unsure.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from msgspec.structs import replace

from rounds.bench.codes import OR, members, one_of
from rounds.bench.folding.lots import chosen, matching, move
from rounds.bench.movements import INSTAR_KNOWN, INSTAR_UNKNOWN, RENAMED, Movement, shares
from rounds.bench.state import Bench, Container, Lot, OfInstar
from rounds.entries.base import Entry, Sex, Stage

if TYPE_CHECKING:
    from rounds.entries.stages import GoesOn, Sexed
    from rounds.entries.stock import Counted


def stage_taken(kind: type[Entry], said: Stage | None) -> Stage | None:
    """The stage that a kind takes its animals from: what was said, else what the kind implies."""
    return kind.grows_from or said


def regroup(bench: Bench, entry: Any) -> list[Movement]:
    """Throw lots together that an entry cannot tell apart, or tell apart those that it names; done
    twice is done once."""
    if not (entry.takes or entry.grows_from or entry.regroups):
        return []
    container = bench.containers.get(entry.container)
    if container is None:
        return []
    among: tuple[str, ...] = getattr(entry, "among", ())
    movements: list[Movement] = []
    if among:
        movements += _thrown_together(bench, container, entry, among, _like_said(container, entry))
    elif entry.brood:
        movements += _told_apart(bench, container, entry, entry.brood)
        movements += (
            _none_of_it(bench, container, entry)
            if entry.regroups and entry.method == "exact"
            else []
        )
    return movements + _sexes(bench, container, entry) if entry.takes else movements


def _sexes(bench: Bench, container: Container, entry: Any) -> list[Movement]:
    """Where nobody knows which of both sexes it was, the sex of those that went and of the rest is
    not known any more; of several broods that of those whose brood is not known either.

    A sex that is said of one whose sex was not known is known again.
    """
    lots = [lot for lot in meant(container, entry) if lot.stage == "adult"]
    sex = getattr(entry, "sex", None)
    number = entry.number
    if sex:
        wanting = number - sum(lot.number for lot in lots if lot.sex == sex)
        told = shares((lot for lot in lots if not lot.sex), wanting)
        return [
            _renamed(bench, entry, container, lot, share, lot.brood, sex) for lot, share in told
        ]
    parted = number < sum(lot.number for lot in lots) or entry.parts
    if entry.which != "not known" or not parted or len({lot.sex for lot in lots}) < 2:
        return []
    mixed = [lot for lot in lots if entry.among and OR in lot.brood]
    return [
        _renamed(bench, entry, container, lot, lot.number, lot.brood, "")
        for lot in mixed or lots
        if lot.sex
    ]


def unsexed(container: Container, entry: Sexed) -> list[Lot]:
    """Those whose sex is not known that an entry may mean, the ones that are of the brood first."""
    lots = [lot for lot in container.lots_of(entry.stage or "adult") if not lot.sex]
    lots = [lot for lot in lots if not entry.brood or entry.brood in (lot.brood, *lot.codes)]
    return sorted(lots, key=lambda lot: bool(entry.brood) and lot.brood != entry.brood)


def tell_sex(bench: Bench, container: Container, entry: Sexed) -> list[Movement]:
    """Give so many their sex, and the brood that is named with it."""
    movements: list[Movement] = []
    for lot, share in chosen(bench, entry, container, entry.number, unsexed(container, entry)):
        told_apart = entry.brood and lot.brood != entry.brood
        share = min(share, may_be_of(bench, entry.brood)) if told_apart else share
        movements.append(
            _renamed(bench, entry, container, lot, share, entry.brood or lot.brood, entry.sex)
        )
        if told_apart and entry.brood in bench.founders:
            movements += _no_longer(bench, entry, entry.brood)
    return movements


def _like_said(container: Container, entry: Any) -> list[Lot]:
    """The lots of the stage, instar and sex that an entry says."""
    if entry.moults:
        return [lot for lot in container.lots_of("larva") if lot.instar < entry.instar]
    lots = matching(
        container,
        stage=entry.grows_from or getattr(entry, "stage", None),
        instar=getattr(entry, "instar", None),
    )
    sex = None if entry.grows_from else getattr(entry, "sex", None)
    lots = of_wings(lots, getattr(entry, "wings", ""))
    return [
        lot for lot in lots if not sex or lot.sex == sex or (not lot.sex and lot.stage == "adult")
    ]


def of_wings(lots: Iterable[Lot], wings: str) -> list[Lot]:
    """Those of the adults whose wings failed, or the others; all where neither was said."""
    return [lot for lot in lots if wings in ("", "both") or lot.crippled == (wings == "crippled")]


def meant(container: Container, entry: Any) -> list[Lot]:
    """The lots that an entry takes from, in the order in which it takes; those whose wings failed
    last, unless they died of that.

    Where nobody knows which they were, those whose instar or sex is not known go first, then the
    commonest.
    """
    among = set(getattr(entry, "among", ()))
    lots = [
        lot
        for lot in _like_said(container, entry)
        if (not entry.brood or entry.brood in (lot.brood, *lot.codes))
        and (not among or among & set(lot.codes))
    ]
    if entry.takes and getattr(entry, "instar", None):
        lots += [
            lot
            for lot in container.lots_of("larva")
            if _may_be_of(lot, entry.instar)
            and (not entry.brood or entry.brood == lot.brood)
            and (not among or lot.brood in among)
        ]
    lots.sort(
        key=lambda lot: (
            bool(entry.brood) and lot.brood != entry.brood,
            bool(getattr(entry, "sex", None)) and not lot.sex,
            lot.crippled != (getattr(entry, "cause", "") == "crippled"),
        )
    )
    if entry.takes and entry.which == "not known":
        lots.sort(
            key=lambda lot: (
                (lot.instar if lot.stage == "larva" else lot.sex) not in (0, ""),
                bool(among) and OR not in lot.brood,
                -lot.number,
            )
        )
    return lots


def taken_as_meant(
    bench: Bench, entry: Any, container: Container
) -> tuple[list[Movement], list[tuple[Lot, int]]]:
    """Which animals go, and of how many larvae the instar is not known any more, since nobody knows
    which they were, or is known again, since it was said of those that go."""
    movements = seen_to_be(bench, entry, container)
    if entry.which == "not known":
        lots = meant(container, entry)
        movements += unsure_of_instar(bench, entry, container, lots, entry.number)
    return movements, chosen(bench, entry, container, entry.number, meant(container, entry))


def _may_be_of(lot: Lot, instar: int) -> int:
    """How many larvae whose instar nobody knows any more may be of one."""
    if lot.instar:
        return 0
    return min(lot.number, sum(one.number for one in lot.of_instars if one.instar == instar))


def may_go(lot: Lot, entry: Any) -> int:
    """How many of a lot that is meant an entry may take."""
    instar = getattr(entry, "instar", None) if entry.takes and lot.stage == "larva" else None
    return _may_be_of(lot, instar) if instar and not lot.instar else lot.number


def seen_to_be(bench: Bench, entry: Any, container: Container) -> list[Movement]:
    """Those that go, or moult, were of an instar as was seen: of those whose instar nobody knew as
    many were of it as there are too few otherwise."""
    instar, movements = (getattr(entry, "instar", None) or 0) - entry.moults, []
    lots = meant(container, entry) if instar > 0 else []
    wanting = entry.number - sum(lot.number for lot in lots if lot.instar)
    for lot in [lot for lot in lots if not lot.instar and lot.stage == "larva"]:
        share = min(wanting, _may_be_of(lot, instar))
        if share <= 0:
            continue
        wanting -= share
        known = next(one for one in lot.of_instars if one.instar == instar)
        fewer = replace(known, number=known.number - share)
        left = tuple(fewer if one is known else one for one in lot.of_instars)
        _may_be(bench, container, lot.brood, tuple(one for one in left if one.number))
        movements.append(_of_instar(bench, entry, container, lot, replace(known, number=share)))
    return movements


def _may_be(
    bench: Bench, container: Container, brood: str, of_instars: tuple[OfInstar, ...]
) -> None:
    """Which instars larvae of a brood may be of that are there or missing from there."""
    missed = [one for one in bench.shortfalls if one.container == container.code]
    for one in (*container.lots_of("larva"), *missed):
        if one.brood == brood and not one.instar and one.stage == "larva":
            one.of_instars = of_instars


def forget_instar(
    bench: Bench, entry: Entry, container: Container, lots: list[Lot], number: int
) -> list[Movement]:
    """Of so many of these larvae nobody knows the instar any more; nothing where all are meant, or
    all are of one instar.

    The commonest are taken for them, be it those whose instar was not known before.
    """
    unsure = any(len(lot.codes) > 1 for lot in lots)  # these were taken for those nobody knows
    instars = {lot.instar for lot in lots if lot.stage == "larva" and (lot.instar or not unsure)}
    if len(instars) < 2 or number >= sum(lot.number for lot in lots):
        return []
    likely = sorted(lots, key=lambda lot: (unsure and lot.instar != 0, -lot.number))
    return [
        _of_no_known_instar(bench, entry, container, lot, share, lots)
        for lot, share in shares(likely, number)
        if lot.stage == "larva" and lot.instar
    ]


def unsure_of_instar(
    bench: Bench, entry: Entry, container: Container, lots: list[Lot], fewer: int
) -> list[Movement]:
    """Of larvae of which a count saw so many fewer nobody knows which those are: of each instar as
    many may be gone, and only those beyond that are surely there."""
    if any(len(lot.codes) > 1 for lot in lots) or fewer >= sum(lot.number for lot in lots):
        return forget_instar(bench, entry, container, lots, fewer)
    movements = []
    for brood in dict.fromkeys(lot.brood for lot in lots if lot.stage == "larva"):
        larvae = [lot for lot in lots if lot.stage == "larva" and lot.brood == brood]
        known = [lot for lot in larvae if lot.instar]
        before = [lot for lot in larvae if not lot.instar]
        if len(larvae) < 2:
            continue
        may_be = {one.instar: one for lot in before for one in lot.of_instars}
        for lot in known if may_be or not before else ():
            number = min(lot.number, fewer)
            more = OfInstar(lot.instar, number, lot.since, lot.latest)
            same = may_be.get(lot.instar)
            may_be[lot.instar] = replace(same, number=same.number + number) if same else more
        of_instars = tuple(may_be[instar] for instar in sorted(may_be))
        _may_be(bench, container, brood, of_instars)
        for lot in known:
            number = min(lot.number, fewer)
            unknown = _of_no_known_instar(bench, entry, container, lot, number, larvae, of_instars)
            movements.append(unknown)
    return movements


def all_seen(bench: Bench, entry: Entry, container: Container) -> list[Movement]:
    """Once all are there of which some were not seen, their instars are what they were."""
    again = [
        lot
        for lot in container.lots_of("larva")
        if lot.of_instars and lot.number == sum(one.number for one in lot.of_instars)
    ]
    return [
        _of_instar(bench, entry, container, lot, one) for lot in again for one in lot.of_instars
    ]


def _of_instar(
    bench: Bench, entry: Entry, container: Container, lot: Lot, known: OfInstar
) -> Movement:
    """So many larvae of a lot whose instar was not known are of one."""
    return move(
        bench,
        entry,
        INSTAR_KNOWN,
        lot,
        known.number,
        source=container,
        to=container,
        instar=known.instar,
        since=known.since,
        latest=known.latest,
    )


def _of_no_known_instar(
    bench: Bench,
    entry: Entry,
    container: Container,
    lot: Lot,
    number: int,
    among: list[Lot],
    of_instars: tuple[OfInstar, ...] = (),
) -> Movement:
    """So many larvae of a lot may be of any instar of some lots from now on."""
    instars = tuple(sorted({one.instar for one in among if one.stage == "larva" and one.instar}))
    return move(
        bench,
        entry,
        INSTAR_UNKNOWN,
        lot,
        number,
        source=container,
        to=container,
        instars=instars,
        instar=0,
        of_instars=of_instars,
    )


def may_be_of(bench: Bench, brood: str) -> int:
    """How many of those that nobody can tell apart can be of a brood: as many of it as were mixed
    with others and not told apart again, and those that came when nobody could tell."""
    return sum(bench.mixed.get(code, 0) for code in _pools(bench, brood))


def limits(bench: Bench, lot: Lot) -> dict[str, tuple[int, int]]:
    """How many of each brood are in a lot that may be of several, at least and at most.

    Empty where it is not known how many of each were mixed, and of those who are one animal each.
    """
    codes = members(lot.brood)
    if OR not in lot.brood or any(code in bench.founders for code in codes):
        return {}
    lots = (other for container in bench.standing() for other in container.lots)
    others = {other.brood for other in lots} | bench.tallies.keys() | bench.mixed.keys()
    tally = bench.tallies.get(lot.brood)
    known = not any(
        OR in other and other != lot.brood and not set(members(other)).isdisjoint(codes)
        for other in others
    )
    numbers = {code: bench.mixed.get(code, 0) for code in codes}
    in_all = sum(numbers.values())
    if not known or lot.brood in bench.mixed or (tally and tally.entered) or in_all < lot.number:
        return {}
    return {
        code: (surely_of(own, in_all, lot.number), min(own, lot.number))
        for code, own in numbers.items()
    }


def surely_of(own: int, in_all: int, number: int) -> int:
    """How many of a number are of a brood whatever happened to which: those for which the others do
    not suffice.

    Args:
        own: how many of all that nobody can tell apart are of it.
    """
    return max(0, own - (in_all - number))


def _pools(bench: Bench, brood: str) -> list[str]:
    return [brood, *(code for code in bench.mixed if OR in code and brood in members(code))]


def _account(bench: Bench, before: str, code: str, number: int) -> None:
    """So many of a brood are mixed with others from now on, or told apart again."""
    if OR not in before and OR in code:
        bench.mixed[before] = bench.mixed.get(before, 0) + number
    elif OR in before and OR not in code:
        for pool in _pools(bench, code):
            share = min(number, bench.mixed.get(pool, 0))
            number -= share
            bench.mixed[pool] = bench.mixed.get(pool, 0) - share


def furthest_first(lot: Lot) -> int:
    """The order in which larvae that moult or pupate are taken."""
    return -lot.instar


def of_how_many(bench: Bench, entry: GoesOn) -> str:
    """``1 of 15`` where one alone changed, which is what a line without a number says; '' where it
    is the only one."""
    container = bench.containers.get(entry.container)
    there = (
        sum(lot.number for lot in meant(container, entry)) if container and entry.number == 1 else 0
    )
    return f"1 of {there}" if there > 1 else ""


def _thrown_together(
    bench: Bench, container: Container, entry: Any, among: Iterable[str], lots: list[Lot]
) -> list[Movement]:
    """Those that may be meant go by one code; of a brood that is seen apart from the others no more
    than so many, whose instar is not known either then."""
    wanted = set(among)
    meant = [lot for lot in lots if wanted & set(lot.codes)]
    code = one_of([lot.brood for lot in meant])
    movements: list[Movement] = []
    several = len({lot.instar for lot in meant}) > 1
    for lot, share, is_apart in _may_be_meant(entry, meant):
        if lot.brood == code:
            continue
        if is_apart and several and lot.instar:
            movements.append(_of_no_known_instar(bench, entry, container, lot, share, meant))
            lot = next(one for one in matching(container, brood=lot.brood) if not one.instar)
        movements.append(_renamed(bench, entry, container, lot, share, code))
    return movements


def _may_be_meant(entry: Any, lots: list[Lot]) -> list[tuple[Lot, int, bool]]:
    """How many of each lot those may be of which nobody knows which they are, and whether they are
    seen apart: of lots that look like those of another brood all, of the others of a brood so many,
    the commonest first."""
    in_all = sum(lot.number for lot in lots)
    number = in_all - entry.number if entry.regroups else entry.number
    if entry.grows_from or not 0 < number < in_all:
        return [(lot, lot.number, False) for lot in lots]
    broods_of: dict[tuple[int, str, bool], set[str]] = {}
    for lot in lots:
        broods_of.setdefault(_looks(lot), set()).add(lot.brood)
    alike = [lot for lot in lots if len(broods_of[_looks(lot)]) > 1]
    found = [(lot, lot.number, False) for lot in alike]
    for brood in dict.fromkeys(lot.brood for lot in lots):
        apart = [lot for lot in lots if lot.brood == brood and lot not in alike]
        likely = shares(sorted(apart, key=lambda lot: -lot.number), number)
        found += [(lot, share, True) for lot, share in likely]
    return found


def _looks(lot: Lot) -> tuple[int, str, bool]:
    """What of animals of a stage can be seen."""
    return lot.instar, lot.sex, lot.crippled


def _told_apart(bench: Bench, container: Container, entry: Any, brood: str) -> list[Movement]:
    """Take those that are named out of the ones that nobody could tell apart; a founder is no
    longer one of the rest."""
    lots = _like_said(container, entry)
    if entry.grows_from == "larva":
        lots.sort(key=furthest_first)
    wanting = entry.number - sum(lot.number for lot in lots if lot.brood == brood)
    wanting = min(wanting, may_be_of(bench, brood))
    unnamed = [lot for lot in lots if lot.brood != brood and brood in lot.codes]
    movements = [
        _renamed(bench, entry, container, lot, share, brood)
        for lot, share in shares(unnamed, wanting)
    ]
    if movements and brood in bench.founders:
        movements += _no_longer(bench, entry, brood)
    return movements


def maybe_of(container: Container, entry: Counted) -> list[Lot]:
    """Those that a count of one brood may be of, beside those that are known to be of it."""
    return [
        lot
        for lot in _like_said(container, entry)
        if entry.brood and lot.brood != entry.brood and entry.brood in lot.codes
    ]


def _none_of_it(bench: Bench, container: Container, entry: Counted) -> list[Movement]:
    """All of a brood were counted, so that the others are of the other broods."""
    movements: list[Movement] = []
    for lot in maybe_of(container, entry):
        code = one_of(one for one in lot.codes if one != entry.brood)
        number = lot.number if OR in code else min(lot.number, may_be_of(bench, code))
        movements += [_renamed(bench, entry, container, lot, number, code)] if number else []
    return movements


def _no_longer(bench: Bench, entry: Any, brood: str) -> list[Movement]:
    movements = []
    for container in bench.containers.values():
        for lot in list(container.lots):
            if OR in lot.brood and brood in lot.codes:
                code = one_of(one for one in lot.codes if one != brood)
                movements.append(_renamed(bench, entry, container, lot, lot.number, code))
    return movements


def _only_sex(bench: Bench, lot: Lot, code: str) -> Sex:
    sexes = {bench.sex_of(one) for one in members(code)} if lot.stage == "adult" else set()
    return sexes.pop() if len(sexes) == 1 else ""


def _renamed(
    bench: Bench,
    entry: Any,
    container: Container,
    lot: Lot,
    number: int,
    code: str,
    sex: Sex | None = None,
) -> Movement:
    """Animals that go by another code or sex from now on, where they stand; those that may be of
    founders of one sex only are of it."""
    sex = (lot.sex if sex is None else sex) or _only_sex(bench, lot, code)
    _account(bench, lot.brood, code, number)
    return move(
        bench, entry, RENAMED, lot, number, source=container, to=container, brood=code, sex=sex
    )
