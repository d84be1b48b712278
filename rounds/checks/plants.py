"""When each check of the plants in a container is due: host, food, a leaf for hatchlings, held sprigs, the store."""

from __future__ import annotations

from datetime import datetime, timedelta

from msgspec import structs

from rounds.bench.folding.tending import PERHAPS, SHOWN
from rounds.bench.kept_lots import told
from rounds.bench.kinds import HostSeen
from rounds.bench.kinds.base import ROOTED, Entry
from rounds.bench.state import Container, Held, Host
from rounds.checks.animals import made, newest
from rounds.checks.due_context import Here, Reckoning, Timed, applies_from, begins_to_need, purpose_began
from rounds.checks.due_state import Due
from rounds.checks.round_clock import utc
from rounds.checks.time_format import chance_words, local

LEAF_COUNTS_FROM = timedelta(hours=12)  # a leaf put in this long before eggs were seen to darken is still tender
_LITTLE = ("none", "little")
RED_PART = 1.5  # red at this many times the life the keeper gave a plant; our estimate


def host(reckoning: Reckoning, here: Here, rule: Timed) -> Due:
    """Looked at each round; late by the age of what was cut first, or as soon as it was seen to fail."""
    cut = here.host
    if cut is None:
        start = applies_from(reckoning, here, rule.rule)
        bare = here.container.bare_since
        return made(reckoning, here, rule, start if bare is None else max(start, utc(bare)), reason="no host")
    last = newest(here.container.last, rule.kinds)
    looked = _looked(here, rule, cut, last)
    start = utc(cut.cut) if rule.amber is not None else looked
    amber, red = _life(reckoning, cut, rule)
    late = None if amber is None else start + amber
    worst = None if red is None else start + red
    left = here.container.females_left is not None and cut.kept not in ROOTED
    reason = "no female here any more: search, then take out and keep" if left else ""
    seen = None
    for one in here.container.hosts:
        if one.state != "fresh":
            seen = utc(one.seen or one.put_in)
            reason = f"{one.plant} seen {one.state}"
            late = seen if late is None or seen < late else late
            if rule.rule.condition == "host in water" and (worst is None or seen < worst):
                worst = seen
            break
    due = reckoning.moment.next_unserved(looked)
    if not seen and isinstance(last, HostSeen):  # seen fresh when it was old by the clock: until the next look
        late = due if late is not None and late <= looked else late
        worst = due if worst is not None and worst <= looked else worst
    if late is not None and late < due:
        due = late
    return made(reckoning, here, rule, start, last, due, cut.plant, reason, seen, late, worst)


def _life(reckoning: Reckoning, cut: Host, rule: Timed) -> tuple[timedelta | None, timedelta | None]:
    """How long a cut host keeps, and when it is red: as the keeper said for the plant, else by the rule."""
    known = reckoning.bench.plants.get(cut.plant)
    said = known.get(cut.kept) if known else None
    if said is None:
        return rule.amber, rule.red
    return timedelta(hours=said.hours), timedelta(hours=RED_PART * said.hours)


def _looked(here: Here, rule: Timed, cut: Host, last: Entry | None) -> datetime:
    """When plants were last looked at, or came to be looked at for the purpose of now."""
    looked = utc(last.at) if last is not None else utc(cut.put_in)
    begun = purpose_began(here.container, rule.rule.purposes)
    return looked if begun is None or begun < looked else begun


def food(reckoning: Reckoning, here: Here, rule: Timed) -> Due:
    """Counts from when food was last put in or seen; pressing once little or none was left."""
    container = here.container
    if here.host is None:
        start = begins_to_need(reckoning, here, "food", "larva", _unfed(container))
        out = container.last.get("host out")
        return made(reckoning, here, rule, start, out if out and utc(out.at) == start else None, reason="no food in")
    last = newest(container.last, rule.kinds)
    fed = utc(last.at) if last is not None else None
    start = fed if fed is not None and fed >= here.settled else begins_to_need(reckoning, here, "food", "larva")
    start = fed if fed is not None and fed > start else start
    worst = _shortage(container.hosts)
    if worst is None:
        return made(reckoning, here, rule, start, last)
    reason, seen = worst
    red = seen if reason == "bare" else None
    return made(reckoning, here, rule, start, last, seen, here.host.plant, reason, seen, seen, red)


def _unfed(container: Container) -> datetime | None:
    """Since when the hungriest larvae here had no food, there or where they were before."""
    return min((utc(lot.unfed) for lot in container.lots_of("larva") if lot.unfed is not None), default=None)


def _shortage(hosts: list[Host]) -> tuple[str, datetime] | None:
    """What is wrong with the food where none of it is good any more, and since when that is known."""
    wants = []
    for one in hosts:
        if one.seen is None or (one.state == "fresh" and one.left not in _LITTLE):
            return None
        wants.append((utc(one.seen), "bare" if one.is_bare else "little left" if one.left else one.state))
    worst = {reason for _, reason in wants}
    reason = "bare" if worst == {"bare"} else min(worst - {"bare"}, default="bare")
    return reason, max(seen for seen, _ in wants)


def leaf(reckoning: Reckoning, here: Here, rule: Timed) -> Due | None:
    """Counts from when eggs were seen to darken, until a leaf is in."""
    if rule.rule.condition == "may hatch":
        return _leaf_before_hatch(reckoning, here, rule)
    container = here.container
    since = utc(container.sign_since or container.since)
    put_in = container.last.get("host in")
    if put_in is not None and put_in.at >= since - LEAF_COUNTS_FROM:
        return None
    return made(reckoning, here, rule, since, put_in, reason="eggs are darkening", seen=since)


def _leaf_before_hatch(reckoning: Reckoning, here: Here, rule: Timed) -> Due | None:
    """Due at the round before the first may hatch, which it does later in 95 of 100; late when the first is expected."""
    moment = reckoning.moment
    near = [one for one in reckoning.foresight.coming(here.container) if one.change == "hatch" and one.first]
    coming = min(near, key=lambda one: one.first or moment.now, default=None)
    if coming is None or coming.first is None:
        return None
    may = coming.not_before or coming.first
    reason = f"first may hatch {local(may, moment)}, {coming.need.words if coming.need else ''}"
    round_before = moment.previous_anchor(may)
    late = utc(coming.first)
    if not coming.begun_known:  # they may hatch any time: late once a round has gone by since they came
        late = max(late, moment.next_unserved(coming.begun_to))
    return made(reckoning, here, rule, round_before, None, round_before, coming.brood, reason, None, late, None)


def turn(reckoning: Reckoning, here: Here, rule: Timed) -> Due:
    """Counts from the look that first saw frass under kept stems; a look that sees none after that ends nothing."""
    lots = here.container.held
    shown = next((held for held in lots if held.frass in SHOWN), None)
    if shown is None:
        unknown = next(held for held in lots if held.frass == PERHAPS)
        seen = utc(unknown.frass_since or unknown.taken_out)
        return made(reckoning, here, rule, seen, None, seen, unknown.plant, "frass seen, the lot is not known: all stay", seen)
    seen = utc(shown.frass_since or shown.taken_out)
    return made(reckoning, here, rule, seen, None, seen, shown.plant, f"frass seen under {_lot_words(lots, shown)}", seen)


def _lot_words(lots: list[Held], one: Held) -> str:
    """A kept lot by its digit, where there are several, else by its plant."""
    return f"lot {one.number}, {told(one)}" if len(lots) > 1 else f"kept {one.plant}"


def looked_under(held: Held) -> datetime:
    """When somebody last looked for frass under a lot, else when it was taken out."""
    return max([utc(held.taken_out), *map(utc, held.frass_looks[-1:]), *([utc(held.frass_unknown)] if held.frass_unknown else [])])


def frass(reckoning: Reckoning, here: Here, rule: Timed) -> Due:
    """Each lot has its own watch: counts from the last look under the lot that was looked at longest ago."""
    lots = here.container.held
    waits = min(lots, key=looked_under)
    start = looked_under(waits)
    last = newest(here.container.last, ("frass",))
    reason = f"{_lot_words(lots, waits)} waits longest" if len(lots) > 1 else ""
    due = made(reckoning, here, rule, start, last, subject=waits.plant, reason=reason)
    # Nothing that is not hatched starves: urgent and in danger at the earliest once the first can have.
    hatch = [(looked_under(held), _may_hatch(reckoning, here, held)) for held in lots]
    urgent = min(max(looked + rule.red, first) for looked, first in hatch) if rule.red is not None else None
    harm = min(max(looked + rule.harm, first) for looked, first in hatch) if rule.harm is not None else None
    return structs.replace(due, red=urgent, harm=harm)


def _may_hatch(reckoning: Reckoning, here: Here, held: Held) -> datetime:
    """When the first egg that may be hidden on kept stems can hatch; when frass showed they have."""
    shown = held.frass in SHOWN or held.frass == PERHAPS
    first = None if shown else reckoning.foresight.first_hatch(here.container, held)
    return utc(held.taken_out) if first is None else utc(first)


def keep(reckoning: Reckoning, here: Here, rule: Timed) -> Due | None:
    """When the first lot may go: once its chance of live eggs is under the aim; none while frass shows."""
    lots = here.container.held
    held = [one for one in lots if one.frass not in SHOWN and one.frass != PERHAPS]
    if not held:
        return None
    oldest = min(held, key=lambda one: utc(one.taken_out))
    if not rule.rule.computed:
        return made(reckoning, here, rule, utc(oldest.taken_out), subject=oldest.plant)
    now = reckoning.moment.now
    chances = [(one, reckoning.foresight.chance(here.container, one, now)) for one in held]
    dated = [(utc(chance.keep_until), one, chance) for one, chance in chances if chance.keep_until]
    if not dated:
        return None
    until, first, chance = min(dated, key=lambda one: one[0])
    if not chance.may_go:  # a look is wanted first, and is asked for by itself
        until = max(until, reckoning.moment.next_anchor(now))
    words = f"chance of viable eggs {chance_words(chance.chance)}, keep until {local(until, reckoning.moment)}"
    reason = f"{_lot_words(lots, first) if len(lots) > 1 else f'{first.plant} {first.batch}'}: {words}"
    return made(reckoning, here, rule, utc(first.taken_out), None, until, first.plant, reason)


def store(reckoning: Reckoning, here: Here, rule: Timed) -> Due | None:
    """Looked at once a day; late by the age of what was cut first, red where it went bad."""
    cut = here.host
    if cut is None:
        return None
    last = newest(here.container.last, rule.kinds)
    looked = _looked(here, rule, cut, last)
    due = reckoning.moment.next_daily(looked) if rule.daily else looked + rule.every
    bad = next((one for one in here.container.hosts if one.state in ("yellow", "mouldy", "eaten")), None)
    if bad is None:
        return made(reckoning, here, rule, utc(cut.cut), last, due, cut.plant)
    seen = utc(bad.seen or bad.put_in)
    reason = f"{bad.plant} seen {bad.state}"
    return made(reckoning, here, rule, utc(bad.cut), last, seen, bad.plant, reason, seen, seen, seen)
