"""Moat: how fast it loses water, and when it will be low."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rounds.forecasts.moats import loss_basis
from rounds.surroundings import moat
from rounds.views.calculations.frame import (
    Calculation,
    CalculationResult,
    Figure,
    InputRefused,
    inputs,
)


def _moat(given: Mapping[str, Any]) -> CalculationResult:
    if (given["temperature"] is None) != (given["humidity"] is None):
        raise InputRefused("--temperature and --humidity belong together; give both or neither")
    loss = moat.loss_from_readings(given["readings"]) if given["readings"] else None
    words = (
        ["the readings are not used: no two of them, some hours apart, lie between toppings-up"]
        if given["readings"] and loss is None
        else []
    )
    if loss is None and given["temperature"] is not None:
        loss = moat.loss_from_air(
            temperature_c=given["temperature"], humidity_percent=given["humidity"]
        )
    if loss is None:
        usual = moat.DEFAULT_LOSS_MM_A_DAY
        loss = moat.Loss(usual, usual * 0.5, usual * 2, "assumed")
    rests_on = (
        "from what is usual, for nothing was read"
        if loss.rests_on == "assumed"
        else loss_basis(loss)
    )
    depths = {"depth_mm": given["depth"], "low_mm": given["low-mark"]}
    low_in = moat.days_until(**depths, loss_mm_a_day=loss.mm_a_day)
    soonest, latest = moat.limits_until(**depths, loss=loss) or (None, None)
    again = "look again before the earlier limit"
    if low_in is None:
        again = "it loses nothing in such air: look again when the air changes"
    return CalculationResult(
        (
            Figure("loss", loss.mm_a_day, "mm a day", loss.low, loss.high, rests_on, 1),
            Figure("low in", low_in, "days", soonest, latest, "95 % of such moats", 1),
            Figure("days differ by", loss.days_differ, "of the loss", digits=2),
        ),
        (*words, again),
    )


CALCULATIONS = (
    Calculation(
        "moat",
        "how fast a moat loses water, and when it will be low",
        inputs(f"""
            depth 0..500 mm | now
            low-mark 0..500 mm = {moat.LOW_MM} | depth that is too low
            readings? pairs mm | own readings as day:depth | 0:22mm,1:17.5mm,2:13mm
            temperature? 0..45 C | of the room, if there are no readings
            humidity? 0..100 % | of the room, if there are no readings
            """),
        _moat,
        "own readings: lost between toppings-up, gamma distributed with the mean loss x days, read"
        " to the millimetre; a moat that reads 0 was dry by then; median and 95 % limits by Bayes'"
        " rule; low in: the water above the mark over the loss, its limits by the same process over"
        " the days to come and depths read to the mm; else E = 6.43 D / lambda in still air",
        "van Noortwijk 2009, Reliab. Eng. Syst. Saf. 94:2-21, gamma process (from memory); Penman"
        " 1948 in the form of Shuttleworth 1993 (coefficients from memory); a small dish departs by"
        " a third to a half",
        "--depth 22mm --readings 0:22mm,1:17.5mm,2:13mm",
    ),
)
