"""Hidden eggs: how likely, and how long to keep the sprig."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rounds.biology.hidden_eggs import hidden_viable, learned_detection, prior_from_laying, searches_needed, searches_until
from rounds.views.calculations.frame import Calculation, Figure, Input, InputRefused, Worked


def _hidden(given: Mapping[str, Any]) -> Worked:
    share = given["share-found"]
    learned = learned_detection(usual=share, found=given["own-found"], missed=given["own-missed"])
    prior = given["prior"]
    if (given["rate"] is None) != (given["female-days"] is None):
        raise InputRefused("--rate and --female-days belong together; give both, or --prior")
    if given["rate"] is not None:
        prior = prior_from_laying(rate=given["rate"], female_days=given["female-days"])
    found = hidden_viable(
        prior=prior, detections=[learned.share] * given["searches"], viable_share=given["viable"],
        degree_days=given["degree-days"], hatch_dd=given["hatch"], hatch_sd_dd=given["hatch-spread"],
    )  # fmt: skip
    needed = searches_needed(detection=learned.share)
    words = ["none seen is not none there"]
    if found.keep_until_dd is None:
        words.append("no waiting brings it under 1 %: droppings alone do not tell enough")
    elif found.keep_until_dd == 0:
        words.append("under 1 % already")
    else:
        words.append(f"keep it until {found.keep_until_dd:.0f} degree-days from laying")
    if needed:
        words.append(f"{needed} searches would make it 95 % certain that an egg had been found")
    until = searches_until(prior=prior, detection=learned.share, chance=given["aim"])
    if until is not None:
        words.append(f"{until} searches in all that find none make any egg on it less likely than {given['aim']:g}")
    return Worked(
        (
            Figure("chance of viable eggs", found.chance),
            Figure("share of hatches due by now", found.hatched_share),
            Figure(
                "share that one search finds",
                learned.share,
                "",
                learned.low,
                learned.high,
                f"95 %, {learned.eggs} own eggs",
            ),
            Figure("keep until", found.keep_until_dd, "C day", digits=0),
            Figure("chance of eggs before any search", prior),
        ),
        tuple(words),
        "Bayes: prior x prod(1 - p) x viable x (1 - hatched x droppings seen), against its opposite",
        "McArdle 1990, Oikos 57:276-277; Gelman et al. 2013, 2.4 (learning); usual shares: our estimate, no source",
    )


CALCULATIONS = (
    Calculation(
        "hidden-eggs",
        "the chance that a sprig still bears viable eggs, and how long to keep it",
        (
            Input("prior", "chance of eggs before any search", low=0, high=1, default=0.5),
            Input("rate", "laying rate, for a prior from it", unit="eggs per female-day", low=0, high=1000, optional=True),
            Input("female-days", "on this sprig, for a prior from it", low=0, high=1e6, optional=True),
            Input("searches", "that found none", "count", low=0, high=1000, default=0),
            Input("share-found", "of the eggs there, by one search", low=0.01, high=0.99, default=0.5),
            Input("own-found", "eggs that searches found, to learn from", "count", low=0, high=1_000_000, default=0),
            Input("own-missed", "eggs that searches missed, to learn from", "count", low=0, high=1_000_000, default=0),
            Input("viable", "share of eggs that hatch", low=0, high=1, default=0.6),
            Input("degree-days", "since laying", unit="C day", low=0, high=1e5, default=0.0),
            Input("hatch", "mean of hatching", unit="C day", low=1e-6, high=1e5, default=80.0),
            Input("aim", "chance of eggs under which to stop searching", low=1e-9, high=0.999, default=0.01),
            Input("hatch-spread", "its spread", unit="C day", low=1e-6, high=1e5, default=8.0),
        ),
        _hidden,
        "--prior 0.4 --searches 2 --degree-days 60",
    ),
)
