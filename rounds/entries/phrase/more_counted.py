"""More eggs or larvae than are on record, where a count has found them: ``E5 2 more eggs``."""

from __future__ import annotations

from rounds import late
from rounds.bench.state import Container
from rounds.entries.phrase.reader import Reader
from rounds.entries.phrase.short_forms import ShortForm
from rounds.entries.phrase.synonyms import digits_of
from rounds.entries.phrase.verbs import lays

_MORE = late.pattern(
    r"(?:counted )?(?P<number>\w+) more (?P<kind>eggs?|larvae?|caterpillars?|l(?P<instar>[1-9]))"
    r"(?P<behind> .*)?"
)


def more_counted(reader: Reader, form: ShortForm, container: Container) -> list[str]:
    """It as a count of all that are there then; nothing of any other line. Beside females and kept
    stems eggs are found by a search."""
    del reader
    more = _MORE.fullmatch(form.said)
    seen = int(digits_of(more["number"]) or 0) if more else 0
    if more is None or not seen:
        return []
    is_egg, instar = more["kind"].startswith("egg"), int(more["instar"] or 0)
    lots = container.lots_of("egg" if is_egg else "larva")
    there = sum(lot.number for lot in lots if not instar or lot.instar == instar)
    laid_here = lays(container) or container.held
    if not there or len({lot.brood for lot in lots}) > 1 or (is_egg and laid_here):
        return []
    return ["counted", str(there + seen), more["kind"], *(more["behind"] or "").split()]
