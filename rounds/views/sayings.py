"""What answer keys say in the daybook: each makes the entries of one answer from what was asked and typed."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from typing import Any

from rounds.bench import kinds as k
from rounds.bench.kinds.base import ROOTED, Entry, Stage
from rounds.bench.state import Bench, Host, Lot
from rounds.forecasts.moats import state_at
from rounds.views.asked import Asked, Saying


def say(kind: type[Entry], **fields: Any) -> Callable[[Asked], list[Saying]]:
    return lambda asked: [(kind, asked.here | fields)]


def counted_or_one(asked: Asked) -> int:
    """The number typed; one where none was."""
    return 1 if asked.whole is None else asked.whole


def with_number(kind: type[Entry], **fields: Any) -> Callable[[Asked], list[Saying]]:
    def says(asked: Asked) -> list[Saying]:
        given = {} if asked.whole is None else {"number": asked.whole}
        return [(kind, asked.here | fields | given)]

    return says


def offered(asked: Asked) -> list[Saying]:
    """None of them drank: food was put before them."""
    return [(k.Offered, asked.here)]


def put_off(hours: float, why: str) -> Callable[[Asked], list[Saying]]:
    def says(asked: Asked) -> list[Saying]:
        until = asked.now + timedelta(hours=hours)
        return [(k.PutOff, asked.here | {"check": asked.due.check, "until": until, "why": why})]

    return says


def barrier_seen(state: str) -> Callable[[Asked], list[Saying]]:
    """What the barrier looked like; a depth that was typed decides what is dry, low and full."""

    def says(asked: Asked) -> list[Saying]:
        if asked.number is None:
            return [(k.BarrierSeen, asked.here | {"state": state})]
        mm = asked.measures.millimetres(asked.number)
        return [(k.BarrierSeen, asked.here | {"state": state_at(asked.bench, mm, state), "depth_mm": mm})]

    return says


def topped_up(asked: Asked) -> list[Saying]:
    given = {"depth_mm": asked.measures.millimetres(asked.number)} if asked.number else {}
    return [(k.ToppedUp, asked.here | given)]


def ants_above(asked: Asked) -> list[Saying]:
    return [(k.BarrierSeen, asked.here | {"state": "breached", "ants_above": counted_or_one(asked)})]


def found(asked: Asked) -> list[Saying]:
    """Eggs found; right after stems came out they are on those, as the desk's own defaults say."""
    return [(k.Searched, asked.here | {"found": asked.whole or 0, "aid": aid_of(asked.bench)} | asked.subject_brood)]


SEARCH_AID = "search aid"  # the setting that remembers with what was searched last
AIDS = ("naked eye", "lens", "macro photo")


def aid_of(bench: Bench) -> str:
    """With what eggs are searched for, until another aid is named."""
    aid = bench.settings.get(SEARCH_AID, "")
    return aid if aid in AIDS else AIDS[0]


def search_with(aid: str) -> Callable[[Asked], list[Saying]]:
    return lambda asked: [(k.Setting, {"name": SEARCH_AID, "value": aid})]


def newest_host(asked: Asked) -> Host | None:
    container = asked.container
    return max(container.hosts, key=lambda host: host.cut, default=None) if container else None


def fresh_host(asked: Asked, host: Host) -> dict[str, Any]:
    sprigs = asked.whole if asked.number is not None else host.sprigs
    return asked.here | {"plant": host.plant, "part": host.part, "kept": host.kept, "sprigs": sprigs}


def added(asked: Asked) -> list[Saying]:
    host = likely_host(asked)
    return [(k.HostIn, fresh_host(asked, host))] if host else []


def taken_out(asked: Asked) -> list[Saying]:
    """All stems that stand there come out and are kept."""
    cut = [one for one in asked.container.hosts if one.kept not in ROOTED] if asked.container else []
    return [
        (k.HostOut, asked.here | {"plant": plant, "batch": batch, "fate": "held"} | held_in(asked, "held"))
        for plant, batch in dict.fromkeys((one.plant, one.batch) for one in cut)
    ]


def changed(fate: str) -> Callable[[Asked], list[Saying]]:
    """All that stood there comes out, and each of its plants goes in fresh."""

    def says(asked: Asked) -> list[Saying]:
        host = likely_host(asked)
        container = asked.container
        if host is None or container is None:
            return []
        cut = [one for one in container.hosts if one.kept != "living"]
        old = {(one.plant, one.batch): one for one in cut}
        out = [
            (k.HostOut, asked.here | {"plant": one.plant, "batch": one.batch, "fate": fate} | held_in(asked, fate))
            for one in old.values()
        ]
        newest = {one.plant: one for one in sorted(cut, key=lambda one: one.cut)} or {host.plant: host}
        return [*out, *((k.HostIn, fresh_host(asked, one)) for one in newest.values())]

    return says


def fresh_branch(asked: Asked) -> list[Saying]:
    """The sleeve came to another branch of the plant that it stands on."""
    return [(k.HostSeen, asked.here | {"left": "plenty"}), (k.Note, asked.here | {"text": "moved to a fresh branch"})]


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
    on_record = container.count() if container else 0
    return [(k.Counted, asked.here | {"number": on_record if asked.whole is None else asked.whole})]


def released(asked: Asked) -> list[Saying]:
    founder = asked.bench.founders.get(asked.due.subject)
    place = founder.place if founder else ""
    if asked.every:
        return [(k.Released, asked.here | {"number": there(asked, "adult"), "place": place})]
    return [(k.Released, asked.here | _subject(asked) | {"number": counted_or_one(asked), "place": place})]


def _subject(asked: Asked) -> dict[str, Any]:
    """The female asked about; one of several, if nobody can tell her from the others there."""
    lots = asked.container.lots if asked.container else []
    mixed = next((lot for lot in lots if asked.due.subject in lot.codes and len(lot.codes) > 1), None)
    return {"among": mixed.codes} if mixed else asked.subject_brood


def settled(fate: str) -> Callable[[Asked], list[Saying]]:
    def says(asked: Asked) -> list[Saying]:
        open_here = sum(one.number for one in asked.bench.shortfalls if one.container == asked.due.where)
        number = open_here if asked.whole is None else asked.whole
        return [(k.Settled, asked.here | asked.subject_brood | {"fate": fate, "number": number})]

    return says


def air(asked: Asked) -> list[Saying]:
    if asked.number is None:
        return []
    celsius = asked.measures.celsius
    if asked.second is None:
        return [(k.Air, asked.here | {"temperature_c": celsius(asked.number)})]
    return [(k.Air, asked.here | {"low_c": celsius(asked.number), "high_c": celsius(asked.second)})]


OUT_OF: dict[type[Entry], Stage] = {k.Hatched: "egg", k.Moulted: "larva", k.Pupated: "larva", k.Emerged: "pupa"}


def there(asked: Asked, stage: Stage | None) -> int:
    """How many of a stage are here by the book; of any stage where none is named."""
    return asked.container.count(stage) if asked.container else 0


def grown(kind: type[Entry], **fields: Any) -> Callable[[Asked], list[Saying]]:
    def says(asked: Asked) -> list[Saying]:
        number = there(asked, OUT_OF.get(kind)) if asked.every else counted_or_one(asked)
        return [(kind, asked.here | fields | {"number": number})]

    return says


def moulted(asked: Asked) -> list[Saying]:
    """One moulted, unless a number or all were typed: then each lot by itself, the oldest instar first."""
    larvae = asked.container.lots_of("larva") if asked.container else []
    if asked.every:
        return [_moult_of(asked, one, larvae) for one in sorted(larvae, key=lambda lot: -lot.instar)]
    youngest = min((lot.instar for lot in larvae), default=1)
    return [(k.Moulted, asked.here | {"number": counted_or_one(asked), "instar": max(2, youngest + 1)})]


def _moult_of(asked: Asked, lot: Lot, larvae: list[Lot]) -> Saying:
    brood = {"brood": lot.brood} if len({one.brood for one in larvae}) > 1 else {}
    return k.Moulted, asked.here | brood | {"number": lot.number, "instar": max(2, lot.instar + 1)}


def same_sign(asked: Asked) -> list[Saying]:
    """Hanging larvae seen unchanged still hang."""
    sign = asked.container.sign if asked.container else "still"
    return [(k.Looked, asked.here | {"sign": sign if sign in ("still", "hanging") else "still"})]
