"""What is on record of where founders are from."""

from __future__ import annotations

from rounds.daybook import tag_of
from rounds.entries.registry import FounderIntake

# Of a mother of whom an old table tells no more than her code.
WHERE_FROM_NOT_SAID = "mother of broods in older records; where from is not said"


def is_wild(founder: FounderIntake) -> bool:
    """Whether it is on record that a founder was taken from the wild: as of all that were brought
    in here; of one that an old table tells of only with a place or a day of the catch."""
    return bool(founder.place or founder.caught or not tag_of(founder.id))
