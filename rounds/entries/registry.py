"""The kinds of entry: everything that can be said in a daybook."""

from __future__ import annotations

from typing import TypeAlias, get_args

from rounds.entries.base import Entry, Here
from rounds.entries.papers import (
    Permit,
    PlanChanged,
    PlantKnown,
    RoundFinished,
    RoundStarted,
    Setting,
    StopSkipped,
    Struck,
    Taxon,
    ThermalConstants,
)
from rounds.entries.places import (
    Changed,
    Cleaned,
    Cleared,
    Closed,
    HandsWashed,
    LeaveBe,
    Note,
    Photo,
    SetUp,
    ShelfSetUp,
    Suspect,
)
from rounds.entries.stock import (
    BroodBegun,
    Counted,
    Died,
    Emerged,
    Escaped,
    FounderIntake,
    Hatched,
    Marked,
    Merged,
    Missing,
    Moulted,
    Moved,
    Paired,
    PairingPlanned,
    Parasitoid,
    Preserved,
    Pupated,
    Related,
    ReleaseBy,
    Released,
    Settled,
    Sexed,
    Split,
    Stocked,
    Weighed,
)
from rounds.entries.tending import (
    Air,
    BarrierSeen,
    Covered,
    Drank,
    FeederChanged,
    FoodMade,
    FrassSeen,
    HostIn,
    HostOut,
    HostSeen,
    LidOpened,
    Light,
    LoggerRead,
    Looked,
    Misted,
    Offered,
    PutOff,
    Refused,
    Searched,
    ToppedUp,
)

# In the order in which a keeper meets them; help and forms follow it.
AnyEntry: TypeAlias = (
    SetUp
    | Changed
    | Closed
    | ShelfSetUp
    | FounderIntake
    | BroodBegun
    | Stocked
    | Moved
    | Split
    | Merged
    | Offered
    | Drank
    | Refused
    | FeederChanged
    | FoodMade
    | HostIn
    | HostSeen
    | HostOut
    | BarrierSeen
    | ToppedUp
    | Searched
    | FrassSeen
    | Looked
    | Counted
    | Weighed
    | Settled
    | Sexed
    | Hatched
    | Moulted
    | Pupated
    | Emerged
    | Died
    | Escaped
    | Missing
    | Released
    | Preserved
    | Parasitoid
    | Marked
    | Related
    | PairingPlanned
    | Paired
    | Air
    | LoggerRead
    | LidOpened
    | Covered
    | Misted
    | Light
    | Cleaned
    | HandsWashed
    | LeaveBe
    | Suspect
    | Cleared
    | Note
    | Photo
    | RoundStarted
    | StopSkipped
    | RoundFinished
    | PutOff
    | ReleaseBy
    | Permit
    | Taxon
    | ThermalConstants
    | PlantKnown
    | PlanChanged
    | Setting
    | Struck
)
KINDS: tuple[type[Entry], ...] = get_args(AnyEntry)
KIND_BY_NAME: dict[str, type[Entry]] = {str(kind.__struct_config__.tag): kind for kind in KINDS}

__all__ = [
    "KINDS",
    "KIND_BY_NAME",
    "Air",
    "AnyEntry",
    "BarrierSeen",
    "BroodBegun",
    "Changed",
    "Cleaned",
    "Cleared",
    "Closed",
    "Counted",
    "Covered",
    "Died",
    "Drank",
    "Emerged",
    "Entry",
    "Escaped",
    "FeederChanged",
    "FoodMade",
    "FounderIntake",
    "FrassSeen",
    "HandsWashed",
    "Hatched",
    "Here",
    "HostIn",
    "HostOut",
    "HostSeen",
    "LeaveBe",
    "LidOpened",
    "Light",
    "LoggerRead",
    "Looked",
    "Marked",
    "Merged",
    "Missing",
    "Misted",
    "Moulted",
    "Moved",
    "Note",
    "Offered",
    "Paired",
    "PairingPlanned",
    "Parasitoid",
    "Permit",
    "Photo",
    "PlanChanged",
    "PlantKnown",
    "Preserved",
    "Pupated",
    "PutOff",
    "Refused",
    "Related",
    "ReleaseBy",
    "Released",
    "RoundFinished",
    "RoundStarted",
    "Searched",
    "SetUp",
    "Setting",
    "Settled",
    "Sexed",
    "ShelfSetUp",
    "Split",
    "Stocked",
    "StopSkipped",
    "Struck",
    "Suspect",
    "Taxon",
    "ThermalConstants",
    "ToppedUp",
    "Weighed",
]
