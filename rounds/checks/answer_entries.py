"""What answers record that several questions share: each makes the entries of one answer from what
was asked and typed."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from typing import Any

from rounds.bench.state import Bench, Container, Host, Lot
from rounds.checks.question import AnswerContext
from rounds.checks.stems import likely_host, likely_hosts
from rounds.entries import registry as k
from rounds.entries.base import Entry, Saying, Stage


def say(kind: type[Entry], **fields: Any) -> Callable[[AnswerContext], list[Saying]]:
    return lambda context: [(kind, context.here | fields)]


def counted_or_one(context: AnswerContext) -> int:
    """The number typed; one where none was."""
    return 1 if context.whole is None else context.whole


def with_number(kind: type[Entry], **fields: Any) -> Callable[[AnswerContext], list[Saying]]:
    def says(context: AnswerContext) -> list[Saying]:
        given = {} if context.whole is None else {"number": context.whole}
        return [(kind, context.here | fields | given)]

    return says


def offered(context: AnswerContext) -> list[Saying]:
    """None of them drank: food was put before them."""
    return [(k.Offered, context.here)]


def put_off(hours: float, why: str) -> Callable[[AnswerContext], list[Saying]]:
    def says(context: AnswerContext) -> list[Saying]:
        until = context.now + timedelta(hours=hours)
        return [(k.PutOff, context.here | {"check": context.due.check, "until": until, "why": why})]

    return says


def fresh_host(context: AnswerContext, host: Host) -> dict[str, Any]:
    sprigs = context.whole if context.number is not None else host.sprigs
    return context.here | {
        "plant": host.plant,
        "part": host.part,
        "kept": host.kept,
        "sprigs": sprigs,
    }


def added(context: AnswerContext) -> list[Saying]:
    hosts = likely_hosts(context.bench, context.container)
    return [(k.HostIn, fresh_host(context, host)) for host in hosts]


def changed(
    fate: str, *, here: bool = False, sure: bool = False
) -> Callable[[AnswerContext], list[Saying]]:
    """All that stood there comes out, and each of its plants goes in fresh.

    Args:
        here: kept stems stay in the container.
        sure: they are discarded though young larvae may be on them, for they were looked over.
    """

    def says(context: AnswerContext) -> list[Saying]:
        host = likely_host(context.bench, context.container)
        container = context.container
        if host is None or container is None:
            return []
        cut = [one for one in container.hosts if one.kept != "living"]
        old = {(one.plant, one.batch): one for one in cut}
        out = [
            (
                k.HostOut,
                context.here
                | {"plant": one.plant, "batch": one.batch, "fate": fate}
                | ({} if here else held_in(context, fate))
                | ({"sure": True} if sure else {}),
            )
            for one in old.values()
        ]
        newest = {one.plant: one for one in sorted(cut, key=lambda one: one.cut)} or {
            host.plant: host
        }
        return [*out, *((k.HostIn, fresh_host(context, one)) for one in newest.values())]

    return says


def held_in(context: AnswerContext, fate: str) -> dict[str, Any]:
    """Kept stems go where this container's stems went before, else to a host store, else where
    stems are kept, else to an empty egg cup; never among stems or animals of another species, whose
    young larvae nobody could tell apart."""
    if fate != "held" or context.container is None:
        return {}
    taxa = _taxa_on_stems(context.bench, context.container)
    standing = [
        container
        for container in context.bench.standing()
        if container is not context.container and _goes_with(context.bench, container, taxa)
    ]
    stores = [one for one in standing if one.purpose == "host store"]
    cups = [one for one in standing if one.purpose == "eggs" and (one.held or not one.lots)]
    from_here = [
        one for one in stores + cups if any(held.source == context.due.where for held in one.held)
    ]
    containers = [cup for cup in cups if cup.held]
    chosen = next(iter(from_here or stores or containers or cups), None)
    return {"held_in": chosen.code} if chosen else {}


def _taxa_on_stems(bench: Bench, container: Container) -> set[str]:
    """The species that laid, or may have, on what stands in a container."""
    mothers = [mother for host in container.hosts for mother in host.mothers]
    return {bench.taxon_of(code) for code in (*mothers, *(lot.brood for lot in container.lots))} - {
        ""
    }


def _goes_with(bench: Bench, container: Container, taxa: set[str]) -> bool:
    """Whether nothing of another species lives or may hatch in a container."""
    there = {held.taxon for held in container.held} | {
        bench.taxon_of(lot.brood) for lot in container.lots
    }
    return not taxa or there - {""} <= taxa


def begin_host(context: AnswerContext) -> str:
    return f"{context.due.where} host in "


def air(context: AnswerContext) -> list[Saying]:
    if context.number is None:
        return []
    celsius = context.measures.celsius
    if context.second is None:
        return [(k.Air, context.here | {"temperature_c": celsius(context.number)})]
    return [
        (
            k.Air,
            context.here | {"low_c": celsius(context.number), "high_c": celsius(context.second)},
        )
    ]


def there(context: AnswerContext, stage: Stage | None) -> int:
    """How many of a stage are here on record; of any stage where none is named."""
    return context.container.count(stage) if context.container else 0


def grown(kind: type[Entry], **fields: Any) -> Callable[[AnswerContext], list[Saying]]:
    def says(context: AnswerContext) -> list[Saying]:
        number = there(context, kind.grows_from) if context.every else counted_or_one(context)
        return [(kind, context.here | fields | {"number": number})]

    return says


def moulted(context: AnswerContext) -> list[Saying]:
    """One moulted, unless a number or all were typed: then each lot by itself, the oldest instar
    first."""
    larvae = context.container.lots_of("larva") if context.container else []
    if context.every:
        return [
            _moult_of(context, one, larvae) for one in sorted(larvae, key=lambda lot: -lot.instar)
        ]
    youngest = min((lot.instar for lot in larvae), default=1)
    return [
        (
            k.Moulted,
            context.here | {"number": counted_or_one(context), "instar": max(2, youngest + 1)},
        )
    ]


def _moult_of(context: AnswerContext, lot: Lot, larvae: list[Lot]) -> Saying:
    brood = {"brood": lot.brood} if len({one.brood for one in larvae}) > 1 else {}
    return k.Moulted, context.here | brood | {
        "number": lot.number,
        "instar": max(2, lot.instar + 1),
    }
