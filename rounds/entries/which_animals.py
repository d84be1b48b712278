"""Which animals are meant, where a container holds several kinds of them.

What the bench can tell by itself is added to what was said: without a stage adults are released, and where there is only one stage
it is that one. What it cannot tell is asked, one thing at a time: the stage, then the brood, instar and sex. Nobody
knows is an answer to all of them but the stage.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import SimpleNamespace
from typing import Any

from msgspec import Struct

from rounds.bench.folding.not_seen import open_here
from rounds.bench.folding.unsure import TAKES, meant, stage_taken
from rounds.bench.state import PLURALS, Bench, Container, Lot
from rounds.bench.whose_eggs import by_species, layers
from rounds.entries import registry as k
from rounds.entries.base import Entry, Stage

NOT_KNOWN = "not known"
UNMARKED = "unmarked"
SOME_OF = (*TAKES, k.Hatched, k.Moulted, k.Pupated, k.Emerged)  # said of some of the animals in a container
STAGE_THAT_CHANGES: dict[type[Entry], Stage] = {k.Hatched: "egg", k.Moulted: "larva", k.Pupated: "larva", k.Emerged: "pupa"}


class Choice(Struct, frozen=True):
    """One answer to which animals are meant: its words, and the fields that say it."""

    words: str
    fields: dict[str, Any]


class Which(Struct, frozen=True):
    """A question that must be answered before an entry can be made, and its answers."""

    line: str
    choices: tuple[Choice, ...]

    @property
    def asked(self) -> str:
        """The question with its answers as they can be typed."""
        words = [choice.words for choice in self.choices]
        return f"{self.line}: {', '.join(words[:-1])} or {words[-1]}"


def completed_by_stock(bench: Bench, kind: type[Entry], fields: Mapping[str, Any]) -> list[tuple[type[Entry], dict[str, Any]]]:
    """What was said with the stage that is meant, and who is meant where nobody knows which."""
    said = dict(fields)
    container = bench.at(str(said.get("container", "")))
    if container is None or kind not in SOME_OF:
        return [(kind, said | _only_ones(container, said) if kind is k.Parasitoid and container else said)]
    among = tuple(said.get("among") or ())
    if said.get("which") == UNMARKED:
        among = bench.unmarked(code for lot in _fitting(container, kind, said | {"which": ""}) for code in lot.codes)
        said |= {"among": among, "which": ""}
    if len(among) == 1:
        said |= {"brood": among[0], "among": ()}
    if kind is k.Released and not said.get("stage"):
        said["stage"] = "adult"
    lots = _fitting(container, kind, said)
    stages = {lot.stage for lot in lots}
    if len(stages) == 1 and not said.get("stage") and kind in TAKES and kind is not k.Split:
        said["stage"] = stages.pop()
    nobody_knows = said.get("which") == NOT_KNOWN or bool(said.get("among"))
    if nobody_knows and not said.get("brood"):
        broods = sorted({code for lot in lots for code in lot.codes})
        said["among"] = tuple(broods) if len(broods) > 1 else ()
    if nobody_knows:
        said["which"] = NOT_KNOWN
    if kind in (k.Died, k.Escaped) and said.get("whose") == "missing" and _missed(bench, container, said):
        return _of_the_missing(bench, kind, said)
    return [_as_specimen(said) if kind is k.Died and said.get("voucher") else (kind, said)]


def _only_ones(container: Container, said: dict[str, Any]) -> dict[str, Any]:
    """The brood and stage of the animals here, where there is only one of each and neither was said."""
    broods = {lot.brood for lot in container.lots}
    stages = {lot.stage for lot in container.lots if lot.stage != "adult"}
    found: dict[str, Any] = {"brood": broods.pop()} if len(broods) == 1 and not said.get("brood") else {}
    return found | ({"stage": stages.pop()} if len(stages) == 1 and not said.get("stage") else {})


def _as_specimen(said: dict[str, Any]) -> tuple[type[Entry], dict[str, Any]]:
    """Found dead and kept: a specimen with its cause of death."""
    rest = {name: value for name, value in said.items() if name != "whose"}
    return k.Preserved, rest | {"cause": said.get("cause") or "unknown"}


def _of_the_missing(bench: Bench, kind: type[Entry], said: dict[str, Any]) -> list[tuple[type[Entry], dict[str, Any]]]:
    """Dead or escaped ones that were missing settle what was missing; more than that died or escaped beside."""
    number = _number(kind, said)
    missed = open_here(bench, said["container"], said.get("brood") or "", said.get("stage"))
    share = min(number, sum(one.number for one in missed))
    found: list[tuple[type[Entry], dict[str, Any]]]
    missed_ones = {name: said[name] for name in ("container", "brood", "stage") if said.get(name)}
    missed_ones |= {"number": share}
    if said.get("voucher"):
        found = [(k.Settled, missed_ones | {"fate": "found"})] if share else []
        return [*found, _as_specimen(said)]
    fate = {"fate": "escaped"} if kind is k.Escaped else {"fate": "dead", "cause": said.get("cause") or ""}
    found = [(k.Settled, missed_ones | fate)] if share else []
    if number > share:
        found.append((kind, said | {"number": number - share, "whose": "others"}))
    return found


def which(bench: Bench, kind: type[Entry], fields: Mapping[str, Any]) -> Which | None:
    """What must be asked before this can be said; None where it is clear which animals are meant.

    ``fields`` are those that ``completed_by_stock`` has gone through.
    """
    container = bench.at(str(fields.get("container", "")))
    if container is not None and kind is k.Settled:
        return _which_missing(bench, container, fields)
    if container is not None and kind is k.Searched:
        return _whose_eggs(bench, container, fields)
    if container is None or kind not in SOME_OF:
        return None
    lots = _fitting(container, kind, fields)
    number = _number(kind, fields)
    if number < sum(lot.number for lot in lots) or _takes_part(kind, fields, number):
        asked = _asked_of(bench, container, kind, fields, lots)
        if asked:
            return asked
    if kind in (k.Died, k.Escaped) and not fields.get("whose"):
        return _missing_or_others(bench, container, fields)
    return None


def _whose_eggs(bench: Bench, container: Container, fields: Mapping[str, Any]) -> Which | None:
    """Of which species eggs are, where females of several may have laid them."""
    if not fields.get("found") or any(fields.get(name) for name in ("brood", "which", "among")):
        return None
    groups = by_species(bench, layers(bench, container, fields, fields.get("at")).codes)
    if len(groups) < 2:
        return None
    choices = [
        Choice(f"brood={group[0]}", {"brood": group[0]}) if len(group) == 1 else Choice(f"of {','.join(group)}", {"among": group})
        for group in groups
    ]
    return Which(f"females of several species may have laid them in {container.code}; say whose they are", _or_not_known(choices))


def _number(kind: type[Entry], fields: Mapping[str, Any]) -> int:
    if kind is k.Split:
        return sum(fields.get("numbers") or ()) + int(fields.get("missing") or 0)
    return int(fields.get("number") or 1)


def _takes_part(kind: type[Entry], fields: Mapping[str, Any], number: int) -> bool:
    """Whether some of them fare otherwise than the rest, even where all are taken."""
    if kind is k.Split:
        return len(fields.get("into") or ()) > 1 or bool(fields.get("missing"))
    arrived = fields.get("arrived")
    return arrived is not None and int(arrived) < number


def _fitting(container: Container, kind: type[Entry], fields: Mapping[str, Any]) -> list[Lot]:
    """The lots that fit what was said so far."""
    said: dict[str, Any] = {"brood": "", "stage": None, "instar": None, "sex": None, "among": (), "which": ""}
    said |= {name: fields[name] for name in said if fields.get(name) is not None}
    said["stage"] = stage_taken(kind, said["stage"] or None)
    if kind in (k.Moulted, k.Emerged):
        said |= {"instar": None, "sex": None}
    lots = meant(container, SimpleNamespace(**said))
    if kind is k.Moulted:
        lots = [lot for lot in lots if lot.instar < int(fields.get("instar") or 0)]
    return lots


def _asked_of(bench: Bench, container: Container, kind: type[Entry], fields: Mapping[str, Any], lots: list[Lot]) -> Which | None:
    stages = sorted({lot.stage for lot in lots}, key=list(PLURALS).index)
    if len(stages) > 1:
        line = f"{container.code} holds {_by_stage(lots, stages)}; say which"
        return Which(line, tuple(Choice(PLURALS[one], {"stage": one}) for one in stages))
    if fields.get("which") == NOT_KNOWN:
        return None
    broods = sorted({lot.brood for lot in lots})
    if len(broods) > 1 and not fields.get("brood"):
        codes = sorted({code for lot in lots for code in lot.codes})
        choices = [Choice(f"brood={one}", {"brood": one}) for one in codes]
        return Which(f"{container.code} holds several broods{_marks_of(bench, codes)}; say which", _or_not_known(choices))
    if kind not in TAKES:
        return None
    instars = sorted({lot.instar for lot in lots if lot.stage == "larva"})
    if len(instars) > 1:
        line = f"{container.code} holds larvae of several instars; say which"
        return Which(line, _or_not_known([Choice(f"L{one}", {"instar": one}) for one in instars if one]))
    sexes = sorted({lot.sex for lot in lots})
    if len(sexes) > 1 and not fields.get("sex"):
        line = f"{container.code} holds {'both sexes' if '' not in sexes else 'adults of several sexes'}; say which"
        return Which(line, _or_not_known([Choice(one, {"sex": one}) for one in sexes if one]))
    return None


def _marks_of(bench: Bench, codes: list[str]) -> str:
    """Which of these are marked, and how."""
    marked = [f"{code} is marked {bench.marks[code]}" for code in codes if code in bench.marks]
    rest = ", the others not" if len(marked) < len(codes) else ""
    return f" ({', '.join(marked)}{rest})" if marked else ""


def _or_not_known(choices: list[Choice]) -> tuple[Choice, ...]:
    return (*choices, Choice(NOT_KNOWN, {"which": NOT_KNOWN}))


def _by_stage(lots: list[Lot], stages: list[Any]) -> str:
    numbers = {stage: sum(lot.number for lot in lots if lot.stage == stage) for stage in stages}
    return ", ".join(f"{number} {PLURALS[stage] if number != 1 else stage}" for stage, number in numbers.items())


def _which_missing(bench: Bench, container: Container, fields: Mapping[str, Any]) -> Which | None:
    """Of which missing ones it is known what became of them, if not of all."""
    missed = open_here(bench, container.code, fields.get("brood") or "", fields.get("stage") or None)
    if _number(k.Settled, fields) >= sum(one.number for one in missed):
        return None
    stages = sorted({one.stage for one in missed}, key=list(PLURALS).index)
    if len(stages) > 1:
        line = f"{container.code} misses {' and '.join(PLURALS[one] for one in stages)}; say which"
        return Which(line, tuple(Choice(PLURALS[one], {"stage": one}) for one in stages))
    broods = sorted({one.brood for one in missed})
    if len(broods) > 1:
        choices = tuple(Choice(f"brood={one}", {"brood": one}) for one in broods)
        return Which(f"{container.code} misses animals of several broods; say which", choices)
    return None


def _missed(bench: Bench, container: Container, fields: Mapping[str, Any]) -> int:
    """How many are missing here that those that were said may be of."""
    return sum(one.number for one in open_here(bench, container.code, fields.get("brood") or "", fields.get("stage") or None))


def _missing_or_others(bench: Bench, container: Container, fields: Mapping[str, Any]) -> Which | None:
    number = _missed(bench, container, fields)
    if not number:
        return None
    line = f"{number} of {container.code} {'is' if number == 1 else 'are'} missing; say whether it is of them"
    return Which(line, (Choice("missing", {"whose": "missing"}), Choice("others", {"whose": "others"})))
