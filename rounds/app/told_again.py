"""A change that is typed a second time on a day, a find of eggs or animals that left within the
hour, or who drank: the same animals told again, or others."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import Any

from rounds import late
from rounds.app.desk import Desk
from rounds.bench.dates import dated
from rounds.bench.folding.hunger import drank_by_name
from rounds.entries import registry as k
from rounds.entries.base import Entry, Saying
from rounds.entries.better_record import INSTEAD_OF
from rounds.entries.phrase.failed_wings import WITHIN
from rounds.entries.phrase.synonyms import NUMBER_WORDS
from rounds.entries.slots import each
from rounds.entries.which_animals import number_said

FOUND_WITHIN = timedelta(hours=1)  # the next search or look is hours later; our estimate
_OF_THE_SAME = each("plant where sex stage instar cause place depository fate to into numbers")
MORE = late.of_words(r"\b(?P<word>more|another|further|extra)\b", re.IGNORECASE)


def told_again(desk: Desk, text: str, sayings: Sequence[Saying], at: datetime) -> str:
    """What is asked where so many hatched, moulted, pupated or emerged as are on record of that
    container within a day, or so many eggs were found or left it, or one by name drank; empty where
    nothing is, or the line says that they are others."""
    if MORE.search(text.partition(" -- ")[0]):
        return ""
    changes = [
        (kind, fields)
        for kind, fields in sayings
        if bool(kind.grows_from and kind.grows_to) or leaves(kind) or _is_find(kind, fields)
    ]
    told = [
        None
        if (fields.get("sure") and not leaves(kind)) or INSTEAD_OF in fields
        else _told(desk, kind, fields, fields.get("at") or at)
        for kind, fields in changes
    ]
    by_sex = len({fields.get("sex") for _, fields in changes}) > 1
    if by_sex and None in told:
        return ""  # of both sexes at once, and not all of it is on record
    for (_, fields), earlier in zip(changes, told, strict=True):
        if earlier is not None:
            number = _number(earlier)
            told_as = f"missing {earlier.fate}" if isinstance(earlier, k.Settled) else earlier.what
            what = f"{told_as} {number}"
            at_that = dated(earlier.at, desk.now())
            return (
                f"{fields['container']} {what} on {at_that} already; if those are meant nothing is"
                f" to be written; if others, as: {_of_others(text, earlier)}"
            )
    return _fed_already(desk, sayings, at)


def _fed_already(desk: Desk, sayings: Sequence[Saying], at: datetime) -> str:
    """What is asked where so many drank and one that is named did in the same feed: taken for
    another, one that did not drink would count as fed; '' where nothing is."""
    bench = desk.bench_of(at)
    for kind, fields in sayings:
        container = bench.at(str(fields.get("container", "")))
        if kind is not k.Drank or container is None or fields.get("female"):
            continue
        number = int(fields.get("number") or 0)
        drank, others = drank_by_name(bench, container, at)
        there = sum(lot.number for lot in (*drank, *others))
        if not (drank and others and 0 < number < there):
            continue
        names = " and ".join(lot.brood for lot in drank)
        when = max(one.since for lot in drank for one in lot.hunger).astimezone(desk.zone)
        who = "is she" if len(drank) == 1 else "are they"
        code, left = container.code, sum(lot.number for lot in others)
        return (
            f"{names} drank already at {when:%H:%M}; {who} among them? Others beside, as: {code}"
            f" {others[0].brood} drank; or {code} drank {min(number, left)} more"
        )
    return ""


def _told(desk: Desk, kind: type[Entry], fields: dict[str, Any], at: datetime) -> Entry | None:
    """The newest line on record near that time that says the same."""
    within = FOUND_WITHIN if kind is k.Searched or leaves(kind) else WITHIN
    for entry in reversed(desk.entries()):
        if entry.at <= at - within:
            return None
        if (
            type(entry) is kind
            and entry.at < at + within
            and entry.id not in desk.struck
            and not _is_of_a_night_before(desk, entry.at, at)
            and _says_the_same(entry, fields)
            and not _is_one_by_name(desk, entry, fields)
        ):
            return entry
    return None


def _is_of_a_night_before(desk: Desk, before: datetime, at: datetime) -> bool:
    """Whether a line is of the morning after another: what goes on one by one goes on with the next
    then. One that is told late is of before it, and asked about."""
    is_later = at - before > FOUND_WITHIN
    days = (one.astimezone(desk.zone).date() for one in (before, at))
    return is_later and next(days) != next(days)


def leaves(kind: type[Entry]) -> bool:
    """Whether animals are not there any more by it, or are not missing any more."""
    return kind.takes or kind is k.Settled


def _is_find(kind: type[Entry], fields: dict[str, Any]) -> bool:
    """Whether it is a find of eggs that were not looked at before."""
    said = fields.get("confirmed") or fields.get("lots")
    return kind is k.Searched and bool(fields.get("found")) and not said


def _number(entry: Any) -> int:
    return int(entry.found if isinstance(entry, k.Searched) else entry.number)


def _says_the_same(entry: Any, fields: dict[str, Any]) -> bool:
    """Whether both may mean the same animals: whose brood or sex one of them leaves open too."""
    broods = {entry.brood, fields.get("brood") or ""} - {""}
    return bool(
        entry.container == fields.get("container")
        and _number(entry) == (fields.get("found") or number_said(type(entry), fields))
        and all(
            len({getattr(entry, name, "") or "", fields.get(name) or ""} - {""}) < 2
            for name in _OF_THE_SAME
        )
        and (getattr(entry, "voucher", "") or "") == (fields.get("voucher") or "")
        and len(broods) < 2
    )


def _is_one_by_name(desk: Desk, entry: Any, fields: dict[str, Any]) -> bool:
    """Whether one that is known by her own code left, and the line names none: another then."""
    return leaves(type(entry)) and (
        (entry.brood in desk.bench.founders) != (fields.get("brood") in desk.bench.founders)
    )


def _of_others(text: str, earlier: Entry) -> str:
    """The line as it says that they are others."""
    line, dashes, note = text.strip().partition(" -- ")
    number = str(_number(earlier))
    many = [",".join(map(str, earlier.numbers))] if isinstance(earlier, k.Split) else [number]
    many += [word for word, of in NUMBER_WORDS.items() if of == number]
    more = re.sub(rf"(?<= )({'|'.join(many)})(?=[ ,;]|$)", r"\1 more", line, count=1)
    sure = f"{number} more" if leaves(type(earlier)) else "sure"
    return (more if more != line else f"{line} {sure}") + dashes + note
