"""What every entry has, and the measures that its fields are made of.

An entry is one JSON object on one line. Each kind is a frozen record whose field types carry their range,
so that the same description guards the door, fills the forms and explains itself in the help.
"""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, ClassVar, Literal

from msgspec import Meta, Struct

from rounds.entries.slots import Slots

MAXIMUM_COUNT = 100_000

Code = Annotated[str, Meta(min_length=1, max_length=24, description="a short code")]
Words = Annotated[str, Meta(max_length=2000, description="free text")]
Count = Annotated[int, Meta(ge=0, le=MAXIMUM_COUNT, description="how many")]
Number = Annotated[int, Meta(ge=1, le=MAXIMUM_COUNT, description="how many, at least one")]
Millimetres = Annotated[float, Meta(ge=0, le=500, description="mm")]
Millilitres = Annotated[float, Meta(ge=0, le=1_000_000, description="ml")]
Minutes = Annotated[float, Meta(ge=0, le=1440, description="min")]
Hours = Annotated[float, Meta(gt=0, le=20_000, description="h")]
Percent = Annotated[float, Meta(ge=0, le=100, description="%")]
Celsius = Annotated[float, Meta(ge=-40, le=60, description="C")]
Latitude = Annotated[float, Meta(ge=-90, le=90, description="degrees north")]
Longitude = Annotated[float, Meta(ge=-180, le=180, description="degrees east")]
Metres = Annotated[float, Meta(ge=0, le=1_000_000, description="m")]
Instar = Annotated[int, Meta(ge=0, le=12, description="instar, 0 where not known")]
Place = Annotated[int, Meta(ge=0, le=9999, description="place in walking order on its shelf")]

Purpose = Literal[
    "holding",
    "laying",
    "pairing",
    "trial",
    "eggs",
    "hatchlings",
    "rearing",
    "pupation",
    "emergence",
    "overwintering",
    "quarantine",
    "isolation",
    "host store",
]
Stage = Literal["egg", "larva", "pupa", "adult"]
Sex = Literal["", "female", "male"]
Kept = Literal["dry", "damp paper", "water", "potted", "fridge", "living"]
ROOTED: frozenset[str] = frozenset({"potted", "living"})  # not cut: it goes on growing and does not age by the clock
Barrier = Literal["moat", "sticky band", "grease", "closed lid", "none", "not applicable"]
STICKY: frozenset[str] = frozenset({"sticky band", "grease"})  # no water: no depth, nothing to fill up


class Entry(Struct, frozen=True, kw_only=True, tag_field="what", omit_defaults=True):
    """One thing that was said.

    ``id`` sorts by time and is unique across laptops; ``at`` is when it happened and ``logged`` when it was
    typed, both with their offset from UTC; ``by`` is the keeper's initials; ``round`` names the round it
    was said in.
    """

    slots: ClassVar[Slots] = Slots()

    id: Code
    at: datetime
    logged: datetime
    by: str = ""
    round: str = ""

    @property
    def what(self) -> str:
        """The kind's name, as it stands in the daybook."""
        return str(self.__struct_config__.tag)

    @property
    def order(self) -> tuple[datetime, str]:
        """Where the entry stands among all others, whatever order they arrived in."""
        return self.at, self.id


class Here(Entry, frozen=True, kw_only=True):
    """An entry about one container."""

    container: Code
