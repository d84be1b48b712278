"""Stems of a host plant that were put in, as all that looks back has them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from datetime import datetime

from msgspec import Struct

from rounds.bench.plurals import of_stage
from rounds.bench.state import Bench, Container
from rounds.entries import registry as k


class StemsIn(Struct, frozen=True, tag_field="what", tag="stems in", omit_defaults=True):
    """Stems of a cutting were put in: what stood there, in words;
    none where they are stored."""

    at: datetime
    container: str
    batch: str
    plant: str
    cut: datetime
    source: str = ""
    stock: str = ""
    stored: bool = False
    cut_not_known: bool = False


def stems_in(bench: Bench, entry: k.HostIn) -> Iterable[StemsIn]:
    """Stems put in, and what they feed.

    Args:
        bench: as it stood before the entry.
    """
    container = bench.at(entry.container)
    yield StemsIn(
        entry.at,
        entry.container,
        entry.batch,
        entry.plant,
        entry.cut or entry.at,
        entry.source,
        _stock(container) if container else "",
        container is None or container.is_store,
        entry.cut_not_known,
    )


def _stock(container: Container) -> str:
    """What stood in a container, in words."""
    numbers = Counter[tuple[str, int]]()
    for lot in container.lots:
        numbers[lot.stage, lot.instar if lot.stage == "larva" else 0] += lot.number
    return ", ".join(
        of_stage(number, f"L{instar}" if instar else stage)
        for (stage, instar), number in numbers.items()
    )
