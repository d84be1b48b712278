"""How deep the moat is that guards a container, day by day, and when it will be low."""

from __future__ import annotations

from rounds.bench.measures import measures_of
from rounds.bench.state import Bench, Container
from rounds.checks.round_clock import Moment
from rounds.forecasts.foresight import Forecasts
from rounds.forecasts.kept_stems import number_setting
from rounds.surroundings.moat import LOW_MM
from rounds.views.day_curve import WHOLE, DayCurve, Limit, Marks, days_back, last_words
from rounds.views.words import clock, literal

LEAST_INCHES = 0.1  # a row of a moat that is read in inches


def moat_curve(bench: Bench, moment: Moment, container: Container) -> DayCurve | None:
    """The depths that were read in the last days; None where none was, or no moat guards it."""
    whose, barrier, moat = bench.moat_of(container)
    since = days_back(moment)
    measures = measures_of(bench.settings)

    def depth(millimetres: float) -> float:
        return float(measures.depth(millimetres).split()[0])

    read = tuple((one.at, depth(one.mm)) for one in moat.depths if since <= one.at <= moment.now)
    if barrier != "moat" or not read:
        return None
    name = f"moat of {'shelf ' if whose in bench.shelves else ''}{literal(whose)}"
    low = Limit(depth(number_setting(bench, "moat low", LOW_MM, 0, 100)), "low")
    return DayCurve(
        (Marks(name, "o", read),),
        (low,),
        measures.length,
        WHOLE if measures.length == "mm" else LEAST_INCHES,
    )


def moat_aloud(
    curve: DayCurve, bench: Bench, moment: Moment, foresight: Forecasts, container: Container
) -> str:
    """The last depth, and when it will be low."""
    _, _, moat = bench.moat_of(container)
    coming = foresight.moat(moat, moment.now)
    low = (
        f"; low {clock(coming.low_at, moment.now, moment.zone)}"
        if coming and coming.low_at and coming.low_at > moment.now
        else ""
    )
    return f"{last_words(curve.marks[0], curve, moment)}{low}"
