"""Every check: what is asked, how it is named on a line, and which entries answer it."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct


class Check(Struct, frozen=True):
    """Something to do or to look at.

    Args:
        label: at most eight characters, for the bench line.
        question: as it is asked at a stop.
        verb: what comes next, for the column of that name.
        severity: 3 where animals die of it within a day, 2 where they suffer, 1 where only order does.
        answered_by: kinds of entry that answer it; the newest of them starts its hours again.
        closed_by: kinds that settle the question for this walk, though the hours go on.
        disturbs: not asked while the container is to be left be.
        closes: in a walk, a question closes once it was answered; or only 'better', so that an answer that saw what
            makes it red leaves it open until it is put right; or only when it is 'gone'.
    """

    name: str
    label: str
    question: str
    verb: str
    severity: int
    answered_by: tuple[str, ...]
    disturbs: bool = False
    help: str = ""
    closed_by: tuple[str, ...] = ()
    closes: Literal["answered", "better", "gone"] = "answered"


_ALL = (
    Check("drink", "drink", "Did they drink?", "drink", 3, ("drank",), False,
          "Time since she drank decides, not since food was offered.", ("refused", "offered")),
    Check("feeder", "feeder", "The feeder?", "feeder", 1, ("feeder changed",), True,
          "Sugar on the bench sours or moulds within a day or two."),
    Check("host", "host", "The host plant?", "host", 2, ("host in", "host seen"), False,
          "Stiffness tells more than the clock: limp, yellow or mouldy wants changing.", (), "better"),
    Check("ants", "ants", "The ant barrier?", "ants", 3, ("barrier", "topped up"), False,
          "Full or sticky, clean, nothing bridging it; an ant past it is the alarm.", (), "better"),
    Check("eggs", "eggs", "How many eggs found?", "search", 2, ("searched",), True,
          "Searched and none found is an answer; not searched is not."),
    Check("change", "change", "No eggs so far. Change one thing?", "change?", 1, ("host in", "light"), True,
          "After two or three fed, warm days: one change at a time, and yours to decide."),
    Check("look", "look", "What do you see?", "look", 2,
          ("looked", "hatched", "moulted", "pupated", "emerged", "counted"), False, "A look without touching.",
          ("died",)),
    Check("air", "air", "Lid opened for air?", "air", 1, ("lid opened",), True,
          "Eggs in a closed tub want air every day or two."),
    Check("leaf", "leaf in", "A tender leaf in?", "leaf in", 3, ("host in",), False,
          "Eggs that darken hatch within a night; hatchlings starve by morning without a leaf.", (), "gone"),
    Check("food", "food", "Food left?", "food", 3, ("host in", "host seen"), False,
          "The last instars eat most of all that a larva eats.", (), "better"),
    Check("clean", "clean", "Cleaned?", "clean", 1, ("cleaned",), True,
          "Count at every clean; check lid, seam and folds before binning."),
    Check("frass", "frass", "Droppings on the held sprigs?", "frass look", 2, ("frass", "hatched"), False,
          "Pinprick droppings on a held sprig are the first sign of eggs that nobody found."),
    Check("turn", "hatched", "Droppings on held sprigs.", "hatched!", 3, ("hatched", "host out"), False,
          "Droppings say that hidden eggs hatched: hatchlings with a brood of their mothers, laid while the sprigs stood with them.",
          (), "gone"),
    Check("keep", "keep", "Bin the held sprigs?", "keep?", 1, ("host out",), True,
          "Held sprigs are kept until a hidden egg would have hatched."),
    Check("mist", "mist", "Misted?", "mist", 1, ("misted",), True, "A light spray on gauze or lining."),
    Check("wings", "wings", "Wings?", "wings", 2, ("looked", "emerged", "drank"), False,
          "Wings not up two hours after emergence want a rougher, freer climb."),
    Check("count", "count", "How many are there?", "count", 1, ("counted",), True, "What was not seen stays open."),
    Check("release", "release", "Her time is up. Released?", "release", 3, ("released",), False,
          "The limit of her permit, or the day promised.", (), "gone"),
    Check("permit", "permit", "A permit ends soon.", "permit", 2, ("permit",), False,
          "Ask the body that issued it. Over, or given back: type permit, its number, closed."),
    Check("lamp", "lamp", "A lamp is on.", "lamp off", 3, ("light",), False,
          "A lamp is timed, guarded and never left alone.", (), "gone"),
    Check("balance", "balance", "Some were not seen.", "find", 2, ("settled", "counted"), False,
          "Check lid, seam and paper before binning.", (), "gone"),
    Check("room", "room", "The thermometer?", "read", 1, ("air",), False, "Lowest and highest since last read."),
    Check("heat", "heat", "Outside the comfortable band.", "cool", 3, ("air", "light", "lid opened"), False,
          "Danger above about 33 C in a closed cup; nothing is laid below about 18 C.", (), "gone"),
    Check("store", "store", "The store?", "store", 1, ("host seen", "host in", "host out"), False,
          "Cut host in the cold keeps some days; slime or yellow wants binning."),
    Check("solution", "solution", "The solution is old.", "remake", 1, ("food made",), False,
          "About a week cold; sour or beery means bin."),
    Check("still", "still", "Still for long.", "still?", 2, ("looked", "moulted", "pupated", "died"), False,
          "A moult takes a day, sometimes two; limp, dark or smelling is another matter."),
    Check("quarantine", "new", "Clear of quarantine?", "clear?", 1, ("cleared",), False,
          "New stock stands apart one to two weeks; any sign of illness and it stays apart."),
    Check("hatch late", "hatch?", "Past the expected hatch.", "hatch?", 1, ("hatched", "died"), False,
          "Overwintering eggs are not late: they wait for spring."),
    Check("emerge late", "emerge?", "Past the expected emergence.", "emerge?", 1, ("emerged", "died"), False,
          "A pupa in its second winter is alive until weighed."),
)  # fmt: skip
CHECKS: dict[str, Check] = {check.name: check for check in _ALL}
ANSWERED_BY: dict[str, frozenset[str]] = {check.name: frozenset(check.answered_by) for check in _ALL}
