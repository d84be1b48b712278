"""The usual cautions, and where each stands.

They defer to labels, local codes, permits and licensed practice.
"""

from __future__ import annotations

from collections.abc import Iterable
from types import ModuleType

from rounds.bench.codes import members
from rounds.bench.state import Bench, Container, Round
from rounds.entries.base import Entry
from rounds.entries.registry import KIND_BY_NAME, FounderIntake, Light, Released, Taxon
from rounds.views.cells import Line, labelled
from rounds.views.words import literal
from rounds.word_tables import table_rows

CAUTIONS: dict[str, str] = dict(
    table_rows("""
bleach | Bleach: gloves, eye cover, open window; never with acid, ammonia or other cleaners. This
    tool works out no dilution: the product's own label and your local rules say.
blades | Blades: cut away from the hand, cap after use.
lamps | Lamps: guard, timer, never unattended, never near paper, cloth or water.
hairs | Stinging hairs stay in cast skins, cages and dust: gloves, forceps, no rubbing of eyes;
    see a doctor if a reaction spreads.
insecticide | Insecticide, flea drops, plug-ins, solvents: not in the room, not on the hands, not
    on plants that were sprayed or bought treated.
release | Release: where she was caught, in weather she can fly in, as the permit says; no stock
    of another place.
protected | Protected species: ask the body that gives the permit before you collect, keep or
    release.
said | This tool says what was seen. It names no disease and no species, and gives no dose; have
    those confirmed by someone qualified.
""")
)


def _checks() -> ModuleType:
    """Where all checks are, which are not loaded for a typed line that needs no caution."""
    from rounds.checks import registry

    return registry


def cautions_at(check: str, walk: Round | None) -> list[str]:
    """The cautions that stand at the question of a check, where this round has not shown them
    yet."""
    shown = _shown_in(walk)
    return [
        CAUTIONS.get(name, name)
        for name in _checks().CHECKS[check].first_cautions
        if name not in shown
    ]


def cautions_before(entries: Iterable[Entry], bench: Bench, walk: Round | None) -> list[str]:
    """The cautions to show before what was typed is written, where this round has not shown them
    yet; of what is let go from a suspect container always."""
    entries = list(entries)
    known = _known_ones(entries, bench)
    kinds = {
        entry.what
        for entry in entries
        if not (isinstance(entry, Light) and entry.to != "lamp on") and entry.id not in known
    }
    wanted = dict.fromkeys(name for kind in sorted(kinds) for name in KIND_BY_NAME[kind].cautions)
    shown = _shown_in(walk) if wanted else set()
    suspect = dict.fromkeys(
        f"{literal(cup.code)} is marked suspect{literal(f' ({sign})' if sign else '')}: let nothing"
        " go from it before someone qualified has looked."
        for entry in entries
        if isinstance(entry, Released)
        and (cup := bench.at(entry.container)) is not None
        and cup.suspect_since is not None
        for sign in [cup.suspect_sign]
    )
    return [*suspect, *(CAUTIONS[name] for name in wanted if name not in shown)]


def _known_ones(entries: list[Entry], bench: Bench) -> set[str]:
    """The lines of females of a kind that the keeper has on record as not protected, and of which
    others came in before: of these the caution was shown."""
    came = {entry.id: entry for entry in entries if isinstance(entry, FounderIntake)}
    before = {one.taxon for one in bench.founders.values() if one.id not in came}
    return {
        name
        for name, entry in came.items()
        if entry.taxon in before
        and (taxon := bench.taxa.get(entry.taxon)) is not None
        and not taxon.protected
    }


def _shown_in(walk: Round | None) -> set[str]:
    """What this round has shown: it stood at each question that was answered, and at each line
    typed."""
    kinds = {kind for _, kind in walk.done} if walk else set()
    shown = {name for kind in kinds for name in KIND_BY_NAME[kind].cautions}
    checks = _checks()
    for check in checks.CHECKS.values():
        if checks.ANSWERED_BY[check.name] & kinds:
            shown.update(check.first_cautions)
    return shown


def cautions_of(check: str) -> list[str]:
    """The cautions that go with a check."""
    return [CAUTIONS.get(name, name) for name in _checks().CHECKS[check].cautions]


def care_lines(bench: Bench, container: Container) -> list[Line]:
    """What to guard against at this container: hairs that sting, plants that irritate, species that
    are protected."""
    taxa = sorted(
        {taxon for lot in container.lots for taxon in members(bench.taxon_of(lot.brood))}
        & bench.taxa.keys()
    )
    plants = sorted({host.plant for host in container.hosts} & bench.plants.keys())
    stinging = [name for name in taxa if bench.taxa[name].stinging]
    irritant = [
        name for name in plants if any(known.irritant for known in bench.plants[name].values())
    ]
    lines = [
        f"{literal(name)}: hairs may sting; gloves, forceps, no rubbing of eyes"
        for name in stinging
    ]
    young = [lot for lot in container.lots if lot.stage in ("egg", "larva")]
    larvae = {taxon for lot in young for taxon in members(bench.taxon_of(lot.brood))}
    lines += [
        f"{literal(name)}: larvae eat each other; one a cup, and apart at a moult"
        for name in taxa
        if bench.taxa[name].cannibalistic and name in larvae
    ]
    lines += [
        f"{literal(name)}: young larvae live together; {_together(bench, container, name)}"
        for name in taxa
        if bench.taxa[name].gregarious and name in larvae
    ]
    lines += [f"{literal(name)}: sap or hairs irritate; gloves" for name in irritant]
    facts = [f"{literal(name)}: {told}" for name in taxa if (told := _of_adults(bench.taxa[name]))]
    return [
        *(labelled("care", text, "strong") for text in lines),
        *(labelled("kind", text) for text in facts),
    ]


def _together(bench: Bench, container: Container, name: str) -> str:
    """What to do where young larvae live together: what stands here may be one alone."""
    larvae = [lot for lot in container.lots if name in members(bench.taxon_of(lot.brood))]
    if [(lot.stage, lot.number) for lot in larvae] == [("larva", 1)]:
        return "one is alone here and does badly: put it to others of its brood and instar"
    return "leave the clutch together, one alone does badly"


def _of_adults(taxon: Taxon) -> str:
    """Why adults of a species are not asked for what others are."""
    facts = (
        (taxon.no_adult_food, "adults take no food"),
        (taxon.night_fed and not taxon.no_adult_food, "adults are fed from dusk on"),
        (taxon.lays_without_plant, "females lay without a plant"),
    )
    return ", ".join(words for holds, words in facts if holds)
