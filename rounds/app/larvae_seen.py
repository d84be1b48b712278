"""Young larvae typed as they are seen, on kept stems, of eggs on record, or beside a female: ``S2 3
larvae``, ``S2 hatched 3``."""

from __future__ import annotations

import re
from typing import Any

from rounds import late
from rounds.app.desk import Desk
from rounds.app.holding_line import time_of_line
from rounds.bench.plurals import count
from rounds.bench.state import Container
from rounds.checks.question import Saying
from rounds.checks.turn import young_larvae
from rounds.entries import registry as k
from rounds.entries.phrase.reader import Draft
from rounds.entries.phrase.synonyms import digits_of
from rounds.entries.validation import alike_in

_LARVAE = r"(?:young\s+|new\s+|tiny\s+)*(?:larvae?|caterpillars?|hatchlings?|l1)"
_STEMS = r"(?P<stems>\s+on\s+(?:the\s+)?(?:kept|old)\s+stems)?"
_SEEN = late.pattern(
    rf"(?:(?P<hatched>hatched)|counted|found|seen)?\s*(?P<number>\w+)\s*(?P<more>more\b)?\s*"
    rf"(?P<larvae>{_LARVAE})?(?:\s+(?P<did>hatched|seen|found))?{_STEMS}",
    re.IGNORECASE,
)
_MOVED = late.pattern(rf"moved?\s+(?P<number>\w+)\s+{_LARVAE}\s+.*", re.IGNORECASE)


def larvae_seen(desk: Desk, text: str) -> tuple[Draft, list[Saying]] | str | None:
    """What such a line says where no larva is on record: eggs that hatched, as far as they are on
    record; of kept stems hidden ones, as the stop says it; else those of the female that sits
    there. A string where it must be said otherwise, None for any other line. Where larvae are on
    record too, only those said to have hatched on kept stems, or to be more, are not these."""
    line, _, remark = text.strip().partition(" -- ")
    timed = time_of_line(line.strip(), desk.now())
    code, _, rest = timed.text.strip().partition(" ")
    known = alike_in(code, desk.codes)
    container = desk.bench_of(timed.at).at(known) if known else None
    if container is None:
        return None
    are_known, eggs = container.count("larva") > 0, container.count("egg")
    mothers = [] if eggs or container.held else _mothers(desk, container)
    if not (eggs or container.held or mothers):
        return None
    if not are_known and (moved := _MOVED.fullmatch(rest)) and (number := _number(moved["number"])):
        first = ", then ".join(_lines_of(container, number, mothers))
        there = _there(container)
        return f"{known} holds no larvae on record, but {there}; first {first}, then {known} {rest}"
    seen_here = _SEEN.fullmatch(rest)
    number = _number(seen_here["number"]) if seen_here else 0
    if not seen_here or not number or not (seen_here["hatched"] or seen_here["larvae"]):
        return None
    says_hatched = seen_here["hatched"] or seen_here["did"] == "hatched"
    if are_known and not (seen_here["more"] or (container.held and not eggs and says_hatched)):
        return None
    if says_hatched and not (container.held and not eggs):
        return None
    if eggs and seen_here["stems"]:
        return None  # eggs on record are of the plant in use: the frass look tells of the old one
    if timed.asked:
        return timed.asked
    if number > eggs > 0:
        lines = ", then ".join(_lines_of(container, number, mothers))
        return f"{known} holds {_there(container)} on record; first {lines}"
    if len(mothers) > 1:
        return f"of which female? As: {_lines_of(container, number, mothers)[0]}"
    here: dict[str, Any] = {"container": known, "number": number}
    if eggs:
        told: list[Saying] | str = [(k.Hatched, here)]
    elif mothers:
        told = [(k.Stocked, here | {"brood": mothers[0], "stage": "larva", "instar": 1})]
    else:
        told = _hidden(desk, container, number, timed)
    if isinstance(told, str):
        return told
    words = remark.strip() or timed.note
    note: list[Saying] = [(k.Note, {"container": known, "text": words})] if words else []
    return Draft(told[-1][0], timed.at, {}), [*told, *note]


def _mothers(desk: Desk, container: Container) -> list[str]:
    """The females that sit there, by their codes."""
    there = [code for lot in container.lots for code in desk.bench.may_lay(lot)]
    return [code for code in there if code in desk.bench.founders]


def _there(container: Container) -> str:
    eggs = container.count("egg")
    return count(eggs, "egg") if eggs else "kept stems" if container.held else "a female"


def _lines_of(container: Container, number: int, mothers: list[str]) -> list[str]:
    """The lines that put so many young larvae on record there."""
    code, eggs = container.code, container.count("egg")
    if len(mothers) > 1:
        return [" or ".join(f"{code} stocked {number} larvae {mother}" for mother in mothers)]
    if number > eggs > 0 and container.held:
        return [f"{code} hatched {eggs}", f"{code} {number - eggs} more larvae"]
    recounted = [f"{code} counted {number} eggs"] if number > eggs > 0 else []
    return [*recounted, f"{code} {number} larvae"]


def _hidden(desk: Desk, container: Container, number: int, timed: Any) -> list[Saying] | str:
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
    return [*first, *to_record]


def _number(word: str) -> int:
    return int(digits_of(word) or 0)
