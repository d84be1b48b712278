"""What a check is worth: the chance that its answer is not as usual, what is lost if it is left
until the next round, and the seconds that it takes.

    lost if left = at stake x chance that the answer is not as usual x chance that one is lost of it
    until the next round

Each is explained by ``Worth`` itself. The chance is that of this book's own answers to the question
by stage, plant and hours since the last, drawn towards a starting estimate; the chance that one is
lost goes by the danger hours of the plan, else by an estimate of the check (``Value``), more the
later it is. It puts checks in an order; no animal was counted for it.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from math import erf, exp, log, sqrt

from msgspec import Struct
from msgspec.structs import replace

from rounds.bench.folding.looks_made import OF_EACH_FEMALE, key_of, seconds_made, since_last
from rounds.bench.folding.not_seen import as_if_seen, may_hide
from rounds.bench.folding.signs import still_eat
from rounds.bench.plurals import count, of_stage
from rounds.bench.state import STAGES, Bench, Container, Looks
from rounds.checks.base import AtStake
from rounds.checks.due_state import Due, container_of
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment, utc
from rounds.checks.rule import LAYING
from rounds.checks.time_format import chance_words
from rounds.entries.base import Stage
from rounds.entries.registry import KIND_BY_NAME
from rounds.forecasts.foresight import Forecasts
from rounds.forecasts.stage_ends import ComingChange
from rounds.grouping import summed

START_LOOKS = 8  # a starting estimate counts as much as so many answers; our estimate
START_TIMED = 5
LOST_AN_HOUR = 0.04  # of animals in danger; our estimate
# of the hours until danger, as a share of them: it comes sooner or later than the plan says; our
# estimate
SPREAD = 0.25
LATE_SPREAD = 0.35  # of the hours until a check is late
# how many times more is lost of a check without danger hours, however late it is; our estimate
MAX_LATE = 5.0
MAX_HIDDEN = 10.0
ONE: dict[AtStake, str] = {
    "animals": "animal",
    "females": "female",
    "eggs": "egg",
    "eggs about to hatch": "egg about to hatch",
    "larvae": "larva",
    "larvae that eat": "larva that eats",
    "pupae": "pupa",
}
SEVERAL: dict[AtStake, str] = {"kept stems": "eggs that may be on kept stems"}
HIDDEN = "hidden"
COUNTED: dict[AtStake, tuple[Stage, ...]] = {
    "animals": STAGES,
    "eggs": ("egg",),
    "larvae": ("larva",),
    "pupae": ("pupa",),
    "eggs and pupae": ("egg", "pupa"),
    "kept stems": (),
}
ON_STEMS: tuple[AtStake, ...] = ("animals", "eggs and pupae", "kept stems")
NINE_IN_TEN = 1.645  # standard deviations to either side of the mean that hold nine in ten
EGGS_A_ROUND = 2.0  # that a female lays between two rounds; our estimate
# lost with a female that is to lay, of those that would live; our estimate
EGGS_TO_COME = 10.0


class Worth(Struct, frozen=True):
    """What one check is worth now, with all that it was reckoned from.

    Args:
        found, looks: of this book's answers that are alike (question, stage, plant, hours), so many
            found something.
        start: the chance before any of them; ``chance`` is what both give.
        among: of which stages those at stake are, the eggs that kept stems may bear apart.
        weighs: as how many animals one of them counts: with a female that is to lay her eggs are
            lost.
        other_found, other_looks: those of them with other plants, which draw the start before the
            others do.
        stake: how many are at stake, ``of`` what; ``sex_known`` unless nobody knows of some that
            count as females whether they are.
        each: the chance that one of them is lost until the next round, the answer not being as
            usual.
        seconds: that it takes; ``timed`` so many answers of this book in rounds.
    """

    found: int
    looks: int
    start: float
    chance: float
    stake: float
    of: AtStake
    each: float
    seconds: float
    timed: int
    other_found: int = 0
    other_looks: int = 0
    sex_known: bool = True
    weighs: float = 1.0
    among: tuple[tuple[str, float], ...] = ()

    @property
    def lost(self) -> float:
        """How many are lost, on the average, if it is left until the next round."""
        return self.stake * self.weighs * self.chance * self.each

    @property
    def words(self) -> str:
        """All of it in a few words."""
        looked = (
            f"{self.found} of {count(self.looks, 'look')} found something"
            if self.looks
            else "no answer is counted under this rule yet"
        )
        stake = "" if self.of == "nothing" or not self.stake else self._stake_in_short
        return "; ".join(
            part for part in (looked, stake, f"about {duration(self.seconds)}") if part
        )

    @property
    def _stake_in_short(self) -> str:
        """How many of what in whole animals: ``6 animals at stake``, ``about 3 eggs may hatch``."""
        whole = round(self.stake)
        about = replace(self, stake=float(max(whole, 1)))._at_stake
        if whole != self.stake:
            about = f"{'about' if self.stake >= 1 else 'at most'} {about}"
        if self.of == "eggs about to hatch":
            return f"{about.removesuffix(' about to hatch')} may hatch before the next round"
        return f"{about} at stake"

    @property
    def _at_stake(self) -> str:
        """How many of what."""
        one, several = ONE.get(self.of, self.of), SEVERAL.get(self.of, str(self.of))
        if not self.sex_known:
            one, several = "adult that may be a female", "adults that may be females"
        return f"{self.stake:.3g} {one if self.stake == 1 else several}"

    @property
    def _made_of(self) -> str:
        """How those at stake come to be so many, where their name does not say it."""
        if self.of == "eggs about to hatch":
            return " (by the forecast, those that hatch before the next round)"
        if self.of == "kept stems" or (len(self.among) == 1 and self.among[0][0] != HIDDEN):
            return ""
        parts = [
            f"{number:.3g} {SEVERAL['kept stems']}" if of == HIDDEN else of_stage(int(number), of)
            for of, number in self.among
        ]
        return f" ({', '.join(parts)})" if parts else ""

    @property
    def arithmetic(self) -> str:
        """How it was reckoned, with where each number is from."""
        own = f"{self.found} of {self.looks} in your records, " if self.looks else ""
        own += (
            f"{self.other_found} of {self.other_looks} with other plants, "
            if self.other_looks
            else ""
        )
        chance = (
            f"{chance_words(self.chance)} chance that it is not as usual"
            f" ({own}a starting estimate of {chance_words(self.start)} counted as"
            f" {START_LOOKS} looks)"
            if self.start < 1.0
            else "100 % (it needs doing whatever is found)"
        )
        timed = f"{self.timed} timed in your rounds" if self.timed else "estimate"
        eggs = f" x {self.weighs:g} with the eggs to come (estimate)" if self.weighs > 1 else ""
        return (
            f"{self._at_stake}{self._made_of}{eggs}"
            f" x {chance}"
            f" x {chance_words(self.each)} lost until the next round (estimate)"
            f" = {self.lost:.2g} lost if left; {self.seconds:.0f} s ({timed})"
        )


def duration(seconds: float) -> str:
    """A short time in words."""
    return f"{seconds:.0f} seconds" if seconds < 90 else f"{seconds / 60:.0f} minutes"


def question_of(check: str) -> str:
    """The question whose answers a check counts."""
    kinds = CHECKS[check].answered_by
    return next((kind.answers for name in kinds if (kind := KIND_BY_NAME[name]).answers), "")


def seconds_of(bench: Bench, due: Due) -> float:
    """How long a check takes [s], the way to its stop (``STEP_S``) not counted: the mean of the
    answers that were timed in rounds of this book, drawn towards the check's starting estimate,
    which counts as five."""
    return _seconds(bench, due)[0]


def _seconds(bench: Bench, due: Due) -> tuple[float, int]:
    question, start = question_of(due.check), CHECKS[due.check].value.seconds
    timed, total = seconds_made(bench, question) if question else (0, 0.0)
    container = container_of(bench, due)
    females = container.females if container and question in OF_EACH_FEMALE else 1
    return (total + START_TIMED * start) / (timed + START_TIMED) * max(1, females), timed


def worth_of(bench: Bench, due: Due, moment: Moment, foresight: Forecasts) -> Worth:
    """What a check is worth now.

    Args:
        foresight: of this very bench.
    """
    value, container = CHECKS[due.check].value, container_of(bench, due)
    among = _stake(bench, due, value.at_stake, moment, foresight)
    start = _start(due, value.chance, moment.now)
    alike = _alike(bench, due, container, moment.now)
    chance = start
    for looks in alike if start < 1.0 else ():
        chance = drawn(chance, looks.found, looks.made)
    seconds, timed = _seconds(bench, due)
    others, own = alike
    return Worth(
        own.found,
        own.made,
        start,
        chance,
        sum(among.values()),
        value.at_stake,
        _lost_each(due, value.lost, moment),
        seconds,
        timed,
        others.found,
        others.made,
        not (value.at_stake == "females" and container and container.count("adult", sex="")),
        1.0 + EGGS_TO_COME * (value.at_stake == "females" and _is_to_lay(container)),
        tuple((of, number) for of, number in among.items() if number),
    )


def _is_to_lay(container: Container | None) -> bool:
    return container is not None and container.purpose in LAYING


def _start(due: Due, usual: float, now: datetime) -> float:
    """The chance before any answers: 1 of what was seen; by the hours until it is late; else that
    of the check."""
    if usual >= 1.0 or due.reason:
        return 1.0
    if (
        due.late is None
        or due.since is None
        or due.late <= due.since
        or (due.rule is not None and due.rule.each_round)
    ):
        return usual
    hours, late = (
        (utc(now) - due.since) / timedelta(hours=1),
        (due.late - due.since) / timedelta(hours=1),
    )
    return min(0.95, max(usual / 2, _normal((hours - late) / (LATE_SPREAD * late))))


def _alike(bench: Bench, due: Due, container: Container | None, now: datetime) -> list[Looks]:
    """Answers to the same question: those of the stage and hours with other plants, then those that
    are wholly alike."""
    question = question_of(due.check)
    hours = since_last(bench, question, due.where, now) if question else None
    if hours is None:
        return [Looks(), Looks()]
    key = key_of(question, container, hours)
    stem = key.rpartition("|")[0] + "|"
    all_plants = [one for name, one in bench.looks_made.items() if name.startswith(stem)]
    own = bench.looks_made.get(key, Looks())
    others = Looks(
        sum(plant.made for plant in all_plants) - own.made,
        sum(looks.found for looks in all_plants) - own.found,
    )
    return [others, own]


def drawn(start: float, found: int, looks: int) -> float:
    """A chance drawn from a start towards what so many looks found; the start counts as
    ``START_LOOKS`` of them."""
    return (found + START_LOOKS * start) / (looks + START_LOOKS)


def _lost_each(due: Due, usual: float, moment: Moment) -> float:
    """The chance that one animal is lost until the next round: by the hours that it may be in
    danger, at least the check's own."""
    now, following = utc(moment.now), moment.round_after
    if due.danger is None:
        return min(1.0, usual * min(MAX_LATE, _lateness(due, following) ** 2))
    since = (
        due.since
        if due.since is not None and due.since < due.danger
        else due.danger - timedelta(hours=4)
    )
    spread = SPREAD * max((due.danger - since) / timedelta(hours=1), 1.0)
    hours = max((following - now) / timedelta(hours=1), 1.0)
    steps = (0.0, 0.25, 0.5, 0.75, 1.0)
    ahead = [
        (now + timedelta(hours=hours * step) - due.danger) / timedelta(hours=1) for step in steps
    ]
    in_danger = hours * sum(_normal(value / spread) for value in ahead) / len(steps)
    return max(usual, 1 - exp(-LOST_AN_HOUR * in_danger))


def _lateness(due: Due, following: datetime) -> float:
    """How late a check without danger hours is by the next round, as a share of the time until it
    is late; at least 1."""
    if due.late is None or due.since is None or due.late <= due.since:
        return 1.0
    return max(1.0, (following - due.since) / (due.late - due.since))


def _normal(deviation: float) -> float:
    return 0.5 * (1 + erf(deviation / sqrt(2)))


def _stake(
    bench: Bench, due: Due, at_stake: AtStake, moment: Moment, foresight: Forecasts
) -> dict[str, float]:
    """How many are at stake, by what they are: in the container, or in all that stand at the
    place."""
    container = container_of(bench, due)
    if container is not None and not due.subject.startswith("shelf "):
        hidden = may_hide(bench).get(container.code) if bench.shortfalls else None
        there = (as_if_seen(container, hidden) if hidden else None) or container
        return _in(bench, there, at_stake, moment, foresight)
    places = [
        one for one in bench.standing() if due.place_kind != "shelf" or one.shelf == due.where
    ]
    return summed(
        of_one
        for place in places
        for of_one in _in(bench, place, at_stake, moment, foresight).items()
    )


def _in(
    bench: Bench, container: Container, at_stake: AtStake, moment: Moment, foresight: Forecasts
) -> dict[str, float]:
    number: float
    match at_stake:
        case "nothing":
            return {}
        case "females":
            number = sum(bench.may_be_females(lot) for lot in container.lots if bench.is_fed(lot))
        case "eggs to be laid":
            number = EGGS_A_ROUND * sum(map(bench.may_be_females, container.lots))
        case "larvae that eat":  # none that hangs or wanders starves; those not seen eat too
            hidden = may_hide(bench).get(container.code, ()) if bench.shortfalls else ()
            unseen = sum(one.number for one in hidden if one.stage == "larva")
            return {"larva": float(still_eat(container) + unseen)}
        case "eggs about to hatch":
            number = _about_to_hatch(container, moment, foresight)
        case _:
            counted: dict[str, float] = {
                stage: float(container.count(stage)) for stage in COUNTED[at_stake]
            }
            if at_stake in ON_STEMS:
                counted[HIDDEN] = _hidden(container, moment, foresight)
            return counted
    return {at_stake: number}


def _about_to_hatch(container: Container, moment: Moment, foresight: Forecasts) -> float:
    """How many eggs are expected to have hatched by the next round; at least those that were seen
    dark, and all of which no date is known."""
    eggs = container.count("egg")
    dark = container.sign_left if container.sign == "darkening" else 0
    expected = sum(
        change.number * _hatched_by(change, moment.round_after)
        for change in foresight.coming(container)
        if change.change == "hatch"
    )
    return min(float(eggs), max(float(dark), expected))


def _hatched_by(change: ComingChange, at: datetime) -> float:
    """The share of a brood's eggs that is expected to have hatched by an instant: normal about the
    half, nine in ten of them between ``low`` and ``high``."""
    half, low, high = change.half, change.low, change.high
    if half is None or low is None or high is None:
        return 1.0
    deviation = max((high - low) / timedelta(hours=1) / (2 * NINE_IN_TEN), 1.0)
    return _normal((utc(at) - half) / timedelta(hours=1) / deviation)


def _hidden(container: Container, moment: Moment, foresight: Forecasts) -> float:
    """How many live eggs may be hidden on kept stems: of each lot the mean of a Poisson number that
    is none with the chance that it bears none; at most ten a lot."""
    chances = (foresight.chance(container, held, moment.now).chance for held in container.held)
    return sum(min(MAX_HIDDEN, -log(max(1e-9, 1 - chance))) for chance in chances)
