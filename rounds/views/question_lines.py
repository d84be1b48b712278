"""A question as it is drawn: the one strong thing, its answers in columns with their keys, then why
it is asked."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct
from rich.cells import cell_len

from rounds.bench.plurals import in_a_row
from rounds.checks.question import EGGS_FOUND, STEMS, Answer, Question
from rounds.views.actions import sign_of
from rounds.views.cells import Cell, Line, line
from rounds.views.fitting import Fitted, wrapped
from rounds.views.words import literal

INDENT = 2
GAP = 2  # between columns at the least
MAX_COLUMNS = 3
LEAST_GRID = 3  # rows of answers that stand with what is below them
LEAST_ROWS = 4  # that answers have before a caution stands above them
SPACE = "Space"


class Below(Struct, frozen=True):
    """What stands with a question besides its answers: cautions above them, hints and the why
    below."""

    care: tuple[Line, ...] = ()
    hints: tuple[str, ...] = ()
    why: tuple[Line, ...] = ()


def question_lines(
    question: Question, typed: str, about: str, below: Below, width: int, rows: int, part: int = 0
) -> Fitted:
    """A question in so many rows; answers that have no room there stand in the next part.

    Args:
        typed: a number begun, shown at the question.
        about: what stands before the question's words.
    """
    head = _head(question, typed, about, width)
    care = [row for one in below.care for row in wrapped(one, width)]
    if rows - len(head) - len(care) >= LEAST_ROWS:
        head, care = [*head, *care], []
    told = keys_and_labels(question)
    usual = told[:1] if question.usual is not None or question.no_usual else []
    hints = [
        row
        for hint in below.hints or _number_hint(question)
        for row in wrapped(line(f"{' ' * INDENT}{hint}", hang=INDENT), width)
    ]
    why = [row for one in below.why for row in wrapped(one, width)]
    room = max(1, rows - len(head))
    columns = range(_least_columns(width), _most_columns(told, width) + 1)
    grids = [_grid(usual, told[len(usual) :], width, number) for number in columns]
    grid = next(
        (lines for lines in grids if len(lines) + len(hints) + len(why) + 1 <= room), grids[-1]
    )
    return _paged(head, [grid, hints, [*care, *why]], room, part)


def _head(question: Question, typed: str, about: str, width: int) -> list[Line]:
    cells = [Cell(f"{' ' * INDENT}{about}{question.text}", "strong")]
    if typed:
        cells.append(Cell(f"   number {typed}_", "due"))
    if question.seen:
        cells.append(Cell(f"   {question.seen}"))
    return wrapped(Line(tuple(cells), hang=INDENT), width)


def keys_and_labels(question: Question) -> list[tuple[str, str]]:
    """Keys and labels, the usual answer first."""
    usual = question.usual
    told = [(usual_sign(usual), usual.label)] if usual is not None else []
    if usual is None and question.no_usual:
        told = [(SPACE, question.no_usual)]
    return told + [(sign_of(answer.key), answer.label) for answer in other_answers(question)]


def other_answers(question: Question) -> list[Answer]:
    """The answers beside the usual one that have a key of their own, the likeliest first."""
    return [
        answer
        for answer in question.by_likelihood
        if answer is not question.usual and answer.key not in ("enter", "space")
    ]


def asks_the_same(question: Question | None, before: Question | None) -> bool:
    """Whether two questions are one to a keeper: in the same words, with the same answers."""

    def words(asked: Question) -> tuple[object, ...]:
        return asked.text, *((one.key, one.label) for one in asked.answers)

    return question is not None and before is not None and words(question) == words(before)


def recorded_lately(where: str, check: str, answer: Answer, undo: str) -> str:
    """That the same answer was given just now and is not recorded twice."""
    sign = usual_sign(answer) if answer.usual else sign_of(answer.key)
    said = f"{sign} recorded that less than a minute ago, and now nothing"
    return f"{f'{literal(where)} {check}'.strip()}: {said}; {undo} takes it back"


def usual_sign(usual: Answer) -> str:
    """The keys of the usual answer: Space, and its own letter where it has one."""
    return f"{SPACE} or {usual.key}" if usual.key.isalpha() and len(usual.key) == 1 else SPACE


def _number_hint(question: Question) -> tuple[str, ...]:
    words = question.number_words
    if not words:
        return ()
    if question.by_enter:
        return (f"{words[0]}  {words[1]}",)
    keys = [sign_of(one.key) for one in question.takers if one.takes == question.takers[0].takes]
    what, *every = words[1].split("; ")
    many = f"that many {what}" if question.takers[0].takes in (STEMS, EGGS_FOUND) else what
    return ("; ".join([f"number, then {in_a_row(keys, 'or')}: {many}", *every]),)


def _least_columns(width: int) -> int:
    return 1 if width < 50 else 2


def _most_columns(told: Sequence[tuple[str, str]], width: int) -> int:
    """As many columns as the longest answer leaves room for, the usual one aside."""
    widest = max(
        (
            cell_len(sign) + 2 + cell_len(label)
            for sign, label in told
            if not sign.startswith(SPACE)
        ),
        default=width,
    )
    fits = (width - INDENT + GAP) // (widest + GAP)
    return max(_least_columns(width), min(MAX_COLUMNS, fits))


def _grid(
    usual: Sequence[tuple[str, str]], others: Sequence[tuple[str, str]], width: int, columns: int
) -> list[Line]:
    """The usual answer on a row of its own, the others side by side."""
    wide = (width - INDENT) // columns
    rows = [_row(usual, wide)] if usual else []
    begin = 0
    while begin < len(others):
        here = list(others[begin : begin + columns])
        while len(here) > 1 and any(
            cell_len(sign) + 2 + cell_len(label) + GAP > wide for sign, label in here[:-1]
        ):
            here.pop()  # one too long for its column has the row up to its end
        rows.append(_row(here, wide))
        begin += len(here)
    return [row for one in rows for row in wrapped(one, width)]


def _row(told: Sequence[tuple[str, str]], wide: int) -> Line:
    cells = [Cell(" " * INDENT)]
    for position, (sign, label) in enumerate(told):
        used = cell_len(sign) + 2 + cell_len(label)
        pad = max(0, wide - used) if position < len(told) - 1 else 0
        cells += [Cell(sign, "due"), Cell(f"  {label}{' ' * pad}")]
    return Line(tuple(cells), hang=INDENT + 3)


def _paged(head: list[Line], blocks: list[list[Line]], room: int, part: int) -> Fitted:
    """The blocks, with empty rows between them where all has room; else in parts, each with the
    question above.

    The first part has as many answers as leave room for what stands below them.
    """
    grid, *others = blocks
    blocks = [block for block in blocks if block]
    total = sum(map(len, blocks))
    if total <= room:
        spare = room - total
        lines: list[Line] = []
        for block in blocks:
            if spare:
                lines.append(line(""))
                spare -= 1
            lines += block
        return Fitted((*head, *lines))
    below = [row for block in others for row in block]
    first = room - len(below) if room - len(below) >= LEAST_GRID else room
    parts = [grid[:first] + (below if first < room else [])]
    rest = grid[first:] + ([] if first < room else below)
    parts += [rest[at : at + room] for at in range(0, len(rest), room)]
    return Fitted((*head, *parts[min(part, len(parts) - 1)]), len(parts))
