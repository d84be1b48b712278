"""A question about words that may mean several things, its examples of what stands there."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from rounds import late
from rounds.bench.state import Bench, Container
from rounds.entries.base import BARRIERS_LOOKED_AT, Entry, Stage
from rounds.entries.names import known_plants
from rounds.entries.phrase.reader import PhraseProblem, Reader, as_one_name
from rounds.entries.phrase.subject import Subject
from rounds.entries.phrase.tokens import STOPS, Word, one_text
from rounds.entries.phrase.verbs import LONGEST_VERB, VERBS, lays
from rounds.entries.registry import KIND_BY_NAME
from rounds.entries.schema import describe

_EXAMPLES = late.pattern(r"^(.*? As: )(.*)$", re.DOTALL)
_WALKS: tuple[Stage, ...] = ("larva", "adult")
_INSTAR = late.pattern(r"\bL4\b")
_SO_MANY = late.pattern(r"\b(\w+) (\d+)\b")
_LAST_INSTAR = 7


def ask(reader: Reader, place: Subject, asked: tuple[str, tuple[str, ...]]) -> None:
    """Ask it, of the place that the line names, or of one that it might.

    The examples are of what stands there: its plant, the next instar, another container to move
    to; those of stages that are not there are left out.

    Raises:
        PhraseProblem: the question.
    """
    code = place.codes[0] if place.codes else code_later(reader)
    if not place.words and not code:
        code = _where_it_can_be(reader.bench, asked)
    container = reader.bench.at(code)
    shelf = f"shelf {code}" if place.what == "shelf" else ""
    if place.what == "room":
        room = _that(asked[0].format("room", other="K5"), lambda one: one.startswith("room air"))
        raise PhraseProblem(room, reader.word, asked[1])
    here = shelf or place.words or code or next(iter(reader.codes.values()), "K4")
    other = next((one for one in reader.codes.values() if one not in (here, code)), "K5")
    text = asked[0].format(here, other=other)
    if plant := plant_said(reader):
        text = text.replace("violet leaf 3 stems", plant)
    if shelf:
        text = _that(text, _of_a_shelf)
    elif container is not None:
        text = _of_what_stands_there(text, reader, container)
    raise PhraseProblem(text, reader.word, asked[1])


def plant_said(reader: Reader) -> str:
    """What a line says from the name of a plant on, which one that is known has, or a capital; ''
    where it names none."""
    known = {plant.split()[0].casefold() for plant in known_plants(reader.bench)}
    for place, word in enumerate(reader.words):
        named = word.text[:1].isupper() and word.text.rstrip(STOPS).isalpha() and place > 0
        if word.lower in known or (named and len(word.text) > 3):
            return one_text(reader.words[place:])
    return ""


def plant_at(reader: Reader, steps: int) -> str:
    """The plant that the book knows and that is named from that word on, behind an article; '' for
    none."""
    steps += reader.said(steps, 1) in ("a", "an", "the")
    plants = {plant.casefold(): plant for plant in known_plants(reader.bench)}
    said = (reader.said(steps, length) for length in (3, 2, 1))
    return next((plants[name] for name in said if name in plants), "")


def is_it_put_in(reader: Reader, code: str, plant: str, word: Word) -> PhraseProblem:
    """What is asked where a container is said to stand on a plant, which is no shelf."""
    container = reader.bench.at(code)
    typed = sorted(reader.words, key=lambda one: one.at)
    place = typed.index(word)
    before = " ".join(one.text for one in typed[: place - (typed[place - 1].lower == "on")])
    named = as_one_name(plant)
    if container is None:
        return PhraseProblem(f"one thing a line: {before}; then {code} host in {named}", word)
    there = dict.fromkeys(host.plant for host in container.hosts)
    old = f"; for the old: {code} host changed {named}" if there else ""
    return PhraseProblem(
        f"{plant} is a plant; put in now? As: {code} host in {named}{old}; how it looks, as:"
        f" {code} host seen fresh; a shelf of that name, as: {code} changed shelf='{plant}'",
        word,
    )


def what_of_plant(here: str, plant: str, word: Word, rest: str) -> PhraseProblem:
    """What is done with a plant that a line names, and ``rest`` after it."""
    return PhraseProblem(
        f"put in, seen or taken out? As: {here} host in {rest}; {here} host seen fresh; {here} host"
        f" out {plant}",
        word,
    )


def did_she_drink(here: str, food: str, word: Word) -> PhraseProblem:
    """Whether food that a line names was offered or drunk."""
    return PhraseProblem(
        f"did she drink, or was it only offered? As: {here} drank; or {here} offered {food}", word
    )


def _where_it_can_be(bench: Bench, asked: tuple[str, tuple[str, ...]]) -> str:
    """The first shelf with a barrier to look at, where one is asked about, else the first container
    with a stage that an example tells the end of; '' for none."""
    if "barrier" in asked[1]:
        guarded = (
            one for one in bench.shelves if bench.barrier_named("", one) in BARRIERS_LOOKED_AT
        )
        return next(guarded, "")
    found = _EXAMPLES.match(asked[0])
    kinds = [_kind_of(one.split()[1:]) for one in found[2].split("; ")] if found else []
    stages = {kind.grows_from for kind in kinds if kind and kind.grows_from}
    there = (one.code for one in bench.standing() for stage in stages if one.count(stage))
    return next(there, "")


def code_later(reader: Reader) -> str:
    """The container that the rest of a line names first; '' for none."""
    return next(
        (code for word in reader.words[reader.place :] if (code := reader.code_of(word))), ""
    )


def _of_what_stands_there(text: str, reader: Reader, container: Container) -> str:
    there = [host.plant for host in container.hosts]
    said = {word.lower for word in reader.words}
    plant = next((name for name in there if name.casefold() in said), there[0] if there else "")
    text = text.replace("violet", plant) if plant else text
    instar = min((lot.instar for lot in container.lots_of("larva") if lot.instar), default=0)
    if 0 < instar < _LAST_INSTAR:
        text = _INSTAR.sub(f"L{instar + 1}", text)
    text = _that(
        text,
        lambda example: _fits(example.removeprefix("or ").split()[1:], container, reader.bench),
    )
    return _no_more_than_there(text, container)


def _no_more_than_there(text: str, container: Container) -> str:
    """A question with examples of no more animals than are of the stage that ends."""

    def as_many(found: re.Match[str]) -> str:
        kind = _kind_of([found[1]])
        there = container.count(kind.grows_from) if kind and kind.grows_from else 0
        return f"{found[1]} {min(int(found[2]), there)}" if there else found[0]

    return _SO_MANY.sub(as_many, text)


def _that(text: str, fits: Callable[[str], bool]) -> str:
    """A question with those of its examples that fit; with all if none does."""
    found = _EXAMPLES.match(text)
    if found is None:
        return text
    examples = found[2].split("; ")
    fitting = [one for one in examples if fits(one)] or examples
    return found[1] + "; ".join([fitting[0].removeprefix("or "), *fitting[1:]])


def _fits(words: Sequence[str], container: Container, bench: Bench) -> bool:
    """Whether what an example tells can be of those that are there: of animals of the stage that
    end it by that, of a female that lays, of one that is missing."""
    if words[-1:] == ["eggs"] and not lays(container):
        return False
    if [*words] == ["not", "moving"] and not container.count("larva"):
        return False
    kind = _kind_of(words)
    if kind is not None and kind.walks and not any(container.count(stage) for stage in _WALKS):
        return False
    if kind in _OF_PLANTS or words[-1:] == ["limp"]:
        return bool(container.hosts)
    if kind in _OF_BARRIERS:
        return bench.barrier_named(container.code, "") in BARRIERS_LOOKED_AT
    if kind is KIND_BY_NAME["settled"]:
        return any(missed.container == container.code for missed in bench.shortfalls)
    return kind is None or kind.grows_from is None or container.count(kind.grows_from) > 0


_OF_PLANTS = (KIND_BY_NAME["host seen"], KIND_BY_NAME["host out"])
_OF_BARRIERS = (KIND_BY_NAME["barrier"], KIND_BY_NAME["topped up"])


def _of_a_shelf(example: str) -> bool:
    """Whether what an example tells can be said of a shelf."""
    kind = _kind_of(example.split()[2:])
    return kind is not None and describe(kind).field("shelf") is not None


def _kind_of(words: Sequence[str]) -> type[Entry] | None:
    said = (" ".join(words[:length]) for length in range(LONGEST_VERB, 0, -1))
    return next((KIND_BY_NAME[VERBS[verb]] for verb in said if verb in VERBS), None)
