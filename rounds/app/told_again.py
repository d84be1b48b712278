"""A change that is typed a second time within a day: the same animals told again, or others."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import datetime
from typing import Any

from rounds import late
from rounds.app.desk import Desk
from rounds.bench.dates import dated
from rounds.entries.base import Entry, Saying
from rounds.entries.better_record import INSTEAD_OF
from rounds.entries.phrase.failed_wings import WITHIN

MORE = late.pattern(r"\b(?:more|another|further|extra)\b", re.IGNORECASE)


def told_again(desk: Desk, text: str, sayings: Sequence[Saying], at: datetime) -> str:
    """What is asked where so many hatched, moulted, pupated or emerged as are on record of that
    container within a day; empty where nothing is, or the line says that they are others."""
    if MORE.search(text.partition(" -- ")[0]):
        return ""
    for kind, fields in sayings:
        if not (kind.grows_from and kind.grows_to) or fields.get("sure") or INSTEAD_OF in fields:
            continue
        earlier = _told(desk, kind, fields, fields.get("at") or at)
        if earlier is not None:
            number: int = getattr(earlier, "number", 1)
            return (
                f"{fields['container']} {kind.__struct_config__.tag} {number} on"
                f" {dated(earlier.at, desk.now())} already; if those are meant nothing is to be"
                f" written; if others, as: {_of_others(text, number)}"
            )
    return ""


def _told(desk: Desk, kind: type[Entry], fields: dict[str, Any], at: datetime) -> Entry | None:
    """The newest line on record within a day of that time that says the same."""
    for entry in reversed(desk.entries()):
        if entry.at <= at - WITHIN:
            return None
        if (
            type(entry) is kind
            and entry.at < at + WITHIN
            and entry.id not in desk.struck
            and _says_the_same(entry, fields)
        ):
            return entry
    return None


def _says_the_same(entry: Any, fields: dict[str, Any]) -> bool:
    """Whether both may mean the same animals: whose brood or sex one of them leaves open too."""
    broods = {entry.brood, fields.get("brood") or ""} - {""}
    sexes = {getattr(entry, "sex", None), fields.get("sex")} - {None}
    return bool(
        entry.container == fields.get("container")
        and entry.number == (fields.get("number") or 1)
        and len(broods) < 2
        and len(sexes) < 2
        and getattr(entry, "instar", 0) == fields.get("instar", 0)
    )


def _of_others(text: str, number: int) -> str:
    """The line as it says that they are others."""
    text = text.strip()
    line, dashes, note = text.partition(" -- ")
    more = re.sub(rf"(?<= ){number}(?= |$)", f"{number} more", line, count=1)
    return (more if more != line else f"{line} sure") + dashes + note
