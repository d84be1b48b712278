"""A plant named before what is done with it: ``hop out``, ``old nettle taken out``, ``hop added``,
``fresh nettle 4 stems``, ``2 stems hop added``, ``hop changed, old kept``."""

from __future__ import annotations

from rounds.entries.names import known_plants
from rounds.entries.phrase.reader import PhraseProblem, Reader
from rounds.entries.phrase.tokens import Word
from rounds.entries.phrase.verbs import number_of
from rounds.entries.slots import RENEWED, each

_FRESH = each("fresh new added extra more another freshly")
_STEMS = each("stem stems sprig sprigs cutting cuttings")
_IN = (("put", "in"), ("in",), ("added",), ("new",))
_OUT = tuple(
    tuple(words.split())
    for words in ("taken out", "took out", "out", "removed", "taken away", "away", "taken off")
)


def plant_first(reader: Reader) -> None:
    """Put what is done before the plant, as ``host out hop`` and ``host in nettle 4 stems``; any
    other line stays as it is.

    Raises:
        PhraseProblem: one plant is there in place of another.
    """
    if reader.place == 0:
        return
    steps = 0
    fresh = old = False
    stems: list[Word] = []
    plant: list[Word] = []
    while word := reader.ahead(steps):
        said = "" if word.quoted else word.lower
        length = 0 if plant else _plant_at(reader, steps)
        if length:
            plant = reader.words[reader.place + steps : reader.place + steps + length]
            steps += length
            continue
        if said in _FRESH and not plant:
            fresh = True
        elif said == "old" and not plant:
            old = True
        elif number_of(word) and not stems:
            stems = [Word(number_of(word), word.at)]
        elif said in _STEMS and (stems or old) and len(stems) < 2:
            stems = [*stems, word]
        elif not (said == "of" and stems and not plant):
            break
        steps += 1
    becomes = reader.said(steps, 1) in ("kept", "held", "discarded", "binned")
    goes = (
        ()
        if becomes
        else next((form for form in _OUT if reader.said(steps, len(form)) == " ".join(form)), None)
    )
    comes = next((form for form in _IN if reader.said(steps, len(form)) == " ".join(form)), None)
    _no_other_plant(reader, steps, plant)
    at = reader.words[reader.place].at if reader.word else 0
    if goes is not None and (plant or (old and not _kept_there(reader))):
        verb, end = "out", steps + len(goes)
        stems = stems[:1] if stems and stems[0].text.isdecimal() else []
    elif plant and reader.said(steps, 1) in RENEWED:
        verb, end = "changed", steps + 1
    elif plant and comes:
        verb, end = "in", steps + len(comes)
    elif plant and fresh and not old:
        verb, end = "in", steps
    else:
        return
    here = slice(reader.place, reader.place + end)
    reader.words[here] = [Word("host", at), Word(verb, at), *plant, *stems]


def _plant_at(reader: Reader, steps: int) -> int:
    """Of how many words a plant is that the book knows and that is named there; 0 for none."""
    plants = {plant.casefold() for plant in known_plants(reader.bench)}
    word = reader.ahead(steps)
    if word is not None and word.quoted:
        return int(word.text.casefold() in plants)
    return next((length for length in (3, 2, 1) if reader.said(steps, length) in plants), 0)


def _kept_there(reader: Reader) -> bool:
    """Whether stems are kept in the container that the line names: 'old stems' are those."""
    container = reader.bench.at(reader.code_of(reader.words[0]))
    return bool(container and container.held)


def _no_other_plant(reader: Reader, steps: int, plant: list[Word]) -> None:
    instead = reader.said(steps, 1) in RENEWED and reader.said(steps + 1, 1) in (
        "by",
        "with",
        "for",
    )
    other = reader.ahead(steps + 2)
    if plant and instead and other is not None:
        here = reader.words[0].text
        old = " ".join(word.text for word in plant)
        new = " ".join(word.text for word in reader.words[reader.place + steps + 2 :])
        raise PhraseProblem(
            f"one thing a line: {here} host out {old}; then {here} host in {new}", other
        )
