"""Discarding stems before they may go: refused once, with the chance, in words and keys alike,
standing or kept."""

from __future__ import annotations

from rounds.bench.folding.female_days import stood_up_to
from rounds.bench.folding.kept_stems import as_kept
from rounds.bench.folding.not_seen import may_hide
from rounds.bench.kept_lots import fits, told
from rounds.bench.plurals import count, of_stage
from rounds.bench.state import Bench, Container, Host, KeptLot
from rounds.checks.round_clock import Moment
from rounds.checks.time_format import chance_words, local
from rounds.entries.registry import HostOut
from rounds.forecasts.foresight import Forecasts
from rounds.forecasts.kept_stems import AIM, OVER_WINTER, Chance

ENDS_THE_WATCH = (
    "binned",
    "fridge",
)  # fates after which nobody looks for frass of stems that stood here


def too_early_to_bin(
    bench: Bench, entry: HostOut, moment: Moment, foresight: Forecasts
) -> str | None:
    """Why these stems may not be discarded yet, and how to do it all the same; None where they may
    go."""
    container = bench.at(entry.container)
    if container is None or entry.fate not in ENDS_THE_WATCH:
        return None
    standing = (
        []
        if entry.lots
        else [host for host in container.hosts if fits(host, entry.plant, entry.batch)]
    )
    if unseen := may_be_on_it(bench, entry.container, standing):
        return f"{unseen}; {_keep_it(container)}"
    if standing:
        return _of_standing(bench, container, standing, entry, moment, foresight)
    for held in container.held:
        if entry.fate == "binned" and _is_meant(held, entry):
            chance = foresight.chance(container, held, moment.now)
            if not chance.may_go:
                return (
                    f"{told(held)} {_why_not(chance, moment)}; to discard it all the same add"
                    " 'sure'"
                )
    return None


def _of_standing(
    bench: Bench,
    container: Container,
    standing: list[Host],
    entry: HostOut,
    moment: Moment,
    foresight: Forecasts,
) -> str | None:
    """What a female sat on bears hidden eggs as much as it will once it is kept, and those on
    record beside them."""
    keep = _keep_it(container)
    for host in standing:
        stood = stood_up_to(bench, container, host, entry.at)
        if not stood.mothers:
            continue
        eggs = sum(
            lot.number
            for lot in container.lots_of("egg")
            if lot.came is not None and lot.came >= host.put_in
        )
        lot = as_kept(bench, container, stood, entry.at)
        chance = foresight.chance(container, lot, moment.now)
        if not chance.may_go:
            seen = f"; {count(eggs, 'egg')} on record here may be on it too" if eggs else ""
            return f"{told(lot)} {_why_not(chance, moment)}{seen}; {keep}"
        if eggs:
            return (
                f"{told(lot)} may bear the {count(eggs, 'egg')} on record in {container.code};"
                f" {keep}"
            )
    return None


def _keep_it(container: Container) -> str:
    return f"keep it, as: {container.code} host out held; to discard it all the same add 'sure'"


def may_be_on_it(bench: Bench, code: str, standing: list[Host]) -> str:
    """That some which a count did not see may be on plants that leave a container; empty where none
    may."""
    numbers: dict[str, int] = {}
    for shortfall in may_hide(bench).get(code, ()):
        numbers[shortfall.stage] = numbers.get(shortfall.stage, 0) + shortfall.number
    text = " and ".join(of_stage(number, stage) for stage, number in numbers.items())
    return f"{text} not seen may be on it" if text and standing else ""


def _is_meant(held: KeptLot, entry: HostOut) -> bool:
    if entry.lots:
        return held.lot in entry.lots
    return fits(held, entry.plant, entry.batch)


def _why_not(chance: Chance, moment: Moment) -> str:
    if chance.perhaps:
        return "may be the lot that showed frass"
    if chance.shown:
        return "has shown frass: larvae have hatched on it"
    until = (
        f", keep until {local(chance.keep_until, moment)} with a look a day"
        if chance.keep_until
        else f", {OVER_WINTER}"
        if chance.over_winter
        else ""
    )
    unseen = not chance.looks_after and chance.by_now >= chance.hatching.hatch_dd
    nobody = ", nobody looked for frass since half should have hatched" if unseen else ""
    if chance.unsearched and chance.chance < AIM:
        return f"was not searched since a female sat on it: search it{until}"
    return (
        f"may still bear eggs: {chance_words(chance.chance)}{nobody}{until}; under"
        f" {chance_words(AIM)} it may go"
    )
