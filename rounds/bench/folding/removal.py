"""What searches of the same stems, one after the other, tell of the share of eggs that one finds.

Eggs found are taken off, so that each search finds its share of what those before it left (removal
estimation: Moran 1951, Biometrika 38:307-311; Zippin 1956, Biometrics 12:163-189; from memory). An
egg found by the third was missed by two. That holds from one search to the next as long as nobody
lays there in between; where somebody did, it begins anew, for what was laid since is not what was
missed. Larvae of hidden eggs, and looks for frass long enough to show them all, are one more
search, which leaves only what never hatches; frass alone shows that there were some. Until then
nobody knows how many are left, and the eggs found tell only by which search found which
(``biology.hidden_eggs.learned_detection``).
"""

from __future__ import annotations

from collections import Counter
from typing import NamedTuple

from rounds.bench.folding.sought import A_MOMENT, AIDS, LETTERS, on_plant, with_fresh
from rounds.bench.state import Bench, Host, KeptLot, Removal, SearchDetection, SearchMade

WATCHED_LOOKS = 5  # looks for frass after which stems count as watched; our estimate
LARVAE = "f"  # the letter of what showed by itself: it leaves what never hatches
FRASS = "d"  # that of frass alone, of nobody knows how many


def search_again(
    bench: Bench, stems: Host | KeptLot, search_made: SearchMade, found: int | None
) -> None:
    """One more search of some stems; to be told before what was laid on them counts as searched.

    Args:
        found: eggs found on these stems; None where nobody knows on which of several.
    """
    tells = not search_made.unsure and search_made.aid in LETTERS
    if found is None or (found and not tells):
        taken_off(stems)
    if found is None or not tells:
        return
    removal = _so_far(bench, stems)
    if removal is None or removal.passes[-1][0] in (LARVAE, FRASS):
        removal = Removal(_taxon(bench, stems))
    _tell(bench, stems, removal, (LETTERS[search_made.aid], found))


def taken_off(stems: Host | KeptLot) -> None:
    """Eggs were taken off some stems by no search of them."""
    stems.removal = None


def learn_missed(bench: Bench, held: KeptLot, missed: int) -> None:
    """So many larvae came of eggs on kept stems that all searches of them so far had missed."""
    removal = _so_far(bench, held)
    if removal is not None:
        _tell(bench, held, removal, (LARVAE, missed))


def learn_some_missed(bench: Bench, held: KeptLot) -> None:
    """Frass showed that one egg or more was missed; where larvae came before they tell how many."""
    removal = _so_far(bench, held)
    if removal is not None and removal.passes[-1][0] not in (LARVAE, FRASS):
        _tell(bench, held, removal, (FRASS, 0))


def learn_watched(bench: Bench, held: KeptLot) -> None:
    """Kept stems leave: if they were watched until what searches missed had its time to show, no
    more eggs than those are left on them."""
    is_open = held.removal is not None and held.removal.passes[-1][0] != FRASS
    if is_open and len(held.frass_looks) >= WATCHED_LOOKS:
        learn_missed(bench, held, 0)


def _taxon(bench: Bench, stems: Host | KeptLot) -> str:
    if isinstance(stems, KeptLot):
        return stems.taxon
    return bench.taxon_of(min(stems.mothers)) if stems.mothers else ""


def _so_far(bench: Bench, stems: Host | KeptLot) -> Removal | None:
    """The searches of what is on some stems now; None where something was laid there since."""
    removal = stems.removal
    laid_since = with_fresh(stems)[""] > A_MOMENT
    return (
        None if removal is None or laid_since or removal.taxon != _taxon(bench, stems) else removal
    )


def _tell(bench: Bench, stems: Host | KeptLot, before: Removal, last: tuple[str, int]) -> None:
    """What these searches tell, with one more; larvae say how many it was whose frass showed."""
    is_counted = before.passes[-1:] == ((FRASS, 0),) and last[0] == LARVAE
    passes = before.passes[:-1] if is_counted else before.passes
    after = Removal(before.taxon, (*passes, last))
    stems.removal = after
    if not after.taxon:
        return
    known = on_plant(bench, after.taxon, stems.plant)
    for removal, sign in ((before, -1), (after, 1)):
        told = _told(removal)
        for letter, number in told.found.items():
            by_aid = known.detected.setdefault(AIDS[letter], SearchDetection())
            by_aid.found += sign * number
            by_aid.missed += sign * told.missed[letter]
            by_aid.eggs += sign * told.eggs[letter]
        if told.stems:
            number = known.searched.pop(told.stems, 0) + sign
            known.searched |= {told.stems: number} if number else {}


class _Told(NamedTuple):
    """Of some searches, by letter: eggs found, times that one was missed, and how many eggs those
    were; the letters with the number of all eggs found, where that tells of what is left."""

    found: Counter[str]
    missed: Counter[str]
    eggs: Counter[str]
    stems: str = ""


def _told(removal: Removal) -> _Told:
    """One search by itself tells nothing: nobody knows of how many it found those."""
    told = _Told(Counter(), Counter(), Counter())
    letters = [letter for letter, _ in removal.passes]
    if len(letters) < 2:
        return told
    made: Counter[str] = Counter()
    for letter, found in removal.passes:
        for before, times in made.items():
            told.missed[before] += found * times
        if letter in AIDS:
            told.found[letter] += found
            made[letter] += 1
        for aid in made:
            told.eggs[aid] += found or (letter == FRASS)
    whole = sum(found for _, found in removal.passes)
    tells = whole or FRASS in letters
    return told._replace(stems=f"{''.join(sorted(letters))}{whole}") if tells else told
