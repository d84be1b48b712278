"""Which of the keeper's taxa a name can mean: its full name, a subspecies of it, its short name,
its epithet, its genus abbreviated or alone; in any case."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, NamedTuple

from rounds import late
from rounds.bench.codes import members

if TYPE_CHECKING:
    from rounds.entries.plan import Taxon

# open nomenclature and ranks: no part of a name
OPEN_NAMES = frozenset({"sp", "spp", "cf", "aff", "nr", "ssp", "subsp", "var"})
# What makes a name less than that of one species: it is only like it, or it is that of several that
# nobody tells apart.
_LIKE = late.pattern(r"(?:^|(?<=\s))(?:(?:cf|conf|aff|nr|near|prope)\b\.?\s*\w*)|\?", re.IGNORECASE)
_SEVERAL = late.pattern(
    r"[\s-]+(?:agg|aggr|aggregate|(?:species[\s-]+)?(?:complex|group|grp)|komplex|gruppe|complexe|groupe"
    r"|s\.?\s*l(?:at)?\.|s\.?l|sensu\s+lato|sensu\s+lat\.?)(?=\W|$)\.?",
    re.IGNORECASE,
)
# stands between two names, with or without spaces
_APART = late.pattern(r"[/+\N{MULTIPLICATION SIGN}]")
CROSS = frozenset({"x", "\u00d7"})  # between the names of a cross
_OF_AUTHORS = frozenset(
    {"&", "and", "et", "al", "in", "ex", "de", "der", "den", "von", "van", "la", "le", "du"}
)


class Identification(NamedTuple):
    """What a typed name says: the taxa that the animal may be (none: a name of none of them), and
    how surely."""

    taxa: list[Taxon]
    certain: bool
    qualifier: str = ""  # ``cf. EPITHET``, as it was typed


def name_words(name: str) -> tuple[str, ...]:
    """The words of a name in small letters, without marks of open nomenclature; an abbreviated
    genus keeps its point."""
    return tuple(word.casefold() for word in _words(name))


def with_genus(name: str) -> str:
    """A name of two words in small letters with the capital of its genus; any other as it is."""
    is_small = _IN_SMALL.match(name) and len(name_words(name)) > 1
    return f"{name[0].upper()}{name[1:]}" if is_small else name


_IN_SMALL = late.pattern(r"^[^\W\d_A-Z]{3,} [^\W\d_A-Z][^\W\d_A-Z-]{2,}$")


def with_latin_genus(name: str) -> str:
    """The same of a name that is on record: where both words end as Latin ones do, for ``white
    moth`` and ``rubida group`` were meant as they are written."""
    return with_genus(name) if _LATIN.match(name) else name


_LATIN = late.pattern(r"^\S+(?:a|o|us|is|es|os|as|ys|ops|um|x) \S+[aeiosmnrx]$")


def is_determined(name: str) -> bool:
    """Whether a name says anything of what an animal is, as ``?`` and ``sp.`` alone do not."""
    return bool(name_words(name.replace("?", " ")))


def _words(name: str) -> list[str]:
    words = unicodedata.normalize("NFKC", name).replace(".", ". ").split()
    return [word for word in words if word.casefold().strip(".") not in OPEN_NAMES]


def identification(name: str, known: Iterable[Taxon]) -> Identification:
    """The taxa that an animal of this name may be: those that the name means and those named behind
    it, ``A x B``.

    Of a name that is only like one (``cf.``, ``?``) or that of several (``agg.``, ``complex``, ``s.
    l.``) it is all of the genus; where no word says what it is (``?``, ``sp.``) it may be any.
    """
    taxa = list(known)
    if name.strip() and not is_determined(name):
        return Identification(taxa, False)
    spaced = " ".join(_APART.sub(r" \g<0> ", unicodedata.normalize("NFKC", name)).split())
    one_alone = _SEVERAL.sub("", spaced)
    like = _LIKE.search(one_alone)
    bare = re.sub(
        r"\?|\b(?:cf|conf|aff|nr|near|prope)\b(?=[.\s]|$)\.?", " ", one_alone, flags=re.IGNORECASE
    )
    qualifier = like[0] if like and like[0] != "?" else ""
    certain = one_alone == spaced and not like
    fitting = meant(bare, taxa)
    behind = _behind(_words(bare), fitting)
    letters = set(re.findall(r"[^\W_]+(?:-[^\W_]+)*", " ".join(behind).casefold()))
    within = [
        taxon
        for taxon in taxa
        if taxon not in fitting and letters.intersection(name_words(taxon.name)[1:2])
    ]
    if within or (fitting and not is_plain(behind)):
        return Identification([*fitting, *within] if within else [], False, qualifier)
    if certain or not fitting:
        return Identification(fitting, certain, qualifier)
    genera = {name_words(one.name)[0] for one in fitting if name_words(one.name)}
    return Identification(
        [one for one in taxa if name_words(one.name)[:1] and name_words(one.name)[0] in genera],
        False,
        qualifier,
    )


def _behind(words: list[str], fitting: Sequence[Taxon]) -> list[str]:
    """The words behind the name of a species, in full or with its genus abbreviated; of a shorter
    name there are none."""
    folded = tuple(word.casefold() for word in words)
    for taxon in fitting:
        whole = name_words(taxon.name)
        if folded[: len(whole)] == whole:
            return words[len(whole) :]
    return words[2:] if fitting else []


def is_plain(behind: Sequence[str]) -> bool:
    """Whether no more stands behind a name than a subspecies and the authors."""
    rest = list(behind)
    if (
        rest
        and rest[0].isalpha()
        and rest[0].islower()
        and len(rest[0]) > 2
        and rest[0] not in _OF_AUTHORS
    ):
        rest = rest[1:]
    return all(_is_of_author(word) for word in rest) and (
        not rest or rest[0] not in ("&", "and", "et")
    )


def _is_of_author(word: str) -> bool:
    bare = word.strip("(),[].")
    if not bare or bare in _OF_AUTHORS or (bare.isdigit() and len(bare) == 4):
        return True
    last = bare.rpartition("'")[2]
    return last[:1].isupper() and (len(last) > 1 or "." in word)


def meant(name: str, known: Iterable[Taxon]) -> list[Taxon]:
    """The taxa that a name can mean; one spelled in full means no other than its own.

    A name without words can mean any.
    """
    words = name_words(name)
    fitting = [one for one in known if _fits(words, one)]
    return [taxon for taxon in fitting if _is_full(words, name_words(taxon.name))] or fitting


def full_name(name: str, known: Iterable[Taxon]) -> str:
    """The name in full where a shorter or otherwise written one means one taxon alone; else the
    name as it is."""
    taxa = list(known)
    words = name_words(name)
    fitting = meant(name, taxa)
    if not words or len(fitting) != 1 or not identification(name, taxa).certain:
        return name
    whole = name_words(fitting[0].name)
    return fitting[0].name if words == whole or not _is_full(words, whole) else name


def binomials(name: str) -> set[tuple[str, ...]]:
    """Genus and epithet of each species that ``A or B`` names, in small letters."""
    return {tuple(member.casefold().split()[:2]) for member in members(name)}


def are_two(one: str, other: str) -> bool:
    """Whether two names are of two species: genus or epithet differ.

    A cross, and one of several, may be either.
    """
    if any(
        len(members(name)) > 1 or CROSS.intersection(name.casefold().split())
        for name in (one, other)
    ):
        return False
    return any(
        not _is_one_word(*pair)
        for pair in zip(name_words(one)[:2], name_words(other)[:2], strict=False)
    )


def _is_one_word(one: str, other: str) -> bool:
    short, long = sorted((one.strip("."), other.strip(".")), key=len)
    is_abbreviated = one.endswith(".") or other.endswith(".")
    return short == long or (is_abbreviated and long.startswith(short))


def _is_full(words: tuple[str, ...], name: tuple[str, ...]) -> bool:
    """Whether one name begins with the other: itself, a subspecies, an author behind it, or only
    its genus."""
    return bool(words) and words[: len(name)] == name[: len(words)]


def _fits(words: tuple[str, ...], known: Taxon) -> bool:
    name = name_words(known.name)
    if not words or _is_full(words, name) or words in (name_words(known.short), name[1:2]):
        return True
    abbreviated = words[0].endswith(".") or len(words[0]) == 1
    return (
        abbreviated
        and len(words) > 1
        and name[:1] != ()
        and name[0].startswith(words[0].strip("."))
        and words[1:2] == name[1:2]
    )
