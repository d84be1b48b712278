"""How entries about tending change the bench."""

from __future__ import annotations

from datetime import timedelta

from rounds.bench.folding.lots import container_for, entered, odd, put
from rounds.bench.kinds import (
    Air,
    BarrierSeen,
    Drank,
    FoodMade,
    FrassSeen,
    HostIn,
    HostOut,
    HostSeen,
    Light,
    LoggerRead,
    Looked,
    PutOff,
    Searched,
    Stocked,
    ToppedUp,
)
from rounds.bench.state import Bench, Container, Depth, Detected, Held, Host, Laid, Moat, SearchMade

MOST_DEPTHS = 20
MOST_AIR = 2_000
MOST_LOOKS = 100
SHOWN = ("trace", "plain")
ONE_FEED = timedelta(hours=6)  # drinks of several females this close together are one feed


def drank(bench: Bench, entry: Drank) -> None:
    """The container counts as fed once as many have drunk within one feed as there are females."""
    container = container_for(bench, entry.container, entry)
    females = container.females
    if entry.number == 0 or entry.number >= females:
        container.all_drank = entry.at
        container.drank_part = []
        return
    recent = [(at, number) for at, number in container.drank_part if entry.at - at <= ONE_FEED]
    recent.append((entry.at, entry.number))
    if sum(number for _, number in recent) >= females:
        container.all_drank = recent[0][0]
        recent = []
    container.drank_part = recent


def food_made(bench: Bench, entry: FoodMade) -> None:
    """A stock of solution made."""
    bench.food_made[entry.food] = entry.at


def host_in(bench: Bench, entry: HostIn) -> None:
    """Host plant put in."""
    if (len(entry.batch), entry.batch) > (len(bench.last_batch), bench.last_batch):
        bench.last_batch = entry.batch
    container_for(bench, entry.container, entry).hosts.append(
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


def host_seen(bench: Bench, entry: HostSeen) -> None:
    """How the host looks."""
    for host in container_for(bench, entry.container, entry).hosts:
        if not entry.plant or host.plant == entry.plant:
            host.state, host.left, host.seen = entry.state, entry.left, entry.at


def host_out(bench: Bench, entry: HostOut) -> None:
    """Host plant taken out; held sprigs are kept where they may yet show eggs."""
    container = container_for(bench, entry.container, entry)
    leaving = [
        host
        for host in container.hosts
        if (not entry.batch or host.batch == entry.batch) and (not entry.plant or host.plant == entry.plant)
    ]
    if not leaving:
        leaving_held = [
            held
            for held in container.held
            if (not entry.batch or held.batch == entry.batch) and (not entry.plant or held.plant == entry.plant)
        ]
        if not leaving_held:
            odd(bench, entry, f"{container.code} had no such host")
        container.held = [held for held in container.held if held not in leaving_held]
        return
    container.hosts = [host for host in container.hosts if host not in leaving]
    for host in leaving:
        _stood_with(bench, host)
    if entry.fate != "held":
        return
    keeper = container_for(bench, entry.held_in, entry) if entry.held_in else container
    keeper.held.extend(_as_held(bench, container, host, entry) for host in leaving)


def _stood_with(bench: Bench, host: Host) -> None:
    """Female-days on a plant, for the usual rate of laying on it."""
    if host.mothers:
        laid_on(bench, bench.taxon_of(host.mothers[0]), host.plant).female_days += host.female_days


def laid_on(bench: Bench, taxon: str, plant: str) -> Laid:
    """What females of a species laid on a plant so far."""
    return bench.laid.setdefault(taxon, {}).setdefault(plant, Laid())


def _as_held(bench: Bench, container: Container, host: Host, entry: HostOut) -> Held:
    return Held(
        female_days=host.female_days,
        taxon=bench.taxon_of(host.mothers[0]) if host.mothers else "",
        plant=host.plant,
        batch=host.batch,
        source=container.code,
        mothers=tuple(sorted(host.mothers)),
        offered=host.put_in,
        taken_out=entry.at,
        sprigs=entry.sprigs if entry.sprigs is not None else host.sprigs,
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
        _read_depth(moat, Depth(entry.at, entry.depth_mm))


def topped_up(bench: Bench, entry: ToppedUp) -> None:
    """The barrier filled; that also means it was looked at."""
    moat = _moat(bench, entry)
    if moat is None:
        return
    moat.state, moat.seen, moat.topped = "full", entry.at, entry.at
    if entry.washed:
        moat.washed = entry.at
    if entry.depth_mm is not None:
        _read_depth(moat, Depth(entry.at, entry.depth_mm, filled=True))


def _read_depth(moat: Moat, depth: Depth) -> None:
    moat.depths.append(depth)
    del moat.depths[:-MOST_DEPTHS]


def searched(bench: Bench, entry: Searched) -> None:
    """A search; eggs found join the stock of the brood they were said to belong to."""
    container = container_for(bench, entry.container, entry)
    searched_ones = [held for held in container.held if not entry.plant or held.plant == entry.plant]
    for held in searched_ones:
        if entry.found and len(searched_ones) == 1:  # of several it is not known which of them bore the eggs
            _they_were_there(bench, held)
            bench.detected.setdefault(entry.aid, Detected()).found += 1
        held.searches.append(SearchMade(entry.at, entry.aid, entry.found, entry.minutes))
    if not entry.found:
        return
    _eggs_on(bench, container, entry)
    container.eggs_found = entry.at
    if entry.brood:
        put(container, brood=entry.brood, stage="egg", number=entry.found, at=entry.at)
        entered(bench, entry.brood, "egg", entry.found)
    else:
        odd(bench, entry, f"{entry.found} eggs found in {container.code} without a brood")


def _eggs_on(bench: Bench, container: Container, entry: Searched) -> None:
    """Eggs found on a plant, for the usual rate of laying on it."""
    plants = {host.plant for host in container.hosts} | {held.plant for held in container.held}
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
    """The held sprigs whose hidden eggs were put in: those that showed droppings, of the females that stood with them."""
    told = bench.broods.get(entry.brood)
    if entry.stage != "egg" or told is None:
        return []
    return [held for held in container.held if held.frass in SHOWN and set(held.mothers) & set(told.mothers)]


def hidden_eggs_shown(bench: Bench, container: Container, entry: Stocked) -> None:
    """Hidden eggs count for the usual rate of laying on their plant."""
    plants = {held.plant for held in hidden_on(bench, container, entry)}
    if len(plants) == 1:
        laid_on(bench, bench.taxon_of(entry.brood), plants.pop()).eggs += entry.number


def frass_seen(bench: Bench, entry: FrassSeen) -> None:
    """Droppings, or none: evidence about held sprigs."""
    held_here = container_for(bench, entry.container, entry).held
    for held in held_here:
        if entry.level in SHOWN and len(held_here) == 1:
            _they_were_there(bench, held)
        held.frass = entry.level
        held.frass_looks.append(entry.at)
        del held.frass_looks[:-MOST_LOOKS]


def looked(bench: Bench, entry: Looked) -> None:
    """What was seen stays on the card until something else is seen."""
    container = container_for(bench, entry.container, entry)
    if container.sign != entry.sign or container.sign_since is None:
        container.sign, container.sign_since = entry.sign, entry.at
    container.sign_entry = entry.id


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
