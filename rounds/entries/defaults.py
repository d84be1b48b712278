"""What the bench itself can add to what was said, so that a keeper need not type it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from string import ascii_uppercase
from typing import Any

import msgspec

from rounds.bench.folding.hunger import fed_lots, females_first
from rounds.bench.kept_lots import came_out_just_now, either, fits, names_meant
from rounds.bench.mates import WILD, Fathers, possible_fathers
from rounds.bench.state import Bench, Container, Held, Host
from rounds.bench.taxon_names import binomials
from rounds.bench.whose_eggs import Layers, brood_taxon, by_species, females, layers, narrowed
from rounds.entries import registry as k
from rounds.entries.base import STICKY, Entry
from rounds.entries.names import named_there, species_named, with_known_names
from rounds.entries.phrase.slots import PARTS
from rounds.entries.registry import BroodBegun
from rounds.entries.which_animals import UNMARKED, completed_by_stock

FORMS = frozenset({"tree", "bush", "living", "potted", "pot", "cut"})
_LEAVE = ("died", "escaped", "missing", "released", "preserved", "moved", "split")
MARKED = ("brood", "female", "male")  # fields in which an animal may be named by its mark
SAME_CUTTING = timedelta(hours=6)
LETTERS = [letter for letter in ascii_uppercase if letter not in "OI"]  # never mistaken for 0 and 1


def completed(bench: Bench, kind: type[Entry], fields: Mapping[str, Any], at: datetime) -> list[tuple[type[Entry], dict[str, Any]]]:
    """What was said with what the bench knows added, and any entry that must stand before it.

    Names are those that the book knows already. Eggs found with no brood named belong to the brood of the females
    there, which begins now where there is none yet; a container without a barrier of its own is guarded by that of
    what it stands in or on; a host with no batch letter gets that of the same plant's last cutting, else the next
    letter. Animals that leave get the stage that is meant. Kept lots said by digit get their names; a search at the
    stop where stems just came out is of those stems.
    """
    fields = dict(fields) | _by_their_marks(bench, fields)
    container = bench.at(str(fields.get("container", "")))
    named_here = _plant_there(container, kind, fields) if container and kind in (k.HostOut, k.HostSeen, k.Searched) else {}
    said = with_known_names(bench, kind, {**fields, **named_here})
    shares = _shares(said) if kind is k.Searched else []
    if shares:
        return [one for share in shares for one in completed(bench, kind, share, at)]
    if container and said.get("lots"):
        said["lots"] = names_meant(container, said["lots"])
    if kind is k.HostOut and container:
        return [(k.HostOut, said | one) for one in _stems_meant(container, said)]
    if kind is k.Drank and container and said.get("number"):
        there = fed_lots(bench, container)
        if len(females_first(there)) < len(there):
            said.setdefault("of", sum(lot.number for lot in there))
    if kind is k.Searched and container and said.get("confirmed") and said.get("found") is None:
        plant, lots = str(said.get("plant", "")), tuple(said.get("lots") or ())
        said["found"] = sum(one.number for one in container.unsure if one.fits(plant, lots))
    if kind is k.Searched and container and not said.get("confirmed"):
        container = _where_the_stems_are(bench, container, said, at)
    if kind is k.Searched and said.get("found") and container:
        return _eggs_with_a_brood(bench, container, said, at)
    if kind is k.Stocked and said.get("stage") != "adult" and _is_mother(bench, str(said.get("brood", "")), ()):
        return _young_of(bench, said, at)
    if kind in (k.BarrierSeen, k.ToppedUp) and container and not said.get("shelf"):
        said |= _whose_barrier(bench, container)
    if kind in (k.BarrierSeen, k.ToppedUp):
        said |= _as_barriers_are(bench, kind, said)
    if kind is k.HostIn and not said.get("batch"):
        said["batch"] = batch_letter(bench, str(said.get("plant", "")), at)
    if kind is k.HostIn and not said.get("cut"):
        said["cut"] = at
    if kind is k.Weighed and container and len(kinds := {(lot.brood, lot.stage) for lot in container.lots}) == 1:
        said = dict(zip(("brood", "stage"), *kinds, strict=True)) | said
    if kind is k.Taxon:
        said = _known(k.Taxon, bench.taxa.get(str(said.get("name", "")).strip())) | said
    if kind is k.ShelfSetUp:
        said = _known(k.ShelfSetUp, bench.shelves.get(str(said.get("shelf", "")).strip())) | said
    if kind is k.FounderIntake and said.get("stage", "adult") != "adult" and not said.get("sex"):
        said["sex"] = ""  # nobody sees the sex of an egg or a larva
    return completed_by_stock(bench, kind, said)


def _by_their_marks(bench: Bench, fields: Mapping[str, Any]) -> dict[str, str]:
    """The codes of animals that were named by their marks."""
    said = {name: str(fields.get(name) or "") for name in MARKED}
    found = {
        name: bench.marked(word) for name, word in said.items() if word and word not in bench.founders and word not in bench.broods
    }
    return {name: code for name, code in found.items() if code}


def _known(kind: type[Entry], known: object) -> dict[str, Any]:
    """What was said of a species or shelf before, which stays true where it is not said again."""
    own = {"id", "at", "logged", "by", "round"}
    fields = [one for one in msgspec.structs.fields(kind) if one.name not in own and hasattr(known, one.name)]
    return {one.name: value for one in fields if (value := getattr(known, one.name)) != one.default}


def _plant_there(container: Container, kind: type[Entry], fields: Mapping[str, Any]) -> dict[str, Any]:
    """Which plant of this container a word of its name means, also with the letter of its batch behind it, its part or how
    it is kept.
    """
    typed, batch = str(fields.get("plant") or "").strip(), str(fields.get("batch") or "")
    there: list[Host | Held] = [*container.hosts, *container.held]
    before, _, last = typed.rpartition(" ")
    ways = [(typed, batch), (before.strip(), last.upper())] if before and not batch else [(typed, batch)]
    ways += [(before.strip(), batch)] if last.casefold() in PARTS | FORMS else []
    for name, letter in ways:
        meant = named_there(name, dict.fromkeys(one.plant for one in there if letter in ("", one.batch)))
        batches = {one.batch for one in container.hosts if one.plant == meant}
        if meant and kind is k.HostOut:
            return {"plant": meant, "batch": letter}
        if meant and (not letter or len(batches) == 1):
            return {"plant": meant}
    return {}


def _stems_meant(container: Container, said: Mapping[str, Any]) -> list[dict[str, Any]]:
    """What goes, by its name, so that the line says it: each plant with its batch and stems, or which kept lots."""
    plant, batch, stems = str(said.get("plant", "")), str(said.get("batch", "")), said.get("sprigs")
    asked = either(container, plant, batch, str(said.get("fate", "held")), str(said.get("held_in", "")))
    standing = [host for host in container.hosts if fits(host, plant, batch)]
    if said.get("lots") or not standing:
        lots = tuple(said.get("lots") or ())
        kept = [held for held in container.held if held.lot in lots or (not lots and fits(held, plant, batch))]
        found: dict[str, Any] = {"lots": lots or tuple(held.lot for held in kept)}
        if len(kept) == 1:
            found |= {"plant": kept[0].plant, "batch": kept[0].batch, "sprigs": stems or kept[0].sprigs}
        return [found]
    if asked:
        return [{}]
    kinds = dict.fromkeys((host.plant, host.batch) for host in standing)
    if stems and len(kinds) > 1:
        return [{}]
    return [{"plant": one, "batch": its, "sprigs": stems or _stems_of(standing, one, its)} for one, its in kinds]


def _stems_of(standing: Sequence[Host], plant: str, batch: str) -> int | None:
    stems = [host.sprigs for host in standing if (host.plant, host.batch) == (plant, batch)]
    return None if None in stems else sum(number for number in stems if number)


def _shares(said: dict[str, Any]) -> list[dict[str, Any]]:
    """One search a lot, where eggs were said lot by lot, as ``lots=1:3,2:2``."""
    shares = [one.partition(":") for one in said.get("lots", ())]
    if not all(lot.isdecimal() and number.isdecimal() for lot, _, number in shares):
        return []
    return [said | {"lots": (lot,), "found": int(number)} for lot, _, number in shares]


def _where_the_stems_are(bench: Bench, container: Container, said: dict[str, Any], at: datetime) -> Container:
    """A search at the stop where stems just came out is of those stems, wherever they are kept now."""
    if any(said.get(name) for name in ("lots", "plant", "where")):
        return container
    out = came_out_just_now(bench, container, at)
    if out is None:
        return container
    keeper, lots = out
    said["container"], said["lots"] = keeper.code, tuple(held.lot for held in lots)
    return keeper


def _eggs_with_a_brood(
    bench: Bench, container: Container, said: dict[str, Any], at: datetime
) -> list[tuple[type[Entry], dict[str, Any]]]:
    """The eggs that a search found, with their brood: of the females that may have laid them, or of the one that is named."""
    said |= _of_a_species(bench, container, said, at)
    found = layers(bench, container, said, at)
    brood, among = str(said.get("brood") or ""), tuple(said.get("among") or ())
    if brood and not _is_mother(bench, brood, found.codes):
        return [(k.Searched, said)]
    if brood or among or said.get("which"):
        of_these = bench.unmarked(found.codes) if said.get("which") == UNMARKED else found.codes
        mothers = (brood,) if brood else tuple(sorted(set(among))) or of_these
        told = said | {"among": (), "which": ""}
        return _eggs_of(bench, container, told, narrowed(bench, container, found, mothers), at) if mothers else [(k.Searched, said)]
    if len(by_species(bench, found.codes)) > 1:
        return [(k.Searched, said)]  # it is asked whose they are
    if not found.kept:
        laid_here = sorted({code for lot in container.lots_of("egg") for code in lot.codes} - set(found.codes))
        laid_here = [
            code
            for code in laid_here
            if not _has_new_father(bench, container, code) and not _of_other_females(bench, container, code, found.codes)
        ]
        if len(laid_here) == 1:
            return [(k.Searched, said | {"brood": laid_here[0]})]
        if laid_here:
            theirs = [
                code for code in laid_here if found.codes and code in bench.broods and bench.broods[code].mothers == found.codes
            ]
            return [(k.Searched, said | {"brood": theirs[0] if len(theirs) == 1 else ""})]
    if not found.codes:
        only = {lot.brood for lot in container.lots if lot.stage != "adult"}
        return [(k.Searched, said | {"brood": next(iter(only)) if len(only) == 1 else ""})]
    return _eggs_of(bench, container, said, found, at)


def _of_a_species(bench: Bench, container: Container, said: Mapping[str, Any], at: datetime) -> dict[str, Any]:
    """A search that names a species where a plant or a spot is named: the eggs are of its females."""
    named = {field: species for field in ("plant", "where") if (species := species_named(bench, str(said.get(field) or "")))}
    if not named or said.get("brood") or said.get("among"):
        return {}
    none: dict[str, Any] = dict.fromkeys(named, "")
    there = layers(bench, container, {**said, **none}, at).codes
    hers = tuple(code for code in there if all(binomials(bench.taxon_of(code)) & binomials(one) for one in named.values()))
    return none | {"among": hers} if hers else {}


def _is_mother(bench: Bench, code: str, mothers: Sequence[str]) -> bool:
    """Whether a code names a female that lays, and so not the brood that her eggs are of."""
    founder = bench.founders.get(code)
    return code in mothers or (founder is not None and founder.stage == "adult" and founder.sex != "male")


def _young_of(bench: Bench, said: dict[str, Any], at: datetime) -> list[tuple[type[Entry], dict[str, Any]]]:
    """Young animals of a female that is named are of her newest brood, else of a new one."""
    mothers = (str(said["brood"]),)
    known = [code for code, brood in bench.broods.items() if brood.mothers == mothers]
    if known:
        return [(k.Stocked, said | {"brood": known[-1]})]
    code, fathers = next_brood_code(bench, mothers), possible_fathers(bench, mothers, until=at)
    begun = {"code": code, "taxon": brood_taxon(bench, mothers), "mothers": mothers, "fathers": fathers.codes}
    return [(k.BroodBegun, begun), (k.Stocked, said | {"brood": code})]


def _eggs_of(
    bench: Bench,
    container: Container,
    said: dict[str, Any],
    found: Layers,
    at: datetime,
) -> list[tuple[type[Entry], dict[str, Any]]]:
    """Eggs of these mothers, on kept stems where those are named: of the brood that they lay now, else of a new one."""
    mothers, kept, laid_to = found.codes, found.kept, found.until or at
    fathers = possible_fathers(bench, mothers, () if kept else females(container), laid_to, found.since)
    known = [code for code, brood in bench.broods.items() if brood.mothers == mothers]
    same = [code for code in known if set(bench.broods[code].fathers) == set(fathers.codes)]
    running = same or [code for code in known if not _is_by_others(bench.broods[code], fathers)]
    one_animal = len(mothers) == 1 and mothers[0] in bench.founders  # what she lays is hers, whoever comes or leaves
    changed = None if kept or one_animal else _females_changed(container)
    if changed is not None:
        running = [code for code in running if bench.broods[code].at >= changed]
    if running:
        return [(k.Searched, said | {"brood": running[-1]})]
    code = next_brood_code(bench, mothers)
    able = fathers.newest if known else fathers.since
    laid_from = max(filter(None, (found.since, able)), default=laid_to)
    begun = {
        "code": code,
        "taxon": brood_taxon(bench, mothers),
        "mothers": mothers,
        "fathers": fathers.codes,
        "laid_from": min(laid_from, laid_to),
        "laid_to": laid_to,
    }
    return [(k.BroodBegun, begun), (k.Searched, said | {"brood": code})]


def _females_changed(container: Container) -> datetime | None:
    """When a female last came to a container or left it, known which or not; None before any did."""
    left = [entry for kind in _LEAVE if (entry := container.last.get(kind)) is not None]
    times = [entry.at for entry in left if getattr(entry, "stage", None) in (None, "adult") and getattr(entry, "sex", None) != "male"]
    times += [lot.came for lot in females(container) if lot.came is not None]
    return max(times, default=None)


def _of_other_females(bench: Bench, container: Container, code: str, adults: Sequence[str]) -> bool:
    """Whether the eggs that lie here are of other females than those that stand here now, or of more of them."""
    brood = bench.broods.get(code)
    if brood is None or not adults:
        return False
    changed = _females_changed(container)
    return set(brood.mothers) != set(adults) or (changed is not None and changed > brood.at)


def _is_by_others(brood: BroodBegun, fathers: Fathers) -> bool:
    """Whether a male that is not among a brood's fathers came to its mothers after it was begun, or all of them are others."""
    if not set(fathers.codes) - {WILD, *brood.fathers}:
        return False
    all_others = bool(brood.fathers) and not {WILD, *fathers.codes} & set(brood.fathers)
    return all_others or (fathers.newest is not None and fathers.newest > brood.at)


def _has_new_father(bench: Bench, container: Container, code: str) -> bool:
    brood = bench.broods.get(code)
    return brood is not None and _is_by_others(brood, possible_fathers(bench, brood.mothers, females(container)))


def _whose_barrier(bench: Bench, container: Container) -> dict[str, Any]:
    whose, barrier, _ = bench.moat_of(container)
    if barrier == "none" or whose == container.code:
        return {}
    return {"container": "", "shelf": whose} if whose in bench.shelves and whose not in bench.containers else {"container": whose}


def _as_barriers_are(bench: Bench, kind: type[Entry], said: dict[str, Any]) -> dict[str, Any]:
    """A sticky band or grease that is as it should be is sound, not full, and is renewed, not topped up; a moat is full."""
    sticky = bench.barrier_named(str(said.get("container", "")), str(said.get("shelf", ""))) in STICKY
    if kind is k.ToppedUp:
        return {"renewed": True} if sticky else {}
    good = said.get("state") in ("full", "sound")
    return {"state": "sound" if sticky else "full"} if good else {}


def next_brood_code(bench: Bench, mothers: tuple[str, ...]) -> str:
    """The next unused brood code of these mothers: the first one's code, '+' where several, and a letter.

    A founder's broods are ``QUE-26-03/A``, ``/B`` and so on; the broods of a reared brood add a letter:
    ``QUE-26-03/AA``.
    """
    first = mothers[0]
    stem = first if "/" in first else f"{first}{'+' if len(mothers) > 1 else ''}/"
    if "/" in first and len(mothers) > 1:
        stem += "+"
    for letter in LETTERS:
        if f"{stem}{letter}" not in bench.broods:
            return f"{stem}{letter}"
    number = 2
    while f"{stem}{number}" in bench.broods:
        number += 1
    return f"{stem}{number}"


def batch_letter(bench: Bench, plant: str, at: datetime) -> str:
    """The letter of the cutting that a sprig comes from.

    The same plant put in less than six hours ago, or standing in the host store, is the same cutting.
    """
    newest: tuple[datetime, str] | None = None
    for container in bench.standing():
        for host in container.hosts:
            same = host.plant == plant and host.batch
            fresh = at - host.cut <= SAME_CUTTING or container.purpose == "host store"
            if same and fresh and (newest is None or host.cut > newest[0]):
                newest = (host.cut, host.batch)
    return newest[1] if newest else letter_after(bench.last_batch)


def letter_after(letter: str) -> str:
    """The batch letter after that one: A to Z without I and O, then AA, AB and so on."""
    if not letter or any(one not in LETTERS for one in letter):
        return LETTERS[0]
    place = LETTERS.index(letter[-1]) + 1
    if place < len(LETTERS):
        return letter[:-1] + LETTERS[place]
    return (letter_after(letter[:-1]) if len(letter) > 1 else LETTERS[0]) + LETTERS[0]
