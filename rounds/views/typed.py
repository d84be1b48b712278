"""A typed line, read and said at the desk; a setting is looked at before it is kept."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from rounds.bench import kinds as k
from rounds.bench.phrase import Draft, Unclear, read_phrase
from rounds.care.ahead.moats import state_at
from rounds.desk import Desk, Outcome, Refused
from rounds.views.cautions import cautions_before
from rounds.views.photos import attach
from rounds.views.settings import setting_refusal, setting_said
from rounds.views.words import clock


def read_typed(desk: Desk, text: str) -> Draft | Unclear:
    """What a typed line says on this bench, or what is not clear about it."""
    return read_phrase(
        text,
        now=desk.now(),
        zone=desk.zone,
        codes=desk.codes,
        shelves=list(desk.bench.shelves),
        measures=desk.measures,
    )


def meant(desk: Desk, text: str, here: str) -> str:
    """The line as it is meant, where the prompt opened with the code of the container that is ``here``.

    A code typed after it, the same or another, is the one that is meant; so is what follows where only that can be read.
    """
    code, _, rest = text.partition(" ")
    rest = rest.strip()
    if not here or code != here or not rest:
        return text
    first = rest.split()[0].casefold()
    if any(one.casefold() == first for one in desk.codes):
        return rest
    only_rest = isinstance(read_typed(desk, text), Unclear) and not isinstance(read_typed(desk, rest), Unclear)
    return rest if only_rest else text


def say_phrase(desk: Desk, text: str, at: datetime | None = None) -> Outcome:
    """Say a typed line; where it names no time it happened at that time, else now."""
    try:  # a terminal that knows only ASCII hands on what it cannot read byte by byte
        text = text.encode("utf-8", "surrogateescape").decode("utf-8")
    except UnicodeError:
        return Refused("it has letters that cannot be read; save or send the text as UTF-8")
    draft = read_typed(desk, text)
    if isinstance(draft, Unclear):
        return Refused(_unclear(draft))
    fields = _fields(desk, draft)
    if isinstance(fields, Refused):
        return fields
    if draft.kind is k.Photo:
        return attach(desk, fields, draft.at or at)
    return desk.say(draft.kind, draft.at or at, **fields)


def preview(desk: Desk, text: str, at: datetime | None = None) -> tuple[str, bool]:
    """What a line would write if it were said now, and True; or what is not clear or cannot be, and False."""
    draft = read_typed(desk, text)
    if isinstance(draft, Unclear):
        return _unclear(draft), False
    fields = _fields(desk, draft)
    entries = fields if isinstance(fields, Refused) else desk.drafted(draft.kind, draft.at or at, **fields)
    if isinstance(entries, Refused):
        return entries.line, False
    told = f"{clock(entries[-1].at, desk.now(), desk.zone)}  {desk.told(entries)}"
    return "   ".join([told, *cautions_before(entries, desk.open_round)]), True


def cautions_of_line(desk: Desk, text: str) -> list[str]:
    """The cautions that go with a line if it can be written, where this round has not shown them yet."""
    draft = read_typed(desk, text)
    if isinstance(draft, Unclear):
        return []
    entries = desk.drafted(draft.kind, draft.at, **draft.fields)
    return [] if isinstance(entries, Refused) else cautions_before(entries, desk.open_round)


def _unclear(unclear: Unclear) -> str:
    nearest = f"; perhaps {', '.join(unclear.suggestions)}" if unclear.suggestions else ""
    return f"{unclear.message}{nearest}"


def _fields(desk: Desk, draft: Draft) -> dict[str, Any] | Refused:
    """The fields as they will be said: a setting by its whole name, and only with a value that can be used."""
    fields = draft.fields
    if draft.kind is k.Setting:
        name, value = setting_said(str(fields.get("name", "")), str(fields.get("value", "")))
        refused = setting_refusal(name, value, desk.bench.settings)
        if refused:
            return Refused(refused)
        fields = {"name": name, "value": value}
    if draft.kind is k.BarrierSeen and "depth_mm" in fields and fields.get("state") == "full":
        return fields | {"state": state_at(desk.bench, fields["depth_mm"])}
    return fields
