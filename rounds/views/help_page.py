"""The help, made from the same tables as the keys, the checks and the kinds of entry, so that it
cannot be wrong."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from rounds.checks.base import Check
from rounds.checks.registry import CHECKS
from rounds.entries.check_labels import called
from rounds.entries.registry import KINDS
from rounds.entries.schema import describe
from rounds.grouping import grouped
from rounds.views.actions import Scope, scopes_of, sign_of
from rounds.views.cautions import CAUTIONS
from rounds.views.cells import Cell, Line, line, section
from rounds.views.keys import actions_in
from rounds.views.queries import with_words
from rounds.views.settings import SETTINGS
from rounds.views.words import literal
from rounds.word_tables import table_rows

SCOPE_WORDS: dict[Scope, str] = {
    "everywhere": "everywhere",
    "bench": "on the bench",
    "list": "on the bench and in the daybook",
    "round": "in the round",
    "question": "while a question is asked on the bench",
    "overdue": "in what is late",
    "daybook": "in the daybook",
    "plan": "in plan and settings",
    "supplies": "in supplies",
    "away": "in going away",
    "calculator": "in the calculator",
    "laying": "in who laid on what",
    "broods": "in broods",
    "brood": "in one brood",
    "ahead": "in what is coming",
    "batches": "in cuttings",
    "card": "on the card of a container",
    "map": "on the map of the shelves",
    "learned": "in what your records say about the plan",
    "short round": "before a round in so many minutes",
}

WORDS = table_rows("""
bench | the place, and all that stands on it
container | a cup, jar, tub, cage or sleeve; may stand inside another, and on a shelf
stock | the animals of one brood in one container, by stage and count
brood | the offspring of named parents; its code is never used again
founder | a wild-caught animal with a code of its own
inbreeding | how closely related the parents are: 0.25 of full sibs, 0.125 of half
    sibs, 0 of unrelated
stem | one cut piece of host plant; its batch letter is that of its cutting
barrier | what keeps ants off: moat, sticky band, grease, closed lid
offered | food was put before her
drank | she was seen to drink; only this quiets the alarm
searched, none | a search that found nothing; not the same as not searched
skipped | passed over with a reason; it comes back
missed | a round that went by in which it was not answered
seen / inferred | a hatch watched, or inferred from shells, frass or nibbling
do not disturb | only looking is asked, until the time given
suspect | something looks wrong: own tools, last in the walk
crossed out | a line that no longer counts; the original stays in the daybook
late | past the hour from which the plan calls it late; sign :
urgent | past the hour from which the plan calls it urgent; sign =
time left | until the first harm of those in a container, by whichever check keeps it off; shown
    where something is due and less than a day is left
bar | of the time left, in the sign of that check's state: the longer, the less is left; 1 of 6
    cells for each 4 h of a day that are gone (in a wide window 10 cells), full when in danger
in danger | past the hour from which harm is likely, by the plan; sign #; our estimate if no
    source gives one
""")


def help_lines(
    scopes: Sequence[Scope], settings: Mapping[str, str] | None = None, about: Sequence[Line] = ()
) -> tuple[Line, ...]:
    """The whole help: what is highlighted first, then the keys of the screen it was called from,
    then all the rest."""
    from rounds.views.calculations import all_calculations  # loaded only where the help is read

    lines: list[Line] = [*section("this"), *about] if about else []
    for scope in [*scopes, *(scope for scope in SCOPE_WORDS if scope not in scopes)]:
        lines += section(f"keys {SCOPE_WORDS[scope]}")
        screen = scopes[-1] if scope in scopes else scope
        own = [one for one in actions_in(settings or {}, *scopes_of(screen)) if one.scope == scope]
        lines += [_pair(sign_of(action.key), action.help) for action in own]
    lines += section(
        "questions and their answer keys; a number typed first goes with the key; . is all"
    )
    for check in CHECKS.values():
        lines += _question_lines(check)
    lines += section("words")
    lines += [_pair(word, meaning) for word, meaning in WORDS]
    lines += section(
        "what the prompt takes: container, what happened, numbers, name=value, when, -- note"
    )
    lines += [
        _pair(called(kind.name), f"{kind.help} {_fields(kind)}") for kind in map(describe, KINDS)
    ]
    lines += section("settings, changed as: setting NAME VALUE")
    lines += [
        _pair(
            known_setting.name,
            f"{known_setting.about}{f'; {known_setting.default} if not set' if known_setting.default else ''}",  # noqa: E501
        )
        for known_setting in SETTINGS
    ]
    lines += section(
        "calculations, each with its inputs, formula and source; they take and give metric numbers"
    )
    lines += [_pair(calculation.name, calculation.about) for calculation in all_calculations()]
    lines += section("care with yourself")
    lines += [line(f"  {caution}") for caution in CAUTIONS.values()]
    return tuple(lines)


def page_lines(text: str) -> tuple[Line, ...]:
    """A page of Markdown as lines: its title a heading, each paragraph or point a line."""
    lines: list[Line] = []
    for block in text.split("\n\n"):
        if block.startswith("# "):
            lines += section(block.removeprefix("# ").strip())
        elif block.startswith("    "):
            lines += [line(row, tone="due") for row in block.splitlines()]
        else:
            points = block.replace("\n- ", "\n\n- ").split("\n\n")
            lines += [line(f"  {_plain(point)}") for point in points if point.strip()]
    return tuple(lines)


def _plain(point: str) -> str:
    return " ".join(point.split()).replace("**", "").replace("`", "").removeprefix("- ")


def help_found(lines: Sequence[Line], words: str) -> tuple[Line, ...]:
    """The lines of the help that have all of these words, each below its heading; first the
    meaning of a word that is called so."""
    fits = with_words(words)
    found: list[tuple[Line, Line]] = []
    heading = line("")
    for one in lines:
        if is_heading(one):
            heading = one
        elif one.text.strip() and fits({"text": one.text}):
            found.append((heading, one))
    found.sort(key=lambda pair: not pair[1].text.casefold().startswith(f"  {words.casefold()}  "))
    below = grouped(found)
    told = [row for head, ones in below.items() for row in (line(""), head, *ones)]
    return tuple(told) or (line(""), line(f"  No line of the help has '{literal(words)}'."))


def is_heading(one: Line) -> bool:
    """Whether a line of the help is a heading."""
    return len(one.cells) == 1 and one.cells[0].tone == "strong"


def _pair(word: str, meaning: str) -> Line:
    label = f"  {word:<15} "
    return line(Cell(label, "due"), meaning, hang=len(label))


def _question_lines(check: Check) -> list[Line]:
    text = ", ".join(f"{sign_of(answer.key)} {answer.label}" for answer in check.question.answers)
    return [
        _pair(check.label, f"{check.question.text} {check.help}"),
        line(" " * 18, Cell(text, "quiet"), hang=18),
    ]


def _fields(described: object) -> str:
    fields = getattr(described, "fields", ())
    must = [field.typed for field in fields if field.required]
    can = [field.typed for field in fields if not field.required]
    texts = [", ".join(must), f"if known: {', '.join(can)}" if can else ""]
    return f"({'; '.join(filter(None, texts))})" if fields else ""
