"""The code of an animal that comes in, which is easily forgotten before the name of its species."""

from __future__ import annotations

from rounds.bench.codes import code_after
from rounds.entries.names import species_named
from rounds.entries.phrase.reader import PhraseProblem, Reader
from rounds.entries.phrase.same_again import last_that_came
from rounds.entries.phrase.tokens import Word


def code_is_there(reader: Reader, loose: list[Word]) -> None:
    """Of the words of a line that brings an animal in, that the first is its code and not its
    genus.

    Raises:
        Trouble: the words begin with the name of a species.
    """
    first, rest = loose[0].text, [word.text for word in loose[1:]]
    name = first if " " in first else " ".join([first, *rest[:1]])
    if " " not in name or not (_looks_like_a_species(name) or species_named(reader.bench, name)):
        return
    if (
        " " not in first
        and species_named(reader.bench, rest[0])
        and not species_named(reader.bench, name)
    ):
        return  # 'Anna montis': a code, and the epithet of a known species
    last = last_that_came(reader)
    code = code_after(last.code, reader.animals.keys() | reader.codes.keys()) if last else "W1"
    words = [f'"{word.text}"' if word.quoted else word.text for word in reader.words]
    at = reader.words.index(loose[0])
    line = " ".join([*words[:at], code, *words[at:]])
    raise PhraseProblem(
        f"'{name}' is the name of a species, and the animal's own code is missing; as: {line}",
        loose[0],
    )


def _looks_like_a_species(name: str) -> bool:
    genus, epithet = name.split()[:2]
    return (
        len(genus) > 2
        and genus.istitle()
        and genus.isalpha()
        and epithet.isalpha()
        and epithet.islower()
    )
