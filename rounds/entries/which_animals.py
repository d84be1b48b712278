"""Which animals are meant, where a container holds several kinds of them.

What the bench can tell by itself is added to what was said: without a stage adults are released,
and where there is only one stage it is that one. What it cannot tell is asked, one thing at a time:
the stage, then the brood, instar and sex. Nobody knows is an answer to all of them but the stage.
"""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from rounds.bench.folding.not_seen import WALKS, open_here
from rounds.bench.folding.unsure import meant, stage_taken
from rounds.bench.plurals import PLURALS, of_stage
from rounds.bench.state import Bench, Container, Lot
from rounds.entries.base import Entry, Said, Stage
from rounds.entries.questions import Choice, WhichAnimals

NOT_KNOWN = "not known"
UNMARKED = "unmarked"


def tells_animals(kind: type[Entry]) -> bool:
    """Whether a kind is said of some of the animals in a container."""
    return kind.takes or kind.grows_from is not None


def completed_by_stock(bench: Bench, kind: type[Entry], fields: Said) -> dict[str, Any]:
    """What was said with the stage that is meant, and who is meant where nobody knows which."""
    said = dict(fields)
    container = bench.at(str(said.get("container", "")))
    if container is None or not tells_animals(kind):
        return said
    among = tuple(said.get("among") or ())
    if said.get("which") == UNMARKED:
        said["stage"] = said.get("stage") or _stage_of_marks(bench, container)
        among = bench.unmarked(
            code for lot in _fitting(container, kind, said | {"which": ""}) for code in lot.codes
        )
        said |= {"among": among, "which": "" if among else UNMARKED}
    if len(among) == 1:
        said |= {"brood": among[0], "among": ()}
    if stage := said.get("stage") or kind.stage_meant(container, said):
        said["stage"] = stage
    lots = _fitting(container, kind, said)
    stages = {lot.stage for lot in lots}
    if len(stages) == 1 and not said.get("stage") and kind.takes and not kind.parts:
        said["stage"] = stages.pop()
    nobody_knows = said.get("which") == NOT_KNOWN or bool(said.get("among"))
    if nobody_knows and not said.get("brood"):
        broods = sorted({code for lot in lots for code in lot.codes})
        said["among"] = tuple(broods) if len(broods) > 1 else ()
    if nobody_knows:
        said["which"] = NOT_KNOWN
    return said


def _stage_of_marks(bench: Bench, container: Container) -> Stage | None:
    """Adults, where nothing else there carries a mark: none but they are told apart by one."""
    marked = {lot.stage for lot in container.lots if any(code in bench.marks for code in lot.codes)}
    return "adult" if marked <= {"adult"} else None


def which(bench: Bench, kind: type[Entry], fields: Said) -> WhichAnimals | None:
    """What must be asked before this can be said; None where it is clear which animals are meant.

    ``fields`` are those that ``completed_by_stock`` has gone through.
    """
    container = bench.at(str(fields.get("container", "")))
    if container is None:
        return None
    if not tells_animals(kind):
        return kind.question(bench, container, fields)
    lots = _fitting(container, kind, fields)
    if fields.get("which") == UNMARKED:
        codes = sorted({code for lot in lots for code in lot.codes})
        return WhichAnimals(
            f"{container.code} holds none that is unmarked{_marks_of(bench, codes)}; say which",
            or_not_known([Choice(f"brood={one}", {"brood": one}) for one in codes]),
        )
    number = number_said(kind, fields)
    if number < sum(lot.number for lot in lots) or _takes_part(kind, fields, number):
        which_animals = _asked_of(bench, container, kind, fields, lots)
        if which_animals:
            return which_animals
    elif kind.asks_of_crippled and (asked := _whose_wings(container, kind, fields, lots)):
        return asked
    return kind.question(bench, container, fields)


def number_said(kind: type[Entry], fields: Said) -> int:
    if kind.parts:
        return sum(fields.get("numbers") or ()) + int(fields.get("missing") or 0)
    return int(fields.get("number") or 1)


def _takes_part(kind: type[Entry], fields: Said, number: int) -> bool:
    """Whether some of them fare otherwise than the rest, even where all are taken."""
    if kind.parts:
        return len(fields.get("into") or ()) > 1 or bool(fields.get("missing"))
    arrived = fields.get("arrived")
    return arrived is not None and int(arrived) < number


def _fitting(container: Container, kind: type[Entry], fields: Said) -> list[Lot]:
    """The lots that fit what was said so far."""
    said: dict[str, Any] = {
        "brood": "",
        "stage": None,
        "instar": None,
        "sex": None,
        "among": (),
        "which": "",
        "wings": "",
    }
    said |= {name: fields[name] for name in said if fields.get(name) is not None}
    said["stage"] = stage_taken(kind, said["stage"] or None)
    if kind.grows_from:
        said |= {"instar": None, "sex": None}
    lots = meant(container, SimpleNamespace(**said, takes=False, moults=False, grows_from=None))
    if kind.walks and not fields.get("stage"):
        lots = [lot for lot in lots if lot.stage in WALKS] or lots
    if kind.moults:
        lots = [lot for lot in lots if lot.instar < int(fields.get("instar") or 0)]
    return lots


def _asked_of(
    bench: Bench,
    container: Container,
    kind: type[Entry],
    fields: Said,
    lots: list[Lot],
) -> WhichAnimals | None:
    stages = sorted({lot.stage for lot in lots}, key=list(PLURALS).index)
    if len(stages) > 1:
        plurals = [PLURALS[stage] for stage in stages]
        of = " or which ".join(plurals)
        hint = (
            f"; {NOT_KNOWN} is said of which {of}, as: {stages[-1]} {NOT_KNOWN}"
            if fields.get("which") == NOT_KNOWN
            else ""
        )
        line = f"{container.code} holds {_by_stage(lots, stages)}{hint}; say which"
        return WhichAnimals(
            line, tuple(Choice(PLURALS[stage], {"stage": stage}) for stage in stages)
        )
    if fields.get("which") == NOT_KNOWN:
        return None
    broods = sorted({lot.brood for lot in lots})
    if len(broods) > 1 and not fields.get("brood"):
        codes = sorted({code for lot in lots for code in lot.codes})
        choices = [Choice(f"brood={one}", {"brood": one}) for one in codes]
        kinds = (
            f"{len(codes)} adults"
            if all(_is_one_animal(bench, code) for code in codes)
            else "several broods"
        )
        return WhichAnimals(
            f"{container.code} holds {kinds}{_marks_of(bench, codes)}; say which",
            or_not_known(choices),
        )
    if not kind.takes:
        return None
    instars = sorted({lot.instar for lot in lots if lot.stage == "larva"})
    if len(instars) > 1:
        line = f"{container.code} holds larvae of several instars; say which"
        return WhichAnimals(
            line,
            or_not_known(
                [Choice(f"L{instar}", {"instar": instar}) for instar in instars if instar]
            ),
        )
    sexes = sorted({lot.sex for lot in lots})
    if len(sexes) > 1 and not fields.get("sex"):
        line = (
            f"{container.code} holds"
            f" {'both sexes' if '' not in sexes else 'adults of several sexes'}; say which"
        )
        return WhichAnimals(line, or_not_known([Choice(sex, {"sex": sex}) for sex in sexes if sex]))
    return _whose_wings(container, kind, fields, lots)


def _whose_wings(
    container: Container, kind: type[Entry], fields: Said, lots: list[Lot]
) -> WhichAnimals | None:
    """Whether those whose wings failed are meant, where some did."""
    crippled = sum(lot.number for lot in lots if lot.crippled)
    sound = sum(lot.number for lot in lots) - crippled
    has_said = fields.get("wings") or fields.get("cause") == "crippled"
    if not crippled or has_said or not (sound or kind.asks_of_crippled):
        return None
    if "wings" not in kind.__struct_fields__:
        return None
    number, there = number_said(kind, fields), f"{crippled} crippled"
    both = Choice("wings=both", {"wings": "both"})
    if not sound:
        line = f"of {container.code} all that are left are crippled; say so if they are meant"
        return WhichAnimals(line, (Choice("crippled", {"wings": "crippled"}),))
    there = f"{of_stage(sound, 'adult')} and {there}"
    if number < sound + crippled:
        fits = {"sound": sound, "crippled": crippled}
        choices = [Choice(one, {"wings": one}) for one in fits if number <= fits[one]] or [both]
    elif kind.parts:
        there += ", who go last if both are meant, else each on a line of its own"
        choices = [both]
    else:
        choices = [Choice(f"{sound} sound", {"wings": "sound", "number": sound}), both]
    return WhichAnimals(f"{container.code} holds {there}; say which", tuple(choices))


def _is_one_animal(bench: Bench, code: str) -> bool:
    """Whether a code is of one adult that was brought in."""
    return code in bench.founders and bench.founders[code].stage == "adult"


def _marks_of(bench: Bench, codes: list[str]) -> str:
    """Which of these are marked, and how."""
    marked = [f"{code} is marked {bench.marks[code]}" for code in codes if code in bench.marks]
    rest = ", the others not" if len(marked) < len(codes) else ""
    return f" ({', '.join(marked)}{rest})" if marked else ""


def or_not_known(choices: list[Choice]) -> tuple[Choice, ...]:
    return (*choices, Choice(NOT_KNOWN, {"which": NOT_KNOWN}))


def _by_stage(lots: list[Lot], stages: list[Any]) -> str:
    numbers = {stage: sum(lot.number for lot in lots if lot.stage == stage) for stage in stages}
    return ", ".join(of_stage(number, stage) for stage, number in numbers.items())


def missed(bench: Bench, fields: Said) -> int:
    """How many are missing here that those that were said may be of."""
    container, stage = str(fields.get("container", "")), fields.get("stage") or None
    return sum(
        shortfall.number
        for shortfall in open_here(bench, container, fields.get("brood") or "", stage)
    )
