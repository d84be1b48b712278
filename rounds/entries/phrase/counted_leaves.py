"""Leaves or buds that are counted are no stems: ``fresh leaves 3`` is asked about; ``violet leaf 3
stems`` says both."""

from __future__ import annotations

from rounds.entries.phrase.reader import PhraseProblem, Reader
from rounds.entries.phrase.tokens import Word, cut
from rounds.entries.phrase.verbs import number_of
from rounds.entries.plant_parts import name_and_part
from rounds.entries.slots import PLANT_THERE, each

_COUNTED = {
    "leaves": "leaf",
    "leaflets": "leaf",
    "buds": "bud",
    "flowers": "flower",
    "blossoms": "flower",
    "flowerheads": "flowerhead",
    "needles": "needle",
    "fronds": "frond",
}
_STEMS = each("stem stems sprig sprigs cutting cuttings shoot shoots twig twigs branch branches")
_BETWEEN = 3  # 'three fresh violet leaves'


def refuse_counted_leaves(reader: Reader) -> None:
    """Ask whether so many leaves of a plant that is put in are meant, or so many stems with leaves.

    Raises:
        PhraseProblem: which lines say it.
    """
    number = reader.fields.get("sprigs")
    words = cut(reader.spoken)
    said = [word.lower.strip(",") for word in words]
    if number is None or any(one in _STEMS or "=" in one for one in said):
        return
    parts = ((at, one) for at, one in enumerate(said) if one in _part_words(int(number)))
    for at, part in parts:
        before = words[max(at - _BETWEEN, 0) : at]
        kept = next((place for place in (at + 1, at + 2) if said[place:][:1] == ["water"]), at + 3)
        behind = words[at + 1 : kept]  # of 'leaf water 1' the stems are counted
        if any(number_of(_bare(word)) == f"{number}" for word in [*before, *behind]):
            raise PhraseProblem(_asked(reader, int(number), part), words[at])


def _part_words(number: int) -> frozenset[str]:
    """Words of parts with which a number counts them: ``1 fresh leaf``, ``3 leaves``."""
    return frozenset(_COUNTED.values() if number == 1 else _COUNTED)


def _bare(word: Word) -> Word:
    return Word(word.text.strip(","), word.at)


def _asked(reader: Reader, number: int, part: str) -> str:
    code = str(reader.fields.get("container") or "R4")
    container = reader.bench.at(code)
    there = list(dict.fromkeys(host.plant for host in container.hosts)) if container else []
    plant, _ = name_and_part(str(reader.fields.get("plant") or PLANT_THERE))
    if plant == PLANT_THERE:
        plant = (*there, "violet")[0]
    one = _COUNTED.get(part, part)
    put = f"{code} host {'changed' if reader.fields.get('changed') else 'in'} {plant}"
    put += "" if reader.fields.get("changed") else f" {one}"
    leaves, stems = f"{number} {part}", f"{number} {'stem' if number == 1 else 'stems'}"
    return f"{leaves}, or {stems}? As: {put} -- {leaves}; {put} {stems}"
