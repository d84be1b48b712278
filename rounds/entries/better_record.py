"""A female's record made better after she came in: her species, where and when she was caught, her
wear.

Her line is crossed out and written anew where it stood, and with it the lines of her broods that go
by her old name: so every page and file is as if it had been known from the first, and undoing it
brings the old lines back.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import Any

import msgspec

from rounds.bench.folding.codes_given_twice import first_given
from rounds.bench.parents import foreign_mother
from rounds.bench.state import Bench, Container
from rounds.bench.taxon_names import full_name, with_genus
from rounds.bench.whose_eggs import brood_taxon
from rounds.entries import registry as k
from rounds.entries.base import Entry, Said, Saying
from rounds.entries.brood_of_eggs import eggs_with_a_brood
from rounds.entries.entry_factory import InvalidField
from rounds.entries.names import known_species, with_known_names
from rounds.entries.schema import said_by

# beside the fields of a line: the id of the one that is crossed out for it
INSTEAD_OF = "instead_of"


def bettered(bench: Bench, fields: Said) -> list[Saying]:
    """What is said to better the record of the founder whose code is among the fields; the other
    fields are what is better.

    Raises:
        InvalidField: a name of a species or plant that is one slip away from a known one, or fits
            several.
    """
    founder = bench.founders[str(fields["code"])]
    others = without(bench, founder.id)
    better = {name: value for name, value in fields.items() if name not in ("code", "container")}
    new = _said_of(bench, founder) | with_known_names(others, k.FounderIntake, better)
    broods = list(_that_change(bench, founder, str(new["taxon"])))
    return _written_anew(
        bench, [(founder, new), *((one, _said_of(bench, one) | taxon) for one, taxon in broods)]
    )


def with_mothers(bench: Bench, fields: Said) -> list[Saying]:
    """What is said where the brood whose code is among the fields is of other mothers than it was
    taken for; its code stays, as it stands on labels, and it goes by their name."""
    brood = bench.broods[str(fields["code"])]
    mothers = tuple(first_given(bench, mother) for mother in fields["mothers"])
    said = _said_of(bench, brood) | {"mothers": mothers}
    if not foreign_mother(bench, msgspec.structs.replace(brood, mothers=tuple(fields["mothers"]))):
        return _written_anew(bench, [(brood, said)])
    taxon = brood_taxon(bench, fields["mothers"])
    broods = list(_that_change(bench, brood, taxon))
    return _written_anew(
        bench,
        [
            (brood, said | {"taxon": taxon}),
            *((one, _said_of(bench, one) | name) for one, name in broods),
        ],
    )


def stands_by_its_finds(bench: Bench, code: str) -> bool:
    """Whether the line of a brood was crossed out, and its finds alone begin it."""
    brood = bench.broods.get(code)
    return brood is not None and _is_crossed_out(bench, brood.id)


def begun_anew(bench: Bench, fields: Said) -> list[Saying]:
    """What is said where such a brood is begun anew: its line, with all that its finds tell and the
    line does not.

    Raises:
        InvalidField: it cannot be begun so.
    """
    brood, said = bench.broods[str(fields["code"])], dict(fields)
    at = said.pop("at", brood.at)
    entry = k.BroodBegun(id="new", at=at, logged=at, **said)
    if refused := next(iter(entry.refusals(without(bench, brood.id))), ""):
        raise InvalidField(refused)
    taxon = {"taxon": brood_taxon(bench, said["mothers"])} if said.get("mothers") else {}
    return _written_anew(bench, [(brood, _said_of(bench, brood) | taxon | said)])


def _is_crossed_out(bench: Bench, line: str) -> bool:
    """Whether a line counts no longer, and nobody brought it back."""
    taken_back = set(bench.strikes.values())
    return any(
        target == line for strike, target in bench.strikes.items() if strike not in taken_back
    )


def with_found_of(bench: Bench, find: k.Searched, mothers: tuple[str, ...]) -> list[Saying]:
    """What is said where the eggs of one search are of other females than they were taken for; what
    else was found stays with its brood.

    Args:
        bench: as it stood when they were found.
    """
    taken = said_by(find) | {"brood": "", "which": "", "among": mothers}
    begun, said = eggs_with_a_brood(bench, bench.containers[find.container], taken, find.at)
    # a brood begins before its eggs, whose line keeps its place among those of its instant
    before = begun and [(k.BroodBegun, begun | {"at": find.at - timedelta(seconds=1)})]
    return [
        (k.CrossedOut, {"entry": find.id}),
        *(before or []),
        (k.Searched, said | {"at": find.at, INSTEAD_OF: find.id}),
    ]


def named_in_full(bench: Bench, said: Said, at: datetime) -> list[Saying]:
    """What is said for the founders and broods whose shorter name means a taxon from now on: its
    line says which name is theirs in full.

    Args:
        said: the fields of the taxon's line.
    """
    typed = str(said["name"]).strip()
    same = (one for one in known_species(bench) if one.casefold() == typed.casefold())
    name = next(same, with_genus(typed))  # a name is the same in small letters
    new = k.Taxon(id="new", at=at, logged=at, name=name, short=str(said.get("short") or ""))
    known = [*(one for one in bench.taxa.values() if one.name != name), new]
    lines: list[k.FounderIntake | k.BroodBegun] = [
        *bench.founders.values(),
        *bench.broods.values(),
    ]
    meant = [
        one
        for one in lines
        if one.taxon not in ("", name, *bench.taxa) and full_name(one.taxon, known) == name
    ]
    return _written_anew(bench, [(one, _said_of(bench, one) | {"taxon": name}) for one in meant])


def emerged_with(container: Container, said: Said) -> list[Saying]:
    """The last emergence in a container written anew, with so many more that are crippled."""
    last = container.last["emerged"]
    assert isinstance(last, k.Emerged)
    better = {"crippled": last.crippled + said["crippled"], "at": last.at, INSTEAD_OF: last.id}
    return [(k.CrossedOut, {"entry": last.id}), (k.Emerged, said_by(last) | better)]


def _written_anew(
    bench: Bench,
    lines: list[tuple[k.FounderIntake | k.BroodBegun, dict[str, Any]]],
) -> list[Saying]:
    """Cross out lines and say each anew at its time: first all that are crossed out, with
    those that stand for the same."""
    return [
        *(
            (k.CrossedOut, {"entry": line.id})
            for line, _ in lines
            if not _is_crossed_out(bench, line.id)
        ),
        *(
            (k.CrossedOut, {"entry": one})
            for line, _ in lines
            for one in bench.said_anew.get(line.code, ())
        ),
        *((type(line), said | {"at": line.at, INSTEAD_OF: line.id}) for line, said in lines),
    ]


def _said_of(bench: Bench, entry: k.FounderIntake | k.BroodBegun) -> dict[str, Any]:
    """What a line says, under the codes with which it was said."""
    said = said_by(entry)
    said["code"] = first_given(bench, entry.code)
    if isinstance(entry, k.BroodBegun):
        said["mothers"] = tuple(first_given(bench, mother) for mother in entry.mothers)
        said["fathers"] = tuple(first_given(bench, father) for father in entry.fathers)
    return said


def _that_change(
    bench: Bench, parent: k.FounderIntake | k.BroodBegun, taxon: str
) -> Iterator[tuple[k.BroodBegun, dict[str, str]]]:
    """The broods that go by a parent's name, and theirs, or that two laptops called otherwise,
    each with its new name: that of its mothers, '' where they differ."""
    renamed = {parent.code: taxon}
    for code, brood in bench.broods.items():
        stays = taxon == parent.taxon or brood.taxon != parent.taxon
        if (stays and code not in bench.said_anew) or not renamed.keys() & set(brood.mothers):
            continue
        names = {renamed.get(mother, bench.taxon_of(mother)) for mother in brood.mothers}
        renamed[code] = names.pop() if len(names) == 1 else ""
        yield brood, {"taxon": renamed[code]}


def without(bench: Bench, entry_id: str) -> Bench:
    """The same bench for which the line of a founder, brood or container was never said, as far as
    codes and names go."""
    founders = {code: intake for code, intake in bench.founders.items() if intake.id != entry_id}
    broods = {
        code: brood_begun
        for code, brood_begun in bench.broods.items()
        if brood_begun.id != entry_id
    }
    containers = {
        code: container
        for code, container in bench.containers.items()
        if container.set_up != entry_id
    }
    return msgspec.structs.replace(bench, founders=founders, broods=broods, containers=containers)


def refusal_of_better(bench: Bench, entry: Entry) -> str | None:
    """Why a founder's line cannot be written anew so, in one line, or None where it can."""
    return (
        next(entry.refusals_of_record(bench), None) if isinstance(entry, k.FounderIntake) else None
    )
