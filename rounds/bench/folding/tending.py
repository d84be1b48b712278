"""How entries about tending change the bench."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TypeVar

from msgspec.structs import replace

from rounds.bench.codes import one_of
from rounds.bench.folding.hunger import feed
from rounds.bench.folding.lots import container_for, feed_larvae, move, new_lot, odd
from rounds.bench.folding.passing import MOST_STAYS, laid_when_found, search_before
from rounds.bench.kept_lots import SAME_STOP, fits, keep, named, new_name, unused
from rounds.bench.movements import FOUND, Movement
from rounds.bench.state import Bench, Container, Depth, Detected, Held, Host, Laid, Moat, SearchMade, Stay, Unsure
from rounds.entries.base import Entry, Stage
from rounds.entries.registry import (
    Air,
    BarrierSeen,
    Drank,
    Emerged,
    FoodMade,
    FrassSeen,
    Hatched,
    HostIn,
    HostOut,
    HostSeen,
    Light,
    LoggerRead,
    Looked,
    Moulted,
    Pupated,
    PutOff,
    Searched,
    Stocked,
    ToppedUp,
)

MOST_DEPTHS = 20
MOST_AIR = 2_000
MOST_LOOKS = 100
MOST_HOST_SEARCHES = 10
SHOWN = ("trace", "plain")
PERHAPS = "perhaps"  # frass under one of several lots, nobody knows which
_LEVELS = ("", "none", PERHAPS, *SHOWN)
_SHOWN_BY: dict[str, Stage] = {
    "darkening": "egg", "still": "larva", "wandering": "larva", "hanging": "larva", "soft pupa": "pupa", "colouring": "pupa",
}  # fmt: skip
_ENDS: dict[type[Entry], tuple[str, ...]] = {
    Hatched: ("darkening",),
    Moulted: ("still",),
    Pupated: ("still", "wandering", "hanging"),
    Emerged: ("soft pupa", "colouring"),
}
QUIET_SIGNS = frozenset({"still", "hanging", "soft pupa"})
QUIET_AT_MOST = timedelta(hours=48)  # a moult or a hang takes a day, up to two: common practice, no source
CLOSE = ("lens", "macro photo")  # aids that tell an egg from what looks like one
AnyStems = TypeVar("AnyStems", Host, Held)


def drank(bench: Bench, entry: Drank) -> None:
    """The container counts as fed once as many have drunk within one feed as there are to feed."""
    feed(bench, container_for(bench, entry.container, entry), entry)


def food_made(bench: Bench, entry: FoodMade) -> None:
    """A stock of solution made."""
    bench.food_made[entry.food] = entry.at


def host_in(bench: Bench, entry: HostIn) -> None:
    """Host plant put in."""
    if (len(entry.batch), entry.batch) > (len(bench.last_batch), bench.last_batch):
        bench.last_batch = entry.batch
    container = container_for(bench, entry.container, entry)
    container.hosts.append(
        Host(
            plant=entry.plant,
            part=entry.part,
            batch=entry.batch,
            kept=entry.kept,
            cut=entry.cut or entry.at,
            put_in=entry.at,
            sprigs=entry.sprigs,
        )
    )
    feed_larvae(container, entry.at)


def host_seen(bench: Bench, entry: HostSeen) -> None:
    """How the host looks."""
    container = container_for(bench, entry.container, entry)
    for host in container.hosts:
        if not entry.plant or host.plant == entry.plant:
            host.state, host.left, host.seen = entry.state, entry.left, entry.at
    feed_larvae(container, entry.at)


def host_out(bench: Bench, entry: HostOut) -> None:
    """Host plant taken out; stems that may yet show eggs are kept, and stay kept until they are discarded or have hatched."""
    container = container_for(bench, entry.container, entry)
    leaving = [] if entry.lots else [host for host in container.hosts if fits(host, entry.plant, entry.batch)]
    if leaving:
        _hosts_leave(bench, container, leaving, entry)
        return
    if entry.lots:
        kept = named(bench, container, entry.lots)
    else:
        kept = [(container, held) for held in container.held if fits(held, entry.plant, entry.batch)]
    if not kept:
        odd(bench, entry, f"{container.code} had no such host")
    for (place, held), stems in zip(kept, _shared(entry.sprigs, [held.sprigs for _, held in kept]), strict=True):
        if stems != 0:
            _kept_leave(bench, place, held, stems, entry)


def _shared(stems: int | None, there: list[int | None]) -> list[int | None]:
    """How many stems leave of each, the first ones first; None is all of it."""
    if not stems:
        return [None] * len(there)
    found: list[int | None] = []
    for number in there:
        share = stems if number is None else min(stems, number)
        stems -= share
        found.append(None if share == number else share)
    return found


def _hosts_leave(bench: Bench, container: Container, leaving: list[Host], entry: HostOut) -> None:
    shares = _shared(entry.sprigs, [host.sprigs for host in leaving])
    for host, stems in zip(leaving, shares, strict=True):
        if stems == 0:
            continue
        out = host
        if stems is None or host.sprigs is None:
            container.hosts = [one for one in container.hosts if one is not host]
        else:
            out = _part_of(host, stems)
        if not container.hosts:
            container.bare_since = entry.at
        _stood_with(bench, out)
        if entry.fate == "held":
            keeper = container_for(bench, entry.held_in, entry) if entry.held_in else container
            keep(keeper, as_kept(bench, container, out, entry.at, stems))
    feed_larvae(container, entry.at)


def _part_of(one: AnyStems, stems: int) -> AnyStems:
    """So many stems of a plant or lot, the rest stays; what was laid is taken as spread evenly over the stems."""
    part = replace(one, sprigs=stems, searches=list(one.searches))
    if one.sprigs is None:  # how many the rest is nobody knows: either may bear all of it
        share = rest = 1.0
    else:
        share, rest = stems / one.sprigs, 1 - stems / one.sprigs
        one.sprigs -= stems
    _bear(part, one, share)
    _bear(one, one, rest)
    return part


def _bear(stems: Host | Held, of: Host | Held, share: float) -> None:
    """Stems bear so much of what was laid on some."""
    if isinstance(stems, Host) and isinstance(of, Host):
        stems.days_of = {code: days * share for code, days in of.days_of.items()}
        stems.not_known_of = {code: days * share for code, days in of.not_known_of.items()}
    elif isinstance(stems, Held) and isinstance(of, Held):
        stems.female_days, stems.sex_not_known = of.female_days * share, of.sex_not_known * share


def _kept_leave(bench: Bench, place: Container, held: Held, stems: int | None, entry: HostOut) -> None:
    """A kept lot, or some stems of it, is discarded, has hatched, or goes on being kept somewhere else."""
    is_kept = entry.fate not in ("binned", "hatched")
    if is_kept and entry.held_in in ("", place.code):
        return
    if stems is None:
        place.held = [one for one in place.held if one is not held]
        part = held
    else:
        part = _part_of(held, stems)
        part.lot, part.frass_looks = unused(bench, held.lot), list(held.frass_looks)
    if is_kept:
        part.stays = (*part.stays, Stay(place.code, place.shelf, entry.at))[-MOST_STAYS:]
        keeper = container_for(bench, entry.held_in, entry)
        keep(keeper, part)


def _stood_with(bench: Bench, host: Host) -> None:
    """Female-days on a plant, for the usual rate of laying on it: to each species those of its own females."""
    for code, days in host.days_of.items():
        laid_on(bench, bench.taxon_of(code), host.plant).female_days += days
    for code, days in host.not_known_of.items():
        laid_on(bench, bench.taxon_of(code), host.plant).sex_not_known += days


def laid_on(bench: Bench, taxon: str, plant: str) -> Laid:
    """What females of a species laid on a plant so far."""
    return bench.laid.setdefault(taxon, {}).setdefault(plant, Laid())


def as_kept(bench: Bench, container: Container, host: Host, at: datetime, stems: int | None = None) -> Held:
    """The lot that a plant becomes if it is taken out and kept, or so many of its stems."""
    return Held(
        lot=new_name(bench, container.code, host.batch, at),
        searches=[one for one in host.searches if at - one.at <= SAME_STOP],
        female_days=host.female_days,
        sex_not_known=host.sex_not_known,
        taxon=bench.taxon_of(one_of(host.mothers)) if host.mothers else "",
        plant=host.plant,
        batch=host.batch,
        source=container.code,
        mothers=tuple(sorted(host.mothers)),
        offered=host.put_in,
        taken_out=at,
        sprigs=host.sprigs if stems is None else stems,
    )


def _moat(bench: Bench, entry: BarrierSeen | ToppedUp) -> Moat | None:
    if entry.shelf in bench.shelves:
        return bench.shelves[entry.shelf].moat
    if entry.container:
        container = container_for(bench, entry.container, entry)
        return bench.moat_of(container)[2]
    odd(bench, entry, f"no shelf is called {entry.shelf or 'nothing'}")
    return None


def barrier_seen(bench: Bench, entry: BarrierSeen) -> None:
    """What the barrier looked like."""
    moat = _moat(bench, entry)
    if moat is None:
        return
    moat.state, moat.seen = entry.state, entry.at
    moat.ants_below, moat.ants_above = entry.ants_below, entry.ants_above
    if entry.depth_mm is not None:
        _read_depth(moat, Depth(entry.at, entry.depth_mm, full=entry.state == "full"))


def topped_up(bench: Bench, entry: ToppedUp) -> None:
    """The barrier filled or renewed; that also means it was looked at."""
    moat = _moat(bench, entry)
    if moat is None:
        return
    moat.state, moat.seen, moat.topped = "sound" if entry.renewed else "full", entry.at, entry.at
    if entry.renewed:
        moat.ants_above = 0
    if entry.washed:
        moat.washed = entry.at
    if entry.depth_mm is not None:
        _read_depth(moat, Depth(entry.at, entry.depth_mm, filled=True))


def _read_depth(moat: Moat, depth: Depth) -> None:
    moat.depths.append(depth)
    del moat.depths[:-MOST_DEPTHS]


def searched(bench: Bench, entry: Searched) -> list[Movement]:
    """A search; eggs found join the stock of the brood they were said to belong to."""
    container = container_for(bench, entry.container, entry)
    made = SearchMade(entry.at, entry.aid, entry.found, entry.minutes, entry.unsure)
    lots = lots_searched(bench, container, entry)
    for held in lots:
        if entry.found and len(lots) == 1:  # of several it is not known which of them bore the eggs
            _they_were_there(bench, held)
            bench.detected.setdefault(entry.aid, Detected()).found += 1
        held.searches.append(made)
        _answers_where_they_stood(bench, container, held, entry)
    for host in hosts_searched(container, entry):
        host.searches = [*host.searches, made][-MOST_HOST_SEARCHES:]
    seen = _seen_unsure(container, entry)
    if not entry.found:
        return []
    _eggs_on(bench, container, entry, lots)
    container.eggs_found = entry.at
    if not entry.brood:
        odd(bench, entry, f"{entry.found} eggs found in {container.code} without a brood", fits=True)
        return []
    _laid_up_to(bench, container, entry, lots)
    since = seen or entry.at
    laid = laid_when_found(bench, container, entry, lots)
    after = laid[0] if lots else search_before(container, entry)
    eggs = new_lot(entry.brood, "egg", since, latest=entry.at, begun_after=after if after and after <= since else None)
    return [move(bench, entry, FOUND, eggs, entry.found, to=container, laid=laid)]


def _laid_up_to(bench: Bench, container: Container, entry: Searched, lots: list[Held]) -> None:
    """Eggs found later on were laid up to then, where their mothers stand, or until their stems came out."""
    brood = bench.broods.get(entry.brood)
    if brood is None or brood.laid_to is None:
        return
    mothers = {code for lot in container.lots_of("adult") for code in lot.codes} & set(brood.mothers)
    until = max((held.taken_out for held in lots), default=entry.at if mothers else brood.laid_to)
    if until > brood.laid_to:
        bench.broods[entry.brood] = replace(brood, laid_to=until)


def lots_searched(bench: Bench, container: Container, entry: Searched) -> list[Held]:
    """The kept lots that a search was of: those named, else all of that plant; none where it was of what stands there."""
    if entry.lots:
        return [held for _, held in named(bench, container, entry.lots)]
    if hosts_searched(container, entry):
        return []
    return [held for held in container.held if not entry.plant or held.plant == entry.plant]


def hosts_searched(container: Container, entry: Searched) -> list[Host]:
    """The plants standing there that a search was of: the one named, else all; none where it was of kept stems."""
    return [] if entry.lots else [host for host in container.hosts if not entry.plant or host.plant == entry.plant]


def _answers_where_they_stood(bench: Bench, container: Container, held: Held, entry: Searched) -> None:
    """Stems searched as they come out were searched for the container that they stood in."""
    source = bench.at(held.source)
    if source is None or source is container or not timedelta(0) <= entry.at - held.taken_out <= SAME_STOP:
        return
    source.last[entry.what] = entry
    if entry.found:
        source.eggs_found = entry.at
    walk = bench.open_round
    if walk and entry.round == walk.id:
        walk.done.append((source.code, entry.what))


def _seen_unsure(container: Container, entry: Searched) -> datetime | None:
    """What is not sure stays beside the stock until a lens, a photo or a word settles it, each sighting by itself.

    Returns:
        When eggs that are now sure were first seen.
    """
    settles = entry.confirmed or entry.aid in CLOSE
    before = [one for one in container.unsure if one.fits(entry.plant, entry.lots)] if settles else []
    again = [one for one in container.unsure if entry.unsure and (one.plant, one.lots) == (entry.plant, entry.lots)]
    container.unsure = [one for one in container.unsure if one not in before and one not in again]
    if entry.unsure:
        container.unsure.append(Unsure(entry.unsure, entry.at, entry.lots, entry.plant))
    return min(one.at for one in before) if before and entry.found else None


def _eggs_on(bench: Bench, container: Container, entry: Searched, lots: list[Held]) -> None:
    """Eggs found on a plant, for the usual rate of laying on it."""
    plants = {held.plant for held in lots} or {host.plant for host in container.hosts}
    plant = entry.plant or (next(iter(plants)) if len(plants) == 1 else "")
    taxon = bench.taxon_of(entry.brood) if entry.brood else ""
    if plant and taxon:
        laid_on(bench, taxon, plant).eggs += entry.found


def _they_were_there(bench: Bench, held: Held) -> None:
    """Eggs showed on sprigs after all: the searches before that found none had missed them."""
    if held.frass in SHOWN or any(search.found for search in held.searches):
        return
    for search in held.searches:
        bench.detected.setdefault(search.aid, Detected()).missed += 1


def hidden_on(bench: Bench, container: Container, entry: Stocked) -> list[Held]:
    """The kept lots whose hidden eggs were put in: those that showed frass, of the females that stood with them."""
    brood = bench.broods.get(entry.brood)
    if entry.stage != "egg" or brood is None:
        return []
    theirs = [held for held in container.held if set(held.mothers) & set(brood.mothers)]
    return [held for held in theirs if held.frass in SHOWN] or [held for held in theirs if held.frass == PERHAPS]


def hidden_eggs_shown(bench: Bench, container: Container, entry: Stocked) -> None:
    """Hidden eggs count for the usual rate of laying on their plant; frass of a lot not known has its larvae now."""
    lots = hidden_on(bench, container, entry)
    plants = {held.plant for held in lots}
    if len(plants) == 1:
        laid_on(bench, bench.taxon_of(entry.brood), plants.pop()).eggs += entry.number
    _larvae_found(container, lots)


def larvae_found(bench: Bench, container: Container, entry: Stocked) -> None:
    """Young larvae put on record where stems of their mothers showed frass are those that it told of."""
    brood = bench.broods.get(entry.brood)
    if entry.stage == "larva" and brood:
        _larvae_found(container, [held for held in container.held if set(held.mothers) & set(brood.mothers)])


def _larvae_found(container: Container, lots: list[Held]) -> None:
    """Frass that was seen has its larvae; that of a lot not known for all of them. The stems stay on watch."""
    perhaps = any(held.frass == PERHAPS for held in lots)
    for held in container.held:
        if (held in lots and held.frass in SHOWN) or (perhaps and held.frass == PERHAPS):
            held.frass_unknown = max([*held.frass_looks[-1:], *([held.frass_unknown] if held.frass_unknown else [])], default=None)
            held.frass, held.frass_since = "none", None


def frass_seen(bench: Bench, entry: FrassSeen) -> None:
    """Frass under a kept lot, or none, which does not undo what was seen before.

    Seen where several are kept and the lot is not known, it may be of any but ends none of them.
    """
    container = container_for(bench, entry.container, entry)
    lots = [held for _, held in named(bench, container, entry.lots)] if entry.lots else container.held
    is_known = bool(entry.lots) or len(lots) == 1
    for held in lots:
        if entry.level in SHOWN and not is_known:
            held.frass_unknown = entry.at
            _frass_under(held, PERHAPS, entry.at)
            continue
        if entry.level in SHOWN:
            _they_were_there(bench, held)
        _frass_under(held, entry.level, entry.at)
        held.frass_looks.append(entry.at)
        del held.frass_looks[:-MOST_LOOKS]


def _frass_under(held: Held, level: str, at: datetime) -> None:
    """The most that was seen stays."""
    if level in (PERHAPS, *SHOWN):
        held.frass_since = held.frass_since or at
    held.frass = max(held.frass, level, key=_LEVELS.index)


def looked(bench: Bench, entry: Looked) -> None:
    """What was seen stays on the card until something else is seen."""
    container = container_for(bench, entry.container, entry)
    _quiet(container, entry)
    if container.sign != entry.sign or container.sign_since is None:
        container.sign, container.sign_since = entry.sign, entry.at
    showing = _SHOWN_BY.get(entry.sign)
    container.sign_left = entry.number or (container.count(showing) if showing else 0)


def _quiet(container: Container, entry: Looked) -> None:
    """Each sighting of one that moults, hangs or is a fresh pupa keeps the others undisturbed too.

    Seen as before, without a number, it does so only as long as that takes: what lies still for days is asked about.
    """
    if entry.sign == "as usual":
        container.quiet_seen = None
    elif entry.sign in QUIET_SIGNS:
        since = container.sign_since
        goes_on = container.sign == entry.sign and since is not None and not entry.number
        if not goes_on or since is None or entry.at - since <= QUIET_AT_MOST:
            container.quiet_seen = entry.at


def went_on(container: Container, entry: Hatched | Moulted | Pupated | Emerged) -> None:
    """A hatch, moult, pupation or emergence ends the sign that told of it, for those that made it."""
    if container.sign not in _ENDS.get(type(entry), ()):
        return
    left = container.sign_left - entry.number
    waiting = container.lots_of(_SHOWN_BY[container.sign])
    if isinstance(entry, Moulted):
        waiting = [lot for lot in waiting if lot.instar < entry.instar]
    container.sign_left = min(left, sum(lot.number for lot in waiting))
    if container.sign_left <= 0:
        container.sign, container.sign_since, container.quiet_seen = "as usual", entry.at, None


def air(bench: Bench, entry: Air) -> None:
    """A reading of temperature or humidity."""
    readings = bench.air.setdefault(entry.container or entry.shelf, [])
    readings.append(entry)
    del readings[:-MOST_AIR]


def logger_read(bench: Bench, entry: LoggerRead) -> None:
    """A logger's readings; the same file taken in on two laptops is one."""
    place = entry.container or entry.shelf
    known = bench.logged.setdefault(place, [])
    if all(one.file != entry.file for one in known):
        known.append(entry)


def light(bench: Bench, entry: Light) -> None:
    """Sun, shade, dark, lamp."""
    container = container_for(bench, entry.container, entry)
    if entry.to == "lamp on":
        container.lamp_since = container.lamp_since or entry.at
    elif entry.to == "lamp off":
        container.lamp_since = None
    else:
        container.lit, container.lit_since = entry.to, entry.at


def put_off(bench: Bench, entry: PutOff) -> None:
    """A check put off; an older putting-off of the same check no longer matters."""
    bench.put_off = [
        one for one in bench.put_off if (one.check, one.container, one.shelf) != (entry.check, entry.container, entry.shelf)
    ]
    bench.put_off.append(entry)
