"""Every calculation as the keeper meets it: inputs, result, formula, source."""

from __future__ import annotations

from importlib import import_module

from rounds.entries.slots import listed
from rounds.views.calculations.frame import Calculation

# One module a topic; each has a tuple CALCULATIONS. Loaded only when a calculation is asked for.
TOPICS = listed(
    "degree_days forecast development laying hidden_eggs survival increase kinship air moat "
    "solution sun"
)


def all_calculations() -> tuple[Calculation, ...]:
    """Every calculation, in the order of the topics."""
    topics = (import_module(f"rounds.views.calculations.{topic}") for topic in TOPICS)
    return tuple(one for topic in topics for one in topic.CALCULATIONS)
