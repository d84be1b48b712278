"""Completing a line that is being typed, previewing it, and typing an entry again."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime, tzinfo
from typing import Any

from rounds.bench.dates import dated
from rounds.entries.base import Entry
from rounds.entries.phrase.reader import Draft
from rounds.entries.phrase.tokens import cut
from rounds.entries.phrase.verbs import VERBS
from rounds.entries.registry import KIND_BY_NAME
from rounds.entries.schema import OWN, describe


def complete(
    text: str, cursor: int, *, codes: Collection[str], shelves: Collection[str]
) -> list[str]:
    """Words that could stand where the cursor is: codes first, then verbs, then the verb's choices
    and fields."""
    before = text[:cursor]
    begun = "" if before.endswith(" ") or not before else before.split(" ")[-1]
    words = [word.text for word in cut(before[: len(before) - len(begun)])]
    return [
        word
        for word in _fitting(words, codes, shelves)
        if word.casefold().startswith(begun.casefold())
    ]


def _fitting(words: list[str], codes: Collection[str], shelves: Collection[str]) -> list[str]:
    if not words:
        return [*sorted(codes), *sorted(VERBS), *sorted(shelves), "room"]
    verb = _verb_in(words)
    if verb is None:
        return sorted(VERBS)
    described = describe(KIND_BY_NAME[verb])
    said = {word.casefold() for word in words}
    choices = [
        choice for field in described.fields for choice in field.choices if choice not in said
    ]
    targets = (
        sorted(codes)
        if any(
            one.name in ("to", "into", "sources", "held_in", "inside") for one in described.fields
        )
        else []
    )
    return [
        *choices,
        *targets,
        *(f"{one.name}=" for one in described.fields if one.name != "container"),
    ]


def _verb_in(words: list[str]) -> str | None:
    for start in range(min(3, len(words))):
        for length in (3, 2, 1):
            text = " ".join(words[start : start + length]).casefold().replace("-", " ")
            if len(words[start : start + length]) == length and text in VERBS:
                return VERBS[text]
    return None


def type_phrase(entry: Entry) -> str:
    """The line that would say this entry again, but for when."""
    described = describe(type(entry))
    parts = []
    code = getattr(entry, "container", "")
    if code:
        parts.append(code)
    parts.append(described.name)
    if described.name == "note":
        brood = getattr(entry, "brood", "")
        del brood
        return " ".join([*parts, str(getattr(entry, "text", ""))])
    for field in described.fields:
        value = getattr(entry, field.name)
        if (
            field.name == "container"
            or (value == field.default and not field.required)
            or field.name in OWN
        ):
            continue
        parts.append(f"{field.name}={_typed(value)}")
    return " ".join(parts)


def _typed(value: Any) -> str:
    if isinstance(value, datetime):
        return value.isoformat()
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return ",".join(str(part) for part in value)
    if isinstance(value, float):
        return repr(value)
    text = str(value)
    if not text or any(sign.isspace() or sign in "\"'" for sign in text):
        return f'"{text}"' if '"' not in text else f"'{text}'"
    return text


def preview(draft: Draft, now: datetime, zone: tzinfo) -> str:
    """What will be written, in one line."""
    at = (draft.at or now).astimezone(zone)
    text = ", ".join(
        f"{name.replace('_', ' ')} {_typed(value)}" for name, value in draft.fields.items()
    )
    return (
        f"{dated(at, now.astimezone(zone))}:"
        f" {describe(draft.kind).name}{f' ({text})' if text else ''}"
    )
