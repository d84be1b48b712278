"""What a line that was read means on the bench as it stands: one thing to say, or several that
belong together."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from copy import copy
from datetime import datetime, timedelta
from typing import Any

from rounds import late
from rounds.bench.codes import like_codes
from rounds.bench.diapause import purpose_of
from rounds.bench.equal_parts import equal_shares, too_few
from rounds.bench.folding.hunger import ONE_FEED, fed_lots, of_this_feed
from rounds.bench.folding.lots import PURPOSE_OF, matching
from rounds.bench.folding.not_seen import open_here
from rounds.bench.folding.unsure import of_wings, unsexed
from rounds.bench.kept_lots import came_out_just_now, kept_by_words
from rounds.bench.plants_of import plants_for
from rounds.bench.plurals import PLURALS
from rounds.bench.state import Bench, Container, Host
from rounds.entries import registry as k
from rounds.entries.base import BARRIERS_LOOKED_AT, Entry, Purpose, Said, Saying, Stage
from rounds.entries.better_record import (
    INSTEAD_OF,
    begun_anew,
    bettered,
    emerged_with,
    named_in_full,
    stands_by_its_finds,
    with_mothers,
)
from rounds.entries.entry_factory import InvalidField
from rounds.entries.hosts import ALL_PLANTS
from rounds.entries.names import known_plants, named_there, resolved
from rounds.entries.phrase.reader import ALL, Draft
from rounds.entries.phrase.times import UnclearTime
from rounds.entries.place_words import BEGINS_A_PLACE
from rounds.entries.plant_parts import is_off_the_plant, is_part, name_and_part
from rounds.entries.schema import describe
from rounds.entries.searching import on_one_of
from rounds.entries.slots import AWAKE, PLANT_THERE, RENEWED, each
from rounds.entries.validation import holds

_Fields = dict[str, Any]  # as they were said
_Here = Container | None  # where it was said of, as it stands
_Sayings = list[Saying] | UnclearTime

FEMALE_NAMED = (k.Drank, k.FoodRefused)
# What is said of stems that come out for others, behind the plant's name.
_OF_THE_OLD: dict[str, dict[str, Any]] = {
    "held": {"fate": "held"},
    "kept": {"fate": "held"},
    "discarded": {"fate": "binned"},
    "discard": {"fate": "binned"},
    "binned": {"fate": "binned"},
    "sure": {"sure": True},
    "over": {"sure": True},  # 'old looked over'
    "looked": {},
    "thrown": {"fate": "binned"},
    "away": {},
    "the": {},
    "old": {},
    "one": {},
    "ones": {},
    "moved": {},
    "put": {},
    "go": {},
    "went": {},
    "stems": {},
    "sprigs": {},
    "and": {},
}
_BROUGHT = frozenset({"put", "now", "moved", "brought", "in", "into", "to", "cup", "and"})
# behind where eggs were: it may be said of a line before
_OF_ANOTHER_LINE = each("was were been typed twice double wrong mistake error already")
_GOES_TO = "goes to"  # of a find, until it is said as a move
SHORT_PLACE = 4  # letters of a word that is so near to many that it is no slip
# Purposes of containers that suit animals of each stage, of adults by sex, and those that suit all.
SUITS: Mapping[str, frozenset[Purpose]] = {
    "egg": frozenset({"eggs"}),
    "larva": frozenset({"hatchlings", "rearing", "pupation"}),
    "pupa": frozenset({"pupation", "emergence"}),
    "female": frozenset({"laying", "pairing", "trial"}),
    "male": frozenset({"holding", "trial"}),
    "adult": frozenset({"holding", "laying", "pairing", "trial"}),  # of no known sex
}
SUITS_ANY: frozenset[Purpose] = frozenset({"overwintering", "quarantine", "isolation"})
YOUNG = 2  # the last instar of young larvae, that are kept as hatchlings
_ANOTHER_PLANT = late.pattern(
    r",?\s*(?:\b(?:and|but)\s+)?\b(\d+|none|no|nothing)\s+(?:more\s+)?(?:eggs?\s+)?on\s+",
    re.IGNORECASE,
)
# Said of what stands there, or of one of them; with nothing but a part no plant is named.
_WHICHEVER_PLANT = frozenset({"", "host", "hosts", "plant", "plants", "host plant", "food", "it"})
_AND = frozenset({"and", "or", "plus", "&", "+"})
_ASIDE = "aside"  # of a find, the words behind its plant


def sayings_of(draft: Draft, bench: Bench, now: datetime) -> _Sayings:
    """The entries that a line says, with the note beside them last, but of a container that is
    closed first; or what is not clear about them."""
    if draft.better or (
        draft.kind is k.BroodBegun and stands_by_its_finds(bench, str(draft.fields.get("code")))
    ):
        return _bettered(draft, bench)
    targets = draft.targets or ((str(draft.fields.get("container", "")), _animal_of(draft)),)
    like = bench.at(targets[0][0])
    bench = _with_new(bench, draft, now)
    unclear = _of_several(draft, bench) if len(targets) > 1 else None
    if unclear:
        return unclear
    to_record: list[Saying] = []
    for position, (code, animal) in enumerate(targets):
        fields = dict(draft.fields)
        if len(targets) > 1:
            fields["container"] = code
            if animal:
                fields["female" if draft.kind in FEMALE_NAMED else "brood"] = animal
            _share(draft, fields, position, len(targets))
        by_plant = each_plant(fields, bench.at(code), each=draft.each)
        if isinstance(by_plant, UnclearTime):
            return by_plant
        for one in by_plant:
            said = _of_one_container(draft, one, bench.at(code), bench, draft.at or now)
            if isinstance(said, UnclearTime):
                return said
            to_record += said
    if draft.second_sex:
        number, sex = draft.second_sex
        to_record += [
            (kind, fields | {"number": number, "sex": sex})
            for kind, fields in to_record
            if kind is draft.kind
        ]
    if draft.refused and (asked := _beside_those_that_refused(draft, bench, to_record)):
        return asked
    if like is not None and draft.new:
        to_record[:0] = _new_cups(draft.new, like, bench, to_record)
    if draft.kind is k.Taxon:
        to_record[:0] = named_in_full(bench, draft.fields, draft.at or now)
    if draft.looked:
        to_record.insert(0, (k.Looked, {"container": targets[0][0], "sign": draft.looked}))
    if draft.note:
        to_record.insert(0 if draft.kind is k.Closed else len(to_record), (k.Note, _note(draft)))
    return to_record


def _beside_those_that_refused(
    draft: Draft, bench: Bench, to_record: list[Saying]
) -> UnclearTime | None:
    """Put down who refused beside who drank, who are all the others where no number was said; or
    why that cannot be."""
    code = str(draft.fields.get("container", ""))
    container, refused = bench.at(code), draft.refused
    if draft.kind is not k.Drank or container is None or len(to_record) != 1:
        return UnclearTime(
            f"who refused? Say it on a line of its own, as: {code} {refused} refused"
        )
    fields = to_record[0][1]
    if isinstance(refused, str):
        to_record.append((k.FoodRefused, {"container": code, "female": refused, "number": 1}))
        return None
    there = sum(lot.number for lot in fed_lots(bench, container))
    named = 1 if fields.get("female") else there - refused
    drank = int(draft.fields.get("number") or fields.get("number") or named)
    if drank < 1 or drank + refused > there:
        return UnclearTime(
            f"{code} holds {there} on record: of these {max(drank, 0)} drank and {refused} refused?"
        )
    to_record[0] = (k.Drank, fields | {"number": drank})
    to_record.append((k.FoodRefused, {"container": code, "number": refused}))
    return None


def _of_one_container(
    draft: Draft, fields: _Fields, container: _Here, bench: Bench, at: datetime
) -> _Sayings:
    result = _on_the_bench(draft, fields, container, bench, at)
    if isinstance(result, UnclearTime):
        return result
    if draft.kind is k.Counted and draft.fields.get("number") == ALL:
        return _all_are(result, container)
    if result.get("plant") == PLANT_THERE or result.get("changed"):
        return _fresh_host(bench, result, container)
    if draft.kind is k.Searched:
        finds = _finds(result, container, bench, at)
        return finds if isinstance(finds, UnclearTime) else _found(finds, container, bench, at)
    if draft.kind is k.Changed and result.get("purpose") == AWAKE and container:
        return _rest_ended(result, container)
    if draft.kind is k.Split:
        return [(k.Split, _shared_out(draft, result))]
    if draft.kind is k.HostSeen and (named := _and_changed(result)) is not None:
        new = {"container": result.get("container"), "plant": named or PLANT_THERE, "changed": True}
        changed = _fresh_host(bench, new, container)
        seen = {name: one for name, one in result.items() if name != "plant" or named}
        if isinstance(changed, UnclearTime):
            return changed
        return [(k.HostSeen, seen | ({"plant": named} if named else {})), *changed]
    if INSTEAD_OF in result and container:
        return emerged_with(container, result)
    if draft.kind is k.Light and "temperature_c" in result:  # 'in the sun 34 C'
        read: dict[str, Any] = {
            name: result[name] for name in ("container", "temperature_c") if name in result
        }
        light = {name: value for name, value in result.items() if name != "temperature_c"}
        return [(k.Light, light), (k.Air, read)]
    return [(draft.kind, result)]


def _rest_ended(fields: _Fields, container: Container) -> _Sayings:
    """A container whose animals are awake again is for what they need now."""
    if container.purpose != "overwintering":
        code = container.code
        return UnclearTime(
            f"{code} is not kept for winter on record; carried elsewhere, as: {code} changed"
            f" shelf=sill; {code} note taken in"
        )
    return [(k.Changed, fields | {"purpose": purpose_of(container.lots)})]


def each_plant(fields: _Fields, container: _Here, *, each: bool) -> list[_Fields] | UnclearTime:
    """The same of each plant, where several are named: ``host in violet and vetchling``."""
    plants, code = fields.get("plant") or "", str(fields.get("container", ""))
    new, last = (
        (_plant_of(container), plants) if isinstance(plants, str) else (plants[0], plants[-1])
    )
    if last != plants and fields.get("changed") and container:
        last = _without_its_name(last, container)
        plants = (*plants[:-1], last)
    if tells_of_the_old(last):
        if not (fields.get("changed") or (last != plants and "old" in last.casefold().split())):
            return UnclearTime(
                f"'{last}' is no plant; of the old stems, as: {code} host changed {new}, old kept;"
                f" with nothing taken out: {code} host in {new}"
            )
        if not isinstance(plants, str):
            return each_plant(_instead_of_the_old(fields, plants), container, each=each)
    if isinstance(plants, str):
        return [fields]
    first, second, *_ = plants
    if fields.get("sprigs") and not each:
        return UnclearTime(
            f"{fields['sprigs']} stems of which? Say each on a line of its own, as: {code} host in"
            f" {first} {fields['sprigs']}; or '{fields['sprigs']} stems each'"
        )
    there = dict.fromkeys(host.plant for host in container.hosts) if container else {}
    if fields.get("changed") and not all(_stands_there(plant, there) for plant in plants):
        return UnclearTime(
            f"changed for both, or is one there? Say each on a line of its own, as: {code} host"
            f" changed {first}; then {code} host in {second}"
        )
    return [fields | _with_its_part(plant) for plant in plants]


def _with_its_part(plant: str) -> dict[str, str]:
    """A plant as it is named, and the part of it where that is said with its name."""
    name, part = name_and_part(plant)
    return {"plant": name, "part": part.casefold()} if name and part else {"plant": plant}


def _plant_of(container: _Here) -> str:
    """A plant for an example: the one that stands there."""
    return container.hosts[0].plant if container and container.hosts else "violet"


def tells_of_the_old(named: str) -> bool:
    """Whether what stands where a plant is named says just what became of the old stems."""
    words = named.replace(",", " ").casefold().split()
    return bool(words) and _OF_THE_OLD.keys() >= {*words}


def _without_its_name(of_the_old: str, container: Container) -> str:
    """What becomes of the only plant that stands there, where it is said with its name: ``kept`` of
    ``violet kept``."""
    name, out = _what_becomes_of_the_old(of_the_old)
    standing = {host.plant for host in container.hosts}
    is_it = bool(out) and standing == {named_there(name, dict.fromkeys(standing))}
    return of_the_old.removeprefix(name).strip() if is_it else of_the_old


def _instead_of_the_old(fields: _Fields, plants: tuple[str, ...]) -> _Fields:
    """A plant behind which it is said what became of the old: it was changed for it."""
    *others, new, old = plants
    named = f"{new} {old}"
    return fields | {"plant": (*others, named) if others else named, "changed": True}


def _stands_there(plant: str, there: dict[str, None]) -> bool:
    try:
        return bool(named_there(plant, there))
    except InvalidField:
        return False


def _bettered(draft: Draft, bench: Bench) -> _Sayings:
    fields = {
        name: f'"{value}"' if name == "taxon" and name in draft.as_written else value
        for name, value in draft.fields.items()
    }
    beside = [(k.Note, {"text": draft.note, "brood": fields["code"]})] if draft.note else []
    if draft.better and draft.kind is k.BroodBegun:
        return [*with_mothers(bench, fields), *beside]
    try:
        if draft.kind is k.BroodBegun:
            return [*begun_anew(bench, fields), *beside]
        return [*bettered(bench, fields), *beside]
    except InvalidField as misfit:
        return UnclearTime(str(misfit))


def _animal_of(draft: Draft) -> str:
    return str(draft.fields.get("brood") or draft.fields.get("female") or "")


def _of_several(draft: Draft, bench: Bench) -> UnclearTime | None:
    """A number of animals is never said of several containers at once: it would be guessed what
    each holds."""
    codes = " and ".join(animal or code for code, animal in draft.targets[:3])
    stems = int(draft.fields.get("sprigs") or 0)
    if stems and not draft.each and (wrong := too_few(stems, len(draft.targets))):
        return UnclearTime(wrong)
    of_animals = all(animal for _, animal in draft.targets)
    counts = describe(draft.kind).field("number")
    alone = (k.FounderIntake, k.Stocked, k.Split, k.Merged, k.Photo, k.Paired, k.Permit)
    if issubclass(draft.kind, alone):
        return UnclearTime(
            f"'{describe(draft.kind).name}' is said of one container; say {codes} each on a line of"
            " its own"
        )
    if draft.fields.get("found"):
        return UnclearTime(f"how many eggs in which? Say {codes} each on a line of its own")
    if draft.each or draft.fields.get("number") == ALL:
        return None
    if (
        of_animals
        or counts is None
        or (draft.kind in (k.Drank, k.FoodRefused, k.Looked) and not draft.fields.get("number"))
    ):
        return None
    if draft.kind.grows_from and all(
        _holds_just(draft, bench.at(code)) for code, _ in draft.targets
    ):
        return None
    return UnclearTime(
        f"how many in which? Say {codes} each on a line of its own, or 'each' if it is so many"
        " in each"
    )


def _holds_just(draft: Draft, container: _Here) -> bool:
    """Whether so many grow as there are that can: ``C2-C4 moulted 1 L4``."""
    lots = matching(container, stage=draft.kind.grows_from) if container else []
    return sum(lot.number for lot in lots) == draft.fields.get("number")


def _share(draft: Draft, fields: _Fields, place: int, targets: int) -> None:
    """Stems are shared among the containers that are named together, unless each gets that many."""
    stems = fields.get("sprigs")
    if stems and not draft.each:
        fields["sprigs"] = equal_shares(stems, targets)[place]
    if "place" in fields and draft.kind in (k.SetUp, k.Changed):
        fields["place"] = fields["place"] + place


def _on_the_bench(
    draft: Draft, fields: _Fields, container: _Here, bench: Bench, at: datetime
) -> dict[str, Any] | UnclearTime:
    if fields.get("sprigs") == 0 and draft.kind is k.HostIn:
        return UnclearTime(
            "0 stems is no plant; say how many went in, or 'host seen' with left none"
        )
    for name in draft.as_written:
        if name in (draft.kind.names_species, draft.kind.names_plant) and name in fields:
            fields[name] = f'"{fields[name]}"'
    if (
        draft.kind in (k.BarrierSeen, k.ToppedUp)
        and not fields.get("container")
        and not fields.get("shelf")
    ):
        fields |= _only_barrier(bench)
    if draft.kind in FEMALE_NAMED and container:
        return _who_drank(bench, draft, fields, container, at)
    if fields.get("number") == ALL:
        return _all_of(bench, draft.kind, fields, container, at)
    return fields


def _shared_out(draft: Draft, fields: _Fields) -> _Fields:
    """A split with one number: so many each, or so many that go up evenly."""
    into, numbers = fields.get("into", ()), fields.get("numbers", ())
    if len(numbers) != 1 or len(into) < 2:
        return fields
    share, left = (numbers[0], 0) if draft.each else divmod(numbers[0], len(into))
    return fields | {"numbers": numbers if left else (share,) * len(into)}


def _with_new(bench: Bench, draft: Draft, now: datetime) -> Bench:
    """The bench as it will stand once the containers are set up that the line calls new."""
    if not draft.new:
        return bench
    new = {code: Container(code, "eggs", draft.at or now) for code in draft.new}
    future = copy(bench)
    future.containers = {**new, **bench.containers}
    return future


def _new_cups(
    new: Sequence[str], like: Container, bench: Bench, said: Sequence[Saying]
) -> list[Saying]:
    """New containers are set up like the one that something comes out of, for what comes into
    them; only what was put round that one itself stands round no other."""
    beside = [container.place for container in bench.standing() if container.shelf == like.shelf]
    position = max(beside, default=0) if like.place else -1
    own = {name: getattr(like, name) for name in ("shelf", "inside", "volume_ml", "lid", "lining")}
    if like.barrier not in BARRIERS_LOOKED_AT:
        own["barrier"] = like.barrier
    own["purpose"] = next(filter(None, (_purpose_for(like, *one) for one in said)), like.purpose)
    return [
        (
            k.SetUp,
            own | {"container": code} | ({"place": position + step} if position >= 0 else {}),
        )
        for step, code in enumerate(new, 1)
    ]


def _purpose_for(like: Container, kind: type[Entry], said: Said) -> Purpose | None:
    """What a container is for that some of this one come into: the same where that suits them, else
    what they need; kept stems are watched for eggs. None where nothing comes into it."""
    if kind is k.HostOut:
        return "eggs"
    if kind not in (k.Moved, k.Split):
        return None
    lots = matching(
        like,
        brood=str(said.get("brood") or ""),
        stage=said.get("stage") or None,
        instar=said.get("instar"),
        sex=said.get("sex"),
    )
    told: Stage | None = said.get("stage") or ("adult" if said.get("sex") else None)
    stages = {lot.stage for lot in lots} or ({told} if told else set())
    if len(stages) != 1:
        return like.purpose
    stage = stages.pop()
    sexes = {lot.sex for lot in lots} | {said.get("sex") or ""}
    who = next((sex for sex in ("female", "male") if stage == "adult" and sex in sexes), stage)
    if like.purpose in SUITS_ANY | SUITS[who]:
        return like.purpose
    if stage == "larva":
        grown = any(lot.instar > YOUNG for lot in lots)
        return "rearing" if grown else "hatchlings"
    return PURPOSE_OF[who]


def _only_barrier(bench: Bench) -> _Fields:
    """The one barrier of the bench, where there is only one; else nothing, and whose it is will be
    asked."""
    found = [{"shelf": shelf.name} for shelf in bench.shelves.values() if shelf.barrier != "none"]
    found += [
        {"container": container.code}
        for container in bench.standing()
        if container.barrier != "none"
    ]
    return dict(found[0]) if len(found) == 1 else {}


def _fresh_host(bench: Bench, fields: _Fields, container: _Here) -> _Sayings:
    """More of the plant that stands there; where the food was changed the old comes out first, and
    is kept if a female sat there."""
    hosts = container.hosts if container else []
    plants = {host.plant: host for host in sorted(hosts, key=lambda host: host.cut)}
    code = fields["container"]
    named = fields["plant"] if fields["plant"] != PLANT_THERE else ""
    changed = fields.get("changed")
    named, out = _what_becomes_of_the_old(named) if changed else (named, {})
    if held_in := fields.pop("held_in", ""):
        out |= {"fate": "held", "held_in": held_in}
    if changed and container and (len(plants) > 1 or (plants and named.casefold() in ALL_PLANTS)):
        return _changed_of_several(fields | {"plant": named or PLANT_THERE}, container, out)
    if len(plants) != 1 and not named:
        there = f"; {code} has {' and '.join(plants)}" if plants else f"; none stands in {code}"
        theirs = [*plants, *plants_for(bench, container), "violet leaf"]
        return UnclearTime(f"which plant?{there}. As: {code} host in {theirs[0]} 3 stems")
    rest = {name: value for name, value in fields.items() if name not in ("plant", "changed")}
    host = next(iter(plants.values())) if not named else None
    into = (
        {"plant": host.plant, "part": host.part, "kept": host.kept} if host else {"plant": named}
    ) | rest
    return [*(_old_out(container, hosts, out) if changed else []), (k.HostIn, into)]


def _what_becomes_of_the_old(named: str) -> tuple[str, dict[str, Any]]:
    """A plant that was changed without the words that say what became of the old stems, and what
    those say: ``violet held``."""
    words = named.replace(",", " ").split()
    out: dict[str, Any] = {}
    while words and (said := _OF_THE_OLD.get(words[-1].casefold())) is not None:
        out |= said
        del words[-1]
    return (" ".join(words), out) if len(words) < len(named.split()) else (named, {})


def _old_out(container: _Here, hosts: list[Host], said: Said) -> list[Saying]:
    """Cut stems come out, and are kept if a female sat there, unless it was said what became of
    them."""
    if container is None:
        return []
    fate = "held" if container.females or any(one.mothers for one in container.hosts) else "binned"
    old = dict.fromkeys((host.plant, host.batch) for host in hosts if host.kept != "living")
    return [
        (
            k.HostOut,
            {"container": container.code, "plant": plant, "batch": batch, "fate": fate}
            | dict(said),
        )
        for plant, batch in old
    ]


def _changed_of_several(fields: _Fields, container: Container, out: Said) -> _Sayings:
    """Which of several plants was changed: one by a word of its name, ``all`` of them, or all for
    another."""
    newest = {host.plant: host for host in sorted(container.hosts, key=lambda host: host.cut)}
    named = fields["plant"] if fields["plant"] != PLANT_THERE else ""
    if not named:
        as_typed = (
            f"As: {container.code} host changed {next(iter(newest))}; or {container.code} host"
            " changed all"
        )
        return UnclearTime(
            f"which plant was changed? {container.code} has {' and '.join(newest)}. {as_typed}"
        )
    rest = {name: value for name, value in fields.items() if name not in ("plant", "changed")}
    try:
        meant = named_there(named, dict.fromkeys(newest))
    except InvalidField as misfit:
        return UnclearTime(str(misfit))
    changed = (
        list(newest.values())
        if named.casefold() in ALL_PLANTS
        else [newest[meant]]
        if meant
        else []
    )
    stems = rest.get("sprigs")
    if stems and len(changed) > 1:
        return UnclearTime(
            f"{stems} stems of which? Say each on a line of its own, as: {container.code} host"
            f" changed {next(iter(newest))} 3"
        )
    old = [
        host
        for host in container.hosts
        if not changed or host.plant in {one.plant for one in changed}
    ]
    new = [{"plant": one.plant, "part": one.part, "kept": one.kept} | rest for one in changed] or [
        {"plant": named} | rest
    ]
    return [*_old_out(container, old, out), *((k.HostIn, one) for one in new)]


def _finds(
    fields: _Fields, container: _Here, bench: Bench, at: datetime
) -> list[_Fields] | UnclearTime:
    """What a search found, plant by plant: ``3 on Lotus, 5 on the Onobrychis`` are two finds."""
    first, *others = _ANOTHER_PLANT.split(str(fields.get("where", "")))
    finds = [fields | ({"where": first} if first else {})]
    finds += [
        fields | {"found": int(result) if result.isdecimal() else 0, "where": where}
        for result, where in zip(others[::2], others[1::2], strict=True)
    ]
    finds = [_brought_to(find, bench) for find in finds]
    try:
        return [_on_a_plant(find, container, bench, at) for find in finds]
    except InvalidField as misfit:
        return UnclearTime(str(misfit))


def _brought_to(find: _Fields, bench: Bench) -> _Fields:
    """A find with the cup that the eggs went to apart from where they were: ``on violet, put in
    E3``."""
    words = str(find.get("where", "")).split()
    to = bench.at(words[-1].upper()) or bench.at(words[-1]) if words else None
    if to is None or not find.get("found"):
        return find
    before = len(words) - 1
    while before and words[before - 1].rstrip(",").casefold() in _BROUGHT:
        before -= 1
    where = " ".join(words[:before]).rstrip(", ")
    if where and before == len(words) - 1:
        return find  # a place that ends like a code
    rest = {name: value for name, value in find.items() if name != "where"}
    return rest | ({"where": where} if where else {}) | {_GOES_TO: to}


def _on_which(find: Said, container: _Here, bench: Bench, at: datetime) -> UnclearTime | None:
    """On which plant eggs were, where several came out just now, or stand there."""
    told = any(find.get(name) for name in ("plant", "lots", "where", "confirmed", "which"))
    out = came_out_just_now(bench, container, at) if container and not told else None
    keeper, lots = out or (container, [])
    plants = list(dict.fromkeys(held.plant for held in lots))
    if out is None and container and (standing := on_one_of(container, find)):
        ways = " or ".join(f"on {plant}" for plant in standing)
        how = "confirmed" if find.get("confirmed") else "found"
        return UnclearTime(
            f"{find['found']} {how}: on which plant? {container.code} has {' and '.join(standing)};"
            f" add {ways}, or not known"
        )
    if not find.get("found") or len(plants) < 2 or container is None or keeper is None:
        return None
    code, found = container.code, find["found"]
    ways = ", ".join(f"{code} searched {found} on {plant}" for plant in plants)
    unknown = ",".join(str(held.number) for held in lots)
    return UnclearTime(
        f"{found} found: on which of those that came out? As: {ways}; or, if nobody knows:"
        f" {keeper.code} searched {found} lot={unknown}"
    )


def _found(finds: list[_Fields], container: _Here, bench: Bench, at: datetime) -> _Sayings:
    """What a search found; ``5 eggs in E3`` were found where the females are, and go there."""
    to_record: list[Saying] = []
    for find in finds:
        if asked := _on_which(find, container, bench, at):
            return asked
        to, aside = find.pop(_GOES_TO, None), find.pop(_ASIDE, "")
        if find.get("found") and _OF_ANOTHER_LINE & {*aside.casefold().split()}:
            where = find.get("plant") or find.get("where") or ""
            on = f" on {where}" if isinstance(where, str) and where else ""
            line = f"{find['container']} searched {find['found']}{on} -- {aside}"
            return UnclearTime(
                f"'{aside}': were they found now? As: {line}; a line that is wrong is crossed out"
                " in the daybook"
            )
        if to is None or container is None or to is container or not find.get("found"):
            to_record.append((k.Searched, find))
            to_record += [(k.Note, {"text": aside, "container": find["container"]})] * bool(aside)
            continue
        number, here = find["found"], container.code
        moved = f"{here} moved {number} eggs to {to.code}"
        if container.count("egg"):
            return UnclearTime(
                f"found just now, or of those on record in {here}? As: {here} searched {number},"
                f" then {moved}; or, of those on record: {moved}"
            )
        to_record.append((k.Searched, find))
        eggs = {"number": number, "stage": "egg", "to": to.code}
        to_record.append((k.Moved, {"container": here} | eggs))
    return to_record


def _on_a_plant(fields: _Fields, container: _Here, bench: Bench, at: datetime) -> _Fields:
    """A search 'on violet' names the plant, where one that stands or is kept there has that name,
    or a word of it; of 'violet buds' the buds are where on it, and 'flower buds' are those of the
    only one that stands there. Words behind the plant are a note; what is no plant there, and no
    place beside one, is taken for a plant that the keeper has to say more about.

    Raises:
        InvalidField: it fits several of them, or is one slip away from one.
    """
    where = str(fields.get("where", "")).strip().rstrip(",")
    bare = where[4:].strip() if where.casefold().startswith("the ") else where
    typed = str(fields.get("plant", "")) or bare
    if not typed:
        return fields
    name, part = name_and_part(typed)
    there = _plants_near(container, bench, at)
    plant = named_there(typed, there)
    if fields.get("plant"):
        of_it = {"plant": plant, "where": part} if plant and part and not where else {}
        return fields | of_it
    if part and not name and fields.get("found") and not fields.get("lots"):
        plant = _only_plant(container, there, fields["found"], part)
    spelt = (bare.casefold(), name.casefold())
    known = (one for one in known_plants(bench) if one.casefold() in spelt)
    plant = plant or next(known, "")
    rest = {name: value for name, value in fields.items() if name != "where"}
    if not plant and (
        is_off_the_plant(bare) or kept_by_words(bare, there) or name.casefold() in _WHICHEVER_PLANT
    ):
        return rest | {"where": bare}
    if not plant and (begun := _begins_with(bare, there, bench)):
        return _on_a_plant(fields | {"where": begun[0], _ASIDE: begun[1]}, container, bench, at)
    if not plant and _ASIDE not in fields and (begun := _begins_with_a_place(bare)):
        return _on_a_plant(fields | {"where": begun[0], _ASIDE: begun[1]}, container, bench, at)
    if not plant and len(name) > SHORT_PLACE:
        genera = (one.split()[0] for one in there)
        resolved(name, {**there, **dict.fromkeys(genera)}, "plant", bench)  # a slip is asked about
    if not plant:
        is_plant = there and not like_codes(bare)
        return rest | {"plant" if is_plant else "where": bare}
    is_of_its_name = part.casefold() in plant.casefold().split()
    return rest | {"plant": plant} | ({"where": part} if part and not is_of_its_name else {})


def _begins_with(words: str, there: Mapping[str, None], bench: Bench) -> tuple[str, str] | None:
    """The longest beginning of some words that names a plant, one there or one of the book, and
    what stands behind it; None where none does, or where another plant or a container is behind."""
    said = words.split()
    known = {one.casefold() for one in known_plants(bench)}
    for end in range(len(said) - 1, 0, -1):
        name, rest = " ".join(said[:end]).rstrip(","), said[end:]
        if not (named_there(name, there) or name.casefold() in known):
            continue
        behind = [word.strip(",.") for word in rest]
        others = [word for word in behind if like_codes(word) or named_there(word, there)]
        return None if others or _goes_on(behind) else (name, " ".join(rest))
    return None


def _begins_with_a_place(words: str) -> tuple[str, str] | None:
    """The longest beginning of some words that is a place on a plant or beside it, and what stands
    behind it; None where none is."""
    said = words.split()
    for end in range(len(said) - 1, 0, -1):
        place, behind = said[:end], said[end].casefold()
        if is_off_the_plant(" ".join(place)) or is_part(place):
            last = next(one for one in reversed(place) if one not in ("the", "a"))
            goes_on = {behind, last.casefold()} & (BEGINS_A_PLACE | _AND)  # 'net near the ground'
            return None if goes_on else (" ".join(place).rstrip(","), " ".join(said[end:]))
    return None


def _goes_on(behind: Sequence[str]) -> bool:
    """Whether words behind a plant begin another plant or place, or count on: ``and thyme``, ``lid
    3``; never ``in batches of 2 and 1``."""
    first = behind[0].casefold()
    return first in _AND or (first != "in" and any(word.isdigit() for word in behind))


def _plants_near(container: _Here, bench: Bench, at: datetime) -> dict[str, None]:
    """The plants that stand in a container, then those kept in it or just taken out of it."""
    if container is None:
        return {}
    out = came_out_just_now(bench, container, at)
    return dict.fromkeys(stem.plant for stem in [*container.stems, *(out[1] if out else ())])


def _only_plant(container: _Here, near: Mapping[str, None], found: int, part: str) -> str:
    """The plant that a part said without its name is of; '' if there is none.

    Raises:
        InvalidField: several may bear it.
    """
    standing = dict.fromkeys(host.plant for host in container.hosts) if container else {}
    plants = list(standing or near)
    if container and len(plants) > 1:
        here = f"{container.code} searched {found}"
        ways = ", or ".join(f"{here} on {plant} {part}" for plant in plants)
        raise InvalidField(f"{part} of which plant? As: {ways}; if nobody knows: {here} not known")
    return plants[0] if plants else ""


def _who_drank(
    bench: Bench, draft: Draft, fields: _Fields, container: Container, at: datetime
) -> dict[str, Any] | UnclearTime:
    """``drank 2 of 3``, ``drank all``, ``drank W2``; none that drank is no drink."""
    what = describe(draft.kind).name
    there = sum(lot.number for lot in fed_lots(bench, container))
    if draft.of is not None and draft.of not in (there, container.females):
        whom = "females" if there == container.females else "adults to feed"
        return UnclearTime(
            f"{container.code} holds {there} {whom} on record, not {draft.of}; count them first"
        )
    if draft.of is not None and draft.of != there and draft.kind is k.Drank:
        fields["of"] = draft.of
    if fields.get("number") == ALL:
        del fields["number"]  # a feed without a number is of all
    elif "number" in fields and fields["number"] == 0:
        if draft.kind is k.Drank:
            return UnclearTime(
                f"none drank? As: {container.code} refused, where she would not; or leave it out",
                0,
                ("refused",),
            )
        return UnclearTime(
            f"none {what}? Leave it out, or say who drank, as: {container.code} drank"
        )
    animal = str(fields.get("female", ""))
    if animal and "number" not in draft.fields:
        fields["number"] = container.count("adult", animal) or 1
    last = container.last.get("drank")
    again = (
        isinstance(last, k.Drank)
        and last.female == animal
        and timedelta() <= at - last.at < ONE_FEED
    )
    if animal and again and last and draft.kind is k.Drank and of_this_feed(bench, container, at):
        return UnclearTime(
            f"{animal} drank already at {last.at.astimezone(at.tzinfo):%H:%M}; who else did?"
        )
    return fields


def _all_of(
    bench: Bench,
    kind: type[Entry],
    fields: _Fields,
    container: _Here,
    at: datetime,
) -> dict[str, Any] | UnclearTime:
    """The number that 'all' stands for: every animal here that what was said fits."""
    if container is None:
        return fields | {"number": 1}  # it is refused: what is not there holds none
    if kind is k.Sexed:
        of_these = k.Sexed(id="", at=at, logged=at, by="", **(fields | {"number": 1}))
        return fields | {"number": sum(lot.number for lot in unsexed(container, of_these)) or 1}
    if kind is k.Settled:
        missed = open_here(bench, container.code, str(fields.get("brood", "")), fields.get("stage"))
        return fields | {"number": sum(one.number for one in missed) or 1}
    said: Stage | None = fields.get("stage")
    stage = kind.grows_from or said or kind.stage_meant(container, fields)
    lots = matching(
        container,
        brood=str(fields.get("brood", "")),
        stage=stage,
        instar=None if kind is k.Moulted else fields.get("instar"),
        sex=fields.get("sex"),
    )
    lots = of_wings(lots, str(fields.get("wings", "")))
    if kind is k.Moulted:
        lots = [lot for lot in lots if lot.instar < int(fields.get("instar", 0))]
    if not lots and kind.grows_from:
        return UnclearTime(
            f"none of {container.code} is left that could have {describe(kind).name}; it holds"
            f" {holds(container)}"
        )
    if stage is None and len({lot.stage for lot in lots}) > 1:
        stages = sorted({lot.stage for lot in lots})
        return UnclearTime(
            f"all of which? {container.code} holds {holds(container)}; say"
            f" {' or '.join(f'all {PLURALS[one]}' for one in stages)}"
        )
    if not lots and kind is not k.Counted:  # a count asks for itself
        holds_what = f"no {PLURALS[stage]}; it holds {holds(container)}" if stage else "nothing"
        return UnclearTime(
            f"all {describe(kind).name}, but {container.code} holds"
            f" {holds_what if container.lots else 'nothing'}"
        )
    return fields | {"number": sum(lot.number for lot in lots)}


def _and_changed(seen: Said) -> str | None:
    """The plant of which it is said behind how it looked that it was changed: ``violet`` of
    ``violet limp, changed``; None where that is not said."""
    *named, last = str(seen.get("plant") or "").split() or [""]
    if last not in RENEWED:
        return None
    return " ".join(named[:-1] if named[-1:] == ["and"] else named).rstrip(",")


_GREW_FROM: dict[str, tuple[Stage, type[Entry]]] = {
    "larva": ("egg", k.Hatched),
    "pupa": ("larva", k.Pupated),
    "adult": ("pupa", k.Emerged),
}


def _all_are(fields: _Fields, container: _Here) -> _Sayings:
    """All are larvae, pupae or adults: those that were not hatched, pupated or emerged; a count of
    all that are so on record where none was of the stage before."""
    stage, code = str(fields.get("stage", "")), str(fields.get("container", ""))
    before, grew = _GREW_FROM.get(stage, (None, k.Counted))
    there = container.count(before) if container and before else 0
    if there:
        rest = {name: value for name, value in fields.items() if name not in ("stage", "method")}
        return [(grew, rest | {"number": there})]
    if container and not container.lots:
        return UnclearTime(
            f"{code} holds nothing on record; what came in, as: {code} 4 larvae Boloria dia"
        )
    if not fields.get("number"):
        what, instar = PLURALS.get(stage, "animals"), fields.get("instar")
        lots = matching(container, stage=fields.get("stage")) if container and instar else []
        of_instar = f" in L{instar}" if instar else ""
        return UnclearTime(
            f"no {what}{of_instar} on record in {code}; say how many, as: {code} counted"
            f" {sum(lot.number for lot in lots) or 4} {what}"
        )
    return [(k.Counted, fields)]


def _note(draft: Draft) -> _Fields:
    shelf = str(draft.fields.get("shelf", ""))
    codes = [code for code, _ in draft.targets[1:]]
    of_the_shelf = shelf and not draft.fields.get("container")
    text = f"shelf {shelf}: {draft.note}" if of_the_shelf else draft.note
    text = f"{text} ({', '.join(codes)} too)" if codes else text
    fields = {
        "text": text,
        "container": str(draft.fields.get("container", "")),
        "brood": _animal_of(draft),
    }
    return {name: value for name, value in fields.items() if value}
