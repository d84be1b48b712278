"""When each check of the animals in a container is due."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from msgspec.structs import replace

from rounds.bench.kept_lots import SAME_STOP
from rounds.bench.kinds import AnyEntry
from rounds.bench.kinds.base import Entry
from rounds.bench.state import Container, Hunger
from rounds.checks.due_context import FED, ILL_SIGNS, Here, Reckoning, Timed, applies_from, purpose_began, purposes_with
from rounds.checks.due_state import Due
from rounds.checks.round_clock import EARLY, Moment, utc
from rounds.checks.rules import EMERGING, is_of_the_night
from rounds.checks.time_format import local
from rounds.forecasts.stage_ends import CHANGES

LATE_AT, RED_AT = 1.5, 2.0  # of the time until the last is expected; common practice, no source
GRACE = timedelta(hours=4)  # a check of the round is late this long after the round began; our estimate


def newest(said: dict[str, AnyEntry], kinds: tuple[str, ...]) -> Entry | None:
    """The newest entry of some kinds."""
    found: Entry | None = None
    for kind in kinds:
        if kind in said and (found is None or said[kind].at > found.at):
            found = said[kind]
    return found


def made(
    reckoning: Reckoning,
    here: Here,
    rule: Timed,
    start: datetime,
    last: Entry | None = None,
    due: datetime | None = None,
    subject: str = "",
    reason: str = "",
    seen: datetime | None = None,
    amber_at: datetime | None = None,
    red_at: datetime | None = None,
) -> Due:
    """A check whose hours count from ``start``, in UTC.

    Args:
        due, amber_at, red_at: where the rule alone does not say it.
        seen: when what the reason tells was seen; a putting-off from before that no longer holds.
    """
    amber, red, harm = rule.amber, rule.red, rule.harm
    late: datetime | None
    worst: datetime | None
    if rule.each_round and amber is None:
        unserved, following = reckoning.moment.next_two(start + EARLY)
        due = due or unserved
        late = due + GRACE
        worst = following if red is None else start + red
    else:
        if due is None:
            due = _in_a_round(reckoning.moment, rule, start) if rule.daily or rule.each_round else start + rule.every
        late = None if amber is None else start + amber
        worst = None if red is None else start + red
    return Due(
        here.code,
        "container",
        rule.check,
        due,
        amber_at or late,
        red_at or worst,
        None if harm is None else start + harm,
        rule.severity,
        rule.rule,
        start,
        last,
        put_off_until(here, rule.check, seen) if here.put_off else None,
        subject,
        reason,
    )


def _in_a_round(moment: Moment, rule: Timed, start: datetime) -> datetime:
    return moment.next_daily(start) if rule.daily else moment.next_unserved(start)


def put_off_until(here: Here, check: str, seen: datetime | None = None) -> datetime | None:
    """Until when a check was put off, unless what makes it pressing was seen after that."""
    put_off = here.put_off.get(check) if here.put_off else None
    if put_off is None or (seen is not None and seen > put_off.at):
        return None
    return utc(put_off.until)


def plain(reckoning: Reckoning, here: Here, rule: Timed) -> Due:
    """Counts from its last answer, or from when it began to apply where that is later."""
    last = newest(here.container.last, rule.kinds)
    if last is not None and (at := last.at.astimezone(UTC)) >= here.settled:
        return made(reckoning, here, rule, at, last)
    start = applies_from(reckoning, here, rule.rule)
    if last is not None and at > start:
        start = at
    return made(reckoning, here, rule, start, last)


def search(reckoning: Reckoning, here: Here, rule: Timed) -> Due | None:
    """As any check; of stems that the last female left, once since she left them."""
    left = here.container.females_left if rule.rule.condition == "females left" else None
    if left is None:
        return plain(reckoning, here, rule)
    last = newest(here.container.last, rule.kinds)
    if last is not None and last.at >= left - SAME_STOP:
        return None
    return made(reckoning, here, rule, utc(left), last, reason="no female here any more")


def look(reckoning: Reckoning, here: Here, rule: Timed) -> Due:
    """As any check; of larvae that eat each other it says how many share the container."""
    due = plain(reckoning, here, rule)
    if rule.rule.condition != "kept apart":
        return due
    cannibals = sum(lot.number for lot in here.container.lots_of("larva") if reckoning.species[lot.brood].cannibalistic)
    return replace(due, reason=f"{cannibals} larvae that eat each other: kept apart?")


def drink(reckoning: Reckoning, here: Here, rule: Timed) -> Due:
    """Counts from when the one that waits longest drank, wherever that was; not from when food was offered.

    Those that never drank are due in the present round; amber and red count from when they came.
    """
    fed = [lot for lot in here.container.lots if lot.stage == "adult" and reckoning.species[lot.brood].adult & FED]
    hungry = [one for lot in fed for one in lot.hunger]
    began = purpose_began(here.container, purposes_with("drink"))

    def since(waiting: list[Hunger]) -> datetime:
        first = utc(min(one.since for one in waiting))
        return first if began is None or began < first else began

    start = since(hungry)
    never = [one for one in hungry if not one.drank]
    at_once = never and rule.rule.condition not in ("first feed", "fed at night") and here.container.purpose not in EMERGING
    due = since(never) if at_once else _at_dusk(reckoning, rule, start)
    return made(reckoning, here, rule, start, here.container.last.get("drank"), due)


def _at_dusk(reckoning: Reckoning, rule: Timed, start: datetime) -> datetime | None:
    """The last round of the day after an instant, for what is fed at night; None where the rule has hours of its own."""
    return reckoning.moment.next_last_round(start) if is_of_the_night(rule.rule) else None


def change(reckoning: Reckoning, here: Here, rule: Timed) -> Due | None:
    """Counts from the last change: females in, another host in, more or less light; none in the dark."""
    container = here.container
    if container.lit == "dark":
        return None
    hosts = container.hosts
    plant = hosts[-1].plant
    start = utc(hosts[0].put_in)
    if len(hosts) > 1:
        start = min([utc(host.put_in) for host in hosts if host.plant == plant])
    start = max(start, applies_from(reckoning, here, rule.rule))
    if container.lit_since is not None:
        start = max(start, utc(container.lit_since))
    if container.eggs_found is not None and utc(container.eggs_found) >= start:
        return None
    return made(reckoning, here, rule, start, None, None, plant)


def late_stage(reckoning: Reckoning, here: Here, rule: Timed) -> Due | None:
    """Counts from when the stage was reached; resting stock is never late for its age."""
    stage = rule.rule.stage
    oldest: datetime | None = None
    brood = ""
    for lot in here.container.lots:
        if lot.stage == stage and reckoning.species[lot.brood].overwinters_as != stage:
            since = utc(lot.since or here.container.since)
            if oldest is None or since < oldest:
                oldest, brood = since, lot.brood
    if oldest is None:
        return None
    woken = purpose_began(here.container, rule.rule.purposes)
    if woken is not None and woken > oldest:
        return made(reckoning, here, rule, woken, here.container.last.get(rule.kinds[0]), None, brood)
    last = here.container.last.get(rule.kinds[0])
    changes = reckoning.foresight.coming(here.container)
    own = [one for one in changes if one.brood == brood and one.change == CHANGES[stage] and one.last]
    coming = min(own, key=lambda one: one.begun_to, default=None)
    if coming is None or coming.last is None or not rule.rule.computed:
        return made(reckoning, here, rule, oldest, last, None, brood)
    begun = utc(coming.begun_to)
    length = max(coming.last - begun, timedelta(0))
    late = begun + LATE_AT * length
    reason = f"{coming.change} of the last expected {local(coming.last, reckoning.moment)}"
    return made(reckoning, here, rule, begun, last, late, brood, reason, None, late, begun + RED_AT * length)


def still(reckoning: Reckoning, here: Here, rule: Timed) -> Due:
    """Counts from when it was first seen still; asked again in each round after."""
    start = _sign_since(here)
    last = newest(here.container.last, rule.kinds)
    due = start + rule.every
    if last is not None and last.at > due:
        due = reckoning.moment.next_unserved(last.at)
    return made(reckoning, here, rule, start, last, due, reason=here.container.sign)


def sign(reckoning: Reckoning, here: Here, rule: Timed) -> Due:
    """Counts from when the sign on the card was first seen."""
    return made(reckoning, here, rule, _sign_since(here), reason=here.container.sign, seen=_sign_since(here))


def _sign_since(here: Here) -> datetime:
    return utc(here.container.sign_since or here.container.since)


def quarantine(reckoning: Reckoning, here: Here, rule: Timed) -> Due | None:
    """Counts from when the stock came, or from the last sign of illness."""
    container = here.container
    came = applies_from(reckoning, here, rule.rule)
    cleared = container.last.get("cleared")
    if rule.rule.condition == "ill":
        seen = utc(container.suspect_since or container.sign_since or container.since)
        return made(reckoning, here, rule, seen, cleared, reason=_illness(container), seen=seen)
    if cleared is not None and cleared.at >= came:
        return None
    start = came
    if container.purpose == "isolation" and container.sign in ILL_SIGNS:
        start = max(start, utc(container.last["looked"].at) if "looked" in container.last else start)
    return made(reckoning, here, rule, start, cleared)


def _illness(container: Container) -> str:
    told = container.suspect_sign if container.suspect_since else container.sign
    return f"seen: {told}" if told else "suspect"


def lamp(reckoning: Reckoning, here: Here, rule: Timed) -> Due:
    """Counts from when the lamp was switched on."""
    start = utc(here.container.lamp_since or here.container.since)
    return made(reckoning, here, rule, start, here.container.last.get("light"), reason="lamp on")
