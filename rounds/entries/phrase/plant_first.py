"""A plant named before what is done with it: ``hop out``, ``old nettle taken out``, ``hop added``,
``fresh nettle 4 stems``, ``2 stems hop added``, ``hop changed, old kept``; the one that stands
there by a word for any: ``food new``, ``leaf put in``, ``2 more stems``."""

from __future__ import annotations

from rounds.entries.names import is_binomial, known_plants
from rounds.entries.phrase.reader import PhraseProblem, Reader
from rounds.entries.phrase.times import is_time_word
from rounds.entries.phrase.tokens import Word, one_text
from rounds.entries.phrase.verbs import number_of
from rounds.entries.phrase.vocabulary import PREPOSITIONS
from rounds.entries.slots import RENEWED, each

_FRESH = each("fresh new added extra more another freshly")
_STEMS = each("stem stems sprig sprigs cutting cuttings")
_LEAF = each("leaf leaves")
_ANY_PLANT = _LEAF | each("food plant host foliage greens")
_MORE = each("more extra another new")
_GIVEN = each("gave given added")
_IN = (("put", "in"), ("in",), ("added",), ("new",), ("given",))
_BECOMES = each("kept held discarded binned thrown")
_OUT = tuple(
    tuple(words.split())
    for words in ("taken out", "took out", "out", "removed", "taken away", "away", "taken off")
)


# What came out as others came in, and what became of it, the likeliest first.
_OLD_ONES = each("old wilted limp withered used eaten spent")
_BESIDE_OLD = each("the ones one stems stem sprigs sprig leaf leaves food plant were was and all")
_FATES = {
    "looked over": ("old", "looked", "over"),
    "kept": ("old", "kept"),
    "held": ("old", "kept"),
    "thrown away": ("old", "discarded"),
    "thrown out": ("old", "discarded"),
    "binned": ("old", "discarded"),
    "discarded": ("old", "discarded"),
} | dict.fromkeys(("taken out", "taken away", "removed", "out", "gone", "away"), ())
_OF_FATES = frozenset(word for fate in _FATES for word in fate.split())


def plant_first(reader: Reader) -> None:
    """Put what is done before the plant, and read what became of the old as that of a change,
    wherever it stands: ``new nettle 3 stems, old ones kept``."""
    words, place = [*reader.words], reader.place
    old = _old_taken_out(reader)
    _put_first(reader)
    if old is None:
        return
    verb = [word.lower for word in reader.words[place : place + 2]]
    if verb not in (["host", "in"], ["host", "changed"]):
        reader.words[:] = words  # it tells of no new plant
        _put_first(reader)
        return
    reader.words[place + 1] = Word("changed", reader.words[place + 1].at)
    last = reader.words[-1]
    if old:
        reader.words[-1] = Word(f"{last.text.rstrip(',')},", last.at)
        reader.words += [Word(word, last.at) for word in old]


def _old_taken_out(reader: Reader) -> tuple[str, ...] | None:
    """Take the words that say what became of the old out of a line that says more, before or
    behind them; as they are said of a change, None where there are none."""
    words, place = reader.words, reader.place
    if any(word.quoted for word in words[place:]):
        return None
    said = [word.lower.rstrip(",") for word in words]
    container = reader.bench.at(reader.code_of(words[0]))
    there = (
        {word for host in container.hosts for word in host.plant.casefold().split()}
        if (container)
        else set()
    )
    fits = [word in _OLD_ONES | _BESIDE_OLD | _OF_FATES | there for word in said]
    behind = len(words)
    while behind > place and fits[behind - 1]:
        behind -= 1
    while behind < len(words) and said[behind] not in _OLD_ONES:
        behind += 1
    before = next((n + 1 for n in range(place, behind) if words[n].text.endswith(",")), place)
    if behind < len(words):
        here = slice(behind, len(words))
    elif all(fits[place:before]) and before < len(words):
        here = slice(place, before)
    else:
        return None
    told = " ".join(said[here])
    is_old = _OLD_ONES & {*said[here]}
    fate = next((fate for fate in _FATES if fate in told), None)
    rest = [*said[place : here.start], *said[here.stop :]]
    if not is_old or fate is None or not rest:
        return None
    del words[here]
    while words and words[-1].lower in ("and", "the"):
        del words[-1]
    return _FATES[fate]


def _put_first(reader: Reader) -> None:
    """Put what is done before the plant, as ``host out hop`` and ``host in nettle 4 stems``; any
    other line stays as it is.

    Raises:
        PhraseProblem: one plant is there in place of another.
    """
    if reader.place == 0:
        return
    steps = 0
    fresh = old = given = more = False
    stems: list[Word] = []
    plant: list[Word] = []
    while word := reader.ahead(steps):
        said = word.plain
        length = 0 if plant else _plant_at(reader, steps) or said in _ANY_PLANT
        if length:
            plant = reader.words[reader.place + steps : reader.place + steps + length]
            steps += length
            continue
        if said in _GIVEN and not steps:
            given = True
        elif said in _FRESH and not plant:
            fresh, more = True, more or said in _MORE
        elif said == "old" and not plant:
            old = True
        elif number_of(word) and not stems:
            stems = [Word(number_of(word), word.at)]
        elif said in _STEMS and (stems or old) and len(stems) < 2:
            stems = [*stems, word]
        elif not (said == "of" and stems and not plant):
            break
        steps += 1
    any_plant = len(plant) == 1 and plant[0].lower.rstrip(",") in _ANY_PLANT
    becomes = reader.said(steps, 1) in _BECOMES
    goes = () if becomes else _form_at(reader, steps, _OUT)
    comes = _form_at(reader, steps, _IN)
    _no_other_plant(reader, steps, plant)
    _ask_which_go(reader, plant if any_plant else [], goes, old=old and not any_plant and not plant)
    at = reader.words[reader.place].at if reader.word else 0
    counted = len(stems) > 1 and stems[0].text.isdecimal()
    if goes is not None and (plant or old):
        verb, end = "out", steps + len(goes)
        stems = stems[:1] if stems and stems[0].text.isdecimal() else []
    elif plant and reader.said(steps, 1) in RENEWED:
        verb, end = "changed", steps + 1
    elif comes and (plant or counted):
        verb, end = "in", steps + len(comes)
    elif (given and plant) or ((plant or counted) and fresh and not old):
        verb, end = "in", steps
    else:
        return
    if any_plant:
        following = reader.ahead(end)
        told = given or comes or stems or more or verb != "in"
        if not told or (verb == "in" and following and not _ends_it(following)):
            return  # 'fresh leaves' may be those that stand there, 'leaf in hop' names another
        is_part = verb == "in" and not stems and plant[0].lower.rstrip(",") in _LEAF
        plant = plant if is_part else []
    here = slice(reader.place, reader.place + end)
    reader.words[here] = [Word("host", at), Word(verb, at), *plant, *stems]


def _ends_it(word: Word) -> bool:
    """Whether a word behind what was done names no plant: a number, a time, a preposition."""
    return bool(number_of(word)) or is_time_word(word.text) or word.lower in PREPOSITIONS


def _form_at(
    reader: Reader, steps: int, forms: tuple[tuple[str, ...], ...]
) -> tuple[str, ...] | None:
    """The words of one of these forms that stand there, a comma behind them or not."""
    said = [reader.said(steps + step, 1).rstrip(",") for step in range(2)]
    return next((form for form in forms if [*form] == said[: len(form)]), None)


def _ask_which_go(
    reader: Reader, any_plant: list[Word], goes: tuple[str, ...] | None, *, old: bool
) -> None:
    """Ask whether old stems are those kept or those that stand there, and whether leaves that are
    out are all that stood there.

    Raises:
        PhraseProblem: which lines say it.
    """
    code = reader.code_of(reader.words[0])
    container = reader.bench.at(code)
    leaf = any_plant and any_plant[0].lower in _LEAF
    if goes is None or container is None or not (leaf or (old and container.held)):
        return
    there = dict.fromkeys(host.plant for host in container.hosts)
    out = [f"{code} host out {plant}" for plant in there]
    kept = [f"{code} kept stems binned"] if container.held else []
    text = one_text(reader.words[reader.place :])
    raise PhraseProblem(
        f"which are out? As: {'; '.join([*out, *kept])}; or as a note: {code} note {text}",
        reader.word,
    )


def _plant_at(reader: Reader, steps: int) -> int:
    """Of how many words a plant is that the book knows and that is named there, or one that stands
    in the container by its genus; 0 for none."""
    plants = {plant.casefold() for plant in known_plants(reader.bench)}
    container = reader.bench.at(reader.code_of(reader.words[0]))
    there = [host.plant for host in container.hosts] if container else []
    plants |= {plant.split()[0].casefold() for plant in there if is_binomial(plant)}
    word = reader.ahead(steps)
    if word is not None and word.quoted:
        return int(word.text.casefold() in plants)
    return next((length for length in (3, 2, 1) if reader.said(steps, length) in plants), 0)


def _no_other_plant(reader: Reader, steps: int, plant: list[Word]) -> None:
    instead = reader.said(steps, 1) in RENEWED and reader.said(steps + 1, 1) in (
        "by",
        "with",
        "for",
    )
    other = reader.ahead(steps + 2)
    if plant and instead and other is not None:
        here = reader.words[0].text
        old = one_text(plant)
        new = one_text(reader.words[reader.place + steps + 2 :])
        raise PhraseProblem(
            f"one thing a line: {here} host out {old}; then {here} host in {new}", other
        )
