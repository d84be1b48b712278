"""Larvae that come to a plant which their species has not eaten on record: many would rather starve
than change, so it is asked about before they are moved."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Any

from rounds.bench.movements import A_DAY
from rounds.bench.state import Bench, Container, Lot
from rounds.entries.base import Said
from rounds.entries.questions import Choice, WhichAnimals


def on_another_plant(
    bench: Bench, lots: Iterable[Lot], to: Iterable[Any], said: Said
) -> WhichAnimals | None:
    """Whether larvae are to go where only plants stand that their species has not eaten on record;
    None where nothing is in doubt, or it was said to be meant."""
    targets = [one for code in to if (one := bench.at(str(code))) is not None]
    larvae = [lot for lot in lots if lot.stage == "larva"]
    if said.get("sure"):
        return None
    for container in targets:
        stands = _plants(container)
        for lot in larvae:
            eaten, had = _eaten_and_had(bench, lot, said.get("at") or bench.newest)
            known = eaten or had
            if stands and known and not {*map(str.casefold, stands)} & {*map(str.casefold, known)}:
                species = bench.taxon_of(lot.brood) or lot.brood
                return WhichAnimals(
                    f"{species} ate {' and '.join(known)} so far; {' and '.join(stands)}"
                    f" {'stands' if len(stands) == 1 else 'stand'} in"
                    f" {container.code}; if they are to go there, add",
                    (Choice("sure", {"sure": True}),),
                )
    return None


def _plants(container: Container) -> list[str]:
    return list(dict.fromkeys(host.plant for host in container.hosts if host.plant))


def _eaten_and_had(bench: Bench, lot: Lot, now: datetime | None) -> tuple[list[str], list[str]]:
    """The plants that larvae of its species ate, as far as anybody saw, and all that they had:
    those with them now, and the last that was put in. A plant that was only offered is not eaten
    yet."""
    species = bench.taxon_of(lot.brood)
    eaten: dict[str, None] = {}
    had: dict[str, None] = {}
    for container in bench.standing():
        alike = [
            one
            for one in container.lots_of("larva")
            if one.brood == lot.brood or (species and bench.taxon_of(one.brood) == species)
        ]
        there = {host.plant: host.since or host.put_in for host in container.hosts if host.plant}
        last = container.last.get("host in")
        if last is not None and (plant := str(getattr(last, "plant", ""))):
            there.setdefault(plant, last.at)
        for plant, put_in in there.items() if alike else ():
            had[plant] = None
            if any(_ate(container, one, plant, put_in, now) for one in alike):
                eaten[plant] = None
    return list(eaten), list(had)


def _ate(
    container: Container, lot: Lot, plant: str, put_in: datetime, now: datetime | None
) -> bool:
    """Whether larvae that stand with a plant eat it: frass or less of it was seen since, or a day
    went by."""
    since = max(filter(None, (put_in, lot.came)))
    if now is not None and now - since >= A_DAY:
        return True
    frass, seen = container.last.get("frass"), container.last.get("host seen")
    return any(
        one is not None and one.at > since
        for one in (
            frass if getattr(frass, "level", "none") != "none" else None,
            seen if _less_of(plant, seen) else None,
        )
    )


def _less_of(plant: str, seen: Any) -> bool:
    """Whether a look at the food saw less of a plant than was put in."""
    return getattr(seen, "plant", "") in ("", plant) and (
        getattr(seen, "state", "") == "eaten"
        or getattr(seen, "left", "") in ("none", "little", "half")
    )
