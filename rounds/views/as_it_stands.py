"""What a container holds and how that stands, in the few words that decide there: the columns of
the bench beside its checks.

Each fact is given in several lengths, the longest first, so that a narrow list takes a shorter one
and never cuts a word.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta
from functools import lru_cache

from rounds.bench.folding.hunger import fed_lots, of_this_feed
from rounds.bench.folding.signs import SIGN_WORDS, SIGNS_IN_FULL
from rounds.bench.plurals import count, of_stage
from rounds.bench.state import Bench, Container, Host, Lot
from rounds.checks import ants, drink, heat
from rounds.checks.due_state import Due
from rounds.checks.plan import Plan
from rounds.checks.round_clock import Moment
from rounds.entries.base import BARRIERS_LOOKED_AT, ROOTED, Purpose
from rounds.forecasts.foresight import Forecasts
from rounds.forecasts.moats import ANTS_PAST, barrier_standing
from rounds.grouping import summed
from rounds.views.species import Form, SpeciesNames, own_words
from rounds.views.words import age, literal

Fact = tuple[str, ...]  # the same in several lengths, the longest first
MAX_STAGES = 2  # of mixed ones: the two most numerous, the rest as a number
ADULTS = ("female", "male", "adult")  # they come first: they thirst
NEAR = timedelta(days=3)  # what comes sooner is told with its hour
AS_USUAL = ("as usual", "wings up")
PERMIT_WORDS: dict[str, Fact] = {
    "PAST": ("permit past its limit", "permit past"),
    "full": ("permit: all females taken", "permit full"),
    "near": ("permit nearly full", "permit near"),
}
SET_UP: dict[Purpose, str] = {
    "host store": "store",
    "overwintering": "winter",
    "quarantine": "apart, new",
    "isolation": "apart, ill",
}


def holds_words(container: Container, names: SpeciesNames, form: Form) -> Fact:
    """What is in a container: ``2 females sinapis``, ``14 kept stems, 3 lots``."""
    stock = stock_forms(container, names, form)
    if not stock:
        return _without_stock(container)
    if container.held:
        more = (f" + {kept_words(container)}", " + stems", "")
        return tuple(f"{words}{kept}" for kept in more for words in stock)
    return stock


def stock_forms(container: Container, names: SpeciesNames, form: Form) -> Fact:
    """The animals of a container, with the names of their species in that form; empty where there
    are none."""
    stock = summed(
        ((stage_word(lot), names.of(lot.brood, form)), lot.number) for lot in container.lots
    )
    return _in_words(tuple(stock.items()))


@lru_cache(8_192)
def _in_words(stock: tuple[tuple[tuple[str, str], int], ...]) -> Fact:
    """The same of how many there are of each stage and name; many containers hold the like."""
    if not stock:
        return ()
    several = {name for (_, name), _ in stock if name}
    kinds = sorted(stock, key=lambda one: (one[0][0] not in ADULTS, -one[1]))
    if len(several) > 1:
        each = [f"{animals_of(number, stage)} {name}".rstrip() for (stage, name), number in kinds]
        return tuple(dict.fromkeys(_shortened(each, [number for _, number in kinds])))
    name = f" {next(iter(several))}" if several else ""
    by_stage = sorted(
        summed((stage, number) for (stage, _), number in kinds).items(),
        key=lambda one: (one[0] not in ADULTS, -one[1]),
    )
    texts = [animals_of(number, stage) for stage, number in by_stage]
    shorter = dict.fromkeys(_shortened(texts, [number for _, number in by_stage]))
    named = [f"{words}{name}" for words in shorter]
    # Of two stages both are named before the species is: 3 eggs are told from 3 females.
    return tuple([named[0], ", ".join(texts), *named[1:]] if len(texts) == 2 else named)


def _shortened(told: list[str], numbers: list[int]) -> Iterator[str]:
    """All kinds, then the most numerous with the number of the rest."""
    for shown in range(len(told), 0, -1):
        if shown == len(told):
            yield ", ".join(told)
        elif shown <= MAX_STAGES:
            yield f"{', '.join(told[:shown])} + {sum(numbers[shown:])} more"


def animals_of(number: int, stage: str) -> str:
    """``2 females``, ``11 L3``: animals of a stage as a list has it."""
    return count(number, stage) if stage in ADULTS else of_stage(number, stage)


def stage_word(lot: Lot) -> str:
    """``female``, ``L3``, ``pupa``: the stage as a list has it."""
    if lot.stage == "adult":
        return f"crippled {lot.sex}".strip() if lot.crippled else lot.sex or "adult"
    return f"L{lot.instar}" if lot.stage == "larva" and lot.instar else lot.stage


def short_stage_word(lot: Lot) -> str:
    """The same with one letter for a sex, as ``f``: where there is no room."""
    word = stage_word(lot)
    return {"female": "f", "male": "m"}.get(word, word)


def _without_stock(container: Container) -> Fact:
    if container.held:
        words = kept_words(container)
        return words, words.split(",")[0]
    plants = sorted({literal(host.plant) for host in container.hosts})
    if plants:
        stems = sum(host.sprigs or 0 for host in container.hosts)
        told = (", ".join(plants), count(len(plants), "plant"))
        return tuple(f"{count(stems, 'stem')} {one}" for one in told) if stems else told
    return ("empty",)


def kept_words(container: Container) -> str:
    """The kept stems of a container: ``14 kept stems, 3 lots``."""
    stems = sum(held.sprigs or 0 for held in container.held)
    words = count(stems, "kept stem") if stems else "kept stems"
    return words if len(container.held) == 1 else f"{words}, {len(container.held)} lots"


def _sign(sign: str) -> Fact:
    """What animals show, in full and short."""
    short = SIGN_WORDS.get(sign, literal(sign))
    return tuple(dict.fromkeys((SIGNS_IN_FULL.get(sign, short), short)))


def facts(
    bench: Bench,
    container: Container,
    due: Due | None,
    moment: Moment,
    permits: Mapping[str, str],
    foresight: Forecasts | None,
    plan: Plan,
) -> Iterator[Fact]:
    """How a container stands, what decides there first.

    ``due`` is its most urgent check, ``permits`` what those of founders say; what ``plan`` has
    switched off is not told either.
    """
    yield from _out_of_order(bench, container, permits, moment)
    yield from _barrier(bench, container, moment, is_broken=True)
    if due is not None and due.check == heat.CHECK.name and due.reason:
        yield literal(due.reason), literal(due.reason.split(",")[0])
    if container.sign == "darkening":
        has_begun = container.count("larva") > 0
        dark = "hatching" if has_begun else f"dark {_age(container.sign_since, moment)}".rstrip()
        leaf = "leaf in" if container.hosts else "no leaf"
        yield f"{dark}, {leaf}", dark
    elif container.sign not in AS_USUAL:
        yield _sign(container.sign)
    yield from _fed(bench, container, moment, plan)
    yield from _plant(container, moment)
    yield from _coming(container, moment, foresight)
    yield from _misted(container, moment)
    if container.held:
        oldest = _day(min(held.taken_out for held in container.held), moment)
        if len(container.held) > 1:
            yield (f"oldest kept since {oldest}", f"kept since {oldest}")
        else:
            yield (f"kept since {oldest}",)
    yield from _barrier(bench, container, moment, is_broken=False)
    if container.purpose in SET_UP and container.purpose != "host store":
        yield (SET_UP[container.purpose],)


def _out_of_order(
    bench: Bench, container: Container, permits: Mapping[str, str], moment: Moment
) -> Iterator[Fact]:
    """What is missing, suspect, not sure, past a permit."""
    said = {permits[code] for lot in container.lots for code in lot.codes if code in permits}
    if "PAST" in said:
        yield PERMIT_WORDS["PAST"]
    missing = [shortfall for shortfall in bench.shortfalls if shortfall.container == container.code]
    if missing:
        number = sum(one.number for one in missing)
        yield (
            f"{number} not seen since {_day(min(one.at for one in missing), moment)}",
            f"{number} not seen",
        )
    if container.suspect_since:
        yield f"suspect, {literal(container.suspect_sign)}".removesuffix(", "), "suspect"
    if container.unsure:
        yield (f"{sum(unsure.number for unsure in container.unsure)} unsure",)
    for state in ("full", "near"):
        if state in said and "PAST" not in said:
            yield PERMIT_WORDS[state]


def _fed(bench: Bench, container: Container, moment: Moment, plan: Plan) -> Iterator[Fact]:
    lots = [lot for lot in fed_lots(bench, container) if bench.is_fed(lot)]
    hungry = [one for lot in lots for one in lot.hunger]
    rules = plan.rules_for(container) if hungry else ()
    if not any(rule.check == drink.CHECK.name for rule in rules):
        return  # nobody is hungry, or it is not asked here: switched off in the plan
    there = sum(one.number for one in hungry)
    then = container.drank_part[-1][0] if container.drank_part else moment.now
    part = of_this_feed(bench, container, then)
    never = sum(one.number for one in hungry if not one.drank)
    if 0 < part < there or 0 < never < there:
        drank = f"{part or there - never} of {there} drank"
        yield f"{drank} {_age(then, moment)}" if container.drank_part else drank, drank
    elif never:
        yield "has not drunk here yet", "not drunk"
    else:
        yield (f"drank {_age(min(hunger.since for hunger in hungry), moment)}",)


def _plant(container: Container, moment: Moment) -> Iterator[Fact]:
    """The plant that decides when there must be another: of larvae the one that was cut last, for
    they eat that, else the one that was cut first; its state where it is not fresh."""
    eats = any(lot.stage == "larva" for lot in container.lots)
    oldest = container.oldest_cut
    if oldest is None:
        if eats:
            yield ("no plant in",)
        return
    if container.sign == "darkening":
        return
    good = [one for one in container.hosts if one.failed is None] if eats else []
    host = max(good, key=lambda one: one.cut, default=oldest)
    state = "" if host.state == "fresh" else f" {host.state}"
    stands = f"{_old(host, moment)}{state}"
    others = [one for one in container.hosts if one is not host]
    names = [
        literal(name) for name in own_words(host.plant, (one.plant for one in container.hosts))
    ]
    older = f", oldest {_old(oldest, moment)}" if host is not oldest else ""
    more = f" +{len(others)}" if others and not older else ""
    yield tuple(
        dict.fromkeys(
            (
                *(f"{name}{more} {stands}{older}" for name in names),
                *(f"{name}{more} {stands}" for name in (*names, "plant")),
                f"plant {stands}",
                f"{host.state} plant" if state else _roughly(host, moment),
            )
        )
    )


def _roughly(host: Host, moment: Moment) -> str:
    """The age of a plant in as few words as can be: ``plant 2 d``."""
    is_dated = not host.cut_not_known or host.kept in ROOTED
    return f"plant {' '.join(_old(host, moment).split()[:2])}" if is_dated else "plant in"


def _old(host: Host, moment: Moment) -> str:
    if host.kept in ROOTED:
        return host.kept
    return "cut not known" if host.cut_not_known else age(moment.now - host.cut)


def _coming(container: Container, moment: Moment, foresight: Forecasts | None) -> Iterator[Fact]:
    """When the first may hatch or emerge, where a forecast says so; else since when eggs are
    laid."""
    if not any(lot.stage in ("egg", "pupa") for lot in container.lots):
        return
    coming = [
        change
        for change in (foresight.coming(container) if foresight else ())
        if change.change in ("hatch", "emergence") and change.first
    ]
    if coming:
        one = min(coming, key=lambda each: each.first or moment.now)
        assert one.first is not None
        verb = {"hatch": "hatch", "emergence": "emerge"}[one.change]
        soon = _soon(one.first, moment)
        if one.first > moment.now:
            yield (f"{verb} from {soon}", f"{verb} {soon}")
        else:
            yield (f"may {verb} now",)
        return
    since = [lot.since for lot in container.lots if lot.stage == "egg" and lot.since is not None]
    if since:
        yield (
            f"laid since {moment.clock(min(since))}",
            f"since {_day(min(since), moment)}",
        )


def _misted(container: Container, moment: Moment) -> Iterator[Fact]:
    entry = container.last.get("misted")
    if entry is not None and any(lot.stage == "pupa" for lot in container.lots):
        yield (f"misted {_age(entry.at, moment)}",)


def _barrier(
    bench: Bench, container: Container, moment: Moment, *, is_broken: bool
) -> Iterator[Fact]:
    """The barrier that guards it, where it has failed, or else where it is not in order."""
    _, barrier, moat = bench.moat_of(container)
    if barrier not in BARRIERS_LOOKED_AT:
        if is_broken and moat.is_passed:
            yield ("ants in",)
        return
    stands = barrier_standing(bench, barrier, moat, moment.now)
    if stands.wants and stands.has_failed == is_broken:
        words = ants.barrier_words(bench, barrier, moat, moment.now)[1]
        yield (words, stands.state) if stands.state == ANTS_PAST else (words,)


def _age(since: datetime | None, moment: Moment) -> str:
    """How long ago: ``12 h``, ``just now``."""
    if since is None:
        return ""
    gone = moment.now - since
    return "just now" if timedelta(0) <= gone < timedelta(minutes=1) else age(gone)


def _day(at: datetime, moment: Moment) -> str:
    """The day of an instant, the hour where it is today: ``07:00``, ``Wed 26``, ``3 May``."""
    local = at.astimezone(moment.zone)
    if local.date() == moment.today:
        return f"{local:%H:%M}"
    if abs((local.date() - moment.today).days) <= 6:
        return f"{local:%a} {local.day}"
    year = f" {local.year}" if local.year != moment.today.year else ""
    return f"{local.day} {local:%b}{year}"


def _soon(at: datetime, moment: Moment) -> str:
    """An instant to come: with its hour where it is near."""
    if at - moment.now < NEAR:
        return moment.clock(at)
    local = at.astimezone(moment.zone)
    return f"{local:%a} {local.day} {local:%b}"
