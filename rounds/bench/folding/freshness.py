"""How long cut host plants stayed fit: what the keeper's own looks tell, kept for the plan."""

from __future__ import annotations

from datetime import datetime, timedelta

from rounds.bench.state import Bench, Host, StayedFresh
from rounds.entries.base import ROOTED

GONE_OFF = frozenset({"limp", "yellow", "mouldy"})
MOST = 60  # of each plant and way to keep it; the newest


def key_of(plant: str, kept: str) -> str:
    """Under what the stays of a plant are kept that is kept so."""
    return f"{plant}|{kept}"


def seen_to_go_off(bench: Bench, host: Host, at: datetime, state: str) -> None:
    """The first look that saw it limp, yellow or mouldy: it went off between the look before and
    this one."""
    if state not in GONE_OFF or host.went_off or host.failed is not None:
        return
    host.went_off = True
    before = max(host.seen or host.put_in, host.cut)
    _remember(bench, host, before + (at - before) / 2, went_off=True)


def comes_out(bench: Bench, host: Host, at: datetime) -> None:
    """It was fit until it came out, or until it was eaten."""
    if not host.went_off:
        _remember(bench, host, min(at, host.failed or at), went_off=False)


def _remember(bench: Bench, host: Host, until: datetime, *, went_off: bool) -> None:
    hours = (until - host.cut) / timedelta(hours=1)
    if host.kept in ROOTED or hours <= 0:
        return
    stays = bench.stayed_fresh.setdefault(key_of(host.plant, host.kept), [])
    stays.append(StayedFresh(hours, went_off))
    del stays[:-MOST]
