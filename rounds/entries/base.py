"""What every entry has, and the measures that its fields are made of.

An entry is one JSON object on one line. Each kind is a frozen record whose field types carry their
range, so that the same description guards the door, fills the forms and explains itself in the
help.
"""

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Literal, TypeAlias

from msgspec import Meta, Struct

from rounds.entries.questions import WhichAnimals
from rounds.entries.slots import Slots

if TYPE_CHECKING:
    from rounds.bench.measures import Measures
    from rounds.bench.state import Bench, Container, Event

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
Country = Annotated[
    str, Meta(max_length=60, description="country of the place, if not that of the settings")
]
Province = Annotated[str, Meta(max_length=80, description="its state or province")]
Metres = Annotated[float, Meta(ge=0, le=1_000_000, description="m")]
Instar = Annotated[int, Meta(ge=0, le=12, description="instar, 0 if not known")]
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
# not cut: it goes on growing and does not age by the clock
ROOTED: frozenset[str] = frozenset({"potted", "living"})
Barrier = Literal["moat", "sticky band", "grease", "closed lid", "none", "not applicable"]
BroodCode = Annotated[
    str, Meta(max_length=24, description="which brood; needed if several share the container")
]
Which = Annotated[
    Literal["", "not known", "unmarked"],
    Meta(
        description=(
            "not known: nobody knows which of those that it can have been; unmarked: one of those"
            " without a mark"
        )
    ),
]
Wings = Annotated[
    Literal["", "sound", "crippled", "both"],
    Meta(description="of adults some of which are crippled: which of them; both: of either"),
]
NotKnown = Annotated[
    Literal["", "not known"],
    Meta(
        description="not known: nobody knows of which brood those are that are not there any more"
    ),
]
Among = Annotated[
    tuple[str, ...],
    Meta(description="founders or broods one of which it was, nobody knows which: W2,W3,W4"),
]
KeptLots = Annotated[tuple[str, ...], Meta(description="which kept lots, as 2 or 1,3 or all")]
# What is looked at for ants; a closed lid is no barrier that can fail unseen.
BARRIERS_LOOKED_AT: frozenset[str] = frozenset({"moat", "sticky band", "grease"})
# no water: no depth, nothing to fill up
STICKY: frozenset[str] = frozenset({"sticky band", "grease"})

# a kind and the fields that were said
Saying: TypeAlias = "tuple[type[Entry], dict[str, Any]]"
Said: TypeAlias = Mapping[str, Any]  # fields, as they are said


# Of the kinds, whose types msgspec reads, no annotation is a text: to evaluate those of all kinds
# takes longer than a command.
class Entry(
    Struct,
    frozen=True,
    kw_only=True,
    tag_field="what",
    omit_defaults=True,
    forbid_unknown_fields=True,
):
    """One thing that was said.

    ``id`` sorts by time and is unique across laptops; ``at`` is when it happened and ``logged``
    when it was typed, both with their offset from UTC; ``by`` is the keeper's initials; ``round``
    names the round it was said in; ``part_of`` the set of lines of which all count or none, with
    their number; ``cups`` says of containers and animals that it names, by code, which
    line set each up, or brought them in.
    """

    if TYPE_CHECKING:  # else what reads entries looks each of these up for each kind, at a start
        cautions: ClassVar[tuple[str, ...]]
        always_told: ClassVar[frozenset[str]]
        grows_from: ClassVar[Stage | None]
        grows_to: ClassVar[Stage | None]
        names_animals: ClassVar[tuple[str, ...]]

    slots = Slots()
    # what stands under its line before it is written, by name
    cautions = ()
    always_told = frozenset()  # fields shown before it though as usual
    names_species = ""  # the field that names a species, which resolves to a known one
    names_parasitoid = ""  # the field that says what came out of a host, in any words
    names_plant = ""  # the field that names a plant
    of_now = False  # is said of the bench as it stands, whenever it is said to have been
    sets_up = False  # its container need not stand before
    takes = False  # takes some animals out of its container: which ones must be told
    walks = False  # takes only what can walk or fly, unless another stage is said
    parts = False  # those that it takes go different ways
    regroups = False  # takes none, but tells animals from others
    # whether it is asked, even where all go, if those whose wings failed go too
    asks_of_crippled = False
    grows_from = None  # the stage or instar that animals end by it, and
    grows_to = None  # the one that they begin
    moults = False
    # may change who stands with which plants in the light, or looks at the time before
    changes_company = False
    # the question that it answers, whose answers are counted; empty for what answers none
    answers = ""
    # who says it has seen the animals of its containers: a change that is told later came since
    is_look = True
    # of all that checks and forecasts go by it changes nothing but its own container
    only_here = False
    lead = ""  # with what its wording begins, and what is left away under a heading that says it
    finds = False  # as an answer: something was found that wants a hand
    # of what changes the stock or the state of a container, as against what only tends it: its
    # place in the summary of a round, 1 the gravest
    gravity = 0

    gives_code = False  # brings in a founder or a brood under a code that is its own from then on
    names_animals = ("brood", "among")  # fields with their codes

    id: Code
    at: datetime
    logged: datetime
    by: str = ""
    round: str = ""
    part_of: str = ""
    cups: tuple[tuple[str, str], ...] = ()

    def knowing(self, bench: "Bench") -> "Entry":
        """The same, saying what its writer knew of what it is about; on the bench before it."""
        return self

    @property
    def what(self) -> str:
        """The kind's name, as it stands in the daybook."""
        return str(self.__struct_config__.tag)

    @property
    def containers(self) -> tuple[str, ...]:
        """The containers in which it may change something."""
        return (getattr(self, "container", ""),)

    @property
    def whereabouts(self) -> str:
        """The container or shelf that it is about, as a line begins."""
        shelf = getattr(self, "shelf", "")
        return getattr(self, "container", "") or (f"shelf {shelf}" if shelf else "")

    @property
    def crosses_out(self) -> str:
        """The id of the line that no longer counts because of it; empty for all kinds but one."""
        return ""

    @classmethod
    def named_here(cls, container: "Container", said: Said) -> dict[str, Any]:
        """What a word means by what stands in the container, before names are looked up."""
        return {}

    @classmethod
    def defaults(cls, bench: "Bench", said: dict[str, Any], at: datetime) -> list[Saying]:
        """What was said with what the bench can add, and any entry that must stand before it."""
        return [(cls, said)]

    @classmethod
    def stage_meant(cls, container: "Container", said: Said) -> Stage | None:
        """Whom of a container it takes where no stage is said; None where that is asked, or plain
        from what stands there."""
        return None

    @classmethod
    def question(cls, bench: "Bench", container: "Container", said: Said) -> WhichAnimals | None:
        """What must be asked before it can be said; beyond which animals of the container it
        takes."""
        return None

    def refusals(self, bench: "Bench") -> Iterator[str]:
        """Why it cannot be said, a line each that says what would be right; times, ranges and
        places are looked at before."""
        yield from ()

    def effect(self, bench: "Bench") -> "Sequence[Event] | None":
        """Change the bench; what moved.

        The newest entry of each kind is remembered by its container without it.
        """
        return None

    def counts_here(self, bench: "Bench") -> bool:
        """Whether checks of its container count from it, as the newest of its kind; on the bench
        before it."""
        return True

    def wording(self, measures: "Measures") -> str:
        """What happened, in a line without the place; empty where each field with its name is
        enough."""
        return ""

    def aside(self, bench: "Bench") -> str:
        """What is shown beside it when it is said, of the bench before it; empty where nothing need
        be."""
        return ""

    def unusual(self, bench: "Bench") -> bool:
        """Whether as an answer it found something that wants a hand, on the bench before it."""
        return self.finds

    def stays_here(self, bench: "Bench") -> bool:
        """Whether it changes nothing for checks and forecasts but its own container, on the bench
        before it; its animals stay as they are."""
        return self.only_here

    @property
    def order(self) -> tuple[datetime, str]:
        """Where the entry stands among all others, whatever order they arrived in."""
        return self.at, self.id


class ContainerEntry(Entry, frozen=True, kw_only=True):
    """An entry about one container."""

    container: Code


class OfAnimals(ContainerEntry, frozen=True, kw_only=True):
    """An entry about some animals of a container: whom of those that are there."""

    brood: BroodCode = ""
    stage: Stage | None = None
    instar: Instar | None = None
    sex: Sex | None = None
    which: Which = ""
    among: Among = ()
    wings: Wings = ""

    changes_company = True


def kinds(kind: type[Entry] = Entry) -> Iterator[type[Entry]]:
    """Every kind that is declared, in the order of declaration."""
    for subclass in kind.__subclasses__():
        if subclass.__struct_config__.tag != subclass.__name__:
            yield subclass
        yield from kinds(subclass)
