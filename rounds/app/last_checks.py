"""The checks of each container as they were reckoned last, taken up at the next start.

They hold for the lines of which the bench was made then; what was said since touches some
containers, as it does at a desk that stays open, and these are reckoned again. They lie outside the
book, where this machine remembers things of it, and may be deleted at any time.
"""

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime, time
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeAlias, cast

import msgspec

from rounds.bench.incremental_fold import bytes_of, entries_of
from rounds.bench.zones import name_alone
from rounds.checks.due_state import Due, PlaceKind
from rounds.checks.kept_dues import KeptDues, Reckoned
from rounds.checks.plan import Plan, plan_of
from rounds.daybook.digests import blake2b
from rounds.daybook.lines import FileLine, Position
from rounds.daybook.safe_files import NOT_DECODED
from rounds.daybook.sealed import digest_of, keep_sealed, read_sealed
from rounds.daybook.unchanged import CHECKS, made_by

if TYPE_CHECKING:
    from rounds.bench.state import Bench, Container
    from rounds.checks.round_clock import Moment
    from rounds.entries.base import Entry
    from rounds.forecasts.foresight import Forecasts

_DIGEST = 16  # bytes
_NO_RULE = -1


class LinesOfBench(msgspec.Struct, array_like=True, frozen=True):
    """Of which lines a bench is made: a digest of what a checkpoint or a first reading held, and of
    each file how many lines were read since, with a digest of these."""

    before: bytes
    since: dict[str, tuple[int, bytes]]


# The fields of a check, in their order; in the place of its rule, which it is of those of the
# container, and of its last entry, of which kind it is the newest there, or all of it as text.
_Due: TypeAlias = tuple[
    str,
    PlaceKind,
    str,
    datetime,
    datetime | None,
    datetime | None,
    datetime | None,
    int,
    int,
    datetime | None,
    str,
    datetime | None,
    str,
    str,
    str,
]
_RULE, _LAST = (Due.__struct_fields__.index(name) for name in ("rule", "last"))


class _OfContainer(msgspec.Struct, array_like=True, gc=False):
    at: datetime
    until: datetime | None
    dues: tuple[_Due, ...]


class _Checks(msgspec.Struct, array_like=True):
    made_by: str
    zone: str
    anchors: tuple[tuple[str, time], ...]
    warm_until: datetime
    is_late_winter: bool
    latest: datetime
    of: dict[str, _OfContainer]


class _Kept(msgspec.Struct, array_like=True):
    lines: LinesOfBench
    checks: msgspec.Raw


class ReadSince:
    """What is read of a book from some position on.

    Args:
        position: how far each file had been read.
    """

    def __init__(self, position: Position) -> None:
        self._position = dict(position)
        self._sums: dict[str, tuple[int, Any]] = {}

    def add(self, lines: Sequence[FileLine]) -> None:
        """These were read too."""
        for _ in _added(self._sums, lines):
            pass

    @property
    def lines(self) -> LinesOfBench:
        """All of it."""
        pieces = {name: mark.all_pieces() for name, mark in sorted(self._position.items())}
        return LinesOfBench(
            digest_of(msgspec.msgpack.encode(pieces)),
            {name: (count, known.digest()) for name, (count, known) in self._sums.items()},
        )

    def beyond(
        self, known: LinesOfBench | None, lines: Sequence[FileLine]
    ) -> Iterator[bool] | None:
        """Of lines read first, whether each is beyond those known; None where these are not the
        beginning of what there is.

        Args:
            lines: in the order of each file, before they are added.
        """
        if known is None or self._sums or self.lines.before != known.before:
            return None
        sums: dict[str, tuple[int, Any]] = {}
        beyond, met = [], dict[str, tuple[int, bytes]]()
        for name, count, digest in _added(sums, lines):
            last = known.since.get(name, (0, b""))[0]
            beyond.append(count > last)
            if count == last:
                met[name] = count, digest()
        return iter(beyond) if met == known.since else None


def _added(
    sums: dict[str, tuple[int, Any]], lines: Sequence[FileLine]
) -> Iterator[tuple[str, int, Any]]:
    """Add lines to the running digests of their files, and tell of each the file, how many it has
    by then, and what gives the digest."""
    for line in lines:
        count, known = sums.get(line.file) or (0, blake2b(digest_size=_DIGEST))
        known.update(line.raw + b"\n")
        sums[line.file] = count + 1, known
        yield line.file, count + 1, known.digest


class LastChecks:
    """The checks of a book by the last reckoning of this machine.

    Args:
        beside: where this machine remembers things of the book, without an ending.
    """

    def __init__(self, beside: Path) -> None:
        self._path = beside.with_suffix(CHECKS)
        self._made_by = ""
        self._kept = read_sealed(self._path, _Kept)
        # the containers that lines since touch, each with when it was looked at last before; None
        # where they may touch anything
        self.touched: Mapping[str, datetime] | None = None

    def begin(self, position: Position) -> None:
        """The bench is made of what was read up to here; what is read first from here on is held
        against the lines for which these checks hold."""
        self.go_on(position)
        self._reads_first = True

    def go_on(self, position: Position) -> None:
        """What was read so far is what a checkpoint holds."""
        self._read_since = ReadSince(position)

    def known_of(self, lines: Sequence[FileLine], entries: Sequence["Entry"]) -> set[str] | None:
        """Of what was read first since the bench was recalled, the ids of what was known when these
        were reckoned; None where they do not hold.

        Args:
            entries: those of the lines that could be read.
        """
        is_first, self._reads_first = self._reads_first, False
        known = self._kept.lines if is_first and self._kept else None
        beyond = self._read_since.beyond(known, lines)
        self._read_since.add(lines)
        if beyond is None or len(entries) < len(lines):
            return None
        pairs = zip(entries, beyond, strict=True)
        return {entry.id for entry, is_beyond in pairs if not is_beyond}

    def of(
        self, bench: "Bench", moment: "Moment", foresight: "Forecasts", *, is_whole: bool
    ) -> dict[str, Reckoned]:
        """What was reckoned of each container and holds; nothing where it was reckoned under
        anything else.

        Args:
            is_whole: whether all is there by which it is reckoned.
        """
        from rounds.checks.due import is_late_winter

        self._made_by = self._made_by or made_by()
        if self._kept is None or self.touched is None or not is_whole:
            return {}
        try:
            known = msgspec.msgpack.decode(self._kept.checks, type=_Checks)
        except NOT_DECODED:
            return {}
        under = (self._made_by, name_alone(moment.zone), moment.anchors, foresight.until)
        if under != (known.made_by, known.zone, known.anchors, known.warm_until):
            return {}
        if known.latest > moment.now or known.is_late_winter != is_late_winter(bench, moment):
            return {}
        plan, found = plan_of(bench), dict[str, Reckoned]()
        anew = foresight.looked_at(self.touched)
        for code, one in known.of.items():
            container = None if code in anew else bench.at(code)
            if container is not None and (dues := _taken_up(one.dues, container, plan)) is not None:
                found[code] = Reckoned(dues, one.at, one.until)
        return found

    def keep(self, bench: "Bench", kept: KeptDues, foresight: "Forecasts") -> None:
        """Remember what holds at other instants too of what was reckoned of the bench that is made
        of the lines read by now."""
        zone, anchors, _, _, is_late_winter = kept.under
        name = name_alone(zone)
        if not name or not self._made_by or kept.latest is None:
            return
        plan, rules = plan_of(bench), dict[str, dict[Any, int]]()
        of: dict[str, _OfContainer] = {}
        for code, one in kept.all_of(bench):
            container = bench.at(code)
            if container is None or one.by_the_hour:
                continue
            own = code if code in plan.own_codes else f" {container.purpose}"
            if own not in rules:
                rules[own] = {rule: at for at, rule in enumerate(plan.rules_for(container))}
            dues = [_written(due, container, rules[own]) for due in one.dues]
            if None not in dues:
                written = tuple(due for due in dues if due is not None)
                of[code] = _OfContainer(one.at, one.until, written)
        checks = _Checks(
            self._made_by, name, anchors, foresight.until, is_late_winter, kept.latest, of
        )
        lines = self._read_since.lines
        keep_sealed(self._path, _Kept(lines, msgspec.Raw(msgspec.msgpack.encode(checks))))


def _written(due: Due, container: "Container", rules: Mapping[Any, int]) -> _Due | None:
    """A check without what the bench and the plan have; None where they do not have its rule."""
    rule = _NO_RULE if due.rule is None else rules.get(due.rule)
    if rule is None:
        return None
    values: list[Any] = list(msgspec.structs.astuple(due))
    values[_RULE] = rule
    values[_LAST] = "" if due.last is None else _entry_written(due.last, container)
    return cast("_Due", tuple(values))


def _entry_written(entry: "Entry", container: "Container") -> str:
    is_newest = container.last.get(entry.what) is entry
    return entry.what if is_newest else bytes_of([entry]).decode()


def _taken_up(dues: Sequence[_Due], container: "Container", plan: Plan) -> tuple[Due, ...] | None:
    """The checks of a container with what the bench and the plan have of them; None where they have
    it no longer."""
    rules, newest = plan.rules_for(container), container.last
    found = []
    for one in dues:
        values: list[Any] = list(one)
        rule, last = values[_RULE], values[_LAST]
        is_text = last.startswith("[")
        if rule >= len(rules) or not (is_text or not last or last in newest):
            return None
        values[_RULE] = None if rule == _NO_RULE else rules[rule]
        values[_LAST] = entries_of(last.encode())[0] if is_text else newest.get(last)
        found.append(Due(*values))
    return tuple(found)
