"""What an answer leads to: entries to write, one more thing to ask first, or one line that says what is wrong."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from rounds.bench import kinds as k
from rounds.bench.described import animals
from rounds.bench.folding.lots import matching
from rounds.bench.kinds.base import Entry
from rounds.views.asked import Answer, Asked, Question, Saying
from rounds.views.sayings import OUT_OF

CHOICE_KEYS = "123456789abcegiprvy"
_TOLD_APART_BY = ("brood", "stage", "instar", "sex")


def led_to(answer: Answer, asked: Asked, *, alone: bool = True) -> list[Saying] | Question | str:
    """The entries of an answer; or a question that must be answered first; or why it records nothing.

    A number that must be given and was not is asked for. 0 means none: it says what the answer says of none, else nothing.
    What is said of some of the animals in a container with several broods or stages asks which of them, where it is said of
    that container ``alone``.
    """
    takes = answer.takes
    if answer.must and takes is not None and asked.number is None and not asked.every:
        return Question(f"{answer.label}: {takes.words}?", (replace(answer, key="enter", by_enter=True, usual=False),))
    if takes is not None and takes.none_at_0 and asked.number == 0:
        return answer.none(asked) if answer.none else f"0 is none: nothing is recorded as {answer.label}"
    sayings = answer.says(asked)
    some = alone and not asked.every
    return (_which(answer, sayings, asked) if some else None) or sayings


class _Group(Struct):
    """Animals that an entry could mean, the fields that say so, and how many."""

    fields: dict[str, Any]
    words: str
    number: int


def _which(answer: Answer, sayings: list[Saying], asked: Asked) -> Question | None:
    """Which of the animals are meant, where an answer is about some of them and does not say."""
    place, groups = next(
        ((place, groups) for place, (kind, fields) in enumerate(sayings) if (groups := _groups(kind, fields, asked))), (0, [])
    )
    if not groups:
        return None
    choices = [Answer(key, one.words, _with(sayings, place, one.fields)) for key, one in zip(CHOICE_KEYS, groups, strict=False)]
    among = _among(sayings[place][0], groups)
    if among:
        choices.append(Answer("k", "not known", _with(sayings, place, among)))
    return Question(f"{answer.label}: which?", tuple(choices))


def _among(kind: type[Entry], groups: list[_Group]) -> dict[str, Any]:
    """That it was one of these, nobody knows which; only where nothing but the brood tells them apart."""
    broods = tuple(group.fields.get("brood", "") for group in groups)
    alike = all({**group.fields, "brood": ""} == {**groups[0].fields, "brood": ""} for group in groups)
    return {**groups[0].fields, "brood": "", "among": broods} if "among" in kind.__struct_fields__ and all(broods) and alike else {}


def _with(sayings: list[Saying], place: int, more: dict[str, Any]) -> Callable[[Asked], list[Saying]]:
    kind, fields = sayings[place]
    said = [*sayings[:place], (kind, fields | more), *sayings[place + 1 :]]
    return lambda asked: said


def _groups(kind: type[Entry], fields: dict[str, Any], asked: Asked) -> list[_Group]:
    """The animals that may be meant; empty where all are, or where it is plain which."""
    number = fields.get("number", fields.get("found"))
    if "brood" not in kind.__struct_fields__ or fields.get("brood") or fields.get("among") or not number:
        return []
    groups = _found_in(kind, fields, asked)
    if len(groups) < 2 or (kind is not k.Searched and number == sum(group.number for group in groups)):
        return []
    return groups


def _found_in(kind: type[Entry], fields: dict[str, Any], asked: Asked) -> list[_Group]:
    groups: dict[tuple[object, ...], _Group] = {}
    for lot in _lots(kind, fields, asked):
        known = {name: getattr(lot, name) for name in _TOLD_APART_BY if name in kind.__struct_fields__ and getattr(lot, name)}
        codes = getattr(lot, "codes", ())
        if len(codes) > 1 and "among" in kind.__struct_fields__:
            known = {name: value for name, value in known.items() if name != "brood"} | {"among": tuple(codes)}
        if kind is k.Moulted:
            known["instar"] = max(2, lot.instar + 1)
        group = groups.setdefault(tuple(known.items()), _Group(known, "", 0))
        group.number += lot.number
        group.words = f"{animals(group.number, lot.stage, lot.brood, lot.instar)} {known.get('sex', '')}".rstrip()
    return list(groups.values())


def _lots(kind: type[Entry], fields: dict[str, Any], asked: Asked) -> list[Any]:
    container = asked.container
    if container is None:
        return []
    if kind is k.Settled:
        return [one for one in asked.bench.shortfalls if one.container == container.code]
    stage = "egg" if kind is k.Searched else ("adult" if kind is k.Released else OUT_OF.get(kind))
    lots = matching(container, stage=stage)
    return [lot for lot in lots if lot.stage == "larva"] if kind is k.Moulted else lots
