"""Laying: rates, two hosts, choice trials."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from rounds.bench.plurals import percent
from rounds.biology.choice import preferences
from rounds.biology.laying import (
    LEAST_FEMALE_DAYS,
    LEAST_FEMALES,
    ShareFound,
    chance_of_none_seen,
    hosts_compared,
    laying_rate,
)
from rounds.biology.proportions import binomial_test
from rounds.checks.time_format import chance_words
from rounds.views.calculations.frame import (
    Calculation,
    CalculationResult,
    Figure,
    InputRefused,
    inputs,
    with_limits,
)
from rounds.views.settling import settling_words

OF_THESE_FEMALES = "of these females: eggs of one female are no independent choices"
MAX_EGGS = 1e9
GARWOOD = "Garwood 1936, Biometrika 28:437-442"


def _female_days(days: float) -> str:
    return f"{days:g} {'female-day' if days == 1 else 'female-days'}"


def _counted(days: float, share: float) -> str:
    """Female-days as they count: by the share that searches find."""
    told = _female_days(days)
    return told if share >= 1 else f"{told} x share found {share:g} = {days * share:g}"


def _laying(given: Mapping[str, Any]) -> CalculationResult:
    share, days = given["share-found"], given["female-days"]
    counted = given["share-eggs"] or math.inf
    rate = laying_rate(eggs=given["eggs"], female_days=days, found=ShareFound(share, counted))
    words = []
    if not rate.enough:
        words.append(f"not enough to say: {_counted(days, share)}, under {LEAST_FEMALE_DAYS:g}")
    elif rate.eggs == 0:
        words.append(f"none in {_female_days(days)}: under {rate.high:.2f} a day (two-sided 95 %)")
    if given["usual-rate"] is not None:
        usual = given["usual-rate"]
        chance = chance_of_none_seen(
            usual_rate=usual, female_days=days, share_found=share, share_counted=counted
        )
        if rate.eggs:
            seen = f"{usual * days * share:.1f} would be seen by now; {rate.eggs:g} were"
        else:
            seen = f"the chance of having seen none by now is {chance_words(chance)}"
        words.append(
            f"if they laid {usual:g} a day and searches find {percent(share)} of the eggs, {seen}"
        )
    words.append(OF_THESE_FEMALES)
    return CalculationResult(
        (with_limits("eggs per female-day", rate, "exact Poisson, two-sided 95 %", 2),), words
    )


def _hosts(given: Mapping[str, Any]) -> CalculationResult:
    days = [given["female-days-1"], given["female-days-2"]]
    found_days = [days[0] * given["share-found-1"], days[1] * given["share-found-2"]]
    found = [
        ShareFound(given[f"share-found-{which}"], given[f"share-eggs-{which}"] or math.inf)
        for which in (1, 2)
    ]
    compared = hosts_compared(
        eggs_first=given["eggs-1"],
        female_days_first=days[0],
        eggs_second=given["eggs-2"],
        female_days_second=days[1],
        females_first=given["females-1"],
        females_second=given["females-2"],
        found_first=found[0],
        found_second=found[1],
    )
    words = []
    if not compared.enough:
        short = [
            f"{_counted(given_days, given[f'share-found-{which}'])} on the {name}"
            for which, name, given_days in zip((1, 2), ("first", "second"), days, strict=True)
            if given_days * given[f"share-found-{which}"] < LEAST_FEMALE_DAYS
        ]
        lacks = [f"{' and '.join(short)}, under {LEAST_FEMALE_DAYS:g}"] if short else []
        lacks += [] if given["eggs-1"] + given["eggs-2"] else ["no egg on either"]
        words.append(f"not enough to say: {'; '.join(lacks)}")
    if not compared.settled:
        more = compared.more_female_days * sum(days) / sum(found_days)
        if compared.enough or more >= 0.5:  # enough in all may be too little on one of them
            words.append(f"{settling_words(more)} (80 % power)")
        if not given["eggs-1"] + given["eggs-2"]:
            words.append("that counts half an egg, for none was found")
    elif compared.is_of_plants:
        words.append(
            "the difference is more than chance gives, and than females differ; what follows is the"
            " keeper's to decide, one change at a time"
        )
    elif compared.p_of_plants is None:
        words.append(
            "these females laid more on one than chance gives; of fewer than"
            f" {LEAST_FEMALES} females on each that says little about the plants"
        )
    else:
        words.append(
            "these females laid more on one than chance gives, but females differ as much by"
            " themselves"
        )
    words.append(OF_THESE_FEMALES)
    exact, ratio_limits = "95 % exact", (compared.ratio_low, compared.ratio_high)
    of_plants = compared.p_of_plants
    return CalculationResult(
        (
            with_limits("first, eggs per female-day", compared.first, exact, 2),
            with_limits("second, eggs per female-day", compared.second, exact, 2),
            Figure("first over second", compared.ratio, "", *ratio_limits, exact, 2),
            Figure("p, two-sided", compared.p_two_sided, digits=4),
            *(Figure("p, as females differ", p, digits=4) for p in (of_plants,) if p is not None),
        ),
        words,
    )


def _choice(given: Mapping[str, Any]) -> CalculationResult:
    used, there = given["used"], given["available"]
    if sum(used) > MAX_EGGS:
        raise InputRefused(f"used has {sum(used):g} eggs in all; give at most {MAX_EGGS:g}")
    result = preferences(used, there)
    figures = []
    for position, preference in enumerate(result, start=1):
        plant, scale = f"plant {position}", "(-1 shunned, 1 only this)"
        indifferent = f"(indifferent {1 / len(result):.2f})"
        figures.append(Figure(f"{plant}, alpha", preference.alpha, indifferent))
        figures.append(Figure(f"{plant}, epsilon", preference.epsilon, scale, digits=2))
    words = ["eggs of one female are no independent choices: the test counts them as if they were"]
    if any(one != int(one) for one in used):
        raise InputRefused("used has a part of an egg; give whole numbers")
    if len(result) == 2:
        test = binomial_test(int(used[0]), int(sum(used)), expected=there[0] / sum(there))
        figures.append(Figure("p, two-sided exact", test, digits=4))
    else:
        words.append("the exact test is of two plants")
    return CalculationResult(figures, words)


CALCULATIONS = (
    Calculation(
        "laying",
        "eggs per female-day with limits, and what none can mean",
        inputs("""
            eggs count 0..10000000 | found
            female-days 0..1e7 | living, fed, warm, with the host
            usual-rate? 0..1000 eggs per female-day | to ask how likely none is
            share-found 0.001..1 = 1.0 | of the eggs that are there, by all searches
            share-eggs? 0.01..1e7 | eggs counted that leave that share so uncertain
            """),
        _laying,
        "limits: chi-square quantiles at 2n and 2n + 2, halved, over female-days x share found;"
        " none: -ln(0.025) over them; averaged over the share (beta) where that is uncertain",
        GARWOOD,
        "--eggs 0 --female-days 7.5 --usual-rate 1",
    ),
    Calculation(
        "hosts-compared",
        "two hosts' laying rates, exactly",
        inputs("""
            eggs-1 count 0..10000000 | on the first
            female-days-1 0..1e7 | with the first
            eggs-2 count 0..10000000 | on the second
            female-days-2 0..1e7 | with the second
            share-found-1 0.001..1 = 1.0 | of the eggs on the first, by all searches
            share-found-2 0.001..1 = 1.0 | of the eggs on the second
            share-eggs-1? 0.01..1e7 | eggs counted that leave the first share so uncertain
            share-eggs-2? 0.01..1e7 | eggs counted that leave the second share so uncertain
            females-1 count 1..1e6 = 1 | that could lay on the first
            females-2 count 1..1e6 = 1 | on the second
            """),
        _hosts,
        "given their sum, the first count is binomial with share t1 / (t1 + t2), t = female-days x"
        " share found; p is twice the smaller tail, averaged over the shares"
        " (beta); as females differ: ln of the ratio over the root of 1 /"
        " eggs + 1 / (2 x females - 1/2), summed over both",
        f"Przyborowski & Wilenski 1940, Biometrika 31:313-323; {GARWOOD}",
        "--eggs-1 0 --female-days-1 5 --eggs-2 15 --female-days-2 4.5",
    ),
    Calculation(
        "choice-trial",
        "several plants at once: which was preferred",
        inputs("""
            used numbers 0.. | eggs on each | 8,4,2
            available numbers 0.. | how much of each was there | 10,10,10
            """),
        _choice,
        "alpha = (share used / share there) / sum of these; epsilon = (m alpha - 1) / ((m - 2)"
        " alpha + 1)",
        "Manly 1974; Chesson 1978, Ecology 59:211-215; Chesson 1983, Ecology 64:1297-1304",
        "--used 16,4 --available 10,10",
    ),
)
