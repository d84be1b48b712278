"""The round: begun, skipped, finished; checks put off."""

from collections.abc import Iterator
from datetime import datetime
from typing import Annotated, Any

from msgspec import Meta

from rounds.bench.dates import end_beside
from rounds.bench.folding.lots import note_inconsistency
from rounds.bench.folding.rounds import round_of
from rounds.bench.measures import Measures
from rounds.bench.movements import A_DAY
from rounds.bench.plurals import count
from rounds.bench.state import Bench, Round
from rounds.entries.base import Code, Entry, Saying
from rounds.entries.check_labels import label_of, named_check
from rounds.entries.slots import Slots, say
from rounds.entries.validation import clock_words
from rounds.entries.wording import comma_joined

MAX_ROUNDS = 120
NOT_COUNTABLE = "counted: not possible"  # with what the reason begins
_PARTS = (
    "plant, leaf, leaves, stem, stems, bud, buds, flower, flowers, flower head, flower heads,"
    " seed head, seed heads, pod, pods, fruit, fruits, seed, seeds, mine, mines, gall, galls"
)
_IN_THE_PLANT = ", ".join(
    [
        "larvae inside, larvae hidden, larvae mining, inside leaf, inside plant",
        *(
            f"larvae {where} {part}"
            for where in ("inside", "in", "inside the", "in the")
            for part in _PARTS.split(", ")
        ),
    ]
)
ROUNDS_KEPT_WHOLE = 4  # of the older ones only their times and skipped stops matter


class RoundStarted(Entry, frozen=True, kw_only=True, tag="round started"):
    """One walk along the bench begins; its name goes with every entry recorded in it."""

    name: Annotated[str, Meta(min_length=1, max_length=20, description="morning, midday, evening")]
    minutes: Annotated[
        float,
        Meta(ge=0, le=1440, description="how long it may take; as long as it takes if not given"),
    ] = 0
    later: Annotated[
        tuple[str, ...], Meta(description="what is asked only if time is left, as 'K3: drink'")
    ] = ()

    only_here = True
    slots = Slots(words=("name",))

    def effect(self, bench: Bench) -> None:
        """A walk begins; one before it that nobody ended stays as it was left."""
        bench.rounds.append(
            Round(
                self.id,
                self.name,
                self.at,
                self.by,
                answered=self.at,
                spoken=self.logged,
                minutes=self.minutes,
                later=self.later,
            )
        )
        del bench.rounds[:-MAX_ROUNDS]
        for walk in bench.rounds[-ROUNDS_KEPT_WHOLE - 1 : -ROUNDS_KEPT_WHOLE]:
            walk.said, walk.done = [], []

    def wording(self, measures: Measures) -> str:
        left = f"{count(len(self.later), 'check')} left for later" if self.later else ""
        return comma_joined(
            f"{self.name} round started", f"{self.minutes:g} min" if self.minutes else "", left
        )


class StopSkipped(Entry, frozen=True, kw_only=True, tag="skipped"):
    """A stop, or one check of it, passed over, with the reason; it comes back."""

    why: Annotated[
        str,
        Meta(min_length=1, max_length=200, description="no light, asleep, do not disturb, no time"),
    ]
    container: str = ""
    shelf: str = ""
    check: Annotated[
        str, Meta(max_length=40, description="which check; all of them if not given")
    ] = ""

    is_look = False
    of_now = True
    only_here = True
    slots = Slots(words=("why",), verbs=("skip",))

    def refusals(self, bench: Bench) -> Iterator[str]:
        return _within_a_round(bench, self)

    def effect(self, bench: Bench) -> None:
        walk = round_of(bench, self.round)
        if walk:
            walk.skipped.append((self.container or self.shelf, self.check, self.why))

    def wording(self, measures: Measures) -> str:
        return comma_joined(f"skipped {label_of(self.check)}".strip(), self.why)


class RoundFinished(Entry, frozen=True, kw_only=True, tag="round finished"):
    """The walk is done."""

    only_here = True

    def refusals(self, bench: Bench) -> Iterator[str]:
        return _within_a_round(bench, self)

    def effect(self, bench: Bench) -> None:
        walk = round_of(bench, self.round)
        if walk is None:
            note_inconsistency(bench, self, "a round was finished that never began", fits=True)
            return
        walk.finished = self.at


class PutOff(Entry, frozen=True, kw_only=True, tag="put off"):
    """A check put off until a time, with the reason."""

    check: Code
    until: datetime
    why: Annotated[str, Meta(min_length=1, max_length=200, description="why")]
    container: str = ""
    shelf: str = ""

    is_look = False
    of_now = True
    slots = Slots(
        words=("check",),
        leading={"until": "until"},
        synonyms=say(
            "not countable, uncountable, cannot be counted, could not be counted, not counted,"
            " counted not possible, count not possible, counted not known, count not known",
            check="count",
            why=NOT_COUNTABLE,
        )
        | say(
            _IN_THE_PLANT,
            check="count",
            why=f"{NOT_COUNTABLE}, larvae inside plant",
        ),
    )

    @classmethod
    def defaults(cls, bench: Bench, said: dict[str, Any], at: datetime) -> list[Saying]:
        return [(cls, {"until": at + A_DAY} | said | named_check(said))]

    def refusals(self, bench: Bench) -> Iterator[str]:
        if self.until <= self.at:
            yield "'until' must be later than now, as +2h"

    def effect(self, bench: Bench) -> None:
        """A check put off; an older putting-off of the same check no longer matters."""
        bench.put_off = [
            put_off
            for put_off in bench.put_off
            if (put_off.check, put_off.container, put_off.shelf)
            != (self.check, self.container, self.shelf)
        ]
        bench.put_off.append(self)

    def wording(self, measures: Measures) -> str:
        return comma_joined(
            f"{label_of(self.check)} put off until {end_beside(self.until, self.at)}", self.why
        )


def _within_a_round(bench: Bench, entry: RoundFinished | StopSkipped) -> Iterator[str]:
    walk = bench.open_round
    if walk is None:
        yield "no round is open; start one first"
    elif walk.id != entry.round:
        yield (
            f"the {walk.name} round ended {clock_words(walk.answered, entry)}, at its last answer;"
            " begin the next one first"
        )
