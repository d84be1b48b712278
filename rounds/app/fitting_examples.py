"""The examples of a refusal: those alone that would be taken, or that ask for one thing more."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import islice

from rounds import late
from rounds.app.desk import Desk
from rounds.bench.codes import like_codes
from rounds.entries.phrase.times import time_in
from rounds.entries.validation import alike_in, holds

_EXAMPLES = late.pattern(r"^(.*?\bAs: )(.*)$", re.DOTALL)
_ASKS_ON = late.pattern(r"\?|\badd:? |say wh(?:ich|ether)|already")
_GOES_ON = late.pattern(r"(?:^|[ ,])(?:then|first|where|that|or)\b|: ")
_WHICH = "say which container first"
_TRIED = 30  # containers at most, for a refusal comes with each key
_BESIDE = "; as a note beside it: "
_IS_BESIDE = late.pattern(r"^as a note: ")


def with_fitting_examples(desk: Desk, text: str, told: str, refused: Callable[[str], str]) -> str:
    """What was told of a line, without the examples that would be refused on this bench; where
    none is left, why what was typed cannot be, or what is there and how it is noted.

    Args:
        refused: why a line would be refused; '' where it would be taken.
    """
    told, beside, noted = told.partition(_BESIDE)
    if beside and not refused(noted.partition("; ")[0]):
        return told + beside + noted
    if told.startswith(_WHICH):
        return _of_which(desk, text, refused)
    found = _EXAMPLES.match(told)
    if not found or "(as it stood" in told or time_in(text, now=desk.now(), zone=desk.zone):
        return told
    shown, perhaps, near = found[2].partition("; perhaps ")
    examples = [one.strip().removeprefix("or ") for one in shown.split("; ")]
    lines = [one for one in examples if _is_line(desk, one)]
    others = [one for one in examples if _IS_BESIDE.match(one)]
    if len(lines) + len(others) < len(examples) or not lines:
        return told
    code = alike_in(text.strip().partition(" ")[0], desk.codes)
    whys = {one: refused(one) for one in lines}
    fitting = [one for one, why in whys.items() if not why or (code and _ASKS_ON.search(why))]
    if len(fitting) == len(lines):
        return told
    others = [one for one in others if not refused(one.partition(": ")[2])]
    if fitting:
        return found[1] + "; ".join([*fitting, *others]) + perhaps + near
    asked = found[1].removesuffix("As: ")
    if others:
        return f"{asked}{others[0][:1].upper()}{'; '.join(others)[1:]}"
    if code and _is_that(text, lines[0]):
        return whys[lines[0]]
    return _there(desk, code, text, asked) or told


def _of_which(desk: Desk, text: str, refused: Callable[[str], str]) -> str:
    """What is said of a line without a container, with the first of which it can be said."""
    asked = ""
    for code in islice(desk.codes, _TRIED):
        line = f"{code} {text.strip()}"
        why = refused(line)
        if not why:
            return f"{_WHICH}, as: {line}"
        asked = asked or (line if _ASKS_ON.search(why) else "")
    return f"{_WHICH}, as: {asked}" if asked else _WHICH


def _there(desk: Desk, code: str, text: str, asked: str) -> str:
    """What is asked, with what is in that container and how it is noted; '' of one that does not
    stand."""
    first, _, rest = text.strip().partition(" ")
    container = desk.bench.at(code)
    if container is None:
        is_code = like_codes(first)
        return "" if is_code else f"'{rest or first}' is said of a container; say of which"
    noted = f"; as a note: {code} note {rest}" if rest and " -- " not in text else ""
    return f"{asked}{code} holds {holds(container)}{noted}"


def _is_line(desk: Desk, example: str) -> bool:
    first = example.partition(" ")[0]
    begins = like_codes(first) or first in (*desk.codes, *desk.bench.shelves, "room", "shelf")
    return bool(begins) and not _GOES_ON.search(example)


def _is_that(typed: str, example: str) -> bool:
    """Whether an example says what was typed and more: ``K4 move to K5``, ``K4 moved 2 to K5``."""
    said = example.casefold().split()
    return all(any(one.startswith(word) for one in said) for word in typed.casefold().split())
