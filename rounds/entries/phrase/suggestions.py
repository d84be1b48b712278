"""Completing a line that is being typed."""

from __future__ import annotations

from collections.abc import Collection

from rounds.entries.check_labels import called
from rounds.entries.phrase.tokens import cut
from rounds.entries.phrase.verbs import VERBS
from rounds.entries.registry import KIND_BY_NAME
from rounds.entries.schema import describe


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
        called(choice)
        for field in described.fields
        for choice in field.choices
        if choice not in said
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
        *(f"{one.typed}=" for one in described.fields if one.name != "container"),
    ]


def _verb_in(words: list[str]) -> str | None:
    for start in range(min(3, len(words))):
        for length in (3, 2, 1):
            text = " ".join(words[start : start + length]).casefold().replace("-", " ")
            if len(words[start : start + length]) == length and text in VERBS:
                return VERBS[text]
    return None
