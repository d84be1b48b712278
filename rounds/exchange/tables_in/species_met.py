"""Two names of species in lines about the same animals: one species under two names, or a slip."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from rounds.exchange.tables_in.lines_ahead import ONE_BROOD
from rounds.exchange.tables_in.rows import TableRow
from rounds.exchange.tables_in.unclear import UnclearTable
from rounds.exchange.tables_in.values import STAGES
from rounds.exchange.tables_in.vocabulary import code_key

TWO = "two species"


@dataclass(frozen=True, slots=True)
class Naming:
    """A row that may name a species: whose it is, a brood or a container; the stage that it tells
    of, empty where any; and whether new ones came with it."""

    row: TableRow
    whose: str
    at: datetime
    taxon: str
    stage: str = ""
    is_new: bool = False


@dataclass(slots=True)
class _Company:
    """The species of a brood or in a container: the row that named each first, and its stage."""

    last: datetime
    named: dict[str, Naming] = field(default_factory=dict)
    stages: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Met:
    """A row that names another species than the one that its animals have by an earlier row."""

    here: Naming
    before: Naming

    @property
    def about(self) -> str:
        """Under what the answer is remembered."""
        return f"{self.before.taxon} and {self.here.taxon}"


def species_met(namings: Sequence[Naming]) -> list[Met]:
    """The rows that name a species which nothing brought to where they are, while one is there that
    could be meant."""
    companies: dict[str, _Company] = {}
    found = []
    for one in sorted(namings, key=lambda naming: naming.at):
        if not one.taxon:
            continue
        key = code_key(one.whose)
        company = companies.get(key)
        if company is None or one.at - company.last > ONE_BROOD:
            company = companies[key] = _Company(one.at)
        company.last = one.at
        others = [
            naming
            for taxon, naming in company.named.items()
            if _can_be(company.stages[taxon], one.stage)
        ]
        if one.taxon not in company.named and others and not one.is_new:
            found.append(Met(one, others[-1]))
            continue
        company.named.setdefault(one.taxon, one)
        company.stages[one.taxon] = one.stage or company.stages.get(one.taxon, "")
    return found


def _can_be(there: str, told: str) -> bool:
    """Whether what was there in a stage can be what is told of in another."""
    return not (there and told) or STAGES.index(there) <= STAGES.index(told)


def one_name_each(namings: Sequence[Naming], answers: Mapping[str, str]) -> dict[int, str]:
    """The species by line of rows that call it otherwise than the keeper said.

    Raises:
        UnclearTable: it must be asked.
    """
    meant: dict[int, str] = {}
    for met in species_met(namings):
        names = (met.before.taxon, met.here.taxon)
        answer = answers.get(met.about, "")
        if answer not in (*names, TWO):
            raise _asked(met)
        if answer == TWO:
            continue
        whose = code_key(met.here.whose)
        meant |= {
            one.row.number: answer
            for one in namings
            if code_key(one.whose) == whose and one.taxon in names
        }
    return meant


def _asked(met: Met) -> UnclearTable:
    one, other = met.before.taxon, met.here.taxon
    return UnclearTable(
        f"{met.here.whose} is {one} in line {met.before.row.number} and {other} in line"
        f" {met.here.row.number}, though no new ones came: is it one species, {one} or {other}, or"
        f" are they {TWO}?",
        "names",
        met.about,
        (one, other, TWO),
    )
