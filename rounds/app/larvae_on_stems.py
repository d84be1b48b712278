"""Young larvae seen on kept stems, typed as they are seen: ``S2 3 larvae``, ``S2 hatched 3``."""

from __future__ import annotations

import re
from typing import Any

from rounds.app.desk import Desk
from rounds.app.holding_line import time_of_line
from rounds.bench.state import Container
from rounds.checks.question import Saying
from rounds.checks.turn import young_larvae
from rounds.entries import registry as k
from rounds.entries.phrase.reader import Draft
from rounds.entries.phrase.synonyms import NUMBER_WORDS

_LARVAE = r"(?:young\s+|new\s+|tiny\s+)*(?:larvae?|caterpillars?|hatchlings?|l1)"
_STEMS = r"(?:\s+on\s+(?:the\s+)?(?:kept|old)\s+stems)?"
_SEEN = re.compile(
    rf"(?:(?P<hatched>hatched)|counted|found|seen)?\s*(?P<number>\w+)\s*(?P<more>more\b)?\s*"
    rf"(?P<larvae>{_LARVAE})?(?:\s+(?P<did>hatched|seen|found))?{_STEMS}",
    re.IGNORECASE,
)
_MOVED = re.compile(rf"moved?\s+(?P<number>\w+)\s+{_LARVAE}\s+.*", re.IGNORECASE)


def larvae_on_stems(desk: Desk, text: str) -> tuple[Draft, list[Saying]] | str | None:
    """What such a line says where kept stems stand and no egg is on record: hidden eggs hatched, as
    the stop says it; a string where it must be said otherwise, None for any other line. Where
    larvae are on record too, only those said to have hatched, or to be more, are not these."""
    timed = time_of_line(text.strip(), desk.now())
    code, _, rest = timed.text.strip().partition(" ")
    known = next((one for one in desk.codes if one.casefold() == code.casefold()), "")
    container = desk.bench_of(timed.at).at(known) if known else None
    if container is None or not container.held or container.count("egg"):
        return None
    are_known = container.count("larva") > 0
    if not are_known and (moved := _MOVED.fullmatch(rest)) and _number(moved["number"]):
        seen = f"first {known} {moved['number']} larvae"
        return f"{known} holds no larvae on record, but kept stems; {seen}, then {known} {rest}"
    seen_here = _SEEN.fullmatch(rest)
    number = _number(seen_here["number"]) if seen_here else 0
    if not seen_here or not number or not (seen_here["hatched"] or seen_here["larvae"]):
        return None
    if are_known and not (
        seen_here["hatched"] or seen_here["did"] == "hatched" or seen_here["more"]
    ):
        return None
    if timed.asked:
        return timed.asked
    told = _told(desk, container, number, timed)
    return told if isinstance(told, str) else (Draft(k.Hatched, timed.at, {}), told)


def _told(desk: Desk, container: Container, number: int, timed: Any) -> list[Saying] | str:
    code, lots = container.code, container.held
    is_seen = any(lot.frass not in ("", "none") for lot in lots)
    if not is_seen and len(lots) > 1:
        frass = f"{code} frass trace"
        return (
            f"on which kept stems? First {frass} lot={lots[0].number}, or where nobody knows"
            f" {frass} alone; then {code} {number} larvae"
        )
    first: list[Saying] = (
        []
        if is_seen
        else [(k.FrassSeen, {"container": code, "level": "trace", "lots": (lots[0].lot,)})]
    )
    at = timed.at or desk.now()
    seen_on = () if is_seen else (lots[0],)
    bench = desk.bench_of(timed.at)
    to_record = young_larvae(bench, container, number, desk.foresight, at, seen_on)
    note: list[Saying] = [(k.Note, {"container": code, "text": timed.note})] if timed.note else []
    return [*first, *to_record, *note]


def _number(word: str) -> int:
    text = NUMBER_WORDS.get(word.casefold(), word)
    return int(text) if text.isdecimal() else 0
