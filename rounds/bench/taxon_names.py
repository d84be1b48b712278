"""Which of the keeper's taxa a name can mean: its full name, a subspecies of it, its short name, its epithet, its genus
abbreviated or alone; in any case.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable

from rounds.bench.codes import members
from rounds.bench.kinds.papers import Taxon

_OPEN = frozenset({"sp", "spp", "cf", "aff", "nr", "ssp", "subsp", "var"})  # open nomenclature and ranks: no part of a name

CROSS = frozenset({"x", "\u00d7"})  # between the names of a cross


def name_words(name: str) -> tuple[str, ...]:
    """The words of a name in small letters, without marks of open nomenclature; an abbreviated genus keeps its point."""
    words = unicodedata.normalize("NFKC", name).casefold().replace(".", ". ").split()
    return tuple(word for word in words if word.strip(".") not in _OPEN)


def meant(name: str, known: Iterable[Taxon]) -> list[Taxon]:
    """The taxa that a name can mean; one spelled in full means no other than its own. A name without words can mean any."""
    words = name_words(name)
    fitting = [one for one in known if _fits(words, one)]
    return [one for one in fitting if _is_full(words, name_words(one.name))] or fitting


def full_name(name: str, known: Iterable[Taxon]) -> str:
    """The name in full where a shorter or otherwise written one means one taxon alone; else the name as it is."""
    words = name_words(name)
    fitting = meant(name, known)
    if not words or len(fitting) != 1:
        return name
    whole = name_words(fitting[0].name)
    return fitting[0].name if words == whole or not _is_full(words, whole) else name


def binomials(name: str) -> set[tuple[str, ...]]:
    """Genus and epithet of each species that ``A or B`` names, in small letters."""
    return {tuple(one.casefold().split()[:2]) for one in members(name)}


def are_two(one: str, other: str) -> bool:
    """Whether two names are of two species: genus or epithet differ. A cross, and one of several, may be either."""
    if any(len(members(name)) > 1 or CROSS.intersection(name.casefold().split()) for name in (one, other)):
        return False
    return any(not _is_one_word(*pair) for pair in zip(name_words(one)[:2], name_words(other)[:2], strict=False))


def _is_one_word(one: str, other: str) -> bool:
    short, long = sorted((one.strip("."), other.strip(".")), key=len)
    is_abbreviated = one.endswith(".") or other.endswith(".")
    return short == long or (is_abbreviated and long.startswith(short))


def _is_full(words: tuple[str, ...], name: tuple[str, ...]) -> bool:
    """Whether one name begins with the other: itself, a subspecies, an author behind it, or only its genus."""
    return bool(words) and words[: len(name)] == name[: len(words)]


def _fits(words: tuple[str, ...], known: Taxon) -> bool:
    name = name_words(known.name)
    if not words or _is_full(words, name) or words in (name_words(known.short), name[1:2]):
        return True
    abbreviated = words[0].endswith(".") or len(words[0]) == 1
    return abbreviated and len(words) > 1 and name[:1] != () and name[0].startswith(words[0].strip(".")) and words[1:2] == name[1:2]
