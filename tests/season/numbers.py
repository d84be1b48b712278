"""The numbers of the simulated worlds, each with its source or 'assumed'.

A world is not made from the program's formulas: development follows a curve with an optimum (not a line above a
threshold), eggs differ in how easily they are seen, and what kills is a hazard by the hour.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from random import Random

STAGES = ("egg", "L1", "L2", "L3", "L4", "L5", "pupa")


@dataclass(frozen=True)
class World:
    """One world: its weather, its species, its plants, what harms, and the seconds that acts take."""

    name: str
    # weather
    mean_c: float = 20.5  # of the room over the season; assumed
    warming_c: float = 3.0  # from the first day to the last; assumed
    day_swing_c: float = 2.5  # half of the day's range indoors; assumed
    day_to_day_c: float = 1.6  # standard deviation between days; assumed
    sun_extra_c: float = 9.0  # a cup in full sun on a sill above the room; assumed
    sunny_share: float = 0.55  # of days; assumed
    humidity_percent: float = 55.0  # of the room; assumed
    # species
    days_at_20: tuple[float, ...] = (
        8.0,
        4.0,
        3.5,
        3.5,
        4.5,
        7.0,
        14.0,
    )  # by stage; assumed, of the order of small butterflies
    coldest_c: float = 8.0  # no development below; assumed
    best_c: float = 28.5  # fastest here; assumed
    hottest_c: float = 36.0  # no development above; assumed
    between_animals: float = 0.08  # cv of the time a stage takes; assumed
    between_broods: float = 0.06  # assumed
    eggs_a_day: float = 5.0  # of a willing, warm, fed female; assumed
    between_females: float = 0.6  # cv of it; assumed
    unmated_share: float = 0.08  # lays nothing that hatches; assumed
    settle_days: float = 1.5  # mean wait before the first egg; assumed
    lifespan_days: float = 18.0  # mean, of a fed female from capture; assumed
    accepts_first: float = 0.65  # share of females that lay on the plant first thought of; assumed
    accepts_second: float = 0.75  # on the other plant; assumed
    viable_share: float = 0.85  # of eggs of mated females; assumed
    cluster: int = 1  # eggs laid together; assumed
    seen_by_eye: float = 0.55  # mean share of eggs that one search finds; assumed
    seen_by_lens: float = 0.75  # assumed
    seen_spread: float = 2.5  # smaller: eggs differ more in how hidden they are (a beta's sum of parameters); assumed
    # plants
    fresh_h: float = 78.0  # mean time that a stem stays fit to eat in water at 20 C; within 2 to 4 days, trade practice
    fresh_cv: float = 0.25  # assumed
    eaten_a_day: tuple[float, ...] = (
        0.0,
        0.03,
        0.06,
        0.15,
        0.4,
        1.2,
        0.0,
    )  # stems by stage; assumed; the last instars eat most
    # what harms, a chance an hour
    thirst_after_h: float = 30.0  # at 20 C; a female without a drink begins to die; assumed
    thirst_hazard: float = 0.035
    hunger_after_h: tuple[float, ...] = (
        0.0,
        18.0,
        26.0,
        30.0,
        34.0,
        30.0,
        0.0,
    )  # by stage; assumed
    hunger_hazard: float = 0.05
    background_hazard: float = 0.0004  # of larvae; assumed
    frass_left: float = (
        0.3  # of the dirt, where it was cleaned round those that do not move; assumed
    )
    disturbed_moult: float = 0.3  # of those in moult that are handled, die; assumed
    dry_after_h: float = 60.0  # eggs and pupae not misted, at 55 %; assumed
    dry_hazard: float = 0.004
    mould_hazard: float = 0.0006  # for a larva in a dirty cup at full dirt; assumed
    dirt_a_stem: float = 0.12  # share of full dirt that a stem's worth of frass makes; assumed
    moat_loss_mm: float = 2.6  # a day at the mean temperature; assumed
    ants_an_hour: float = 0.05  # that ants find a shelf whose moat is dry; assumed
    ant_kill: float = 0.08  # of small stages in a reached cup an hour; assumed
    hot_hazard: float = 0.08  # above the hottest; assumed
    cripple_hazard: float = 0.01  # an adult that is not taken out of the pupal cup; assumed
    # seconds
    s_walk: float = 12.0  # to a cup; assumed
    s_look: float = 20.0
    s_feed: float = 100.0  # a female by hand or swab and watched
    s_host: float = 75.0
    s_search: float = 180.0
    s_lens: float = 260.0
    s_frass: float = 20.0
    s_food: float = 50.0
    s_clean: float = 120.0
    s_moat: float = 12.0
    s_top_up: float = 30.0
    s_mist: float = 8.0
    s_room: float = 8.0
    s_leaf: float = 25.0
    s_move: float = 6.0  # an animal
    s_key: float = 2.0  # to press a key or write a line


DRY_HOT = World(
    "dry and hot", mean_c=23.5, warming_c=4.0, humidity_percent=40.0, fresh_h=60.0, moat_loss_mm=4.2
)
COOL_DAMP = World(
    "cool and damp",
    days_at_20=(6.0, 3.0, 2.6, 2.6, 3.4, 5.2, 10.5),
    mean_c=18.0,
    warming_c=2.5,
    sunny_share=0.4,
    humidity_percent=72.0,
    fresh_h=100.0,
    moat_loss_mm=1.6,
    mould_hazard=0.0016,
    dry_hazard=0.0015,
)
CLUSTERS = World(
    "eggs in clusters",
    cluster=14,
    eggs_a_day=8.0,
    seen_by_eye=0.9,
    seen_by_lens=0.95,
    seen_spread=8.0,
    settle_days=2.5,
)
WORLDS = (DRY_HOT, COOL_DAMP, CLUSTERS)


def drawn_anew(world: World, random: Random) -> World:
    """The same world with its assumed rates and hazards each multiplied by something between a half and two."""
    shares = (
        "accepts_first",
        "accepts_second",
        "seen_by_eye",
        "seen_by_lens",
        "viable_share",
        "sunny_share",
    )
    fixed = {
        "name",
        "cluster",
        "mean_c",
        "coldest_c",
        "best_c",
        "hottest_c",
        "humidity_percent",
        "warming_c",
        *shares,
    }
    changes: dict[str, float] = {}
    for name, value in vars(world).items():
        if name in fixed or not isinstance(value, float):
            continue
        changes[name] = value * 2.0 ** random.uniform(-1.0, 1.0)
    return replace(world, **changes)  # type: ignore[arg-type]
