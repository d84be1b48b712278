"""What may be eggs, said in short: ``L2 maybe 6``, ``L2 6?``, and ``L2 6 more unsure`` beside those
seen before."""

from __future__ import annotations

import re

from rounds import late
from rounds.bench.state import Bench
from rounds.entries.validation import alike_in

_MAYBE = late.pattern(
    r"(\S+)\s+(?:(?:maybe|perhaps|possibly)\s+(\d+)(?:\s+eggs?)?|(\d+)(?:\s+eggs?)?\s*\?)(?=\s|$)",
    re.IGNORECASE,
)
_MORE = late.pattern(
    r"(\S+)\s+(?:searched\s+)?(?:(\d+)\s+more\s+unsure|(\d+)\s+unsure\s+more)(?=\s|$)",
    re.IGNORECASE,
)


def unsure_said(bench: Bench, text: str) -> tuple[str, str]:
    """The line as a search that is not sure, and what is asked of it; those said to be more are
    added to the ones that wait, on the plant that the line names or on the only one."""
    text, dashes, note = text.strip().partition(" -- ")
    note = dashes + note
    if maybe := _MAYBE.match(text):
        text = f"{maybe[1]} {maybe[2] or maybe[3]} unsure{text[maybe.end() :]}"
    more = _MORE.match(text)
    if more is None:
        return text + note, ""
    container = bench.at(alike_in(more[1], bench.containers))
    rest = text[more.end() :]
    waiting = container.unsure if container else []
    named = [one for one in waiting if one.plant and one.plant.lower() in rest.lower()]
    unnamed = [] if " on " in rest else waiting
    plants = [one.plant for one in unnamed if one.plant]
    if not named and len(unnamed) > 1 and plants:
        lines = " or ".join(f"{more[0]} on {plant}{rest}{note}" for plant in plants)
        return text, f"on which plant? Some wait on several; as: {lines}"
    before = sum(one.number for one in named or unnamed)
    plant = f" on {plants[0]}" if plants and not named else ""
    return f"{more[1]} searched {int(more[2] or more[3]) + before} unsure{plant}{rest}{note}", ""
