"""What a check is: one declaration holds all of it, and everything that asks, explains or records
works on that."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime
from typing import Any, Literal, Protocol

from msgspec import Struct
from msgspec.structs import force_setattr, replace

from rounds.bench.state import Bench, Container, Lot
from rounds.checks.due_state import Due, PlaceKind
from rounds.checks.facts import DueContext, Facts, always, left_be_until, others_move
from rounds.checks.question import Question
from rounds.checks.reckon import Reckoner, TimedRule, plain
from rounds.checks.round_clock import Moment
from rounds.checks.rule import Rule
from rounds.entries.check_labels import label_of
from rounds.forecasts.moats import MoatDuration

What = Literal[
    "hatch",
    "moult",
    "pupation",
    "emergence",
    "change cut",
    "look at plant",
    "moat low",
    "release by",
    "permit ends",
    "do not disturb ends",
    "keep until",
]


AtStake = Literal[
    "animals",
    "females",
    "eggs",
    "eggs about to hatch",
    "larvae",
    "larvae that eat",
    "pupae",
    "eggs and pupae",
    "kept stems",
    "eggs to be laid",
    "nothing",
]


class Value(Struct, frozen=True):
    """Where the worth of a check starts from, all of it our estimate; a book's own answers move it.

    Args:
        seconds: what an answer takes with all that is done for it; of one female where it is asked
            of each.
        chance: that the answer is not as usual, where no hours tell it; of a check that is an act,
            1: it wants doing.
        lost: the chance that each of those at stake is lost by the next round where the answer
            would not be as usual and is not given; more by the danger hours of the plan.
        at_stake: whom it is about.
        eases: it keeps order only: where it never finds anything it may be asked half as often.
    """

    seconds: float = 20.0
    chance: float = 0.1
    lost: float = 0.005
    at_stake: AtStake = "animals"
    eases: bool = False


class RuleOf(Protocol):
    """The rule of a check with a condition, as the plan has it for a container, else for the book;
    None where it is off."""

    def __call__(self, condition: str, container: Container | None = None) -> TimedRule | None: ...


class Helped(Struct, frozen=True):
    """What somebody who knows nothing of insects is asked to do, on the helper's sheet.

    Args:
        words: what is done, in plain words; of a plant with where it is taken from in place of
            ``{}``.
        name: what it is called among the tasks of a sheet; the check's own name where empty.
        opens: the lid is lifted for it.
        touches: hands touch plants, which may irritate.
        outside: done from outside, also where a container is not to be opened.
        plant: a plant is wanted for it.
        pad: a sugar pad is wanted for it.
        within: the tasks that give the same, where they are asked at the same visits.
        also_by: the other tasks that answer it.
    """

    words: str
    name: str = ""
    opens: bool = False
    touches: bool = False
    outside: bool = False
    plant: bool = False
    pad: bool = False
    within: tuple[str, ...] = ()
    also_by: tuple[str, ...] = ()


class SupplyUse(Struct, frozen=True):
    """Something used up at one place in one round: sprigs, solution, swabs, tubes or lining, ``of``
    which, how many, where."""

    at: datetime
    what: str
    of: str
    number: float
    words: str


class Check(Struct, frozen=True):
    """Something to do or to look at.

    Args:
        name: what entries, plan and data call it; on screens it is its ``label``.
        help: why it is asked, in a sentence.
        severity: 3 where animals die of it within a day, 2 where they suffer, 1 where only order
            does.
        place: within a stop the lower is asked first, where none is worse: up to 40 what endangers
            the place, up to 130 females, up to 230 the brood and its plants, then what only order
            wants.
        rules: when it is due, by purpose, stage and condition.
        question: what is asked, and what each answer key records.
        answered_by: kinds of entry that answer it; the newest of them starts its hours again.
        closed_by: kinds that settle the question for this walk, though the hours go on.
        closes: in a walk, a question closes once it was answered; or only 'better', so that an
            answer that saw what makes it urgent leaves it open until it is put right; or only when
            it is 'gone'.
        once_more: in a walk, an answer that first saw what makes it late is asked about once more,
            so that it is put right while somebody stands there; who was asked about it as late
            already has answered.
        disturbs: not asked while the container is not to be disturbed.
        along: takes a moment where somebody stands there anyway: asked along a round early.
        by_animals: called by its animals where one look answers several checks: larvae and food.
        around: asked then all the same where other larvae move: it is done round those that do not.
        discards: its answers may throw away plants or paper, on which one that is missing may sit.
        of_unseen: asked also for animals that a count did not see, which may sit in the plant.
        in_passing: answered in passing by an entry that was said for something else; asked only
            while due.
        own_end: an answer does not start its hours again: what it asks about has an end of its own.
        needs: what must hold for any of its rules to be asked of a container.
        about: which of the adults in a container it is about, if not all.
        reckon: when it is due in a container that a rule fits.
        of_bench: in place of ``reckon``: all of it on a bench, where it goes by no container's
            facts.
        ask: the question as it fits what is there, and when it is asked if that is known; without
            it as it stands.
        through_lid: the question while the container is not to be disturbed; without it as it
            stands.
        glance: what one look without touching has seen if the usual answer holds, in a few words;
            empty where a look alone cannot tell, or where something is known that wants an answer
            of its own.
        at_risk: what is in danger and what to do, the longest first, where neither its name nor the
            reason for its hours says so.
        leads: its question stands for all that one look answers there.
        helped: what a helper is asked to do, its own task first; empty where only a keeper may
            decide.
        cautions: the usual cautions that go with it: names of ``views/cautions.py``, or one of its
            own in full.
        first_cautions: those that stand at the question itself, the first time in a round.
        goes_before: of which other checks of a stop it is asked no later than the worst.
        partly: whether an answer was only of some of the animals, so that it stays open.
        elsewhere: whether one is asked of another place in the walk.
        asked_of: of which place it is asked if a keeper asks for it at a container.
        last_words: what 'last' says besides the entry.
        lasts: how long it lasts once it is put right on leaving, where something else than its
            hours tells.
        uses: what is used up when it is done in a round.
        done_at: in which of the coming rounds it is done, where its hours do not tell.
        before_leaving: to be done before an absence, always or if it falls due in it, and not only
            if it is due by then.
        value: what it takes and what is lost without it, before this book has answers of its own.
        undone: what animals have not had while it was not done, said of several and of one, and
            what is not on record where it never was: 'not drunk', 'has not drunk', 'drink'.
        not_yet: what stands for the last answer where there is none.
        coming: what its end is called among all that is coming; None where it is not told there.
    """

    name: str
    help: str
    severity: int
    place: int
    rules: tuple[Rule, ...]
    question: Question
    answered_by: tuple[str, ...]
    closed_by: tuple[str, ...] = ()
    closes: Literal["answered", "better", "gone"] = "answered"
    once_more: bool = False
    disturbs: bool = False
    along: bool = False
    by_animals: bool = False
    around: bool = False
    discards: bool = False
    of_unseen: bool = False
    in_passing: bool = False
    own_end: bool = False
    needs: Callable[[Facts], bool] = always
    about: Callable[[DueContext, Lot], bool] | None = None
    reckon: Reckoner = plain
    of_bench: Callable[[DueContext, RuleOf], Iterator[Due]] | None = None
    ask: Callable[[Bench, Due, Container | None, datetime | None], Question] | None = None
    through_lid: Callable[[Question, Container], Question] | None = None
    glance: Callable[[Bench, Due, Container, datetime], str] | None = None
    at_risk: tuple[str, ...] = ()
    leads: bool = False
    helped: tuple[Helped, ...] = ()
    cautions: tuple[str, ...] = ()
    first_cautions: tuple[str, ...] = ()
    goes_before: Callable[[Check], bool] | None = None
    partly: Callable[[Bench, Container, Due, Moment], bool] | None = None
    elsewhere: Callable[[Due], bool] | None = None
    asked_of: Callable[[Bench, Container], tuple[PlaceKind, str]] | None = None
    last_words: Callable[[Bench, Container, Moment], str] | None = None
    lasts: Callable[[Bench, Due], MoatDuration | None] | None = None
    uses: Callable[[Bench, Container, Due, datetime], list[SupplyUse]] | None = None
    done_at: Callable[[Container, Due, list[datetime]], list[datetime]] | None = None
    before_leaving: Literal["", "always", "if it comes"] = ""
    value: Value = Value()
    undone: tuple[str, str, str] | None = None
    not_yet: str = "not recorded yet"
    coming: What | None = None

    def __post_init__(self) -> None:
        named: tuple[Any, ...] = tuple(replace(rule, check=self.name) for rule in self.rules)
        force_setattr(self, "rules", named)
        tasks = tuple(replace(helped, name=helped.name or self.name) for helped in self.helped)
        force_setattr(self, "helped", tasks)

    @property
    def label(self) -> str:
        """What it is called wherever a keeper reads it."""
        return label_of(self.name)

    def waits_until(self, container: Container, now: datetime) -> datetime | None:
        """Until when it is not asked, for those that are not to be disturbed; None where it is."""
        if not self.disturbs or (self.around and others_move(container)):
            return None
        return left_be_until(container, now)

    @property
    def purposes(self) -> frozenset[str]:
        """The purposes that any of its rules names."""
        return frozenset(purpose for rule in self.rules for purpose in rule.purposes)

    @property
    def has_limit(self) -> bool:
        """Whether it must be over by a time."""
        return any(rule.before_limit for rule in self.rules)
