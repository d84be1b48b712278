"""Every kind of entry, by name: what can be said in a daybook."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeAlias, Union

from msgspec import Raw

from rounds.bench import state
from rounds.entries import (
    arrivals,
    barriers,
    climate,
    feeding,
    hosts,
    losses,
    notes,
    pairing,
    places,
    plan,
    searching,
    stages,
    stock,
    walking,
)
from rounds.entries.arrivals import BroodBegun, FounderIntake, Marked, Stocked
from rounds.entries.barriers import BarrierSeen, ToppedUp
from rounds.entries.base import ContainerEntry, Entry, kinds
from rounds.entries.climate import Air, Covered, LidOpened, Light, LoggerRead, Misted
from rounds.entries.feeding import Drank, FeederChanged, FeederSeen, FoodMade, FoodRefused, Offered
from rounds.entries.hosts import HostIn, HostOut, HostSeen
from rounds.entries.losses import (
    Died,
    Escaped,
    Missing,
    Parasitoid,
    Preserved,
    ReleaseBy,
    Released,
    Settled,
)
from rounds.entries.notes import CrossedOut, Imported, Note, Photo
from rounds.entries.pairing import Paired, PairingPlanned, Related
from rounds.entries.places import (
    Changed,
    Cleaned,
    Cleared,
    Closed,
    HandsWashed,
    LeaveBe,
    SetUp,
    ShelfSetUp,
    Suspect,
)
from rounds.entries.plan import Permit, PlanChanged, PlantKnown, Setting, Taxon, ThermalConstants
from rounds.entries.searching import FrassSeen, Looked, Searched
from rounds.entries.stages import Emerged, Expected, Hatched, Moulted, Pupated, Sexed, Weighed
from rounds.entries.stock import Counted, Merged, Moved, Split
from rounds.entries.walking import PutOff, RoundFinished, RoundStarted, StopSkipped

# In the order in which a keeper meets them; help and forms follow it.
FAMILIES = (
    places,
    arrivals,
    stock,
    feeding,
    hosts,
    barriers,
    searching,
    stages,
    losses,
    pairing,
    climate,
    notes,
    walking,
    plan,
)
_DECLARED = frozenset(kinds())
KINDS: tuple[type[Entry], ...] = tuple(
    one
    for family in FAMILIES
    for one in vars(family).values()
    if isinstance(one, type) and one in _DECLARED and one.__module__ == family.__name__
)
KIND_BY_NAME: dict[str, type[Entry]] = {str(kind.__struct_config__.tag): kind for kind in KINDS}

if TYPE_CHECKING:
    AnyEntry: TypeAlias = Entry
else:
    AnyEntry = Union[KINDS]  # noqa: UP007 - of all that are there
    # The bench holds entries, and kinds change the bench: what reads a bench back finds here what
    # it holds.
    vars(state).update({kind.__name__: kind for kind in KINDS}, EntryOrText=Raw)
