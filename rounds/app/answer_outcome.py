"""What an answer leads to: entries to write, one more thing to ask first, or one line that says
what is wrong."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from rounds.bench.folding.lots import matching
from rounds.bench.folding.searches import in_order_of_coming
from rounds.bench.kept_lots import came_out_just_now
from rounds.bench.whose_eggs import layers
from rounds.checks.early_change import change_of, too_early_to_change
from rounds.checks.early_discard import ENDS_THE_WATCH, hidden_on_it
from rounds.checks.question import Answer, AnswerContext, Question
from rounds.checks.stems import foresight_of
from rounds.entries import registry as k
from rounds.entries.base import Entry, Saying
from rounds.entries.defaults import completed_by_those_here
from rounds.entries.searching import on_one_of
from rounds.entries.which_animals import NOT_KNOWN, tells_animals, which
from rounds.entries.wording import animals

CHOICE_KEYS = "123456789abcegiprvy"
_TOLD_APART_BY = ("brood", "stage", "instar", "sex")
_COUNTED_BY = ("brood", "stage")  # a count is of all instars


def led_to(
    answer: Answer, context: AnswerContext, *, alone: bool = True
) -> list[Saying] | Question | str:
    """The entries of an answer; or a question that must be answered first; or why it records
    nothing.

    A number that must be given and was not is asked for. 0 means none: it says what the answer says
    of none, else nothing. What is said of some of the animals in a container with several broods or
    stages asks which of them, where it is said of that container ``alone``.
    """
    takes = answer.takes
    if answer.must and takes is not None and context.number is None and not context.every:
        return Question(
            f"{answer.label}: {takes.words}?",
            (replace(answer, key="enter", by_enter=True, usual=False),),
        )
    if takes is not None and takes.none_at_0 and context.number == 0:
        return (
            answer.none(context)
            if answer.none
            else f"0 is none: nothing is recorded as {answer.label}"
        )
    if answer.sure:
        said_so = replace(answer, key="1", label="yes, sure", sure="", usual=False)
        return Question(f"{answer.sure} Sure?", (said_so,))
    sayings = answer.says(context)
    some = alone and not context.every
    which_of_them = (
        _which(answer, sayings, context) or _still_to_tell(answer, sayings, context)
        if some
        else None
    )
    sure = (
        _keep_the_stems(answer, sayings, context) or _is_it_so(answer, sayings, context)
        if alone
        else None
    )
    return which_of_them or sure or sayings


def _is_it_so(answer: Answer, sayings: list[Saying], context: AnswerContext) -> Question | None:
    """Whether a change that comes long before it can is meant: a slip of a key is likelier."""
    for position, (kind, fields) in enumerate(sayings):
        early = (
            too_early_to_change(context.bench, kind, fields, context.now, foresight_of(context))
            if change_of(kind, str(fields.get("sign") or ""))
            else ""
        )
        if early:
            return Question(
                f"{answer.label}: {early}. Sure?",
                (Answer("1", "seen so", _with(sayings, position, {"sure": True})),),
            )
    return None


def _keep_the_stems(
    answer: Answer, sayings: list[Saying], context: AnswerContext
) -> Question | None:
    """Whether plants are kept, before they are discarded, which may bear animals that were not
    seen or could not be counted."""
    places = [
        place
        for place, (kind, fields) in enumerate(sayings)
        if kind is k.HostOut and fields.get("fate") in ENDS_THE_WATCH
    ]
    container = context.container
    if not places or container is None:
        return None
    hidden = hidden_on_it(context.bench, container, container.hosts)
    if not hidden or any(
        sayings[position][1].get(name) for position in places for name in ("lots", "sure")
    ):
        return None
    kept, gone = ([*sayings] for _ in range(2))
    for place in places:
        kind, fields = sayings[place]
        kept[place], gone[place] = (
            (kind, fields | {"fate": "held"}),
            (kind, fields | {"sure": True}),
        )
    choices = (
        Answer("1", "kept here", lambda asked: kept),
        Answer("2", "discarded all the same", lambda asked: gone),
    )
    return Question(f"{hidden}: keep the stems?", choices)


class _Group(Struct):
    """Animals that an entry could mean, the fields that say so, and how many."""

    fields: dict[str, Any]
    words: str
    number: int


def _which(answer: Answer, sayings: list[Saying], context: AnswerContext) -> Question | None:
    """Which of the animals are meant, where an answer is about some of them and does not say."""
    if asked := _on_which_stems(sayings, context) or _which_is_changed(answer, sayings, context):
        return asked
    place, groups = next(
        (
            (position, groups)
            for position, (kind, fields) in enumerate(sayings)
            if (groups := _groups(kind, fields, context))
        ),
        (0, []),
    )
    if not groups:
        return _on_which_plant(sayings, context)
    kind, fields = sayings[place]
    about = "which?"
    if kind is k.Counted:
        groups, about = _counted(groups, fields["number"])
    choices = [
        Answer(key, group.words, _with(sayings, place, group.fields))
        for key, group in zip(CHOICE_KEYS, groups, strict=False)
    ]
    nobody_laid = (
        kind is k.Searched
        and context.container
        and not layers(context.bench, context.container, fields).codes
    )
    unknown = [] if nobody_laid else _unknown(kind, groups)
    if len(unknown) == 1:
        choices.append(Answer("k", NOT_KNOWN, _with(sayings, place, unknown[0])))
    else:
        keys = iter("kmnoqstu")
        choices += [
            Answer(next(keys), f"{one['stage']}, {NOT_KNOWN}", _with(sayings, place, one))
            for one in unknown
        ]
    return Question(f"{answer.label}: {about}", tuple(choices))


def _on_which_stems(sayings: list[Saying], context: AnswerContext) -> Question | None:
    """On which plant eggs were, where several came out at this stop: the search is of those,
    wherever they are kept now."""
    for position, (kind, fields) in enumerate(sayings):
        told = any(fields.get(name) for name in ("plant", "lots", "where", "confirmed"))
        out = (
            came_out_just_now(context.bench, context.container, context.now)
            if context.container and kind is k.Searched
            else None
        )
        if out is None or told or not fields.get("found"):
            continue
        keeper, lots = out
        here: dict[str, Any] = {"container": keeper.code}
        plants = dict.fromkeys(held.plant for held in lots)
        if len(plants) < 2:
            continue
        choices = [
            Answer(
                key,
                plant,
                _with(
                    sayings,
                    position,
                    here | {"lots": tuple(held.lot for held in lots if held.plant == plant)},
                ),
            )
            for key, plant in zip(CHOICE_KEYS, plants, strict=False)
        ]
        all_of_them = here | {"lots": tuple(held.lot for held in lots)}
        choices.append(Answer("k", NOT_KNOWN, _with(sayings, position, all_of_them)))
        return Question(
            f"{fields['found']} found: on which of those that came out?", tuple(choices)
        )
    return None


def _on_which_plant(sayings: list[Saying], context: AnswerContext) -> Question | None:
    """On which of several plants that stand there eggs were; of some, where nobody knows."""
    for position, (kind, fields) in enumerate(sayings):
        plants = (
            on_one_of(context.container, fields) if kind is k.Searched and context.container else []
        )
        if plants:
            choices = [
                Answer(key, plant, _with(sayings, position, {"plant": plant}))
                for key, plant in zip(CHOICE_KEYS, plants, strict=False)
            ]
            choices.append(Answer("k", NOT_KNOWN, _with(sayings, position, {"which": NOT_KNOWN})))
            return Question(f"{fields['found']} found: on which plant?", tuple(choices))
    return None


def _which_is_changed(
    answer: Answer, sayings: list[Saying], context: AnswerContext
) -> Question | None:
    """Which of several plants is changed, those that went off first."""
    plants = dict.fromkeys(fields["plant"] for kind, fields in sayings if kind is k.HostIn)
    if len(plants) < 2 or context.container is None or answer.is_which:
        return None
    off = [host.plant for host in context.container.hosts if host.failed is not None]

    def only(plant: str) -> Callable[[AnswerContext], list[Saying]]:
        of_it = [one for one in sayings if one[1].get("plant") == plant]
        return lambda asked: of_it

    in_order = in_order_of_coming(context.container, plants)
    named = sorted(in_order, key=lambda plant: plant not in off)
    choices = [
        Answer(key, plant, only(plant)) for key, plant in zip(CHOICE_KEYS, named, strict=False)
    ]
    all_of_them = Answer(
        CHOICE_KEYS[len(named)],
        "both" if len(named) == 2 else "all",
        lambda asked: sayings,
        is_which=True,
    )
    return Question(f"{answer.label}: which plant?", (*choices, all_of_them))


def _counted(groups: list[_Group], number: int) -> tuple[list[_Group], str]:
    """Which were counted; where more were than there are of any, all were, and it is asked of which
    some are missing."""
    short = sum(group.number for group in groups) - number
    if number <= max(group.number for group in groups) or short < 0:
        return groups, "which were counted?"
    missing = [
        _Group(group.fields | {"number": group.number - short}, group.words, group.number)
        for group in groups
        if group.number >= short
    ]
    return missing, f"of which {'is the one' if short == 1 else f'are the {short}'} missing?"


def _unknown(kind: type[Entry], groups: list[_Group]) -> list[dict[str, Any]]:
    """That nobody knows which of a stage it was, for each stage of which there are several;
    everyone knows the stage, and what a moult led to."""
    if "which" not in kind.__struct_fields__:
        return []
    known = [
        {
            name: group.fields.get(name)
            for name in ("stage", "instar" if kind is k.Moulted else "stage")
        }
        for group in groups
    ]
    several = [
        one
        for position, one in enumerate(known)
        if one in known[:position] and one not in known[: known.index(one)]
    ]
    unique = [one for place, one in enumerate(several) if one not in several[:place]]
    return [
        {name: value for name, value in one.items() if value} | {"which": NOT_KNOWN}
        for one in unique
    ]


def _completed(kind: type[Entry], fields: dict[str, Any], context: AnswerContext) -> list[Saying]:
    return (
        completed_by_those_here(context.bench, kind, fields, context.now)
        if tells_animals(kind)
        else [(kind, fields)]
    )


def _still_to_tell(
    answer: Answer, sayings: list[Saying], context: AnswerContext
) -> Question | None:
    """What the bench must know before it takes an answer, as whether a dead one is one of those
    that were missing."""
    for position, (kind, fields) in enumerate(sayings):
        for meant_kind, meant in _completed(kind, fields, context):
            wanted = which(context.bench, meant_kind, meant)
            if wanted:
                choices = tuple(
                    Answer(key, choice.words, _with(sayings, position, choice.fields))
                    for key, choice in zip(CHOICE_KEYS, wanted.choices, strict=False)
                )
                return Question(f"{answer.label}: {wanted.line}", choices)
    return None


def _with(
    sayings: list[Saying], place: int, more: dict[str, Any]
) -> Callable[[AnswerContext], list[Saying]]:
    kind, fields = sayings[place]
    to_record = [*sayings[:place], (kind, fields | more), *sayings[place + 1 :]]
    return lambda context: to_record


def _groups(kind: type[Entry], fields: dict[str, Any], context: AnswerContext) -> list[_Group]:
    """The animals that may be meant; empty where all are, or where it is plain which."""
    number = fields.get("number", fields.get("found"))
    told = any(fields.get(name) for name in ("brood", "among", "which"))
    if "brood" not in kind.__struct_fields__ or told or not number:
        return []
    groups = _found_in(kind, fields, context)
    there = sum(group.number for group in groups)
    if len(groups) < 2 or (kind is not k.Searched and number == there):
        return []
    if tells_animals(kind) and number > there:
        return []  # the desk says how many there are
    return groups


def _found_in(kind: type[Entry], fields: dict[str, Any], context: AnswerContext) -> list[_Group]:
    groups: dict[tuple[object, ...], _Group] = {}
    for lot in _lots(kind, fields, context):
        names = _COUNTED_BY if kind is k.Counted else _TOLD_APART_BY
        known = {
            name: getattr(lot, name)
            for name in names
            if name in kind.__struct_fields__ and getattr(lot, name)
        }
        codes = getattr(lot, "codes", ())
        if len(codes) > 1 and "among" in kind.__struct_fields__:
            known = {name: value for name, value in known.items() if name != "brood"} | {
                "among": tuple(codes)
            }
        if kind is k.Moulted:
            known["instar"] = max(2, lot.instar + 1)
        group = groups.setdefault(tuple(known.items()), _Group(known, "", 0))
        group.number += lot.number
        instar = lot.instar if "instar" in names else None
        mark = context.bench.marks.get(lot.brood, "")
        words = (animals(group.number, lot.stage, lot.brood, instar), known.get("sex", ""), mark)
        group.words = " ".join(filter(None, words))
    return list(groups.values())


def _lots(kind: type[Entry], fields: dict[str, Any], context: AnswerContext) -> list[Any]:
    container = context.container
    if container is None:
        return []
    if kind is k.Settled:
        return [
            shortfall
            for shortfall in context.bench.shortfalls
            if shortfall.container == container.code
        ]
    said = fields.get("stage") or kind.grows_from
    stage = "egg" if kind is k.Searched else ("adult" if kind is k.Released else said)
    lots = matching(container, stage=stage)
    return [lot for lot in lots if lot.stage == "larva"] if kind is k.Moulted else lots
