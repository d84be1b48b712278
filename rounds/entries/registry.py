"""Every kind of entry, by name: what can be said in a daybook."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeAlias, Union

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
from rounds.entries.arrivals import BroodBegun as BroodBegun
from rounds.entries.arrivals import FounderIntake as FounderIntake
from rounds.entries.arrivals import Marked as Marked
from rounds.entries.arrivals import Stocked as Stocked
from rounds.entries.barriers import BarrierSeen as BarrierSeen
from rounds.entries.barriers import ToppedUp as ToppedUp
from rounds.entries.base import ContainerEntry as ContainerEntry
from rounds.entries.base import Entry as Entry
from rounds.entries.climate import Air as Air
from rounds.entries.climate import Covered as Covered
from rounds.entries.climate import LidOpened as LidOpened
from rounds.entries.climate import Light as Light
from rounds.entries.climate import LoggerRead as LoggerRead
from rounds.entries.climate import Misted as Misted
from rounds.entries.feeding import Drank as Drank
from rounds.entries.feeding import FeederChanged as FeederChanged
from rounds.entries.feeding import FeederSeen as FeederSeen
from rounds.entries.feeding import FoodMade as FoodMade
from rounds.entries.feeding import FoodRefused as FoodRefused
from rounds.entries.feeding import Offered as Offered
from rounds.entries.hosts import HostIn as HostIn
from rounds.entries.hosts import HostOut as HostOut
from rounds.entries.hosts import HostSeen as HostSeen
from rounds.entries.losses import Died as Died
from rounds.entries.losses import Escaped as Escaped
from rounds.entries.losses import Missing as Missing
from rounds.entries.losses import Parasitoid as Parasitoid
from rounds.entries.losses import Preserved as Preserved
from rounds.entries.losses import ReleaseBy as ReleaseBy
from rounds.entries.losses import Released as Released
from rounds.entries.losses import Settled as Settled
from rounds.entries.notes import CrossedOut as CrossedOut
from rounds.entries.notes import Imported as Imported
from rounds.entries.notes import Note as Note
from rounds.entries.notes import Photo as Photo
from rounds.entries.pairing import Paired as Paired
from rounds.entries.pairing import PairingPlanned as PairingPlanned
from rounds.entries.pairing import Related as Related
from rounds.entries.places import Changed as Changed
from rounds.entries.places import Cleaned as Cleaned
from rounds.entries.places import Cleared as Cleared
from rounds.entries.places import Closed as Closed
from rounds.entries.places import HandsWashed as HandsWashed
from rounds.entries.places import LeaveBe as LeaveBe
from rounds.entries.places import SetUp as SetUp
from rounds.entries.places import ShelfSetUp as ShelfSetUp
from rounds.entries.places import Suspect as Suspect
from rounds.entries.plan import Permit as Permit
from rounds.entries.plan import PlanChanged as PlanChanged
from rounds.entries.plan import PlantKnown as PlantKnown
from rounds.entries.plan import Setting as Setting
from rounds.entries.plan import Taxon as Taxon
from rounds.entries.plan import ThermalConstants as ThermalConstants
from rounds.entries.searching import FrassSeen as FrassSeen
from rounds.entries.searching import Looked as Looked
from rounds.entries.searching import Searched as Searched
from rounds.entries.stages import Emerged as Emerged
from rounds.entries.stages import Expected as Expected
from rounds.entries.stages import Hatched as Hatched
from rounds.entries.stages import Moulted as Moulted
from rounds.entries.stages import Pupated as Pupated
from rounds.entries.stages import Sexed as Sexed
from rounds.entries.stages import Weighed as Weighed
from rounds.entries.stock import Counted as Counted
from rounds.entries.stock import Merged as Merged
from rounds.entries.stock import Moved as Moved
from rounds.entries.stock import Split as Split
from rounds.entries.walking import PutOff as PutOff
from rounds.entries.walking import RoundFinished as RoundFinished
from rounds.entries.walking import RoundStarted as RoundStarted
from rounds.entries.walking import StopSkipped as StopSkipped

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
KINDS: tuple[type[Entry], ...] = tuple(
    one
    for family in FAMILIES
    for one in vars(family).values()
    if isinstance(one, type) and issubclass(one, Entry) and one.__module__ == family.__name__
)
KIND_BY_NAME: dict[str, type[Entry]] = {str(kind.__struct_config__.tag): kind for kind in KINDS}

if TYPE_CHECKING:
    AnyEntry: TypeAlias = Entry
else:
    AnyEntry = Union[KINDS]  # noqa: UP007 - of all that are there
    # The bench holds entries, and kinds change the bench: what reads a bench back finds here what
    # it holds.
    vars(state).update({kind.__name__: kind for kind in KINDS}, AnyEntry=AnyEntry)
