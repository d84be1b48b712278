"""Some of those in a box that rest for months: ``R1 4 in diapause``; a box rests as a whole."""

from __future__ import annotations

from rounds import late
from rounds.bench.plurals import PLURALS
from rounds.bench.state import Container
from rounds.entries.phrase.reader import ALL, PhraseProblem, Reader
from rounds.entries.phrase.short_forms import ShortForm
from rounds.entries.phrase.synonyms import digits_of

_SOME = late.of_words(
    r"(?P<many>\w+)(?: of them)?(?P<who>(?: (?:l\d|larvae?|caterpillars?|pupae?|eggs?|adults?))*)"
    r"(?: (?:are|is|now|gone|went|in|into))*"
    r" (?P<word>diapause|hibernating|hibernation|overwintering|dormant|winter rest"
    r"|aestivating|estivating)"
)


def some_in_diapause(reader: Reader, form: ShortForm, container: Container) -> list[str]:
    """Where all that are there rest, the box does; nothing of any other line.

    Raises:
        PhraseProblem: only some of them do.
    """
    told = _SOME.fullmatch(form.said)
    there = container.count()
    if told is None or not there:
        return []
    number, is_all = digits_of(told["many"]), told["many"] == ALL and not told["who"]
    if not (number or is_all):
        return []
    if is_all or int(number) == there:
        return ["in", "diapause"]
    who = told["who"] or f" {PLURALS[container.lots[0].stage]}"
    who = who.upper() if who[-1].isdigit() else who
    free, some = reader.bench.free_code("R"), min(int(number), there)
    raise PhraseProblem(
        f"a box rests as a whole; those that rest go into one of their own, as: {form.code} moved"
        f" {some}{who} to new {free}; then"
        f" {free} in diapause"
    )
