"""Every kind described from its own types."""

from __future__ import annotations

from functools import cache
from typing import Any, Literal

import msgspec
from msgspec import Struct, inspect, structs

from rounds.entries.base import Entry
from rounds.entries.slots import Slots

Shape = Literal["count", "number", "words", "choice", "time", "yes or no", "codes", "numbers"]


# what every line has, and what the desk notes beside what was said
OWN = frozenset({"id", "at", "logged", "by", "round", "part_of", "cups", "says", "laid_by"})


# what a field is called where it is typed and shown, where its name in the book is not plain
_TYPED = {
    "sprigs": "stems",
    "held_in": "kept_in",
    "amber_h": "late_h",
    "red_h": "urgent_h",
    "harm_h": "danger_h",
}


def typed_name(name: str) -> str:
    """What a field is called where it is typed: ``stems`` for ``sprigs``."""
    return _TYPED.get(name, name)


class FieldSchema(Struct, frozen=True):
    """One field of a kind.

    ``ahead``, of a time: without a year or day it is the next such one, as of a deadline, not the
    last.
    """

    name: str
    shape: Shape
    required: bool
    help: str
    choices: tuple[str, ...] = ()
    default: Any = None
    ahead: bool = False

    @property
    def typed(self) -> str:
        """What it is called where it is typed."""
        return typed_name(self.name)


class KindSchema(Struct, frozen=True):
    """One kind of entry."""

    name: str
    help: str
    fields: tuple[FieldSchema, ...]
    slots: Slots

    def field(self, name: str) -> FieldSchema | None:
        """The field of that name, in the book or as it is typed."""
        return next((field for field in self.fields if name in (field.name, field.typed)), None)


def said_by(entry: Entry) -> dict[str, Any]:
    """What a line says, without what every line has."""
    return {name: value for name, value in structs.asdict(entry).items() if name not in OWN}


@cache
def describe(kind: type[Entry]) -> KindSchema:
    """A kind, described from its own types."""
    info = inspect.type_info(kind)
    assert isinstance(info, inspect.StructType)
    own = vars(kind).get("__annotations__", {})
    # what it may say as other kinds may stands behind its own
    fields = sorted(
        (_field(field) for field in info.fields if field.name not in OWN),
        key=lambda field: not field.required and field.name not in own,
    )
    # a kind that must say a time says what is coming
    says_coming = any(field.required and field.shape == "time" for field in fields)
    described = tuple(
        structs.replace(
            field, ahead=field.shape == "time" and (says_coming or field.name == "expires")
        )
        for field in fields
    )
    return KindSchema(
        str(kind.__struct_config__.tag),
        " ".join((kind.__doc__ or "").split()),
        described,
        kind.slots,
    )


def _field(field: inspect.Field) -> FieldSchema:
    plain, about = _unwrapped(field.type)
    default = None if field.default is msgspec.NODEFAULT else field.default
    choices = (
        tuple(str(value) for value in plain.values if value)
        if isinstance(plain, inspect.LiteralType)
        else ()
    )
    return FieldSchema(field.name, _shape(plain), field.required, about, choices, default)


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
