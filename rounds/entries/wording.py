"""Every kind described from its own types, and every entry told in one line."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from datetime import datetime
from functools import cache
from typing import Any, Literal

import msgspec
from msgspec import Struct, inspect

from rounds.bench.codes import one_of
from rounds.bench.dates import beside, dated
from rounds.bench.measures import METRIC, Measures
from rounds.bench.permits import ends_at_midnight
from rounds.entries import registry as k
from rounds.entries.base import Entry
from rounds.entries.slots import Slots

Shape = Literal["count", "number", "words", "choice", "time", "yes or no", "codes", "numbers"]
MOST_STRIKES = 99  # of one line, one after another; a damaged book could name them in a ring
OWN = frozenset({"id", "at", "logged", "by", "round"})


class FieldDescribed(Struct, frozen=True):
    """One field of a kind."""

    name: str
    shape: Shape
    required: bool
    help: str
    choices: tuple[str, ...] = ()
    default: Any = None


class Described(Struct, frozen=True):
    """One kind of entry."""

    name: str
    help: str
    fields: tuple[FieldDescribed, ...]
    slots: Slots

    def field(self, name: str) -> FieldDescribed | None:
        """The field of that name."""
        return next((one for one in self.fields if one.name == name), None)


@cache
def describe(kind: type[Entry]) -> Described:
    """A kind, described from its own types."""
    info = inspect.type_info(kind)
    assert isinstance(info, inspect.StructType)
    fields = tuple(_field(one) for one in info.fields if one.name not in OWN)
    return Described(str(kind.__struct_config__.tag), (kind.__doc__ or "").strip(), fields, kind.slots)


def _field(one: inspect.Field) -> FieldDescribed:
    plain, about = _unwrapped(one.type)
    default = None if one.default is msgspec.NODEFAULT else one.default
    choices = tuple(str(value) for value in plain.values if value) if isinstance(plain, inspect.LiteralType) else ()
    return FieldDescribed(one.name, _shape(plain), one.required, about, choices, default)


def _unwrapped(one: inspect.Type) -> tuple[inspect.Type, str]:
    about = ""
    while True:
        if isinstance(one, inspect.Metadata):
            about = (one.extra_json_schema or {}).get("description", about) or about
            one = one.type
        elif isinstance(one, inspect.UnionType):
            one = next(part for part in one.types if not isinstance(part, inspect.NoneType))
        else:
            return one, about


def _shape(plain: inspect.Type) -> Shape:
    if isinstance(plain, inspect.VarTupleType):
        return "numbers" if isinstance(_unwrapped(plain.item_type)[0], inspect.IntType) else "codes"
    shapes: dict[type[inspect.Type], Shape] = {
        inspect.IntType: "count",
        inspect.FloatType: "number",
        inspect.LiteralType: "choice",
        inspect.DateTimeType: "time",
        inspect.BoolType: "yes or no",
    }
    return shapes.get(type(plain), "words")


def saying(entry: Entry, measures: Measures = METRIC) -> str:
    """One line that tells an entry, as it stands in lists: the place, what happened, the rest."""
    tell = _TELLINGS.get(type(entry))
    measured = _MEASURED.get(type(entry), _plain_telling)
    told = tell(entry) if tell else measured(entry, measures)
    place = getattr(entry, "container", "") or _shelf_words(entry)
    return f"{place} {told}".strip()


def by_field(entry: Entry, measures: Measures = METRIC, *, new: Collection[str] = (), said: Collection[str] = ()) -> str:
    """What an entry says with every field by its name, but for the place.

    ``new`` are the fields to be marked as such, ``said`` those that are told though they are as usual.
    """
    told = []
    for one in describe(type(entry)).fields:
        value = getattr(entry, one.name)
        as_usual = value == one.default and not one.required and one.name not in said
        if (
            one.name == "container"
            or (one.name == "shelf" and not getattr(entry, "container", ""))
            or as_usual
            or value in ("", None, ())
        ):
            continue
        if one.name == "cut" and value == entry.at:
            continue
        told.append(f"{_named_words(one, value, measures, entry.at)}{' NEW' if one.name in new else ''}")
    return f"{entry.what}{': ' if told else ''}{', '.join(told)}"


def _named_words(one: FieldDescribed, value: Any, measures: Measures, said: datetime) -> str:
    name = one.name.replace("_", " ")
    if isinstance(value, bool):
        return f"{name} {'yes' if value else 'no'}"
    if isinstance(value, datetime | tuple) or (isinstance(value, int | float) and one.name not in _BARE):
        return _value_words(one, value, measures, said)
    return f"{name} {value}"


def saying_among(entry: Entry, known: Mapping[str, Entry], measures: Measures = METRIC) -> str:
    """The line that tells an entry; a strike tells what it struck, or brought back, where that is known by its id."""
    line, strikes = entry, 0
    while isinstance(line, k.Struck) and line.entry in known and strikes < MOST_STRIKES:
        line, strikes = known[line.entry], strikes + 1
    if not strikes or not isinstance(entry, k.Struck):
        return saying(entry, measures)
    why = f" ({entry.why})" if entry.why else ""
    if strikes % 2 == 0:
        return f"brought back: {saying(line, measures)}{why}"
    return f"struck: {saying(line, measures)}{why}"


def _shelf_words(entry: Entry) -> str:
    shelf = getattr(entry, "shelf", "")
    return f"shelf {shelf}" if shelf and not isinstance(entry, k.ShelfSetUp) else ""


def _plain_telling(entry: Entry, measures: Measures) -> str:
    parts = [entry.what]
    for one in describe(type(entry)).fields:
        value = getattr(entry, one.name)
        if one.name in ("container", "shelf") or value == one.default or value in ("", None, (), False):
            continue
        parts.append(_value_words(one, value, measures, entry.at))
    return f"{parts[0]} {', '.join(parts[1:])}".strip()


_BARE = frozenset({"number", "brood", "stage", "cause", "food", "sign", "level", "state", "why", "text", "place", "code"})
_UNITS = {"_percent": "%", "_h": "h", "_hours": "h", "_m": "m"}
_MEASURES = {"_mm": Measures.depth, "_ml": Measures.bulk, "_c": Measures.warmth}


def _value_words(one: FieldDescribed, value: Any, measures: Measures, said: datetime) -> str:
    if isinstance(value, datetime):
        told = dated(value, said)
        if one.name == "expires" and ends_at_midnight(value):
            told = told.removesuffix(f" {value:%H:%M}")  # a day was said, and it lasts to its end
        return f"{one.name.replace('_', ' ')} {told}"
    if value is True:
        return one.name.replace("_", " ")
    if isinstance(value, tuple):
        return f"{one.name} {' '.join(str(part) for part in value)}"
    if isinstance(value, int | float) and not isinstance(value, bool):
        return _number_words(one.name, value, measures)
    return str(value) if one.name in _BARE or one.choices else f"{one.name.replace('_', ' ')} {value}"


def _number_words(name: str, value: float, measures: Measures) -> str:
    for ending, measured in _MEASURES.items():
        if name.endswith(ending):
            return f"{name.removesuffix(ending).replace('_', ' ')} {measured(measures, value)}"
    for ending, unit in _UNITS.items():
        if name.endswith(ending):
            return f"{name.removesuffix(ending).replace('_', ' ')} {value:g} {unit}"
    if name == "minutes":
        return f"{value:g} min"
    return f"{value:g}" if name in _BARE else f"{name.replace('_', ' ')} {value:g}"


def _joined(*parts: object) -> str:
    return ", ".join(str(part) for part in parts if part not in ("", None))


def animals(number: int, stage: str | None, brood: str, instar: int | None = None) -> str:
    """So many of a stage and brood: ``34 eggs of SHI-26-01/A``, ``3 larvae L2``."""
    word = {"egg": "eggs", "larva": "larvae", "pupa": "pupae", "adult": "adults"}.get(stage or "", "")
    if number == 1:
        word = stage or ""
    level = f"L{instar}" if instar else ""
    return " ".join(part for part in (str(number), word, level, f"of {brood}" if brood else "") if part)


def _drank(entry: k.Drank) -> str:
    of = f"of {entry.of}" if entry.of and not entry.female else ""
    return _joined("drank", entry.female or entry.number or "", of, "when helped" if entry.how == "when helped" else "",
                   f"{entry.minutes:g} min" if entry.minutes else "")  # fmt: skip


def _searched(entry: k.Searched) -> str:
    found = f"{entry.found} found" if entry.found else "" if entry.unsure else "none found"
    if entry.confirmed:
        found = f"{entry.found} confirmed" if entry.found else "none of those not sure is an egg"
    return _joined(
        _joined("searched", found, f"{entry.unsure} unsure" if entry.unsure else ""),
        entry.aid,
        f"on {entry.where}" if entry.where else "",
        entry.plant,
        _lots(entry.lots),
        f"brood {entry.brood}" if entry.brood else "",
        f"{entry.minutes:g} min" if entry.minutes else "",
    )


def _lots(names: tuple[str, ...]) -> str:
    return f"{'lot' if len(names) == 1 else 'lots'} {', '.join(names)}" if names else ""


def _sprigs(number: int | None) -> str:
    return f"{number} {'sprig' if number == 1 else 'sprigs'}" if number else ""


def _host_in(entry: k.HostIn) -> str:
    what = f"host in: {entry.plant} {entry.part}".strip()
    batch = f"batch {entry.batch}" if entry.batch else ""
    cut = f"cut {beside(entry.cut, entry.at)}" if entry.cut and entry.cut != entry.at else ""
    return _joined(what, entry.kept, batch, cut, _sprigs(entry.sprigs), entry.source)


def _host_out(entry: k.HostOut) -> str:
    kept = "kept stems " if entry.lots else ""
    what = f"{kept or 'host '}out: {entry.plant} {entry.batch}".replace("  ", " ").strip(" :")
    held = f"held in {entry.held_in}" if entry.held_in else entry.fate
    return _joined(what, held, _lots(entry.lots), _sprigs(entry.sprigs))


def _barrier(entry: k.BarrierSeen, measures: Measures) -> str:
    return _joined(
        f"barrier {entry.state}",
        measures.depth(entry.depth_mm) if entry.depth_mm is not None else "",
        f"{entry.ants_below} ants below" if entry.ants_below else "",
        f"{entry.ants_above} ANTS ABOVE" if entry.ants_above else "",
    )


def _topped_up(entry: k.ToppedUp, measures: Measures) -> str:
    if entry.renewed:
        return "barrier renewed"
    depth = f"to {measures.depth(entry.depth_mm)}" if entry.depth_mm is not None else ""
    return _joined(f"topped up {depth}".strip(), "washed" if entry.washed else "")


def _moved(entry: k.Moved) -> str:
    arrived = f"{entry.arrived} arrived" if entry.arrived is not None and entry.arrived != entry.number else ""
    return _joined(f"moved {_taken(entry)} to {entry.to}", entry.sex or "", _unknown(entry), arrived)


def _counted(entry: k.Counted) -> str:
    method = "" if entry.method == "exact" else f"by {entry.method}"
    return _joined(f"counted {animals(entry.number, entry.stage, entry.brood, entry.instar)}", method)


def _air(entry: k.Air, measures: Measures) -> str:
    place = "" if entry.container or entry.shelf else "room "
    parts = [
        measures.warmth(entry.temperature_c) if entry.temperature_c is not None else "",
        measures.span(entry.low_c, entry.high_c) if entry.low_c is not None and entry.high_c is not None else "",
        f"{entry.humidity_percent:g} %" if entry.humidity_percent is not None else "",
    ]
    return f"{place}air {_joined(*parts)}"


def _logger_read(entry: k.LoggerRead, measures: Measures) -> str:
    place = "" if entry.container or entry.shelf else "room "
    year = "" if entry.since.year == entry.until.year == entry.at.year else " %Y"
    span = f"{entry.since:%d %b{year} %H:%M} to {entry.until:%d %b{year} %H:%M}"
    return _joined(f"{place}logger read: {entry.rows} readings {span}", measures.span(entry.low_c, entry.high_c), entry.source)


def _founder(entry: k.FounderIntake) -> str:
    return _joined(f"founder {entry.code}", entry.taxon, entry.sex, entry.place, entry.wear, entry.permit)


def _counted_change(entry: k.Hatched | k.Pupated | k.Emerged) -> str:
    evidence = "by signs" if entry.evidence == "inferred" else ""
    brood = one_of(entry.among) or entry.brood
    of_brood = f" of {brood}" if brood else ""
    crippled = f"{entry.crippled} crippled" if isinstance(entry, k.Emerged) and entry.crippled else ""
    return _joined(f"{entry.what} {entry.number}{of_brood}", getattr(entry, "sex", ""), crippled, _unknown(entry), evidence)


_Taken = k.Moved | k.Died | k.Escaped | k.Missing | k.Released | k.Preserved


def _gone(entry: k.Died | k.Escaped | k.Missing | k.Released | k.Preserved) -> str:
    rest = [str(getattr(entry, name, "") or "") for name in ("cause", "place", "voucher", "depository")]
    others = "not of the missing" if getattr(entry, "whose", "") == "others" else ""
    return _joined(f"{entry.what} {_taken(entry)}", entry.sex or "", _unknown(entry), others, *rest)


def _taken(entry: _Taken) -> str:
    """Which animals an entry takes; of several that nobody can tell apart, all of them."""
    brood = one_of(entry.among) if entry.among else entry.brood
    return animals(entry.number, entry.stage, brood, getattr(entry, "instar", None))


def _parasitoid(entry: k.Parasitoid) -> str:
    host = animals(entry.hosts or 1, entry.stage or "host", entry.brood, entry.instar)
    out_of = host if entry.hosts else host.removeprefix("1 ")
    return _joined(f"parasitoid: {entry.number} {entry.taxon}".strip(), f"out of {out_of}", entry.voucher, entry.depository)


def _unknown(entry: _Taken | k.Hatched | k.Moulted | k.Pupated | k.Emerged) -> str:
    if entry.which != "not known":
        return ""
    return "not known which" if entry.among else "not known which, counted among the commonest"


def _light(entry: k.Light) -> str:
    return entry.to if entry.to.startswith("lamp") else f"into {'the ' if entry.to != 'shade' else ''}{entry.to}"


def _struck(entry: k.Struck) -> str:
    return _joined(f"struck line {entry.entry}", entry.why)


def _set_up(entry: k.SetUp, measures: Measures) -> str:
    return _joined(
        f"set up for {entry.purpose}",
        f"shelf {entry.shelf} place {entry.place}" if entry.shelf else "",
        f"inside {entry.inside}" if entry.inside else "",
        measures.bulk(entry.volume_ml) if entry.volume_ml else "",
        entry.lid,
        entry.lining,
        entry.barrier if entry.barrier != "none" else "",
    )


def _plan(entry: k.PlanChanged) -> str:
    hours = (("every", entry.every_h), ("amber", entry.amber_h), ("red", entry.red_h), ("danger", entry.harm_h))
    told = [f"{name} {value:g} h" for name, value in hours if value is not None]
    switched = "" if entry.off is None else ("switched off" if entry.off else "switched on")
    return _joined(f"plan: {entry.check}", entry.purpose, entry.stage, *told, switched, entry.why)


_MEASURED: dict[type[Entry], Callable[[Any, Measures], str]] = {
    k.BarrierSeen: _barrier,
    k.ToppedUp: _topped_up,
    k.Air: _air,
    k.LoggerRead: _logger_read,
    k.SetUp: _set_up,
    k.Changed: by_field,
}
_TELLINGS: dict[type[Entry], Callable[[Any], str]] = {
    k.Drank: _drank,
    k.Searched: _searched,
    k.HostIn: _host_in,
    k.HostOut: _host_out,
    k.HostSeen: lambda one: _joined(f"host {one.state}", f"{one.left} left" if one.left else "", one.plant),
    k.Moved: _moved,
    k.Counted: _counted,
    k.FounderIntake: _founder,
    k.Hatched: _counted_change,
    k.Pupated: _counted_change,
    k.Emerged: _counted_change,
    k.Moulted: lambda one: _joined(f"moulted {one.number} to L{one.instar}", one_of(one.among) or one.brood, _unknown(one)),
    k.Died: _gone,
    k.Escaped: _gone,
    k.Missing: _gone,
    k.Released: _gone,
    k.Preserved: _gone,
    k.Parasitoid: _parasitoid,
    k.Light: _light,
    k.Weighed: lambda one: _joined(f"weighed {one.mass_mg:g} mg", animals(one.number, one.stage, one.brood)),
    k.FrassSeen: lambda one: _joined(f"frass: {one.level}", _lots(one.lots)),
    k.Looked: lambda one: f"looked, {f'{one.number} ' if one.number else ''}{one.sign}",
    k.Covered: lambda one: f"covered {one.how}".strip(),
    k.Note: lambda one: f"note '{one.text}'",
    k.LeaveBe: lambda one: _joined(f"leave be until {beside(one.until, one.at)}", one.why),
    k.Struck: _struck,
    k.Setting: lambda one: f"setting {one.name}: {one.value}",
    k.RoundStarted: lambda one: f"{one.name} round started",
    k.StopSkipped: lambda one: _joined(f"skipped {one.check}".strip(), one.why),
    k.PlanChanged: _plan,
    k.PutOff: lambda one: _joined(f"{one.check} put off until {beside(one.until, one.at)}", one.why),
    k.ShelfSetUp: lambda one: _joined(f"shelf {one.shelf} set up", one.barrier if one.barrier != "none" else ""),
    k.Stocked: lambda one: _joined(f"stocked {animals(one.number, one.stage, one.brood, one.instar)}", one.sex),
}
