"""Names of species and plants: what is typed resolves to the name that the book knows already.

A name in double quotes is meant as it is written, but with its genus abbreviated it is the known
one. Everything else is compared with the known names: capitals, the keeper's short name, the
epithet alone, an abbreviated genus. One slip of the fingers is asked about.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from rounds import late
from rounds.bench.state import Bench
from rounds.bench.taxon_names import with_genus
from rounds.entries.base import Entry
from rounds.entries.entry_factory import InvalidField
from rounds.entries.plant_parts import name_and_part

LONG_WORD = 8  # letters; from here on two letters may be wrong


# A comma ends a name, but before the year of whoever gave it; so does a dash between spaces.
_NAME_ENDS = late.pattern(r"\s*,(?!\s*\(?[12]\d{3}\b)\s+|\s+(?:--?|[\u2013\u2014])\s+")


# So does, behind an epithet, how she is: ``Boloria dia worn``.
CONDITIONS = frozenset({"gravid", "worn", "unmated", "mated", "fresh"})
_HOW_SHE_IS = late.pattern(
    rf"^([A-Z]\S* [^\s,]+) ((?:very )?(?:{'|'.join(sorted(CONDITIONS))})\b.*)$"
)


def name_and_rest(typed: str) -> tuple[str, str]:
    """The name of a species, and what stands behind it: ``Boloria dia, carried cool``, ``Boloria
    dia worn``."""
    if found := _HOW_SHE_IS.match(typed):
        return found[1], found[2].strip(" ,")
    name, *rest = _NAME_ENDS.split(typed, maxsplit=1)
    return name.strip(" ,"), " ".join(rest).strip(" ,")


def with_known_names(bench: Bench, kind: type[Entry], fields: Mapping[str, Any]) -> dict[str, Any]:
    """The fields, each name of a species or plant as the book has it.

    Raises:
        InvalidField: a name one slip away from a known one, or an abbreviation that fits several.
    """
    said = dict(fields)
    for field, what, known in _names_in(bench, kind):
        typed = said.get(field)
        if isinstance(typed, str) and typed.strip():
            said[field] = resolved(typed, known(), what, bench)
            if what == "species" and said[field] not in known() and '"' not in typed:
                said[field] = with_genus(said[field])
            # the line of a taxon names all in full that had its shorter name
            if what == "species" and '"' not in typed and field != "name":
                _ask_of_shorter(said[field], known())
            if what == "plant" and kind.answers == "host" and '"' not in typed:
                said[field] = _of_its_genus(said[field], known())
    return said


def _of_its_genus(name: str, known: Mapping[str, None]) -> str:
    """The one plant that the book knows of a genus which is put in by that alone, or by its
    epithet.

    Raises:
        InvalidField: it knows several.
    """
    part = name.casefold()
    fits = [one for one in known if is_binomial(one) and part in one.casefold().split()]
    if len(fits) > 1 and name not in known:
        raise InvalidField(f"'{name}' can be {_or(fits)}; type which")
    return fits[0] if fits and name not in known else name


def _ask_of_shorter(name: str, known: Mapping[str, None]) -> None:
    """Ask of a new name in full whether it is what the book knows by a shorter one."""
    genus = name.partition(" ")[0]
    is_new = is_binomial(name) and name not in known and genus[-1:] != "." and len(genus) > 2
    short = next((one for one in known if is_new and _may_be_short_for(one, name)), "")
    if short:
        raise InvalidField(
            f"'{name}' is new, but '{short}' is on record; if it is that, first: taxon {name};"
            f' then this again; if it is another, type "{name}" in double quotes'
        )


def new_names(bench: Bench, entry: Entry) -> list[str]:
    """The fields of an entry that name a species, parasitoid or plant which the book does not know
    yet."""
    names = _names_in(bench, type(entry))
    if entry.names_parasitoid:
        names.append(
            (
                entry.names_parasitoid,
                "parasitoid",
                lambda: dict.fromkeys(parasitoid.taxon for parasitoid in bench.parasitoids),
            )
        )
    return [
        field
        for field, _, known in names
        if (name := str(getattr(entry, field))) and name not in known()
    ]


def known_species(bench: Bench) -> dict[str, None]:
    """Every species that the book names, in the order in which it came to know them."""
    named = [*bench.taxa, *bench.constants]
    named += [intake.taxon for intake in bench.founders.values()] + [
        brood_begun.taxon for brood_begun in bench.broods.values()
    ]
    return dict.fromkeys(name for name in named if name)


def known_plants(bench: Bench) -> dict[str, None]:
    """Every plant that the book names: with a rule of its own, in a container now or last, or laid
    on."""
    names = [*bench.plants, *(plant for plants in bench.laid.values() for plant in plants)]
    for container in bench.containers.values():
        names += [host.plant for host in container.hosts] + [held.plant for held in container.held]
        last = container.last.get("host in")
        if last:
            names.append(getattr(last, "plant", ""))
    names += [intake.found_on for intake in bench.founders.values()]
    return dict.fromkeys(name for name in names if name)


def known_places(bench: Bench) -> dict[str, None]:
    """Every place at which an animal was caught."""
    return dict.fromkeys(one.place for one in bench.founders.values() if one.place)


def known_collectors(bench: Bench) -> dict[str, None]:
    """Everybody who caught an animal."""
    return dict.fromkeys(one.collector for one in bench.founders.values() if one.collector)


def _names_in(
    bench: Bench, kind: type[Entry]
) -> list[tuple[str, str, Callable[[], Mapping[str, None]]]]:
    found: list[tuple[str, str, Callable[[], Mapping[str, None]]]] = []
    if kind.names_species:
        found.append((kind.names_species, "species", lambda: known_species(bench)))
    if kind.names_plant:
        found.append((kind.names_plant, "plant", lambda: known_plants(bench)))
    return found


def resolved(typed: str, known: Mapping[str, None], what: str, bench: Bench) -> str:
    """The name that is meant: one of those known to the book, or, where it is like none of them, as
    typed.

    Raises:
        InvalidField: a name one slip away from a known one, or an abbreviation that fits several.
    """
    name = " ".join(typed.split())
    if len(name) > 2 and name[0] == name[-1] == '"':
        written = name[1:-1].strip()
        same = (
            [one for one in known if _is_meant(written, one, what)] if written not in known else []
        )
        return (
            same[0] if len(same) == 1 and (written.split()[0].partition(".")[1] == ".") else written
        )
    if name in known and not (what == "species" and _may_be_protected(bench, name)):
        return name
    short = (
        {one.short.casefold(): taxon for taxon, one in bench.taxa.items() if one.short}
        if what == "species"
        else {}
    )
    fits = (
        [short[name.casefold()]]
        if name.casefold() in short
        else [one for one in known if one != name and _is_meant(name, one, what)]
    )
    if len(fits) == 1:
        return fits[0]
    if fits:
        raise InvalidField(f"'{name}' can be {_or(fits)}; type which")
    forms = {**{one: one for one in known if one != name}, **short}
    near = [full for form, full in forms.items() if _is_near(name, form)]
    if near:
        raise InvalidField(
            f"no {what} is called '{name}' yet; perhaps {_or(dict.fromkeys(near))}? Type that, "
            f'or "{name}" in double quotes if it is another'
        )
    return name


def _may_be_short_for(short: str, name: str) -> bool:
    """Whether a known name may be the shorter one of a name in full, or of one a slip away."""
    spelt = _spellings(name)[1:3] if "." in short else []
    return _is_meant(short, name, "species") or any(is_slip(short, one) for one in spelt)


def _may_be_protected(bench: Bench, name: str) -> bool:
    """Whether a name that is none of the keeper's taxa is one slip away from a protected one."""
    return name not in bench.taxa and any(
        bench.taxa[one].protected for one in slips_of(bench, name)
    )


def slips_of(bench: Bench, name: str) -> list[str]:
    """The keeper's taxa of which a name is one slip away, in full or by their short name."""
    return [
        full
        for full, taxon in bench.taxa.items()
        if full != name and (_is_near(name, full) or is_slip(name, taxon.short))
    ]


def _is_near(name: str, known: str) -> bool:
    """Whether a name is one slip away from a known one, however that is spelt."""
    return any(is_slip(name, spelt) for spelt in _spellings(known))


def species_named(bench: Bench, typed: str) -> str:
    """The one species that a name means as the book knows them, where no plant is called so; ''
    where there is none, or several."""
    fits = species_meant(bench, typed)
    return fits[0] if len(fits) == 1 else ""


def species_meant(bench: Bench, typed: str) -> list[str]:
    """The species that a name can mean as the book knows them, where no plant is called so."""
    name, known = " ".join(typed.split()).strip('"'), known_species(bench)
    if not name or name in known_plants(bench):
        return []
    fits = [taxon for taxon in known if taxon == name or _is_meant(name, taxon, "species")]
    fits += [
        taxon
        for taxon, one in bench.taxa.items()
        if one.short and one.short.casefold() == name.casefold()
    ]
    return [*dict.fromkeys(fits)]


def named_there(typed: str, there: Mapping[str, None]) -> str:
    """The one plant among those that stand there which a genus, an epithet or some words of its
    name mean, also with a part of it, as ``colutea buds``; '' if none.

    Raises:
        InvalidField: it fits several of them.
    """
    name, part = name_and_part(typed)
    return _named_there(typed, there) or (_named_there(name, there) if part else "")


def _named_there(typed: str, there: Mapping[str, None]) -> str:
    words = typed.casefold().split()
    if not words or typed.startswith('"'):
        return ""
    exact = [one for one in there if one.casefold().split() == words]
    fits = exact or [
        one for one in there if _has_words(words, one) or _is_meant(typed, one, "plant")
    ]
    if len(fits) > 1:
        raise InvalidField(f"'{typed}' can be {_or(fits)}; type which")
    return fits[0] if fits else ""


def _has_words(words: list[str], name: str) -> bool:
    whole = name.casefold().split()
    return any(whole[start : start + len(words)] == words for start in range(len(whole)))


def _or(names: Iterable[str]) -> str:
    return " or ".join(names)


def is_binomial(name: str) -> bool:
    """Whether a name is a genus and an epithet, as it is written."""
    words = name.split()
    return len(words) >= 2 and words[0][:1].isupper() and all(word.islower() for word in words[1:])


def _is_meant(typed: str, known: str, what: str) -> bool:
    """Whether that is the known name but for capitals, with its genus shortened, or (a species) its
    epithet alone."""
    texts, whole = typed.casefold().replace(".", ". ").split(), known.casefold().split()
    if texts == whole:
        return True
    if not is_binomial(known):
        return False
    genus = texts[0].rstrip(".")
    shortened = texts[0].endswith(".") or len(genus) <= 2
    if len(texts) == len(whole) and texts[1:] == whole[1:] and shortened:
        return whole[0].startswith(genus)
    return what == "species" and texts == whole[-1:] and len(whole) == 2


def _spellings(known: str) -> list[str]:
    genus, _, rest = known.partition(" ")
    return (
        [known, f"{genus[:1]}. {rest}", f"{genus[:1]} {rest}", rest]
        if is_binomial(known)
        else [known]
    )


def is_slip(typed: str, known: str) -> bool:
    """Whether two names differ by one slip of the fingers in a word, two in a long one; numbers in
    them never slip."""
    one, other = typed.casefold(), known.casefold()
    if one == other or [sign for sign in one if sign.isdigit()] != [
        sign for sign in other if sign.isdigit()
    ]:
        return False
    words, wanted = one.split(), other.split()
    if len(words) != len(wanted):
        return letters_apart(one, other, 1) <= 1  # a space too many or too few
    return all(_word_slips(*pair) for pair in zip(words, wanted, strict=True))


def _word_slips(typed: str, known: str) -> bool:
    shorter = min(len(typed), len(known))
    allowed = 2 if shorter >= LONG_WORD else 1 if shorter > 2 else 0
    return letters_apart(typed, known, allowed) <= allowed


def letters_apart(one: str, other: str, most: int) -> int:
    """Letters changed, added, left out or swapped with their neighbour (optimal string alignment);
    at most ``most`` + 1."""
    if abs(len(one) - len(other)) > most:
        return most + 1
    before: list[int] = []
    row = list(range(len(other) + 1))
    for at, sign in enumerate(one, 1):
        previous, earlier = row, before
        row = [at]
        for to, wanted in enumerate(other, 1):
            cost = min(previous[to] + 1, row[-1] + 1, previous[to - 1] + (sign != wanted))
            if at > 1 and to > 1 and sign == other[to - 2] and one[at - 2] == wanted:
                cost = min(cost, earlier[to - 2] + 1)
            row.append(cost)
        before = previous
    return row[-1]
