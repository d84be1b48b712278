"""What answer keys say in the daybook: each makes the entries of one answer from what was asked and typed."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from typing import Any

from msgspec.structs import replace

from rounds.bench import kinds as k
from rounds.bench.kinds.base import Entry
from rounds.bench.state import Host
from rounds.views.asked import Asked, Saying


def say(kind: type[Entry], **fields: Any) -> Callable[[Asked], list[Saying]]:
    return lambda asked: [(kind, asked.here | fields)]


def with_number(kind: type[Entry], name: str, **fields: Any) -> Callable[[Asked], list[Saying]]:
    def says(asked: Asked) -> list[Saying]:
        given = {name: asked.whole} if asked.number is not None else {}
        return [(kind, asked.here | fields | given)]

    return says


def put_off(hours: float, why: str) -> Callable[[Asked], list[Saying]]:
    def says(asked: Asked) -> list[Saying]:
        until = asked.now + timedelta(hours=hours)
        return [(k.PutOff, asked.here | {"check": asked.due.check, "until": until, "why": why})]

    return says


def depth(kind: type[Entry], **fields: Any) -> Callable[[Asked], list[Saying]]:
    def says(asked: Asked) -> list[Saying]:
        given = {"depth_mm": asked.measures.millimetres(asked.number)} if asked.number is not None else {}
        return [(kind, asked.here | fields | given)]

    return says


def ants_above(asked: Asked) -> list[Saying]:
    return [(k.BarrierSeen, asked.here | {"state": "breached", "ants_above": asked.whole or 1})]


def found(asked: Asked) -> list[Saying]:
    """Eggs found; right after stems came out they are on those, as the desk's own defaults say."""
    return [(k.Searched, asked.here | {"found": asked.whole or 0} | asked.subject_brood)]


def newest_host(asked: Asked) -> Host | None:
    container = asked.container
    return max(container.hosts, key=lambda host: host.cut, default=None) if container else None


def fresh_host(asked: Asked, host: Host) -> dict[str, Any]:
    sprigs = asked.whole if asked.number is not None else host.sprigs
    return asked.here | {"plant": host.plant, "part": host.part, "kept": host.kept, "sprigs": sprigs}


def added(asked: Asked) -> list[Saying]:
    host = likely_host(asked)
    return [(k.HostIn, fresh_host(asked, host))] if host else []


def changed(fate: str) -> Callable[[Asked], list[Saying]]:
    """All that stood there comes out, and each of its plants goes in fresh."""

    def says(asked: Asked) -> list[Saying]:
        host = likely_host(asked)
        container = asked.container
        if host is None or container is None:
            return []
        old = {(one.plant, one.batch): one for one in container.hosts}
        out = [
            (k.HostOut, asked.here | {"plant": one.plant, "batch": one.batch, "fate": fate} | held_in(asked, fate))
            for one in old.values()
        ]
        newest = {one.plant: one for one in sorted(container.hosts, key=lambda one: one.cut)} or {host.plant: host}
        return [*out, *((k.HostIn, fresh_host(asked, one)) for one in newest.values())]

    return says


def held_in(asked: Asked, fate: str) -> dict[str, Any]:
    """Kept stems go where this container's stems went before, else where stems are kept, else to an empty egg cup."""
    if fate != "held":
        return {}
    cups = [one for one in asked.bench.standing() if one.purpose == "eggs" and (one.held or not one.lots)]
    from_here = [one for one in cups if any(held.source == asked.due.where for held in one.held)]
    chosen = next(iter(from_here or [one for one in cups if one.held] or cups), None)
    return {"held_in": chosen.code} if chosen else {}


def begin_host(asked: Asked) -> str:
    return f"{asked.due.where} host in "


def likely_host(asked: Asked) -> Host | None:
    """The plant here; else what others of the same species feed on; else nothing."""
    here = newest_host(asked)
    container = asked.container
    if here or container is None:
        return here
    taxa = {asked.bench.taxon_of(lot.brood) for lot in container.lots}
    others = [
        host
        for one in asked.bench.standing()
        if one.purpose != "host store" and taxa & {asked.bench.taxon_of(lot.brood) for lot in one.lots}
        for host in one.hosts
    ]
    return max(others, key=lambda host: host.cut, default=None)


def tender_leaf(asked: Asked) -> list[Saying]:
    host = likely_host(asked)
    if host is None:
        return []
    return [(k.HostIn, asked.here | {"plant": host.plant, "part": "tender leaf", "kept": "damp paper", "sprigs": 1})]


def cleaned(asked: Asked) -> list[Saying]:
    said: list[Saying] = [(k.Cleaned, asked.here)]
    if asked.number is not None:
        said.append((k.Counted, asked.here | {"number": asked.whole}))
    return said


def all_there(asked: Asked) -> list[Saying]:
    container = asked.container
    there = container.count() if container else 0
    return [(k.Counted, asked.here | {"number": asked.whole if asked.number is not None else there})]


def released(asked: Asked) -> list[Saying]:
    founder = asked.bench.founders.get(asked.due.subject)
    place = founder.place if founder else ""
    return [(k.Released, asked.here | _subject(asked) | {"number": asked.whole or 1, "place": place})]


def _subject(asked: Asked) -> dict[str, Any]:
    """The female asked about; one of several, if nobody can tell her from the others there."""
    lots = asked.container.lots if asked.container else []
    mixed = next((lot for lot in lots if asked.due.subject in lot.codes and len(lot.codes) > 1), None)
    return {"among": mixed.codes} if mixed else asked.subject_brood


def settled(fate: str) -> Callable[[Asked], list[Saying]]:
    def says(asked: Asked) -> list[Saying]:
        open_here = sum(one.number for one in asked.bench.shortfalls if one.container == asked.due.where)
        return [(k.Settled, asked.here | asked.subject_brood | {"fate": fate, "number": asked.whole or open_here})]

    return says


def air(asked: Asked) -> list[Saying]:
    if asked.number is None:
        return []
    celsius = asked.measures.celsius
    if asked.second is None:
        return [(k.Air, asked.here | {"temperature_c": celsius(asked.number)})]
    return [(k.Air, asked.here | {"low_c": celsius(asked.number), "high_c": celsius(asked.second)})]


def grown(kind: type[Entry], **fields: Any) -> Callable[[Asked], list[Saying]]:
    def says(asked: Asked) -> list[Saying]:
        return [(kind, asked.here | fields | {"number": asked.whole or 1})]

    return says


def next_instar(asked: Asked) -> list[Saying]:
    container = asked.container
    youngest = min((lot.instar for lot in container.lots_of("larva")), default=1) if container else 1
    return [(k.Moulted, asked.here | {"number": asked.whole or 1, "instar": max(2, youngest + 1)})]


def same_sign(asked: Asked) -> list[Saying]:
    """Hanging larvae seen unchanged still hang."""
    sign = asked.container.sign if asked.container else "still"
    return [(k.Looked, asked.here | {"sign": sign if sign in ("still", "hanging") else "still"})]


def moulted_all(asked: Asked) -> list[Saying]:
    container = asked.container
    number = asked.whole if asked.number is not None else (container.count("larva") if container else 1)
    return next_instar(replace(asked, number=number))
