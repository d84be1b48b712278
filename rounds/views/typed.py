"""A typed line, read and said at the desk; a setting is looked at before it is kept."""

from __future__ import annotations

from datetime import datetime

from rounds.bench import kinds as k
from rounds.bench.phrase import Draft, Unclear, read_phrase
from rounds.desk import Desk, Outcome, Refused
from rounds.views.settings import setting_refusal, setting_said


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


def say_phrase(desk: Desk, text: str, at: datetime | None = None) -> Outcome:
    """Say a typed line; where it names no time it happened at that time, else now."""
    draft = read_typed(desk, text)
    if isinstance(draft, Unclear):
        nearest = f"; perhaps {', '.join(draft.suggestions)}" if draft.suggestions else ""
        return Refused(f"{draft.message}{nearest}")
    fields = draft.fields
    if draft.kind is k.Setting:
        name, value = setting_said(str(fields.get("name", "")), str(fields.get("value", "")))
        refused = setting_refusal(name, value, desk.bench.settings)
        if refused:
            return Refused(refused)
        fields = {"name": name, "value": value}
    return desk.say(draft.kind, draft.at or at, **fields)
