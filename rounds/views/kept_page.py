"""Kept stems as they are shown: lot by lot at their stop and on the card; and what was seen that
may be eggs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rounds.bench.folding.sought import times_sought
from rounds.bench.plurals import count
from rounds.bench.state import Container, KeptLot, Unsure
from rounds.checks.due_state import Due
from rounds.checks.round_clock import Moment
from rounds.checks.stems import lots_named
from rounds.checks.time_format import chance_words
from rounds.forecasts.foresight import Forecasts
from rounds.forecasts.kept_stems import LOOK_A_DAY, OVER_WINTER, Chance
from rounds.views.ahead_page import dated
from rounds.views.cells import Cell, Line, Tone, labelled, line
from rounds.views.words import literal


def unsure_lines(container: Container, moment: Moment) -> list[Line]:
    """What was seen and is not sure to be eggs, and how it is settled."""
    return [
        labelled("eggs?", _unsure_words(container, unsure, moment), "due")
        for unsure in container.unsure
    ]


def _unsure_words(container: Container, unsure: Unsure, moment: Moment) -> str:
    code, plant = literal(container.code), literal(unsure.plant)
    on, text = (
        (f" on {plant}", f" plant={plant}") if plant and len(container.unsure) > 1 else ("", "")
    )
    settle = (
        f"with a lens or photo: {code} confirmed {unsure.number}{text}, or {code} not eggs{text}"
    )
    return (
        f"{unsure.number} unsure{on} since {dated(unsure.at, moment)}, no eggs on record; {settle}"
    )


def lots_asked(container: Container, dues: Iterable[Due]) -> list[KeptLot]:
    """The lots of a container, those that are asked about first."""
    asked = [lot.lot for due in dues for lot in lots_named(container, due)]
    return sorted(container.held, key=lambda held: held.lot not in asked)


def kept_lines(
    container: Container | None, moment: Moment, foresight: Forecasts, dues: Iterable[Due] = ()
) -> Iterator[Line]:
    """The lots at their stop, those that the checks are about first: a line each, by the digit that
    names it, under their plant where they are not all of one."""
    if container is None or not container.held:
        return
    several = len({held.plant for held in container.held}) > 1
    head = "  lot  from  stems  kept since    searched  looks  eggs left?  keep until"
    yield line(head, tone="quiet")
    above = ""
    for held in lots_asked(container, dues):
        chance = foresight.chance(container, held, moment.now)
        plant = literal(f"{held.plant} {held.batch}".strip())
        if several and plant != above:  # on a row of its own: beside the rest it is too wide
            yield line(f"  {plant}")
            above = plant
        stems = str(held.sprigs) if held.sprigs else "-"
        yield line(
            f"  {held.number:<5}{literal(held.source):<5}{stems:>6} "
            f" {dated(held.taken_out, moment):<14}"
            f"{count(times_sought(held), 'time'):>8}{len(held.frass_looks):>7}",
            Cell(f"{_eggs_left(chance):>12}  {_until(chance, moment)}", _tone(chance)),
        )


def kept_aloud(
    container: Container, moment: Moment, foresight: Forecasts, dues: Iterable[Due] = ()
) -> Iterator[str]:
    """The lots as they are read aloud, a sentence each, those that the checks are about first."""
    for held in lots_asked(container, dues):
        chance = foresight.chance(container, held, moment.now)
        stems = count(held.sprigs, "stem") if held.sprigs else "stems"
        source = f" from {literal(held.source)}" if held.source else ""
        out = (
            f"{stems} of {literal(held.plant)}{source}, kept since {dated(held.taken_out, moment)}"
        )
        if chance.shown or chance.perhaps:
            eggs = "frass was seen"
        else:
            eggs = f"chance of live eggs {chance_words(chance.chance)}"
        keep = _keep_words(chance, moment)
        yield f"Lot {held.number}, {out}; {eggs}{keep and f'; {keep}'}."


def _keep_words(chance: Chance, moment: Moment) -> str:
    """Until when a lot is to be kept; empty where it may go."""
    if chance.keep_until and not chance.may_go:
        return f"keep until {dated(chance.keep_until, moment)}{LOOK_A_DAY}"
    return OVER_WINTER if chance.over_winter else ""


def _eggs_left(chance: Chance) -> str:
    if chance.shown or chance.perhaps:
        return "frass" if chance.shown else "frass?"
    return chance_words(chance.chance)


def _until(chance: Chance, moment: Moment) -> str:
    if chance.shown or chance.perhaps:
        return "hatched" if chance.shown else "it stays"
    if chance.may_go:
        return "may go"
    if chance.over_winter:
        return "over the winter"
    return dated(chance.keep_until, moment) if chance.keep_until else "-"


def _tone(chance: Chance) -> Tone:
    return "late" if chance.shown or chance.perhaps else "plain"


def kept_on_card(container: Container, moment: Moment, foresight: Forecasts) -> list[Line]:
    """The lots on the card, each with its whole history in a line."""
    lots = len(container.held)
    return [
        labelled(
            f"lot {held.number}" if lots > 1 else "kept",
            *_history(held, foresight.chance(container, held, moment.now), moment),
        )
        for held in container.held
    ]


def _history(held: KeptLot, chance: Chance, moment: Moment) -> tuple[str, Tone]:
    text = f"viable eggs {chance_words(chance.chance)}, {_keep_words(chance, moment) or 'may go'}"
    if chance.perhaps:
        text = "frass seen, perhaps of this lot: it stays"
    if chance.shown:
        text = "frass seen: they hatched"
    name = f"{literal(held.plant)} {literal(held.batch)}".strip()
    stems = f", {count(held.sprigs, 'stem')}" if held.sprigs else ""
    words = (
        f"{name} from {literal(held.source)}{stems}, with her from {dated(held.offered, moment)},"
        f" kept since {dated(held.taken_out, moment)}, searched"
        f" {count(times_sought(held), 'time')}, {count(len(held.frass_looks), 'look')} for frass:"
        f" {text}"
    )
    return words, _tone(chance)
