"""What to cut and mix for the rounds to come, each with its arithmetic: a guess, and shown as one."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from msgspec import Struct

from rounds.bench.state import Bench, Container
from rounds.care.due import Due, all_dues
from rounds.care.moment import Moment

ML_A_DRINK = 0.5  # what a swab offered to one female takes up; our estimate
ML_A_FEEDER = 2.0  # what a fresh feeder takes up; our estimate
SPRIGS_WHERE_NOT_SAID = 2  # our estimate


class Supply(Struct, frozen=True):
    """Something to have ready: how much of it, and how that was reckoned."""

    what: str
    amount: float
    unit: str
    arithmetic: str


def supplies(bench: Bench, moment: Moment, until: datetime, dues: Iterable[Due] | None = None) -> tuple[Supply, ...]:
    """What the checks that come up before an instant want: sprigs by plant, sugar solution, swabs, lining."""
    known = all_dues(bench, moment) if dues is None else list(dues)
    soon = [due for due in known if (due.amber or due.due) < until and due.place_kind == "container"]
    return (*_sprigs(bench, soon), *_solution(bench, soon), *_linings(bench, soon))


def tomorrow(moment: Moment) -> datetime:
    """The end of the two rounds that follow the present one."""
    return moment.next_anchor(moment.next_anchor(moment.round_after))


def _asked(bench: Bench, soon: list[Due], *checks: str) -> list[Container]:
    codes = dict.fromkeys(due.where for due in soon if due.check in checks)
    return [container for code in codes if (container := bench.at(code)) is not None]


def _sprigs(bench: Bench, soon: list[Due]) -> list[Supply]:
    wanted: dict[str, list[tuple[str, int]]] = {}
    for container in _asked(bench, soon, "host", "food"):
        cut = [host for host in container.hosts if host.kept != "potted"]
        if cut:
            newest = max(cut, key=lambda host: host.cut)
            wanted.setdefault(newest.plant, []).append((container.code, newest.sprigs or SPRIGS_WHERE_NOT_SAID))
    return [
        Supply(
            plant,
            sum(number for _, number in places),
            "sprigs",
            " + ".join(f"{code} {number}" for code, number in places),
        )
        for plant, places in sorted(wanted.items())
    ]


def _solution(bench: Bench, soon: list[Due]) -> list[Supply]:
    females = sum(container.females for container in _asked(bench, soon, "drink"))
    feeders = len(_asked(bench, soon, "feeder"))
    amount = females * ML_A_DRINK + feeders * ML_A_FEEDER
    if not amount:
        return []
    arithmetic = f"{females} drinks x {ML_A_DRINK:g} ml + {feeders} feeders x {ML_A_FEEDER:g} ml"
    found = [Supply("sugar solution", amount, "ml", arithmetic)]
    if females + feeders:
        found.append(Supply("swabs", females + feeders, "", f"{females} drinks + {feeders} feeders"))
    return found


def _linings(bench: Bench, soon: list[Due]) -> list[Supply]:
    lined = [container.code for container in _asked(bench, soon, "clean") if container.lining]
    return [Supply("linings", len(lined), "", " + ".join(lined))] if lined else []
