"""Who drank, said of those without a mark: ``drank unmarked``."""

from __future__ import annotations

from rounds.entries.entry_factory import kind_name
from rounds.entries.phrase.reader import PhraseProblem, Reader
from rounds.entries.phrase.tokens import Word
from rounds.entries.which_animals import UNMARKED


def name_the_unmarked(reader: Reader) -> None:
    """Put the code of the only one without a mark in the place of that word; of several each that
    drank is named, for each has a hunger of its own.

    Raises:
        PhraseProblem: there are several, or none.
    """
    word = next((one for one in reader.words[reader.place :] if one.lower == UNMARKED), None)
    container = reader.bench.at(str(reader.fields.get("container", "")))
    if word is None or word.quoted or container is None:
        return
    verb = kind_name(reader.kind)
    adults = [code for lot in container.lots_of("adult") for code in lot.codes]
    codes = reader.bench.unmarked(code for code in adults if code in reader.bench.founders)
    if not codes:
        raise PhraseProblem(f"none in {container.code} is unmarked on record", word)
    if len(codes) > 1:
        raise PhraseProblem(
            f"which of them? As: {codes[0]} {verb}; if each did: {' '.join(codes)} {verb}", word
        )
    reader.words[reader.words.index(word)] = Word(codes[0], word.at)
