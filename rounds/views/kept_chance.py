"""The chance that kept stems bear viable eggs, in words: every number that it is made of."""

from __future__ import annotations

from rounds.bench.folding.sought import AIDS
from rounds.bench.measures import METRIC, Measures
from rounds.bench.plurals import count, percent
from rounds.biology.hidden_eggs import REST_IN_THEIR_OWN_TIME, Detection
from rounds.checks.round_clock import Moment
from rounds.checks.time_format import chance_words
from rounds.forecasts.kept_stems import AIM, LOOK_A_DAY, OVER_WINTER, Chance
from rounds.forecasts.no_eggs import LEAST_DAYS
from rounds.views.cells import Line, aside, labelled
from rounds.views.words import day_and_time, literal

LEAST_LIKELY = 1e-12  # what is so much less than the whole moves no shown number
_HEAT = (
    "degree-days",
    "hatch",
    "laid-over",
    "larvae-from",
    "larvae-at",
    "next-look",
    "warmth-a-day",
)  # of the calculator's inputs, those in degree-days


def chance_in_short(name: str, chance: Chance, moment: Moment) -> tuple[Line, ...]:
    """The chance that kept stems bear viable eggs, until when to keep them, and what it comes
    from."""
    until = (
        day_and_time(chance.keep_until, moment.zone, moment.now) if chance.keep_until else "no date"
    )
    then = f"{LOOK_A_DAY}, then under {percent(AIM)}"
    keep = OVER_WINTER if chance.over_winter else f"keep until {until}{then}"
    now = f"chance of viable eggs {chance_words(chance.chance)}; {keep}"
    parts = (
        f"{percent(chance.any_laid)} that any egg was laid on it; searches leave"
        f" {percent(chance.missed)} of the eggs, of which {percent(chance.viable)} are viable;"
        f" {percent(chance.hatched_share)} hatched by the last look for frass"
    )
    return (
        labelled("kept", f"{literal(name)}: {now}"),
        labelled("why", parts),
        aside("", "Every number of it stands in who laid on what (i)."),
    )


def chance_why(chance: Chance, measures: Measures = METRIC) -> tuple[Line, ...]:
    """Every number that the chance of viable eggs is made of."""
    method = (
        "1 - exp(-eggs left), averaged over rate, whether they lay, and time to hatching; how much"
        " a search finds is learned from stems that were searched more than once, none laid between"
    )
    return (
        labelled("laid", _laid(chance)),
        labelled("left", _left(chance)),
        labelled("frass", _frass(chance, measures)),
        *([labelled("larvae", REST_IN_THEIR_OWN_TIME)] if chance.hatching.larvae else []),
        aside(
            "from",
            f"{method}; {measures.in_words(literal(f'{chance.need.words}; {chance.warmth}'))}",
        ),
        aside(
            "as",
            f"calc hidden-eggs {calculated_as(chance, measures)}; discard below {percent(AIM)}"
            f"{', once it was searched: a female sat on it since' if chance.unsearched else ''}",
        ),
    )


def _laid(chance: Chance) -> str:
    known, laying, rest = chance.known, chance.known.laying, chance.sex_not_known
    others = ""
    if rest >= LEAST_DAYS:
        others = f", {rest:.1f} of them of adults whose sex is not known, taken for females"
    lay = f", if they lay on it at all ({percent(laying.willing)})" if laying.willing < 1 else ""
    own = (
        f"these females' {count(known.eggs, 'egg')} in {known.days:.1f} female-days elsewhere on"
        " it, times the share found"
    )
    laid = (
        f"{count(known.laid, 'other')} laid {count(known.other_eggs, 'egg')} in"
        f" {known.other_days:.1f}{f', {known.idle} none' if known.idle else ''}"
    )
    sources = [
        *([own] if known.eggs or known.days >= LEAST_DAYS else []),
        *([laid] if known.laid or known.idle else []),
    ]
    came_from = f"; from {'; '.join(sources)}" if sources else ""
    eggs = "egg" if f"{laying.rate:.2g}" == "1" else "eggs"
    counted = "1 egg" if laying.counted == 1 else f"{laying.counted:.2g} eggs"
    return (
        f"{percent(chance.any_laid)} that any egg was laid: {chance.female_days:.1f}"
        f" female-days{others}, {'but for this lot ' if chance.any_laid == 1 else ''}"
        f"{laying.rate:.2g} {eggs} in each{lay}, known as well as by counting {counted}{came_from}"
    )


def _left(chance: Chance) -> str:
    """What the searches leave: the female-days by the searches made since, and what one search
    finds."""
    parts = []
    for searches, days in sorted(chance.sought.items()):
        made = [
            f"{searches.count(letter)} by {aid}"
            for letter, aid in AIDS.items()
            if letter in searches
        ]
        if days >= LEAST_DAYS:
            parts.append(
                f"{days:.1f} female-days searched {' and '.join(made)}"
                if made
                else f"{days:.1f} not searched"
            )
    used = {letter for searches in chance.sought for letter in searches}
    shares = [
        f"a search by {aid} finds {_found(chance.shares[aid])}"
        for letter, aid in AIDS.items()
        if letter in used
    ]
    return (
        f"{', '.join(parts) or 'not searched'};"
        f" {''.join(f'{share}; ' for share in shares)}{percent(chance.missed)} of the eggs are"
        f" left{_by_what_was_found(chance)}, {percent(chance.viable)} of these viable;"
        f" {count(chance.found, 'egg')} found on it"
    )


def _by_what_was_found(chance: Chance) -> str:
    """Where how many eggs were found tells how well they are seen."""
    usual, so = percent(chance.usually_missed), percent(chance.missed)
    return "" if usual == so else f" by how many were found (else {usual})"


def _found(one: Detection) -> str:
    """The share that a search finds, with its limits and the eggs that it rests on."""
    limits = f"{one.low * 100:.0f} to {one.high * 100:.0f}"
    return f"{percent(one.share)} ({limits}, {count(one.eggs, 'own egg')})"


def _frass(chance: Chance, measures: Measures) -> str:
    at = chance.hatching
    if chance.over_winter:
        return (
            "none says nothing yet: its eggs may rest over the winter, warmth and looks for frass"
            " count from when it is over"
        )
    since, over, hatch = (
        measures.heat_number(one)
        for one in (at.degree_days, at.degree_days + at.laid_over, at.hatch_dd)
    )
    gone = (
        f"{since} to {over} degree-days after"
        f" {'laying' if chance.winter_over is None else 'the winter'}, of the {hatch} until"
        " half hatch"
    )
    looks = (
        f"{count(chance.looks_after, 'look')} since half should have, each shows"
        f" {percent(at.seen_by_a_look)}"
    )
    but = f", but {count(round(at.larvae), 'larva')} that hatched on it," if at.larvae else ""
    return (
        f"none{but} up to the last look, {gone}: {percent(chance.hatched_share)} hatched by then;"
        f" {looks}"
    )


def calculated_as(chance: Chance, measures: Measures = METRIC) -> str:
    """The inputs with which the calculator gives the same chance."""
    most = max(case.weight for case in chance.cases)
    cases = [case for case in chance.cases if case.weight >= most * LEAST_LIKELY]
    at, layings = chance.hatching, [case.laying for case in cases]
    given: dict[str, float | list[float]] = {
        "rate": [laying.rate for laying in layings],
        "rate-eggs": [laying.counted for laying in layings],
        "lays": [laying.willing for laying in layings],
        "missed": [case.missed for case in cases],
        "likely": [case.weight / most for case in cases],
        "female-days": chance.female_days,
        "found": chance.found,
        "viable": chance.viable,
        "degree-days": at.degree_days,
        "hatch": at.hatch_dd,
        "hatch-spread": at.spread,
        "hatch-shorter": at.shorter,
        "hatch-longer": at.longer,
        "looks": chance.looks_after,
        "laid-over": at.laid_over,
        "larvae": at.larvae,
        "larvae-from": at.larvae_from,
        "larvae-at": at.larvae_at,
    }
    made = "".join(chance.sought)
    letter = max(AIDS, key=made.count)
    one = chance.shares[AIDS[letter]]
    given |= {"share-found": min(0.999, max(0.001, one.share)), "share-eggs": one.counted}
    if chance.next_dd is not None and chance.a_day_dd is not None:
        given |= {"next-look": chance.next_dd, "warmth-a-day": chance.a_day_dd}
    text = " ".join(f"--{name} {_typed(name, value, measures)}" for name, value in given.items())
    return f"{text} --unsearched yes" if chance.unsearched else text


def _typed(name: str, value: float | list[float], measures: Measures) -> str:
    """An input as it is typed; of one that differs by case all, of one that does not once."""
    if isinstance(value, list):
        texts = [f"{one if one > LEAST_LIKELY else 0:.5g}" for one in value]
        return ",".join(texts) if len(set(texts)) > 1 else texts[0]
    return f"{measures.told(value, 'C day') if name in _HEAT else value:.5g}"
