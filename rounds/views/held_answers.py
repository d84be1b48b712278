"""Questions about kept stems and their answers: frass lot by lot, which lots may go, larvae of those that showed frass."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC

from msgspec.structs import replace

from rounds.bench import kinds as k
from rounds.bench.completing import next_brood_code
from rounds.bench.folding.tending import PERHAPS, SHOWN
from rounds.bench.mates import possible_fathers
from rounds.bench.state import Container, Held, Unsure
from rounds.forecasts.foresight import Foresight
from rounds.views.asked import Answer, Asked, Number, Question, Saying
from rounds.views.sayings import aid_of, counted_or_one

LIKELY = 0.05  # a lot less likely than this to be the one that hatched gives no mothers; our estimate
NOT_SURE = Number("how many, not sure", "some")


def bin_those_kept_long_enough(asked: Asked) -> list[Saying]:
    """Only lots that may go are discarded; where none may, the desk says why, as for a typed line."""
    container = asked.container
    if container is None:
        return []
    foresight = asked.foresight or Foresight(asked.bench, asked.now.tzinfo or UTC)
    gone = tuple(held.lot for held in container.held if foresight.chance(container, held, asked.now).may_go)
    return [(k.HostOut, asked.here | {"fate": "binned", "lots": gone or _all(container)})]


def _all(container: Container) -> tuple[str, ...]:
    return tuple(held.lot for held in container.held)


def frass_question(container: Container | None, usual: Question) -> Question:
    """Frass, asked lot by lot where several are kept: each has its own watch, and an unknown lot ends none."""
    held = container.held if container else []
    if len(held) < 2:
        return usual
    lots = tuple(Answer(str(one.number), f"under lot {one.number}", _under((one.lot,))) for one in held if one.number <= 9)
    more = [Answer("b", "under another lot", lambda asked: [], prompt=lambda asked: f"{asked.due.where} frass trace lot=")]
    return Question(
        "Frass (droppings) on the paper?",
        (
            Answer("0", "none under any lot", _under((), "none"), usual=True),
            *lots,
            *(more if len(held) > len(lots) else []),
            Answer("a", "under all lots", _under(tuple(one.lot for one in held))),
            Answer("y", "lot not known, all stay", _under(())),
        ),
    )


def _under(lots: tuple[str, ...], level: str = "trace") -> Callable[[Asked], list[Saying]]:
    return lambda asked: [(k.FrassSeen, asked.here | {"level": level} | ({"lots": lots} if lots else {}))]


def eggs_question(container: Container | None, usual: Question) -> Question:
    """How many eggs; what is not sure is a number of its own, and is asked about until it is settled."""
    unsure = container.unsure[0] if container and container.unsure else None
    more = [Answer("v", "seen, not sure", _not_sure, NOT_SURE, must=True)]
    if unsure:
        on = f" on {unsure.plant}" if container and len(container.unsure) > 1 and unsure.plant else ""
        more += [
            Answer("y", f"the {unsure.number} unsure{on} are eggs", _settled(unsure.number, unsure)),
            Answer("r", "they are none", _settled(0, unsure)),
        ]
    return replace(usual, answers=(*usual.answers, *more))


def _not_sure(asked: Asked) -> list[Saying]:
    return [(k.Searched, asked.here | {"found": 0, "unsure": asked.whole, "aid": aid_of(asked.bench)})] if asked.whole else []


def _settled(eggs: int, unsure: Unsure) -> Callable[[Asked], list[Saying]]:
    where = {name: value for name, value in (("plant", unsure.plant), ("lots", unsure.lots)) if value}
    return lambda asked: [(k.Searched, asked.here | {"found": eggs, "confirmed": True, "aid": aid_of(asked.bench)} | where)]


def hatchlings_of_shown(asked: Asked) -> list[Saying]:
    """Lots that showed frass become young larvae: a brood of their mothers, laid while they stood with the stems.

    Where the lot is not known the likeliest give the brood, and every lot stays.
    """
    container = asked.container
    shown = [held for held in container.held if held.frass in SHOWN] if container else []
    likely = shown or (_likely(asked, container) if container else [])
    if container is None or not likely:
        return []
    number = counted_or_one(asked)
    said: list[Saying] = []
    mothers = tuple(sorted({mother for held in likely for mother in held.mothers}))
    taxa = {held.taxon for held in likely}
    brood = _running_brood(asked, mothers, likely)
    if not brood:
        brood = next_brood_code(asked.bench, mothers) if mothers else ""
        offered, taken_out = min(held.offered for held in likely), max(held.taken_out for held in likely)
        fathers = possible_fathers(asked.bench, mothers, until=taken_out, since=offered)
        said.append(
            (
                k.BroodBegun,
                {
                    "code": brood,
                    "taxon": taxa.pop() if len(taxa) == 1 else "",
                    "mothers": mothers,
                    "fathers": fathers.codes,
                    "laid_from": max(offered, fathers.since or offered),
                    "laid_to": taken_out,
                },
            )
        )
    said += [
        (k.Stocked, asked.here | {"brood": brood, "stage": "egg", "number": number, "origin": "hidden on held sprigs"}),
        (k.Hatched, asked.here | {"number": number, "brood": brood, "evidence": "inferred"}),
    ]
    if shown:
        said.append((k.HostOut, asked.here | {"fate": "hatched", "lots": tuple(held.lot for held in shown)}))
    if container.purpose == "eggs" and not container.count("egg"):
        said.append((k.Changed, asked.here | {"purpose": "hatchlings"}))
    return said


def _likely(asked: Asked, container: Container) -> list[Held]:
    """Of lots one of which showed frass, those that by eggs and warmth may have hatched: the older ones, as a rule."""
    foresight = asked.foresight or Foresight(asked.bench, asked.now.tzinfo or UTC)
    unknown = [held for held in container.held if held.frass == PERHAPS]
    weights = [foresight.chance(container, held, asked.now).hatched_by_now for held in unknown]
    return [held for held, weight in zip(unknown, weights, strict=True) if weight >= LIKELY * sum(weights)]


def _running_brood(asked: Asked, mothers: tuple[str, ...], shown: list[Held]) -> str:
    """The brood of the same mothers that was laid while these sprigs stood with them, where there is one."""
    offered, taken_out = min(held.offered for held in shown), max(held.taken_out for held in shown)
    for code, brood in reversed(asked.bench.broods.items()):
        overlaps = brood.laid_from and brood.laid_to and brood.laid_from <= taken_out and offered <= brood.laid_to
        if tuple(sorted(brood.mothers)) == mothers and overlaps:
            return code
    return ""
