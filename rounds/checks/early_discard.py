"""Discarding stems before they may go: refused once, with the chance, in words and keys alike,
standing or kept."""

from __future__ import annotations

from collections.abc import Sequence

from rounds.bench.folding.female_days import stood_up_to
from rounds.bench.folding.kept_stems import as_kept, sighted_on
from rounds.bench.folding.not_seen import may_hide
from rounds.bench.kept_lots import fits, kept_lots, told
from rounds.bench.plurals import count, of_stage
from rounds.bench.state import Bench, Container, Host, KeptLot, Unsure
from rounds.checks import count as count_check
from rounds.checks.round_clock import Moment
from rounds.checks.time_format import chance_words
from rounds.entries.registry import HostOut
from rounds.entries.walking import NOT_COUNTABLE
from rounds.forecasts.foresight import Forecasts
from rounds.forecasts.kept_stems import AIM, LOOK_A_DAY, OVER_WINTER, Chance
from rounds.grouping import summed

# fates after which nobody looks for frass of stems that stood here
ENDS_THE_WATCH = "binned", "fridge"
YOUNG_INSTARS = (1, 2)


def too_early_to_bin(
    bench: Bench, entry: HostOut, moment: Moment, foresight: Forecasts
) -> str | None:
    """Why these stems may not be discarded yet, and how to do it all the same; None where they may
    go."""
    container = bench.at(entry.container)
    if container is None or entry.fate not in ENDS_THE_WATCH:
        return None
    there = [] if entry.lots else container.hosts
    standing = [host for host in there if fits(host, entry.plant, entry.batch)]
    if hidden := hidden_on_it(bench, container, standing):
        return f"{hidden}; {_keep_it(container)}"
    seen = [one for host in standing for one in sighted_on(bench, container, host)]
    if seen:
        return f"{_not_settled(container, seen)}; or {_keep_it(container)}"
    if standing:
        early = _of_standing(bench, container, standing, entry, moment, foresight)
        young = young_on_it(container, standing)
        looked_over = f"look it over, then: {container.code} host changed, old looked over"
        return early or (f"{young}: {looked_over}; or {_keep_it(container)}" if young else None)
    for held in container.held:
        if entry.fate == "binned" and _is_meant(held, entry):
            if hidden := hidden_on_lot(bench, held):
                return f"{told(held)}: {hidden}; to discard it all the same add 'sure'"
            chance = foresight.chance(container, held, moment.now)
            if not chance.may_go:
                why = _why_not(chance, moment, container.code)
                return f"{told(held)} {why}; to discard it all the same add 'sure'"
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
        laid = [one for one in container.lots_of("egg") if one.came and one.came >= host.put_in]
        eggs = sum(one.number for one in laid)
        lot = as_kept(bench, container, stood, entry.at)
        chance = foresight.chance(container, lot, moment.now)
        if not chance.may_go:
            seen = f"; {count(eggs, 'egg')} on record here may be on it too" if eggs else ""
            return f"{told(lot)} {_why_not(chance, moment, container.code)}{seen}; {keep}"
        if eggs:
            on_record = f"the {count(eggs, 'egg')} on record in {container.code}"
            return f"{told(lot)} may bear {on_record}; {keep}"
    return None


def _keep_it(container: Container) -> str:
    code = container.code
    return (
        f"keep it, as: {code} host out held, or {code} host changed old held; to discard it all"
        " the same add 'sure'"
    )


def hidden_on_it(bench: Bench, container: Container, stems: Sequence[Host | KeptLot]) -> str:
    """That some of a container may be on or in plants of it, which a count did not see or which
    nobody could count; empty where none may."""
    if not stems:
        return ""
    numbers = summed((one.stage, one.number) for one in may_hide(bench).get(container.code, ()))
    text = " and ".join(of_stage(number, stage) for stage, number in numbers.items())
    if text:
        return f"{text} not seen may be on it"
    inside = container.count("larva") if _not_countable(bench, container) else 0
    return f"{of_stage(inside, 'larva')} not countable may be in it" if inside else ""


def _not_settled(container: Container, seen: Sequence[Unsure]) -> str:
    number, code = sum(one.number for one in seen), container.code
    return (
        f"{count(number, 'egg')} seen on it, not sure: first {code} confirmed {number}, or {code}"
        " not eggs"
    )


def hidden_on_lot(bench: Bench, held: KeptLot) -> str:
    """The same of stems that are kept: of the container that they came out of, unless it was
    counted since; and what may be eggs, until it is settled."""
    for keeper, lot in kept_lots(bench):
        seen = [one for one in keeper.unsure if lot is held and held.lot in one.lots]
        if seen:
            return _not_settled(keeper, seen)
    source = bench.containers.get(held.source)
    counted = source.last.get("counted") if source is not None else None
    if source is None or (counted is not None and counted.at > held.taken_out):
        return ""
    return hidden_on_it(bench, source, [held])


def young_on_it(container: Container, standing: Sequence[Host]) -> str:
    """That young larvae, which are easily overlooked, may be on plants that leave a container;
    empty where none may."""
    young = sum(lot.number for lot in container.lots_of("larva") if lot.instar in YOUNG_INSTARS)
    larvae = count(young, "young larva", "young larvae")
    return f"{larvae} may be on it" if young and standing else ""


def _not_countable(bench: Bench, container: Container) -> bool:
    """Whether nobody could count the larvae of a container since they were counted last."""
    counted = container.last.get("counted")
    return any(
        put_off.container == container.code
        and put_off.check == count_check.CHECK.name
        and put_off.why.startswith(NOT_COUNTABLE)
        and (counted is None or counted.at < put_off.at)
        for put_off in bench.put_off
    )


def _is_meant(held: KeptLot, entry: HostOut) -> bool:
    if entry.lots:
        return held.lot in entry.lots
    return fits(held, entry.plant, entry.batch)


def _why_not(chance: Chance, moment: Moment, code: str) -> str:
    if chance.perhaps:
        return "may be the lot that showed frass"
    if chance.shown:
        return (
            "has shown frass: larvae have hatched on it; of larvae on record, as:"
            f" {code} frass of larvae on record"
        )
    until = f", {OVER_WINTER}" if chance.over_winter else ""
    if chance.keep_until:
        until = f", keep until {moment.clock(chance.keep_until)}{LOOK_A_DAY}"
    unseen = not chance.looks_after and chance.by_now >= chance.hatching.hatch_dd
    nobody = ", nobody looked for frass since half should have hatched" if unseen else ""
    if chance.unsearched and chance.chance < AIM:
        return f"was not searched since a female sat on it: search it{until}"
    return (
        f"may still bear eggs: {chance_words(chance.chance)}{nobody}{until}; under"
        f" {chance_words(AIM)} it may go"
    )
