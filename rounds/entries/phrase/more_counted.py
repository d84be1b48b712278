"""More of a stage than are on record: of those before it, else a count has found them: ``R2 1 more
pupa`` of larvae, ``E5 2 more eggs``."""

from __future__ import annotations

from rounds import late
from rounds.bench.state import Container
from rounds.entries.base import Stage
from rounds.entries.losses import Leaving
from rounds.entries.phrase.reader import Reader
from rounds.entries.phrase.short_forms import ShortForm
from rounds.entries.phrase.synonyms import MEANT, digits_of
from rounds.entries.phrase.verbs import VERBS, lays
from rounds.entries.registry import KIND_BY_NAME

_MORE = late.of_words(
    r"(?:counted )?(?P<number>\w+) (?P<word>more)"
    r" (?P<kind>eggs?|larvae?|caterpillars?|pupae?|adults?|l(?P<instar>[1-9]))(?P<behind> .*)?"
)


def more_counted(reader: Reader, form: ShortForm, container: Container) -> list[str]:
    """It as pupated or emerged, or as a count of all that are there then; nothing of any other
    line. Beside females and kept stems eggs are found by a search."""
    more = _MORE.fullmatch(form.said)
    seen = int(digits_of(more["number"]) or 0) if more else 0
    if more is None or not seen:
        return []
    stage, instar = _stage(more["kind"]), int(more["instar"] or 0)
    behind = (more["behind"] or "").split()
    if behind and _leaves(behind[0].rstrip(",")):
        return []  # '1 more larva dead'
    becomes = _BECOMES.get(stage)
    if becomes and container.count(becomes[0]):
        return [becomes[1], str(seen), "more", *behind]
    lots = container.lots_of(stage)
    there = sum(lot.number for lot in lots if not instar or lot.instar == instar)
    laid_here = lays(container) or container.held
    if not there or len({lot.brood for lot in lots}) > 1 or (stage == "egg" and laid_here):
        return []
    return ["counted", str(there + seen), more["kind"], *behind]


def _leaves(word: str) -> bool:
    """Whether a word says that animals leave: they died, escaped, were let go."""
    kind = VERBS.get(word) or MEANT.get(word, ("",))[0]
    return kind in KIND_BY_NAME and issubclass(KIND_BY_NAME[kind], Leaving)


_BECOMES: dict[Stage, tuple[Stage, str]] = {
    "pupa": ("larva", "pupated"),
    "adult": ("pupa", "emerged"),
}


def _stage(kind: str) -> Stage:
    stages: tuple[Stage, ...] = ("egg", "pupa", "adult")
    return next((stage for stage in stages if kind.startswith(stage)), "larva")
