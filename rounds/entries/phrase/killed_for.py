"""A death that was one for the collection: such an animal is a specimen, and was not found dead."""

from __future__ import annotations

import re

from rounds import late
from rounds.entries.phrase.reader import PhraseProblem, Reader

_KILLED = late.pattern(
    r"(?:\band )?\bkilled (?:as|for)(?: \w+){0,2} (?:collections?|specimens?|vouchers?|museum)\b",
    re.IGNORECASE,
)
_DIED = late.pattern(r"\b(?:found dead|died|dead|death)\b", re.IGNORECASE)


def says_killed(text: str) -> bool:
    """Whether a text says of an animal that it was killed for the collection."""
    return bool(_KILLED.search(text))


def refuse_killed_for(reader: Reader) -> None:
    """Refuse a death of which the line or its note says that it was for the collection.

    Raises:
        PhraseProblem: the line of a specimen.
    """
    spoken, after = reader.spoken, reader.after
    if not (says_killed(spoken) or says_killed(after)):
        return
    line = " ".join(_DIED.sub("preserved", _KILLED.sub(" ", spoken), count=1).split()).rstrip(" ,")
    note = after if says_killed(after) else "killed for the collection"
    raise PhraseProblem(
        f"killed for the collection it is a specimen, not found dead; as: {line} -- {note}"
    )
