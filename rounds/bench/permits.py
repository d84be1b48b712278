"""How much of a permit is used: its limits count themselves against what came in, what was laid and
how long she is held.

It counts what the daybook says and judges nothing: what a permit means is for the body that issued
it to say.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, datetime, time, timedelta
from itertools import chain
from typing import TYPE_CHECKING

from msgspec import Struct

from rounds.bench.codes import OR, members
from rounds.bench.parents import line_of
from rounds.bench.plurals import PLURALS
from rounds.bench.state import Bench
from rounds.bench.taxon_names import full_name

if TYPE_CHECKING:
    from rounds.entries.arrivals import FounderIntake
    from rounds.entries.losses import ReleaseBy
    from rounds.entries.plan import Permit

NEAR = 0.8  # of a limit; our estimate
ONE_DAY = timedelta(days=1)
AFTER_ITS_LAST_DAY = "AFTER ITS LAST DAY"


class PermitUse(Struct, frozen=True):
    """What counts against a permit, how much of it there is, and how much is allowed; ``None`` sets
    no limit."""

    what: str
    used: int
    allowed: int | None

    @property
    def state(self) -> str:
        """Empty while there is room; ``near``, ``full`` at the limit, ``PAST`` beyond it."""
        if self.allowed is None:
            return ""
        if self.used > self.allowed:
            return "PAST"
        if self.used == self.allowed:
            return "full"
        return "near" if self.used >= NEAR * self.allowed else ""

    @property
    def words(self) -> str:
        """``4 of 5 females, near the limit``."""
        if self.allowed is None:
            return f"{self.used} {self.what}"
        tail = {"near": ", near the limit", "full": ", none left", "PAST": ", PAST THE LIMIT"}.get(
            self.state, ""
        )
        return f"{self.used} of {self.allowed} {self.what}{tail}"


def uses(bench: Bench, permit: Permit) -> tuple[PermitUse, ...]:
    """The limits that a permit sets, with what counts against each.

    Females are the wild-caught females and adults of unknown sex that came in under it, wherever
    they are now. Eggs taken are all those found of broods whose mothers came in under it, and those
    that were taken from the wild under it; those kept are the eggs taken less what was released of
    these broods, in whatever stage. Those of whom nobody knows of which of several broods they are
    count where all of these are under it, and of others as many as must be of its broods. A brood
    whose mothers came in under several permits, or one of them under none, counts in full under
    each: how many may be of another too is told beside. Larvae and pupae taken under it are told
    beside, for no limit is of them; all of a brood count where some of it were.
    """
    result = []
    if permit.females is not None:
        females = [
            intake
            for intake in bench.founders.values()
            if _is_under(intake, permit) and intake.stage == "adult" and intake.sex != "male"
        ]
        stocked = sum(_stocked_under(bench, permit, "adult").values())
        result.append(PermitUse("females", len(females) + stocked, permit.females))
    under = (*bench.founders.values(), *chain(*bench.catches.values()))
    if late := sum(_is_under(one, permit) and came_after_end(bench, one) for one in under):
        result.append(PermitUse(f"that came in {AFTER_ITS_LAST_DAY}", late, None))
    if permit.eggs is not None or permit.eggs_kept is not None:
        broods = _broods_under(bench, permit)
        taken = sum(
            tally.entered.get("egg", 0)
            for code, tally in bench.tallies.items()
            if broods.issuperset(members(code))
        )
        released = sum(_surely_released(bench, code, broods) for code in bench.tallies)
        result.append(PermitUse("eggs taken", taken, permit.eggs))
        if permit.eggs_kept is not None:
            result.append(PermitUse("eggs kept", max(0, taken - released), permit.eggs_kept))
        if released:
            result.append(PermitUse("of them released", released, None))
        result += _of_others_too(bench, permit, broods)
    for stage in ("larva", "pupa"):
        if number := sum(_stocked_under(bench, permit, stage).values()):
            result.append(PermitUse(f"{PLURALS[stage]} taken (no limit)", number, None))
    return tuple(result)


def past_with(bench: Bench, permits: Iterable[Permit], *, females: int = 0, eggs: int = 0) -> str:
    """Which limits are past once so many more have come in or were found; '' where none is."""
    more = {"females": females, "eggs taken": eggs, "eggs kept": eggs}
    return "; ".join(
        f"PAST THE LIMIT of permit {permit.number}: {use.used + more[use.what]} of {use.allowed}"
        f" {use.what}"
        for permit in permits
        if not permit.closed
        for use in uses(bench, permit)
        if use.allowed is not None
        and more.get(use.what)
        and use.used + more[use.what] > use.allowed
    )


def _of_others_too(bench: Bench, permit: Permit, broods: set[str]) -> Iterator[PermitUse]:
    """How many of the eggs taken, and of those released, may be of other permits too."""
    too = {code: may_be_of_too(bench, permit, code) for code in sorted(broods)}
    shared = {code for code, others in too.items() if others}
    others = " and ".join(dict.fromkeys(other for each in too.values() for other in each))
    taken = sum(bench.tallies[code].entered.get("egg", 0) for code in shared & bench.tallies.keys())
    released = sum(_surely_released(bench, code, broods) for code in shared & bench.tallies.keys())
    for what, number in (("the eggs taken", taken), ("those released", released)):
        if number:
            yield PermitUse(f"of {what} may be of {others} too", number, None)


def may_be_of_too(bench: Bench, permit: Permit, code: str) -> tuple[str, ...]:
    """The other permits of which those under a code may be as well as of this one, by the wild that
    they go back to; ``no permit`` where one of these came in under none."""
    line = line_of(bench, code)
    return tuple(dict.fromkeys(permit_of(one) for one in line if one.permit != permit.number))


def permit_of(intake: FounderIntake) -> str:
    """The permit under which one came in, in words."""
    return intake.permit or "no permit"


def _stocked_under(bench: Bench, permit: Permit, stage: str) -> dict[str, int]:
    """How many of a stage were taken from the wild under a permit and came in as stock, males
    aside, by brood."""
    codes = [
        code
        for code, catches in bench.catches.items()
        for one in catches
        if _is_under(one, permit) and one.stage == stage and one.sex != "male"
    ]
    return {
        code: bench.tallies[code].entered.get(stage, 0) for code in codes if code in bench.tallies
    }


def without_permit(bench: Bench, permit: Permit) -> list[FounderIntake]:
    """The wild-caught of any stage and sex that came in of a permit's species while it held and
    under no permit at all: in no number of it. Of stock that was caught each catch, under the code
    of its brood."""
    taxa = list(bench.taxa.values())
    species = full_name(permit.taxon, taxa)
    return [
        intake
        for intake in (*bench.founders.values(), *chain(*bench.catches.values()))
        if not intake.permit
        and permit.taxon
        and any(full_name(name, taxa) == species for name in members(intake.taxon))
        and not has_ended(permit, intake.at)
    ]


def without_permit_words(bench: Bench, permit: Permit) -> str:
    """Who was not counted and what counts them; empty where there is none."""
    codes = list(dict.fromkeys(intake.code for intake in without_permit(bench, permit)))
    if not codes:
        return ""
    first = next((code for code in codes if code in bench.founders), "")
    them = "counts it" if len(codes) == 1 else f"counts {first}"
    mend = (
        f"{first} permit={permit.number} {them}"
        if first
        else f"cross out the line that brought {codes[0]}, say it anew with permit={permit.number}"
    )
    return f"not counted: {', '.join(codes)}, no permit given; {mend}"


def not_on_record(bench: Bench) -> dict[str, str]:
    """By number the permits that catches name and no line that counts is about, in words."""
    named: dict[str, list[str]] = {}
    for intake in (*bench.founders.values(), *chain(*bench.catches.values())):
        if intake.permit and intake.permit not in bench.permits:
            named.setdefault(intake.permit, []).append(intake.code)
    return {
        number: (
            f"no line that counts says what permit {number} allows, under which"
            f" {', '.join(dict.fromkeys(codes))} came in: none of its limits counts; say them, as:"
            f" permit {number} females 5"
        )
        for number, codes in named.items()
    }


def _is_under(founder: FounderIntake | None, permit: Permit) -> bool:
    return founder is not None and founder.permit == permit.number


def _broods_under(bench: Bench, permit: Permit) -> set[str]:
    return {
        code
        for code, brood in bench.broods.items()
        if any(_is_under(bench.founders.get(mother), permit) for mother in brood.mothers)
    } | _stocked_under(bench, permit, "egg").keys()


def _surely_released(bench: Bench, code: str, broods: set[str]) -> int:
    """How many of those under a code must be of these broods: of ``A or B``, where only A is one
    of them, those that are more than B could have been."""
    released = sum(bench.tallies[code].fates.get("released", {}).values())
    of = set(members(code))
    if not released or of.isdisjoint(broods):
        return 0
    others = sum(
        number
        for pool, number in bench.mixed.items()
        if not of.isdisjoint(members(pool)) and not broods.issuperset(members(pool))
    )
    return released if of <= broods else max(0, released - others)


class FreeBy(Struct, frozen=True):
    """When a founder must be free, by which permit, the entry that says so, and how it was worked
    out."""

    until: datetime
    permit: str
    entry: ReleaseBy | FounderIntake
    reason: str = ""


def free_by(bench: Bench, code: str) -> FreeBy | None:
    """When a founder, or all in a container, must be free: what was logged, or what her permit's
    hours give if that is sooner.

    The hours count from the catch, else from when she came in. Only adults are meant: the hours are
    those for which a wild female may be held. None where nothing says it.
    """
    logged = bench.release_by.get(code)
    by_log = FreeBy(logged.until, logged.permit, logged) if logged else None
    founder = bench.founders.get(code)
    permit = (
        bench.permits.get(founder.permit)
        if founder and founder.permit and founder.stage == "adult"
        else None
    )
    if founder is None or permit is None or permit.hold_hours is None or permit.closed:
        return by_log
    # a day alone is stored as its noon, which may lie after she came in
    until = min(founder.caught or founder.at, founder.at) + timedelta(hours=permit.hold_hours)
    if by_log is not None and by_log.until <= until:
        return by_log
    begun, one = "was caught" if founder.caught else "came in", founder.he_or_she
    whom = {"he": "him", "she": "her"}.get(one, one)
    lets = (
        f"permit {permit.number} lets {whom} be held {permit.hold_hours:g} h from when {one}"
        f" {begun}"
    )
    return FreeBy(until, permit.number, founder, lets)


def to_be_freed(bench: Bench) -> dict[str, FreeBy]:
    """Everyone that must be free by a time, by founder code, else by container; who is gone already
    may be among them."""
    codes = set(bench.release_by)
    held = {
        number
        for number, permit in bench.permits.items()
        if permit.hold_hours is not None and not permit.closed
    }
    if held:
        codes |= {code for code, founder in bench.founders.items() if founder.permit in held}
    found = {code: free_by(bench, code) for code in sorted(codes)}
    return {code: by for code, by in found.items() if by is not None}


def permits_of(bench: Bench, code: str) -> list[Permit]:
    """The permits that a founder, a brood's mothers, or what was taken from the wild as a brood,
    came in under."""
    if OR in code:
        return list(
            {
                permit.number: permit
                for member in members(code)
                for permit in permits_of(bench, member)
            }.values()
        )
    founder, brood = bench.founders.get(code), bench.broods.get(code)
    sources = (
        [founder]
        if founder
        else [*map(bench.founders.get, brood.mothers), *bench.catches.get(code, ())]
        if brood
        else []
    )
    numbers = dict.fromkeys(
        intake.permit for intake in sources if intake is not None and intake.permit
    )
    return [bench.permits[number] for number in numbers if number in bench.permits]


def ends_at_midnight(expires: datetime) -> bool:
    """Whether only a date was said: it was typed alone, which is stored as the noon of that day."""
    return expires.time() in (time(0), time(12))


def ends_at(permit: Permit) -> datetime | None:
    """The instant at which it ends: the end of its last day where only a date was said; None where
    it does not end."""
    if permit.expires is None or not ends_at_midnight(permit.expires):
        return permit.expires
    return permit.expires.replace(hour=0) + ONE_DAY


def expires_on(permit: Permit) -> date | datetime | None:
    """When it ends as its paper has it: its last day, to the end of it, or the hour; None where it
    does not end."""
    if permit.expires is None or not ends_at_midnight(permit.expires):
        return permit.expires
    return permit.expires.date()


def has_ended(permit: Permit, now: datetime) -> bool:
    """Whether its last day is over."""
    ends = ends_at(permit)
    return ends is not None and ends <= now


def came_after_end(bench: Bench, intake: FounderIntake) -> bool:
    """Whether one was taken, or came in, when the last day of its permit was over."""
    permit = bench.permits.get(intake.permit)
    return permit is not None and has_ended(permit, min(intake.caught or intake.at, intake.at))


def pressing_of_catches(bench: Bench, now: datetime) -> dict[str, str]:
    """What the permits of the wild-caught have to say, by founder, or by brood of stock; those
    whose permit says nothing are left out."""
    if not bench.permits:
        return {}
    said = {number: pressing(bench, permit, now) for number, permit in bench.permits.items()}
    return {
        one.code: said[one.permit]
        for one in (*bench.founders.values(), *chain(*bench.catches.values()))
        if said.get(one.permit)
    }


def pressing(bench: Bench, permit: Permit, now: datetime) -> str:
    """The gravest that a permit has to say: ``PAST``, ``full``, ``near``, or empty; a closed one
    says nothing."""
    if permit.closed:
        return ""
    states = {use.state for use in uses(bench, permit)} | (
        {"PAST"} if has_ended(permit, now) else set()
    )
    return next((state for state in ("PAST", "full", "near") if state in states), "")
