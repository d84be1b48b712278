"""How the demo's keepers work: two walks a day, answering what the bench itself asks."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from copy import deepcopy
from datetime import UTC, datetime, time, timedelta, tzinfo
from random import Random
from typing import Any

from rounds.bench.folding import apply
from rounds.bench.state import Bench, Container
from rounds.checks.due_state import Due
from rounds.checks.question import Answer, AnswerContext, Question
from rounds.checks.questions import question_for
from rounds.checks.round_clock import Moment
from rounds.checks.walk import Stop, stops
from rounds.daybook.ids import new_id
from rounds.entries import registry as k
from rounds.entries.base import Entry
from rounds.entries.defaults import completed
from rounds.entries.entry_factory import build

Anchors = tuple[tuple[str, time], ...]
MOAT_FULL_MM = 22.0
MOAT_LOSS_MM_A_DAY = 5.5
FRESH_FOR = timedelta(hours=40)


class Teller:
    """Says entries one after another and keeps the bench that they add up to."""

    def __init__(self, zone: tzinfo, seed: int, anchors: Anchors) -> None:
        self.anchors = anchors
        self.bench = Bench()
        self.entries: list[Entry] = []
        self.zone = zone
        self.chance = Random(seed)
        self.readings = Random(seed + 1)  # of moats: nothing else that is asked moves them
        self.by = "HY"
        self.round = ""
        self._last_id = ""

    def record(
        self, kind: type[Entry], at: datetime, *, typed: timedelta | None = None, **fields: Any
    ) -> Entry:
        """Say one thing; ``typed`` is how much later it was typed."""
        local = at.astimezone(self.zone)
        entry: Entry | None = None
        for one_kind, one_fields in completed(self.bench, kind, fields, local):
            self._last_id = self._new_id(local)
            entry = build(
                one_kind,
                one_fields,
                entry_id=self._last_id,
                at=local,
                logged=local + (typed or timedelta(seconds=self.chance.randint(2, 9))),
                by=self.by,
                round_id="" if one_kind is k.RoundStarted else self.round,
            )
            self.entries.append(entry)
            apply(self.bench, entry)
        assert entry is not None
        return entry

    def say_and_strike(self, kind: type[Entry], at: datetime, why: str, **fields: Any) -> None:
        """Say something that is struck soon after: the bench never holds it."""
        kept = self.bench
        self.bench = Bench()
        self.bench.containers = {code: _copy(one) for code, one in kept.containers.items()}
        wrong = self.record(kind, at, **fields)
        self.bench = kept
        strike = self.record(k.CrossedOut, at + timedelta(minutes=4), entry=wrong.id, why=why)
        self.bench.strikes[strike.id] = wrong.id

    def _new_id(self, at: datetime) -> str:
        chance = self.chance.getrandbits(64).to_bytes(8, "big")
        return new_id(int(at.timestamp() * 1000), chance, self._last_id)

    def moment(self, now: datetime) -> Moment:
        """That instant, in the bench's zone."""
        return Moment(now=now, zone=self.zone, anchors=self.anchors)


def _copy(container: Container) -> Container:
    return Container(
        container.code, container.purpose, container.since, lots=deepcopy(container.lots)
    )


class Walk:
    """One round, answered check by check.

    Args:
        eggs: how many eggs a search finds, by container; none where not given.
        turns: what else is seen or done at a container, told when its stop begins.
        shy: moats of these places are only looked at, not topped up.
    """

    def __init__(
        self,
        teller: Teller,
        eggs: Mapping[str, int] | None = None,
        turns: Mapping[str, Callable[[datetime], None]] | None = None,
        shy: frozenset[str] = frozenset(),
        skips: Mapping[str, str] | None = None,
    ) -> None:
        self.teller = teller
        self.eggs = dict(eggs or {})
        self.turns = dict(turns or {})
        self.shy = shy
        self.skips = dict(skips or {})
        self.at = datetime.now(UTC)

    def go(self, start: datetime, name: str) -> datetime:
        """Walk; when it ended comes back."""
        teller = self.teller
        self.at = start
        begun = teller.record(k.RoundStarted, start, name=name)
        teller.round = begun.id
        for code in [code for code in self.turns if code.startswith("first")]:
            self._turn(code)
        walk = teller.bench.rounds[-1]
        for stop in stops(teller.bench, teller.moment(start), walk):
            self._at_stop(stop)
        for code in [*self.eggs, *self.turns]:
            self._turn(code)  # a container that nothing was asked of has its turn all the same
        self._tick(40)
        teller.record(k.RoundFinished, self.at)
        teller.round = ""
        return self.at

    def _tick(self, seconds: int) -> None:
        self.at += timedelta(seconds=self.teller.chance.randint(seconds // 2, seconds))

    def _at_stop(self, stop: Stop) -> None:
        if stop.wash_before:
            self._tick(60)
            self.teller.record(k.HandsWashed, self.at)
        if stop.where in self.skips and stop.place_kind == "container":
            self._tick(10)
            for due in stop.open_checks:
                self.teller.record(
                    k.StopSkipped,
                    self.at,
                    container=stop.where,
                    check=due.check,
                    why=self.skips[stop.where],
                )
            return
        self._turn(stop.where)
        for due in stop.open_checks:
            self._answer(due)

    def _turn(self, code: str) -> None:
        found = self.eggs.pop(code, 0)
        if found:
            self._tick(60)
            self.teller.record(
                k.Searched, self.at, container=code, found=found, aid="lens", where="host"
            )
        turn = self.turns.pop(code, None)
        if turn:
            self._tick(40)
            turn(self.at)
            self.at += timedelta(seconds=20)

    def _answer(self, due: Due) -> None:
        bench = self.teller.bench
        container = bench.at(due.where) if due.place_kind == "container" else None
        if due.place_kind == "container" and container is None:
            return
        if (
            due.check in ("drink", "feeder")
            and container is not None
            and not container.count("adult")
        ):
            return
        answer, number, second = self._chosen(due, container, question_for(bench, due))
        if answer is None or self._just_said(
            container, {"look": "looked", "eggs": "searched"}.get(due.check, "")
        ):
            return
        self._tick(25)
        for kind, fields in answer.says(AnswerContext(bench, due, self.at, number, second)):
            self.teller.record(kind, self.at, **fields)

    def _just_said(self, container: Container | None, kind: str) -> bool:
        last = container.last.get(kind) if container else None
        return last is not None and last.round == self.teller.round

    def _chosen(
        self, due: Due, container: Container | None, question: Question
    ) -> tuple[Answer | None, float | None, float | None]:
        by_key = {answer.key: answer for answer in question.answers}
        usual = next((answer for answer in question.answers if answer.usual), None)
        chance = self.teller.chance
        if due.check == "drink":
            return by_key["h" if chance.random() < 0.12 else "d"], None, None
        if due.check == "eggs":
            return by_key["0"], 0.0, None
        if due.check == "room":
            low = round(21.5 + chance.random() * 1.4, 1)
            return by_key["enter"], low, round(low + 3.2 + chance.random() * 1.5, 1)
        if due.check == "ants":
            return self._moat(due, by_key)
        if due.check in ("host", "food") and container is not None and container.hosts:
            seen = max((host.seen for host in container.hosts if host.seen), default=None)
            if seen and self.at - seen < timedelta(minutes=10):
                return None, None, None
            oldest = min(host.cut for host in container.hosts)
            if self.at - oldest > FRESH_FOR and container.hosts[-1].kept != "potted":
                return by_key["c"], None, None
        if due.check == "clean" and container is not None:
            return by_key["c"], float(container.count()), None
        if due.check == "count":
            return by_key["c"], None, None
        if due.check == "keep":
            return by_key["b"], None, None
        if due.check in ("heat", "leaf", "balance", "release", "turn"):
            return None, None, None
        return usual, None, None

    def _moat(
        self, due: Due, by_key: Mapping[str, Answer]
    ) -> tuple[Answer, float | None, float | None]:
        bench = self.teller.bench
        moat = (
            bench.shelves[due.where].moat
            if due.place_kind == "shelf"
            else bench.containers[due.where].moat
        )
        last = moat.depths[-1] if moat.depths else None
        if last is None:
            return by_key["p"], MOAT_FULL_MM, None
        days = (self.at - last.at).total_seconds() / 86_400
        depth = max(
            1.0,
            round(last.mm - days * MOAT_LOSS_MM_A_DAY + self.teller.readings.uniform(-0.3, 0.3), 1),
        )
        if due.where in self.shy:
            return by_key["k" if depth < 12 else "space"], depth, None
        return (by_key["p"], MOAT_FULL_MM, None) if depth < 15 else (by_key["space"], depth, None)
