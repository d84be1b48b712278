"""What answers record that several questions share: each makes the entries of one answer from what was asked and typed."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from typing import Any

from rounds.bench.state import Bench, Container, Host, Lot
from rounds.checks.question import AnswerContext, Saying
from rounds.checks.stems import likely_host
from rounds.entries import registry as k
from rounds.entries.base import Entry, Stage


def say(kind: type[Entry], **fields: Any) -> Callable[[AnswerContext], list[Saying]]:
    return lambda asked: [(kind, asked.here | fields)]


def counted_or_one(asked: AnswerContext) -> int:
    """The number typed; one where none was."""
    return 1 if asked.whole is None else asked.whole


def with_number(kind: type[Entry], **fields: Any) -> Callable[[AnswerContext], list[Saying]]:
    def says(asked: AnswerContext) -> list[Saying]:
        given = {} if asked.whole is None else {"number": asked.whole}
        return [(kind, asked.here | fields | given)]

    return says


def offered(asked: AnswerContext) -> list[Saying]:
    """None of them drank: food was put before them."""
    return [(k.Offered, asked.here)]


def put_off(hours: float, why: str) -> Callable[[AnswerContext], list[Saying]]:
    def says(asked: AnswerContext) -> list[Saying]:
        until = asked.now + timedelta(hours=hours)
        return [(k.PutOff, asked.here | {"check": asked.due.check, "until": until, "why": why})]

    return says


def fresh_host(asked: AnswerContext, host: Host) -> dict[str, Any]:
    sprigs = asked.whole if asked.number is not None else host.sprigs
    return asked.here | {"plant": host.plant, "part": host.part, "kept": host.kept, "sprigs": sprigs}


def added(asked: AnswerContext) -> list[Saying]:
    host = likely_host(asked.bench, asked.container)
    return [(k.HostIn, fresh_host(asked, host))] if host else []


def changed(fate: str) -> Callable[[AnswerContext], list[Saying]]:
    """All that stood there comes out, and each of its plants goes in fresh."""

    def says(asked: AnswerContext) -> list[Saying]:
        host = likely_host(asked.bench, asked.container)
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


def held_in(asked: AnswerContext, fate: str) -> dict[str, Any]:
    """Kept stems go where this container's stems went before, else to a host store, else where stems are kept, else to an
    empty egg cup; never among stems or animals of another species, whose young larvae nobody could tell apart.
    """
    if fate != "held" or asked.container is None:
        return {}
    taxa = _taxa_on_stems(asked.bench, asked.container)
    standing = [one for one in asked.bench.standing() if one is not asked.container and _goes_with(asked.bench, one, taxa)]
    stores = [one for one in standing if one.purpose == "host store"]
    cups = [one for one in standing if one.purpose == "eggs" and (one.held or not one.lots)]
    from_here = [one for one in stores + cups if any(held.source == asked.due.where for held in one.held)]
    kept = [one for one in cups if one.held]
    chosen = next(iter(from_here or stores or kept or cups), None)
    return {"held_in": chosen.code} if chosen else {}


def _taxa_on_stems(bench: Bench, container: Container) -> set[str]:
    """The species that laid, or may have, on what stands in a container."""
    mothers = [mother for host in container.hosts for mother in host.mothers]
    return {bench.taxon_of(code) for code in (*mothers, *(lot.brood for lot in container.lots))} - {""}


def _goes_with(bench: Bench, container: Container, taxa: set[str]) -> bool:
    """Whether nothing of another species lives or may hatch in a container."""
    there = {held.taxon for held in container.held} | {bench.taxon_of(lot.brood) for lot in container.lots}
    return not taxa or there - {""} <= taxa


def begin_host(asked: AnswerContext) -> str:
    return f"{asked.due.where} host in "


def air(asked: AnswerContext) -> list[Saying]:
    if asked.number is None:
        return []
    celsius = asked.measures.celsius
    if asked.second is None:
        return [(k.Air, asked.here | {"temperature_c": celsius(asked.number)})]
    return [(k.Air, asked.here | {"low_c": celsius(asked.number), "high_c": celsius(asked.second)})]


def there(asked: AnswerContext, stage: Stage | None) -> int:
    """How many of a stage are here by the book; of any stage where none is named."""
    return asked.container.count(stage) if asked.container else 0


def grown(kind: type[Entry], **fields: Any) -> Callable[[AnswerContext], list[Saying]]:
    def says(asked: AnswerContext) -> list[Saying]:
        number = there(asked, kind.grows_from) if asked.every else counted_or_one(asked)
        return [(kind, asked.here | fields | {"number": number})]

    return says


def moulted(asked: AnswerContext) -> list[Saying]:
    """One moulted, unless a number or all were typed: then each lot by itself, the oldest instar first."""
    larvae = asked.container.lots_of("larva") if asked.container else []
    if asked.every:
        return [_moult_of(asked, one, larvae) for one in sorted(larvae, key=lambda lot: -lot.instar)]
    youngest = min((lot.instar for lot in larvae), default=1)
    return [(k.Moulted, asked.here | {"number": counted_or_one(asked), "instar": max(2, youngest + 1)})]


def _moult_of(asked: AnswerContext, lot: Lot, larvae: list[Lot]) -> Saying:
    brood = {"brood": lot.brood} if len({one.brood for one in larvae}) > 1 else {}
    return k.Moulted, asked.here | brood | {"number": lot.number, "instar": max(2, lot.instar + 1)}
