"""The life-history note of a brood: what it holds, whatever it is written as.

A note is made of sections, a section of plain words, tables and plots; Markdown and HTML are made
from the same sections. What was not said is named as missing.
"""

from __future__ import annotations

from collections.abc import Iterator

from rounds.bench.plurals import count
from rounds.exchange.atomic_file import ExportRefused, chosen
from rounds.exchange.document import Document, Section, rights_section
from rounds.exchange.note_missing import missing
from rounds.exchange.note_origin import laying_section, origin_section
from rounds.exchange.note_parts import BroodAccount, about
from rounds.exchange.note_rearing import (
    conditions_section,
    development_sections,
    duration_section,
    fate_section,
    host_section,
    mass_sections,
    permit_section,
    stage_section,
    survival_section,
    voucher_section,
)
from rounds.exchange.source import Source
from rounds.views.laying_page import OF_THESE_FEMALES

NOTHING_MISSING = "Nothing that this note asks for is missing."
METHODS = (
    "Shares have exact limits (Clopper & Pearson 1934, Biometrika 26:404-413).",
    (
        "Survival is by Kaplan & Meier 1958 (J. Am. Stat. Assoc. 53:457-481) with limits from"
        " Greenwood's variance; animals that were released, kept, or are still alive count as out"
        " of sight, not as dead. Survival up to the adult ends as each emerges: those that emerged"
        " count as alive to the end of the curve, whatever became of them as adults."
    ),
    (
        "Eggs laid per female-day are those found, divided by the share that the searches find (as"
        " is reckoned of stems searched again); they have the exact Poisson limits of those found"
        " (Garwood 1936, Biometrika 28:437-442), averaged over what that share may be."
        f" {OF_THESE_FEMALES}"
    ),
    (
        "A duration runs from when a stage was seen to begin to when it was seen to end, eggs from"
        " the middle of the time between which they were laid. The animals are not told apart: who"
        " began first is taken to end first; those that died to be of all evenly, and once some had"
        " gone on those that began first. Shortest and longest rest on that; the mean does so only"
        " where some died."
    ),
    (
        "Mean temperatures are those of the container, else its shelf, else the room, weighted by"
        " time; spans of which less than half was read have none."
    ),
    "k-values are of Varley & Gradwell 1960 (J. Anim. Ecol. 29:399-401).",
    "The name of the species is the keeper's; nothing here was identified by a program.",
)


def note(source: Source, code: str) -> Document:
    """The note of one brood.

    Raises:
        Refused: there is no such brood, or it is a founder.
    """
    bench = source.bench
    founders = {one.casefold(): one for one in bench.founders}
    code = founders.get(code.strip().casefold()) or chosen(
        code, list(bench.broods), "brood is called"
    )
    if code in bench.founders:
        mine = [one for one, begun in bench.broods.items() if code in begun.mothers]
        raise ExportRefused(
            f"{code} is a founder; give one of her broods{f', as {mine[0]}' if mine else ''}"
        )
    account = about(source, code)
    name = source.name_of(code) or "a species not recorded"
    sections = (
        _summary(account, name),
        origin_section(account),
        laying_section(account),
        stage_section(account),
        survival_section(account),
        duration_section(account),
        *development_sections(account),
        host_section(account),
        conditions_section(account),
        *mass_sections(account),
        fate_section(account),
        voucher_section(account),
        permit_section(account),
        rights_section(source),
        Section("What is missing", missing(account) or (NOTHING_MISSING,)),
        Section("How the numbers were reckoned", METHODS),
    )
    return Document(f"Life history of {name}, brood {code}", sections)


def _summary(account: BroodAccount, name: str) -> Section:
    balance = account.record.balance
    alive = sum(balance.became.get("alive", {}).values())
    grown = sum(passage.cohort.number for passage in account.passages if passage.to == "adult")
    least = "at least " if account.either else ""
    words = (
        f"A brood of {name}, reared in captivity. Counted in:"
        f" {count(balance.in_all, 'egg or animal', 'eggs and animals')}; {least}{_grown(grown)},"
        f" {least}{alive} {'is' if alive == 1 else 'are'} alive as this is written."
    )
    return Section("In short", (words, *_of_either(account)))


def _of_either(account: BroodAccount) -> Iterator[str]:
    """What became of those that may be of it or of another brood."""
    for code in account.either:
        part = account.back.course.told_apart(code)
        grown = sum(passage.cohort.number for passage in part.passages if passage.to == "adult")
        alive = sum(cohort.number for cohort in part.alive)
        adults = sum(cohort.number for cohort in part.alive if cohort.stage == "adult")
        living = f"{alive} {'is' if alive == 1 else 'are'} alive" if alive != adults else ""
        of_them = living or f"{adults} of them {'is' if adults == 1 else 'are'} alive"
        yield f"Of {code}, nobody knows which: {_grown(grown)}, {of_them}."


def _grown(number: int) -> str:
    return f"{number} came to be {'an adult' if number == 1 else 'adults'}"
