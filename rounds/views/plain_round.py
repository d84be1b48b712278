"""The round as lines to be read aloud: the same words as on the screen, one thing a line, nothing
drawn."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from rounds import late
from rounds.bench.measures import measures_of
from rounds.bench.plurals import in_a_row
from rounds.bench.state import Bench
from rounds.checks.due_state import Due
from rounds.checks.question import ALL, Amount, Answer, Question
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment
from rounds.checks.why import because, why
from rounds.checks.worth import worth_of
from rounds.forecasts.foresight import Forecasts
from rounds.grouping import grouped
from rounds.views.actions import sign_of
from rounds.views.cells import Line
from rounds.views.keys import key_label
from rounds.views.question_lines import other_answers, usual_sign
from rounds.views.round_page import LOTS, RoundPage
from rounds.views.states import SIGNS
from rounds.views.stop_page import pressing_words
from rounds.views.words import begun, literal

_SIGN_NAMES = {
    "-": "minus",
    ";": "semicolon",
    "?": "question mark",
    ",": "comma",
    "'": "apostrophe",
    "!": "exclamation mark",
    ALL: "full stop",
}
_SIGNS = {f"{sign} " for sign in SIGNS.values() if sign.strip()}
FEW_WORDS = 8
_GAPS = late.pattern(r"\s{2,}")
_LABEL_GAP = late.pattern(r"(?<=[a-z])([:?])\s{2,}")  # behind a label: no comma
_CHECK_LABEL = late.pattern(
    rf"^(?:{'|'.join([*SIGNS, 'skipped', 'left out'])})\s{{2,}}[a-z ]+[:?]\s"
)  # a state, then a check by its label
_AMOUNT = r"-?[0-9][0-9.,/-]*|\.(?=\s|$|[a-z])|all(?=\s|$)"
_TYPED = late.pattern(rf"^(?P<number>{_AMOUNT})?\s*(?P<word>.*)$", re.IGNORECASE)
_NUMBER_LAST = late.pattern(r"^(?P<word>\S.*?)\s+(?P<number>[0-9]+|all)$", re.IGNORECASE)

# What a line can do besides answering: the same keys as on the screen, what may follow on the line,
# and what it does.
ON_A_LINE: tuple[tuple[str, str, str], ...] = (
    ("skip_check", "and a reason", "skips this question; it comes back at the end"),
    ("skip_stop", "and a reason", "skips the whole stop; it comes back at the end"),
    (
        "strike_last",
        "",
        "undoes what was recorded last; the line stays in the daybook, crossed out",
    ),
    ("suspect", "", "marks the container suspect: it goes to the end of the walk now"),
    (
        "when",
        "and a time, as -20m or 7:40",
        "sets when the next answers happened; alone, now again",
    ),
    ("note", "and words", "keeps a note of this container"),
    ("one_by_one", "", "asks the checks here one by one; again: together"),
    ("to_worst", "", "goes to the stop that is in danger, else to what is urgent"),
    ("photo", "and a path, or newest", "copies a picture into the book"),
    ("prompt", "and a line, as K7 drank 2 -20m", "records anything at all"),
    ("help", "", "shows what is asked here, why, and what can be typed"),
    ("quit", "", "leaves; the round goes on where it was left"),
)


@dataclass(frozen=True, slots=True)
class TypedAnswer:
    """An answer as it was typed, with any number before it."""

    answer: Answer
    amount: Amount


def spoken(line: Line) -> str:
    """A line of the screen as a sentence: no sign, a colon behind a state or label, a comma where
    the screen leaves a gap."""
    drawn = line.text
    text = drawn.strip()
    is_labelled = drawn[:2] != text[:2]  # set in behind a label or a sign
    if text[:2] in _SIGNS:
        is_labelled, text = True, text[2:]
    text = text.strip()
    if is_labelled:
        names_check = _CHECK_LABEL.search(text)
        text = _GAPS.sub(", " if names_check else ": ", text, count=1)
        text = _LABEL_GAP.sub(r"\1 ", text)
    text = _GAPS.sub(", ", text)
    return f"{text[:1].upper()}{text[1:]}{'' if text[-1:] in '.?!:' else '.'}"


def keys_on_a_line(settings: Mapping[str, str]) -> dict[str, str]:
    """The key of each thing that a line can do, by the action's name, as this book has it."""
    return {
        name: key_label(settings, "round", name) or key_label(settings, "bench", name)
        for name, _, _ in ON_A_LINE
    }


def _key_named(key: str) -> str:
    """A key as it is read aloud, a sign by its name."""
    return f"Key {_SIGN_NAMES.get(key, key)}"


def opening_line(settings: Mapping[str, str]) -> str:
    """What is said once at the start."""
    key = keys_on_a_line(settings)["help"]
    text = "Space, then Enter, gives the usual answer. Enter alone repeats the question."
    return f"{text} {_key_named(key)} shows what else can be typed."


def command_lines(settings: Mapping[str, str]) -> Iterator[str]:
    """What can be typed besides an answer."""
    keys = keys_on_a_line(settings)
    for name, follows, does in ON_A_LINE:
        yield f"{_key_named(keys[name])}{f' {follows}' if follows else ''}: {does}."


def stop_lines(page: RoundPage, *, short: bool = False) -> Iterator[str]:
    """What is said on coming to a stop; in short, only where one is and what is not as usual."""
    yield spoken(Line(tuple(cell for cell in page.head[0].cells if not cell.text.startswith("["))))
    yield from map(spoken, page.worst)
    for position, section in enumerate(page.sections):
        if position == LOTS and page.question is not None:
            if page.asks_of_lots or not short:
                yield from page.lots_aloud
            continue
        for line in section:
            if line.text.strip() and not (
                short and page.question is not None and _is_usual(position, line)
            ):
                yield spoken(line)


def _is_usual(place: int, line: Line) -> bool:
    """Whether a line says nothing but that something is due, comes later or was so before."""
    label = line.text.strip()
    return place > LOTS - 2 and not label.startswith(("#", "=", ":", "changed"))


def question_lines(
    page: RoundPage,
    bench: Bench,
    moment: Moment,
    *,
    again: bool = False,
    arrived: bool = False,
    short: bool = False,
) -> Iterator[str]:
    """The question with how pressing it is, why it is asked and its caution.

    Args:
        again: it was asked just now: without why and caution.
        arrived: the stop was told just now, and how pressing each check is.
        short: of the why only what was seen or reckoned, not the rule and its hours; of what is
            only due nothing that takes many words.
    """
    if page.question is None or page.asked is None:
        return
    due = page.asked
    since = pressing_words(due, moment)
    names = in_a_row(CHECKS[one.check].label for one in page.dues)
    pressing = f" {since[0].upper()}{since[1:]}." if since and not arrived else ""
    seen = f" {page.question.seen}" if page.question.seen else ""
    dot = "" if names.endswith("?") else "."
    yield f"{names[0].upper()}{names[1:]}{dot}{pressing} {page.question.text}{seen}"
    why_it_is = because(due, bench, moment) if since or due.reason else ""
    if short:
        seen = due.reason.split("; ")[0]
        if len(seen.split()) > FEW_WORDS:
            # 'warm, fed female-days' are one thing
            seen = re.split(r"(?<! warm), ", seen)[0] if since else ""
        why_it_is = measures_of(bench.settings).in_words(seen)
    if why_it_is and not again:
        yield f"Why: {literal(why_it_is)}."
    for care in () if again else page.below.care:
        yield f"Care: {care.text.strip()}"


def options(question: Question) -> str:
    """All that can be answered, each a sentence with its key named as a key, and what a number
    means."""
    usual = question.usual
    answers = [*([usual] if usual is not None else []), *other_answers(question)]
    texts = [_option(answer) for answer in answers]
    numbers = list(_numbers(question))
    if texts:
        numbers = [f"Or {text[0].lower()}{text[1:]}" for text in numbers]
    return f"{'. '.join([*texts, *numbers])}."


def _option(answer: Answer) -> str:
    sign = usual_sign(answer).replace(" or ", " or key ") if answer.usual else ""
    return f"{sign or _key_named(sign_of(answer.key))}: {answer.label.replace(': ', ' ')}"


def _numbers(question: Question) -> Iterator[str]:
    """How a number is given, and with which keys which."""
    if question.by_enter is not None and question.number_words:
        yield f"A number, then Enter: {question.number_words[1]}"
        return
    keys = grouped(
        (answer.takes, f"key {sign_of(answer.key)}")
        for answer in question.takers
        if answer.takes is not None and answer.key != "space"
    )
    for takes, named in keys.items():
        which = in_a_row(named, "or")
        yield f"A number before {which}: {takes.words}"
        if takes.sort == "animals":
            yield f"Key {_SIGN_NAMES[ALL]} before {which}: all"


def still_asked(question: Question, settings: Mapping[str, str]) -> str:
    """That an answer changed nothing, and what ends the question."""
    ends = next(iter(other_answers(question)), None)
    skip = keys_on_a_line(settings)["skip_check"]
    passes = f"{_SIGN_NAMES.get(skip, skip)} and a reason passes over"
    return f"Still asked: {f'key {sign_of(ends.key)}, {ends.label}; or ' if ends else ''}{passes}."


def usual_option(question: Question, settings: Mapping[str, str] | None) -> str:
    """The usual answer, and the key that says the others, with settings that name it; all where
    none is usual."""
    if question.usual is None:
        return options(question)
    if settings is None:
        return f"{_option(question.usual)}."
    key = _key_named(keys_on_a_line(settings)["help"])
    return f"{_option(question.usual)}. {key} lists the others."


def why_spoken(bench: Bench, due: Due, moment: Moment, foresight: Forecasts) -> Iterator[str]:
    """What the check is, why it is due, and what the rule rests on."""
    told = why(due, bench, moment)
    yield f"{CHECKS[due.check].question.text} {CHECKS[due.check].help}"
    yield f"Why: {told.rule}. {begun(told.last)}. {begun(told.arithmetic)}."
    worth = worth_of(bench, due, moment, foresight)
    yield f"Worth: {worth.words}. {worth.arithmetic}"
    yield f"From: {told.source}"


def read_answer(question: Question, typed: str) -> TypedAnswer | str:
    """An answer as it was typed: its key or its words, a number (or all) before or after it; or one
    line that says what is right.

    A number alone is an answer only where the question asks for that number, as with Enter on the
    screen.
    """
    if typed and not typed.strip():
        if question.usual:
            return TypedAnswer(question.usual, Amount())
        return f"there is no usual answer here. {options(question)}"
    text = typed.strip()
    own = _answer_called(question, text)
    if own is not None:
        return TypedAnswer(own, Amount())
    match = _NUMBER_LAST.match(text) or _TYPED.match(text)
    number, word = (match["number"] or "", match["word"]) if match else ("", text)
    number = ALL if number.casefold() == "all" else number.replace(",", ".")
    chosen = _answer_called(question, word) if word else question.by_enter
    if chosen is None:
        takes_it = number and not word and question.takers
        if takes_it:
            return question.enter_refusal(number)
        return f"'{text}' is no answer here. {options(question)}"
    wrong = question.number_refusal(number, chosen) if number else ""
    return wrong or TypedAnswer(chosen, Amount.of(number))


def _answer_called(question: Question, word: str) -> Answer | None:
    """The answer of that key or those words; Enter is no word."""
    named = word.casefold()
    called = [(one, {one.key, sign_of(one.key), *_names_of(one)}) for one in question.answers]
    return next((one for one, names in called if one.key != "enter" and named in names), None)


def _names_of(answer: Answer) -> tuple[str, str]:
    label = answer.label.casefold()
    return label, label.rpartition(": ")[2]
