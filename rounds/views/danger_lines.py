"""What is in danger or urgent, each in a sentence: the few lines that stand above all others."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime

from rounds.bench.folding.hunger import fed_lots
from rounds.bench.plurals import count, of_stage
from rounds.bench.state import Bench, Container
from rounds.checks import drink, food, host, store
from rounds.checks.due_state import Due, container_of, how_bad, past_limit, pressing
from rounds.checks.facts import arrived
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment, utc
from rounds.views.as_it_stands import Fact, holds_words, stage_word
from rounds.views.cells import Cell, Column, Row
from rounds.views.species import FORMS, SpeciesNames
from rounds.views.states import PAST, SIGNS, TONES, harm_words, place_words, state_of
from rounds.views.words import age, literal

MAX_LINES = 3
WORD = 10  # cells of the longest state word and a space
# of whose plant a word alone is said: limp, eaten
PLANTS = food.CHECK.name, host.CHECK.name, store.CHECK.name


def worst(dues: Iterable[Due], moment: Moment) -> list[Due]:
    """The most pressing check of each place where any is in danger or urgent: the least time left
    first."""
    now = utc(moment.now)
    found: dict[tuple[str, str], Due] = {}
    graves = [due for due in dues if pressing(due, now) in ("in danger", "urgent")]
    for due in sorted(graves, key=lambda one: how_bad(one, now)):
        found.setdefault((due.place_kind, due.where), due)
    return list(found.values())


def danger_rows(
    bench: Bench, worst_ones: list[Due], moment: Moment, names: SpeciesNames, width: int
) -> tuple[Row, ...]:
    """A line for each: the state's word, the container, what is wrong in a sentence, how long until
    harm.

    Args:
        width: cells for a line, without the signs left of it. What does not fit is said shorter,
            never cut; who is in danger is named to the last.
    """
    codes = [place_words(due) for due in worst_ones]
    code_width = max((len(code) for code in codes), default=0)
    told = [_sentences(bench, due, moment, names) for due in worst_ones]
    lefts = _lefts(
        worst_ones, [min(map(len, said)) for said, _ in told], moment, width - WORD - code_width - 3
    )
    rows = []
    for position, (due, code) in enumerate(zip(worst_ones, codes, strict=True)):
        state = state_of(due, moment.now)
        sentences = [words for said in told[position] for words in said]
        left, room, text = next(
            (
                (left, room, sentence)
                for left in dict.fromkeys((lefts[position], ""))
                for room in [width - WORD - code_width - 3 - (len(left) + 2 if left else 0)]
                for sentence in sentences
                if len(sentence) <= room
            ),
            ("", width - WORD - code_width - 3, CHECKS[due.check].label),
        )
        columns = (
            Column("", WORD),
            Column("", code_width + 1),
            Column("", room + 1 if left else room),
            *([Column("", len(left), right=True)] if left else []),
        )
        cells = [
            Cell(state, TONES[state], stressed=state),
            Cell(code),
            Cell(text),
            *([Cell(left)] if left else []),
        ]
        if not position:
            cells = [Cell(cell.text, TONES[state]) for cell in cells]
        rows.append(
            Row(
                row_key(due),
                tuple(cells),
                SIGNS[state],
                columns,
                TONES[state] if not position else None,
            )
        )
    return tuple(rows)


def danger_words(bench: Bench, due: Due, moment: Moment, names: SpeciesNames) -> str:
    """All that a line of danger may say, in every length: what it is found by."""
    return " ".join(words for said in _sentences(bench, due, moment, names) for words in said)


def _lefts(dues: Sequence[Due], least: Sequence[int], moment: Moment, room: int) -> list[str]:
    """How long until harm, or since when there is danger: ``danger since`` in all lines, else
    ``since`` in all, where beside it one would have no room to say of whom its sentence is."""
    lefts = [harm_words(due, moment) for due in dues]
    wholes = [f"danger {left}" if left.startswith("since ") else left for left in lefts]
    fits = all(size + len(left) + 2 <= room for size, left in zip(least, wholes, strict=True))
    return wholes if fits else lefts


def row_key(due: Due) -> str:
    """What a line about the place of a check is called: a container by its code."""
    return (
        due.where if due.place_kind == "container" else f"{due.place_kind}|{due.where}|{due.check}"
    )


def _sentences(bench: Bench, due: Due, moment: Moment, names: SpeciesNames) -> tuple[Fact, Fact]:
    """What is wrong, the longest first: with the name of the species in full, shorter; then in few
    words, which say of whom it is wherever animals are there."""
    container = container_of(bench, due)
    wrong = _wrong(due, moment)
    label = CHECKS[due.check].label
    if container is None:
        whole = wrong[0] if wrong[0].startswith(label) else f"{label}: {wrong[0]}"
        return (whole, *wrong), (label,)
    one = sum(lot.number for lot in container.lots) == 1
    said = _predicate(bench, due, container, moment, one) if _counts_from(due) else f": {wrong[0]}"
    held = [words for form in FORMS for words in holds_words(container, names, form)]
    who = _who(container)
    texts = tuple(f"{words}{said}" for words in (*held, *who))
    bare = _without_verb(said)
    fewer = [bare, bare.replace(_came(bench, due, container), "")] if _counts_from(due) else []
    shorter = (*fewer, *(f": {words}" for words in (*wrong[1:], label)))
    if not container.lots:
        return texts, tuple(words.removeprefix(":").lstrip() for words in (said, *shorter))
    shortest = min((*held, *who), key=len)
    return texts, tuple(f"{shortest}{words}" for words in shorter)


def _who(container: Container) -> Fact:
    """Animals of several instars or stages in the fewest words: ``15 larvae``, ``10 animals``."""
    if len({stage_word(lot) for lot in container.lots}) < 2:
        return ()
    stages = {lot.stage for lot in container.lots}
    number = sum(lot.number for lot in container.lots)
    return (of_stage(number, stages.pop()) if len(stages) == 1 else count(number, "animal"),)


def _without_verb(predicate: str) -> str:
    """A sentence without its verb: `` not cleaned for 4 d`` of `` have not been cleaned``."""
    bare = predicate.removeprefix(" have").removeprefix(" has")
    return bare.replace("not been ", "not ", 1) if bare != predicate else predicate


def _counts_from(due: Due) -> bool:
    return CHECKS[due.check].undone is not None and not due.reason and due.since is not None


def _predicate(bench: Bench, due: Due, container: Container, moment: Moment, one: bool) -> str:
    """What they have not had, and for how long; of what was never recorded, only since when there
    is no record."""
    undone = CHECKS[due.check].undone
    assert undone is not None
    assert due.since is not None
    several, single, noun = undone
    if due.last is None:
        since = moment.clock(due.since)
        return f": no {noun} recorded since {_came(bench, due, container)}{since}"
    waiting, fed = _waiting(bench, due, container)
    verb = single if one or waiting == 1 else f"have {several}"
    some = f": {waiting} of {fed}" if waiting < fed else ""
    return f"{some} {verb} for {age(moment.now - _not_done_since(due, container))}"


def _waiting(bench: Bench, due: Due, container: Container) -> tuple[int, int]:
    """How many have waited for a drink since then, and of how many: some may have drunk later."""
    assert due.since is not None
    if due.check != drink.CHECK.name:
        return 0, 0
    hungry = [hunger for lot in fed_lots(bench, container) for hunger in lot.hunger]
    waiting = sum(one.number for one in hungry if utc(one.since) <= utc(due.since))
    drank = sum(number for _, number in container.drank_part)
    return max(1, waiting - drank), sum(one.number for one in hungry)


def _not_done_since(due: Due, container: Container) -> datetime:
    """Since when they have not had it: since it was done last, as the card says it, or since they
    came. The hours may count from later, as from a moult."""
    assert due.since is not None
    here = arrived(container, "")
    if due.last is None or here is None or CHECKS[due.check].last_words is not None:
        return due.since
    return min(due.since, max(utc(due.last.at), here))


def _came(bench: Bench, due: Due, container: Container) -> str:
    """``she came, `` where that is since when a drink is missing: none is on record ever."""
    hungry = [hunger for lot in container.lots for hunger in lot.hunger]
    if due.check != drink.CHECK.name or any(hunger.drank for hunger in hungry):
        return ""
    return f"{drink.who_drinks(fed_lots(bench, container))} came, "


def _wrong(due: Due, moment: Moment) -> Fact:
    """What is wrong where it is no waiting: what was seen, else since when it was not done."""
    if past_limit(due, moment.now):
        return (f"{CHECKS[due.check].label} {PAST}", PAST)
    if at_risk := CHECKS[due.check].at_risk:
        return at_risk
    if due.reason:
        reason = literal(due.reason)
        text = f"the plant is {reason}" if due.check in PLANTS and " " not in reason else reason
        return (text, reason.split(",")[0])
    label = CHECKS[due.check].label
    since = moment.clock(due.due)
    is_asked = label.endswith("?")
    return (
        f"{label} Asked since {since}" if is_asked else f"{label} has been due since {since}",
        label,
    )
