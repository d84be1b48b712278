"""What searches for eggs looked at: the time that females stood with stems, by the searches made of
them since.

A search finds only what was laid before it. So the days that females stood with some stems are kept
apart by the searches that came after them, a letter a search: ``{"": 0.5, "el": 2.0}`` are half a
day that no search looked at, and two days whose eggs were looked for once by naked eye and once
with a lens. Of the eggs laid in these the share that was found follows from the share that a search
with each aid finds.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime
from math import ceil, inf, prod
from typing import TYPE_CHECKING

from rounds.bench.kept_lots import SAME_STOP
from rounds.bench.state import (
    Bench,
    Container,
    Host,
    KeptLot,
    LayingSum,
    OnPlant,
    SearchMade,
    WithoutEggs,
)
from rounds.grouping import summed

if TYPE_CHECKING:
    from rounds.biology.hidden_eggs import Detection

LETTERS = {"naked eye": "e", "lens": "l", "macro photo": "m"}
# with one aid: of a month, twice a day; where each finds a tenth they miss 0.2 %
MOST_SEARCHES = 60
A_MOMENT = 0.05  # female-days that stems stand at a stop between a search and their coming out
LEAST_COUNTED = 0.01  # eggs that leave a share known; less is not told apart
SAME_STILL = 1e-9  # a variance that is none
AIDS = {letter: aid for aid, letter in LETTERS.items()}


def on_plant(bench: Bench, taxon: str, plant: str) -> OnPlant:
    """What is known of a species on a plant so far."""
    return bench.laid.setdefault(taxon, {}).setdefault(plant, OnPlant())


def laid_on(bench: Bench, taxon: str, plant: str, mothers: Iterable[str]) -> LayingSum:
    """What some females of a species laid on a plant so far."""
    return on_plant(bench, taxon, plant).laid.setdefault(",".join(sorted(mothers)), LayingSum())


def share_found(searches: str, shares: Mapping[str, Detection]) -> float:
    """The share of eggs that some searches, a letter each, find: 1 - product of what those with
    each aid miss.

    Args:
        shares: what one search finds, by aid.
    """
    return 1 - prod(
        shares[AIDS[letter]].left_by(searches.count(letter)) for letter in set(searches)
    )


def days_found(
    sought: Mapping[str, float],
    shares: Mapping[str, Detection],
    known: dict[str, float] | None = None,
) -> float:
    """The days, each times the share of its eggs that the searches since then found.

    Args:
        known: what was reckoned before by these shares, filled up.
    """
    known = {} if known is None else known
    for searches in sought.keys() - known.keys():
        known[searches] = share_found(searches, shares)
    return max(0.0, sum(days * known[searches] for searches, days in sought.items()))


def counted_like(sought: Mapping[str, float], shares: Mapping[str, Detection]) -> float:
    """As how many eggs counted leave the share uncertain that the searches of some days found: that
    of a beta distribution with its mean and variance; inf where nothing is open.

    What two spans of days were searched by misses is no independent luck, for each search with an
    aid finds the one unknown share.
    """
    told = {searches: days for searches, days in sought.items() if days > 0}
    whole = sum(told.values())
    if not whole:
        return inf

    def missed(searches: str) -> float:
        return prod(
            shares[AIDS[letter]].left_by(searches.count(letter)) for letter in set(searches)
        )

    left = {searches: missed(searches) for searches in told}
    mean = 1 - sum(days * left[searches] for searches, days in told.items()) / whole
    varies = sum(
        days * of_other * (missed(one + other) - left[one] * left[other])
        for one, days in told.items()
        for other, of_other in told.items()
    ) / (whole * whole)
    most = mean * (1 - mean)
    return max(LEAST_COUNTED, most / varies - 1) if varies > most * SAME_STILL else inf


def times_sought(stems: Host | KeptLot) -> int:
    """How many searches looked at what was laid on some stems, as they stood with females and
    since."""
    return max((len(searches) for searches in stems.sought), default=0)


def days_with(stems: Host | KeptLot) -> float:
    """How long adults stood with some stems that are females or may be [days]."""
    return stems.female_days + stems.sex_not_known


def search_stems(
    bench: Bench, stems: Host | KeptLot, search_made: SearchMade, *, tells: bool
) -> None:
    """A search of some stems; one that is not sure what it saw finds nothing.

    Args:
        tells: whether it says something of laying on their plant: not where eggs were found, nobody
            knows on which plant.
    """
    if not _counts(search_made):
        return
    before = with_fresh(stems)
    after = summed((_once_more(searches, search_made), days) for searches, days in before.items())
    stems.sought = after
    for taxon, share in _shares_of(bench, stems) if tells else ():
        known = laid_on(bench, taxon, stems.plant, stems.mothers).sought
        for changed, sign in ((after, 1), (before, -1)):
            for searches, days in changed.items():
                if searches:
                    known[searches] = known.get(searches, 0.0) + sign * share * days


def search_wait(container: Container, stems: Host | KeptLot, search_made: SearchMade) -> None:
    """The same search for the wait for an egg, where the stems stood: so many of its days were
    looked at; to be told before ``search_stems``.

    Args:
        container: where they stand, or stood before they were kept.
    """
    wait = container.without_eggs.get(stems.plant)
    came_out_before = (
        wait is not None and isinstance(stems, KeptLot) and stems.taken_out <= wait.since
    )
    if wait is None or came_out_before or not _counts(search_made):
        return
    known, wait.searched_at = waited_with_fresh(wait), search_made.at
    for searches, days in with_fresh(stems).items():
        moved = min(days, known.get(searches, 0.0))
        key = _once_more(searches, search_made)
        wait.sought[key] = wait.sought.get(key, 0.0) + moved
        if searches:
            wait.sought[searches] = wait.sought.get(searches, 0.0) - moved


def _counts(search_made: SearchMade) -> bool:
    """Whether a search tells that none is there: not where it is unsure what it saw."""
    return not search_made.unsure and search_made.aid in LETTERS


def _once_more(searches: str, search_made: SearchMade) -> str:
    """The searches, in the order of their letters, and one more; of those with one aid so many
    count that another would find nothing."""
    letter = LETTERS[search_made.aid]
    if searches.count(letter) >= MOST_SEARCHES:
        return searches
    return "".join(sorted(searches + letter))


def with_fresh(stems: Host | KeptLot) -> dict[str, float]:
    """The days by search, with those that no search looked at yet under ``""``."""
    return _with_fresh(stems.sought, days_with(stems))


def waited_with_fresh(wait: WithoutEggs) -> dict[str, float]:
    """The warm, fed female-days of a wait, alike."""
    return _with_fresh(wait.sought, wait.female_days)


def days_searched(wait: WithoutEggs) -> float:
    """How many of the warm, fed female-days of a wait searches looked at."""
    return sum(days for searches, days in wait.sought.items() if searches)


def _with_fresh(sought: Mapping[str, float], whole: float) -> dict[str, float]:
    searched = {searches: days for searches, days in sought.items() if searches}
    return searched | {"": max(0.0, whole - sum(searched.values()))}


def _shares_of(bench: Bench, stems: Host | KeptLot) -> Iterable[tuple[str, float]]:
    """The species whose females stood with some stems, and their share of the days."""
    if isinstance(stems, KeptLot):
        return [(stems.taxon, 1.0)]
    total = days_with(stems)
    of = [*stems.days_of.items(), *stems.not_known_of.items()]
    return [(bench.taxon_of(code), days / total) for code, days in of] if total else []


def as_taken_out(host: Host, at: datetime) -> dict[str, float]:
    """The days by search of stems that come out; a search at the same stop looked at all that they
    bear."""
    sought = with_fresh(host)
    at_stop = sorted(
        LETTERS[search_made.aid]
        for search_made in host.searches
        if at - search_made.at <= SAME_STOP and not search_made.unsure
    )
    if at_stop:
        key = "".join(at_stop)
        sought[key] = sought.get(key, 0.0) + sought.pop("")
    return sought


def divided(stems: Host | KeptLot, of: Host | KeptLot, share: float) -> None:
    """Some of the stems bear their share; of eggs found not less than that."""
    stems.sought = {searches: days * share for searches, days in of.sought.items()}
    stems.eggs = ceil(of.eggs * share)
    stems.removal = None  # on which of them the eggs were nobody knows
    if isinstance(stems, KeptLot) and isinstance(of, KeptLot):
        stems.larvae = of.larvae * share
