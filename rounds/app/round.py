"""One walk at a desk: which stop is in front, what it asks, and what each answer says.

The round's screen and its plain lines both walk with this, so that they write the same entries.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from msgspec.structs import replace

from rounds.app.answer_outcome import led_to
from rounds.app.desk import Desk, Outcome, Refusal
from rounds.bench.equal_parts import equal_shares, too_few
from rounds.bench.state import Container, Round
from rounds.checks.due_state import Due
from rounds.checks.glance import glanced
from rounds.checks.question import Amount, Answer, AnswerContext, Question
from rounds.checks.walk import Stop, left_before, stops, to_wash, worst_elsewhere
from rounds.entries import registry as k
from rounds.entries.base import Entry, Saying
from rounds.views.cells import Cell, Line
from rounds.views.round_page import RoundPage, StopSources, is_open, left_words, round_page
from rounds.views.words import literal

SAY_WHY = "say why, in a word or two"
# seen at the last check of a stop, a cup is likely marked suspect
SUSPICIOUS = frozenset({"mould", "weak"})
NOT_KNOWN = "the plant is not known here yet; type it: plant, part, how kept"


class Walking:
    """The open round of a desk, seen stop by stop.

    Args:
        glances: whether what one look answers is asked at once; else each check is asked by itself.
        pauses: whether a short round shows what it left out before it goes on with that.
    """

    def __init__(self, desk: Desk, *, glances: bool = True, pauses: bool = False) -> None:
        self.desk = desk
        self._pauses = pauses
        self._glances = glances
        self._one_by_one = ""  # the stop where each check is asked by itself
        self.stops: tuple[Stop, ...] = ()
        self.place = 0
        self._washing = False
        self._looking_at = ""  # a stop looked at out of turn

    @property
    def walk(self) -> Round | None:
        """The round that is under way."""
        return self.desk.open_round

    def see(self) -> RoundPage | None:
        """The page of the present stop, worked out from the desk; None where no round is open."""
        walk = self.walk
        if walk is None:
            return None
        moment = self.desk.moment()
        dues = self.desk.dues()
        self.stops = stops(self.desk.bench, moment, walk, dues)
        self.place = self._present()
        stop = self.stop
        washed = stop is None or not to_wash(self.desk.bench, walk, stop)
        glances = self._glances and (stop is None or key_of(stop) != self._one_by_one)
        struck = self.desk.struck
        entries = (entry for entry in reversed(self.desk.entries()) if entry.id not in struck)
        left = left_before(self.desk.bench, moment, self.desk.bench_of)
        known = StopSources(
            tuple(dues), self.desk.foresight, entries, left=left, is_whole=not self.desk.gaps
        )
        page = round_page(
            self.desk.bench,
            moment,
            walk,
            self.stops,
            self.place,
            washed,
            known,
            glances=glances,
            pauses=self._pauses,
        )
        self._washing = page.wash
        just_seen = self._just_seen()
        if just_seen is None:
            return page
        words = (
            f"suspect now means {literal(just_seen.code)}, where {just_seen.sign} was seen just now"
        )
        care = (Line((Cell(f"  {words}"),), hang=2), *page.below.care)
        return replace(page, below=replace(page.below, care=care))

    def over_words(self) -> str:
        """That the last round is over, to one for whom it was still open."""
        walks = self.desk.bench.rounds
        if not walks:
            return ""
        moment = self.desk.moment()
        left = left_before(self.desk.bench, moment, self.desk.bench_of)
        if left is not None:
            return " ".join(left_words(left, moment))
        by = f" by {literal(walks[-1].by)}" if walks[-1].by else ""
        at = moment.clock(walks[-1].ended)
        return f"The {literal(walks[-1].name)} round begun{by} was ended {at}."

    def _present(self) -> int:
        """The stop looked at out of turn, else the first with anything left to ask."""
        for place, stop in enumerate(self.stops):
            if self._looking_at and key_of(stop) == self._looking_at:
                return place
        return next(
            (position for position, stop in enumerate(self.stops) if is_open(stop)), len(self.stops)
        )

    @property
    def stop(self) -> Stop | None:
        """The stop in front; None at the end of the walk."""
        return self.stops[self.place] if self.place < len(self.stops) else None

    @property
    def here(self) -> str:
        """The container of this stop; none while hands are to be washed first, for none is
        shown."""
        return (
            self.stop.where
            if self.stop and self.stop.place_kind == "container" and not self._washing
            else ""
        )

    def answered(self) -> RoundPage | None:
        """The page after an answer: the next question, or the next stop once this one has nothing
        left to ask."""
        before = self.stop
        page = self.see()
        now_at = self.stop
        if before and now_at and key_of(before) == key_of(now_at) and not now_at.open_checks:
            self.in_turn()
            page = self.see()
        return page

    def stay(self) -> RoundPage | None:
        """The page of the stop that is in front, whatever came before it meanwhile; the next one's
        where this walk stops there no more."""
        stop, looked_at = self.stop, self._looking_at
        page = self.see()
        if stop is not None and self.stop is not None and key_of(self.stop) != key_of(stop):
            self._looking_at = key_of(stop)
            page = self.see()
            if key_of(self.stop or stop) != key_of(stop):
                self._looking_at = looked_at
        return page

    def last_of(self, stop: str) -> Entry | None:
        """The newest line that counts about the place of a stop (its ``key_of``)."""
        kind, _, where = stop.partition(" ")
        field = kind if kind in ("container", "shelf") else ""
        return next(
            (
                entry
                for entry in reversed(self.desk.entries())
                if entry.id not in self.desk.struck
                and (not field or getattr(entry, field, "") == where)
            ),
            None,
        )

    def go_on(self) -> None:
        """Go on with what a short round left out."""
        self._pauses = False

    def in_turn(self) -> None:
        """Look at no stop out of turn any more."""
        self._looking_at = ""

    def look(self, steps: int) -> None:
        """Look at a stop further on or back without answering."""
        position = self.place + steps
        self._looking_at = key_of(self.stops[position]) if 0 <= position < len(self.stops) else ""

    def go_to(self, code: str) -> bool:
        """Look at the stop of a container; False where this walk does not stop there."""
        result = next(
            (stop for stop in self.stops if stop.place_kind == "container" and stop.where == code),
            None,
        )
        if result is not None:
            self._looking_at = key_of(result)
        return result is not None

    def go_to_worst(self) -> bool:
        """Look at the stop that is worst: in danger, else urgent; False where none is worse than
        this one."""
        worst = worst_elsewhere(self.stops, self.place, self.desk.moment().now)
        if worst is not None:
            self._looking_at = key_of(self.stops[worst[0]])
        return worst is not None

    def ask_one_by_one(self) -> bool:
        """At this stop ask each check by itself, or again at once what one look answers; False
        where that is the same."""
        stop = self.stop
        if stop is None or not glanced(self.desk.bench, stop.open_checks, self.desk.now()):
            return False
        self._one_by_one = "" if self._one_by_one == key_of(stop) else key_of(stop)
        return True

    def skip(
        self, dues: Sequence[Due], why: str, *, whole_stop: bool, at: datetime | None = None
    ) -> Outcome:
        """Pass over these checks of this stop, or all that are open, with the reason."""
        stop = self.stop
        if stop is None or not why.strip():
            return Refusal(SAY_WHY)
        checks = stop.open_checks if whole_stop else dues
        place = {stop.place_kind: stop.where} if stop.place_kind in ("container", "shelf") else {}
        self.in_turn()
        return self.desk.say_many(
            [(k.StopSkipped, place | {"check": due.check, "why": why.strip()}) for due in checks],
            at=at,
        )

    def suspect(self) -> Outcome:
        """Mark the container suspect, or the one just left at which a bad sign was seen: it goes to
        the end of the walk now."""
        just_seen = self._just_seen()
        code = just_seen.code if just_seen is not None else self.here
        if not code:
            return Refusal("only a container can be suspect")
        self.in_turn()
        return self.desk.record(k.Suspect, container=code)

    def _just_seen(self) -> Container | None:
        """The container that the walk left at the last answer, if that was a sign that makes it
        suspect; the walk goes on before a second key can be pressed."""
        walk = self.walk
        if walk is None or not walk.done or self._looking_at:
            return None
        where, kind = walk.done[-1]
        left = self.desk.bench.at(where)
        is_bad = (
            left is not None
            and kind == "looked"
            and left.sign in SUSPICIOUS
            and left.suspect_since is None
        )
        return left if is_bad and (self.stop is None or where != self.stop.where) else None


NOTHING_WORSE = "no other stop of this round is worse than this one"


def key_of(stop: Stop) -> str:
    """What tells a stop from all others."""
    return f"{stop.place_kind} {stop.where}"


def context_of(desk: Desk, due: Due, amount: Amount, now: datetime) -> AnswerContext:
    """A check as it is answered at the desk, with what was typed."""
    return AnswerContext(
        desk.bench, due, now, amount.number, amount.second, desk.foresight, amount.every
    )


def led_to_all(
    desk: Desk, answer: Answer, dues: Sequence[Due], amount: Amount, now: datetime
) -> list[Saying] | Question | str:
    """What an answer says of each check it is given to; or what must be answered first, or why it
    records nothing.

    Empty where a known plant is wanting.
    """
    all_said: list[Saying] = []
    for due in dues:
        led = led_to(answer, context_of(desk, due, amount, now), alone=len(dues) == 1)
        if not isinstance(led, list):
            return led
        all_said += led
    return _with_stems_shared(all_said, amount, len(dues))


def _with_stems_shared(said: list[Saying], amount: Amount, among: int) -> list[Saying] | str:
    """Stems counted once for several containers are shared among them; what goes back in each by
    itself is not."""
    new = [
        position
        for position, (kind, fields) in enumerate(said)
        if kind is k.HostIn and fields.get("sprigs") == amount.number
    ]
    if among < 2 or amount.number is None or len(new) != among:
        return said
    stems = round(amount.number)
    if wrong := too_few(stems, among):
        return wrong
    shared = dict(zip(new, equal_shares(stems, among), strict=True))
    return [
        (kind, fields | {"sprigs": shared[place]} if place in shared else fields)
        for place, (kind, fields) in enumerate(said)
    ]
