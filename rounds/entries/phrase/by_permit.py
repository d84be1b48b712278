"""A permit in a line: that an animal came in under one, and the species that a permit is of."""

from __future__ import annotations

from rounds.entries.phrase.reader import PhraseProblem, Reader
from rounds.entries.phrase.tokens import STOPS, Word, one_text
from rounds.entries.plan import is_species, several_species
from rounds.entries.schema import KindSchema

_JOINS = frozenset({"with", "under", "by", "on", "of", "for"})
_BEFORE_A_NUMBER = frozenset({"number", "no", "nr", "#"})


def read_permit(reader: Reader, described: KindSchema, word: Word) -> bool:
    """``permit P-8``, ``with permit P-8``, ``under P-8``: it ends the name or place before it.

    Raises:
        PhraseProblem: no number stands behind it.
    """
    if word.quoted or described.field("permit") is None or "permit" in reader.fields:
        return False
    begins = 1 if word.lower in _JOINS else 0
    if not _is_permit(reader.ahead(begins)):
        number, length = _on_record(reader, 1) if word.lower == "under" else ("", 0)
        return bool(number) and _take(reader, number, 1 + length)
    begins += 1
    while (before := reader.ahead(begins)) and before.lower in _BEFORE_A_NUMBER:
        begins += 1
    number, length = _on_record(reader, begins)
    target = reader.ahead(begins)
    if target and not number:
        is_number = target.quoted or any(sign.isdigit() for sign in target.text)
        number, length = _bare(target) if is_number else "", 1
    if not number:
        known = next(iter(reader.bench.permits), "P-8")
        raise PhraseProblem(f"which permit? Its number stands behind it, as: permit={known}", word)
    return _take(reader, number, begins + length)


def _take(reader: Reader, number: str, length: int) -> bool:
    reader.fields["permit"] = number
    reader.place += length
    reader.flow = ""
    return True


def _is_permit(word: Word | None) -> bool:
    return word is not None and not word.quoted and _bare(word).casefold() == "permit"


def _bare(word: Word) -> str:
    return word.text if word.quoted else word.text.strip(f"(){STOPS}")


def _on_record(reader: Reader, steps: int) -> tuple[str, int]:
    """The permit on record whose number stands there, and how many words it is of."""
    known = {number.casefold(): number for number in reader.bench.permits}
    for length in (3, 2, 1):
        words = [reader.ahead(steps + further) for further in range(length)]
        text = " ".join(_bare(word) for word in words if word)
        if None not in words and text.casefold() in known:
            return known[text.casefold()], length
    return "", 0


def species_of_permit(reader: Reader, described: KindSchema) -> None:
    """The name of a species behind a permit's number: ``permit P-7 Euphydryas aurinia``, ``permit
    P-7 of Euphydryas aurinia``.

    Raises:
        PhraseProblem: they are several species.
    """
    if described.name != "permit":
        return
    whole = one_text(reader.loose)
    is_open = "taxon" not in reader.fields and not is_species(reader.bench, whole)
    for place in range(1, len(reader.loose) * is_open):
        words = reader.loose[place:]
        name = one_text(words).strip(STOPS)
        if is_species(reader.bench, name) or several_species(reader.bench, "", name):
            reader.fields["taxon"] = name
            reader.as_written |= {"taxon"} if words[0].double else set()
            joins = reader.loose[place - 1].lower in _JOINS and place > 1
            reader.loose = reader.loose[: place - joins]
            last = reader.loose[-1]
            reader.loose[-1] = Word(last.text.rstrip(":,;"), last.at, last.quoted, last.double)
            break
    number = str(reader.fields.get("number") or one_text(reader.loose))
    taxon = reader.fields.get("taxon")
    if isinstance(taxon, str) and (told := several_species(reader.bench, number, taxon)):
        raise PhraseProblem(told, reader.words[0])
