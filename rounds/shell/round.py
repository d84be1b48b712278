"""``rounds round``: the walk at once; with ``--plain`` as questions and answers on lines, for a
screen reader or a pipe."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Iterable
from datetime import datetime, timedelta

from msgspec.structs import replace

from rounds.app.desk import Desk, Outcome, Recorded, Refusal
from rounds.app.first_start import FirstStart, asks_now
from rounds.app.prompt_line import cautions_of_line, say_phrase
from rounds.app.round import NOT_KNOWN, NOTHING_WORSE, Walking, context_of, key_of, led_to_all
from rounds.checks.answers import begin_host
from rounds.checks.due_state import Due, place_name
from rounds.checks.question import AnswerContext, Begun, Question
from rounds.checks.questions import OTHER_WORDS, skip_question
from rounds.entries import registry as k
from rounds.entries.phrase.times import read_time, which_of_two
from rounds.entries.validation import advice
from rounds.exchange.import_setup import taken_over
from rounds.shell.begin import ask_on_lines, is_new
from rounds.shell.lines import lines_typed, tell
from rounds.shell.open_book import desk_of, tell_gaps
from rounds.shell.terminal import read_or_not
from rounds.views.cells import Line
from rounds.views.keys import handed
from rounds.views.plain_round import (
    TypedAnswer,
    command_lines,
    keys_on_a_line,
    opening_line,
    options,
    question_lines,
    read_answer,
    still_asked,
    stop_lines,
    usual_option,
    why_spoken,
)
from rounds.views.question_lines import asks_the_same, recorded_lately
from rounds.views.round_page import RoundPage
from rounds.views.short_round_page import short_round_spoken
from rounds.views.words import clock, literal

Say = Callable[[str], None]
A_MINUTE = timedelta(minutes=1)


def walk(options: argparse.Namespace) -> int:
    """Walk the round; status 1 where something that was piped in was refused, 2 where the
    book cannot be read wholly."""
    desk = desk_of(options)
    in_a_terminal = sys.stdin.isatty() and sys.stdout.isatty()
    draws = in_a_terminal and os.environ.get("TERM") != "dumb"
    if draws and not (options.plain or options.short):
        from rounds.shell.open_screens import look_at

        return look_at(desk, walk=True, minutes=options.minutes)
    if not sys.stdin.isatty():  # else nobody answers questions that cannot be read
        read_or_not()
    has_gaps = tell_gaps(desk, sys.stdout)
    if desk.clock.other_zone:
        tell(desk.clock.other_zone)
    typed = lines_typed(in_a_terminal)
    if is_new(desk):
        begun = ask_on_lines(FirstStart(desk, taken_over), typed, tell)
        if not (begun and asks_now(desk)):
            return 0 if begun else 1
    plain = PlainRound(desk, typed, tell, options.minutes, short=options.short)
    try:
        plain.go()
    except KeyboardInterrupt:
        tell("")
        plain.leave()
        return 130
    if has_gaps:
        return 2
    return 1 if desk.unsaved.entries or (plain.refused and not in_a_terminal) else 0


class PlainRound:
    """The walk on lines.

    Args:
        desk: where every answer is said.
        typed: the lines as they come; their end leaves the round open where it is.
        told: says one line.
        minutes: that there are; 0 for as long as it takes.
        short: says only what is not as usual, and answers only where they are others than the last
            time.
    """

    def __init__(
        self, desk: Desk, typed: Iterable[str], told: Say, minutes: int = 0, *, short: bool = False
    ) -> None:
        self.desk = desk
        self._minutes = minutes
        self._short = short
        self._answers: dict[str, str] = {}  # as they were said last, by question
        self.refused = 0
        self._walking = Walking(desk)
        self._typed = iter(typed)
        self._told = told
        self._when: datetime | None = None
        self._at = ""  # the stop that was told last
        self._worst: tuple[Line, ...] = ()  # what was named last as worse elsewhere
        self._asked = ""  # the check there that was asked last
        self._saved: tuple[Due, TypedAnswer, datetime] | None = None  # what was answered last
        self._question: Question | None = None  # that was answered so
        self._over = False
        self._keys = {key: name for name, key in keys_on_a_line(desk.bench.settings).items()}

    def go(self) -> None:
        """Ask and hear until the round ends or the lines do."""
        walk = self._walking.walk
        if walk is not None and self._minutes:
            goes_on = f"The {literal(walk.name)} round is open and goes on"
            self._told(f"{goes_on}; {self._minutes} minutes are for a new one.")
        if walk is None and not self._begin():
            return
        self._told(opening_line(self.desk.bench.settings))
        while not self._over:
            page = self._walking.answered()
            if page is None:
                self._told(f"{self._walking.over_words()} The next one begins as this one did.")
                return
            self._ask(page)
            line = next(self._typed, None)
            if line is None:
                self.leave()
                return
            self._hear(line, page)

    def _begin(self) -> bool:
        """Begin the walk; of one in so many minutes it is said first what it takes and leaves
        out."""
        if self._minutes:
            plan = self.desk.short_round(self._minutes)
            self._say_all(short_round_spoken(plan, self.desk.moment()))
        return self._outcome(self.desk.start_round(minutes=self._minutes))

    def leave(self) -> None:
        """Say where the round will go on, and what could not be saved."""
        self._over = True
        saved = self.desk.retry()
        if self._walking.walk is not None:
            stop = self._walking.stop
            where = f"at {literal(place_name(stop))}" if stop else "at its end"
            all_saved = " All that was recorded is saved." if saved else ""
            self._told(f"The round is open; it goes on {where}.{all_saved}")
        if not saved:
            again = "NOT SAVED, say it again when the book can be written"
            self._told(f"{again}: {literal(self._unsaved)}")

    @property
    def _unsaved(self) -> str:
        return self.desk.told(self.desk.unsaved.entries)

    def _say_all(self, lines: Iterable[str]) -> None:
        for line in lines:
            self._told(line)

    def _ask(self, page: RoundPage) -> None:
        stop = self._walking.stop
        at = f"{key_of(stop) if stop else ''} {page.wash}"
        arrived = at != self._at
        if arrived:
            self._at = at
            is_said = page.worst == self._worst
            self._worst = page.worst
            news = replace(page, worst=()) if is_said else page
            self._say_all(stop_lines(news, short=self._short))
        asked = f"{at} {page.asked.check if page.asked else ''}"
        again = asked == self._asked
        self._asked = asked
        bench, moment = self.desk.bench, self.desk.moment()
        if page.question and self._saved and asks_the_same(page.question, self._question) and again:
            self._told(still_asked(page.question, bench.settings))
        self._question = None
        self._say_all(
            question_lines(page, bench, moment, again=again, arrived=arrived, short=self._short)
        )
        if page.question is not None:
            answers = options(page.question)
            if again or answers != self._answers.get(page.question.text):
                self._told(answers)
            else:
                settings = None if self._short else self.desk.bench.settings
                self._told(usual_option(page.question, settings))
            self._answers[page.question.text] = answers

    def _hear(self, line: str, page: RoundPage) -> None:
        word, _, rest = line.strip().partition(" ")
        name = self._keys.get(word)
        if name is None and word[1:2].isalpha() and not word[0].isalnum():
            word, rest = word[0], line.strip()[1:]  # a sign and its words, with no space between
            name = self._keys.get(word)
        if self.desk.unsaved.entries and name != "quit":
            self._try_again()
            return
        answers = page.question.answers if page.question else ()
        if name and not any(answer.key == word for answer in answers):
            self._do(name, rest.strip(), page)
        elif not line:
            self._enter(page)
        elif page.question is None or page.asked is None:
            self._refuse(
                f"press Enter alone to go on; {self._keys_of('help')} lists what else can be typed"
            )
        else:
            self._answer(line, page)

    def _try_again(self) -> None:
        """What is not on disk goes first: the same answer given again would be said twice."""
        waiting = self._unsaved
        if self.desk.retry():
            self._told(f"Saved now: {literal(waiting)}")
        else:
            leave = self._keys_of("quit")
            self._refuse(
                f"first this must be saved: {waiting}. Enter tries again, {leave} leaves without it"
            )

    def _enter(self, page: RoundPage) -> None:
        if page.wash:
            self._outcome(self.desk.record(k.HandsWashed))
        elif page.done and self._walking.walk and self._outcome(self.desk.finish_round()):
            self._over = True

    def _answer(self, line: str, page: RoundPage) -> None:
        assert page.question is not None
        assert page.asked is not None
        given = read_answer(page.question, line)
        if isinstance(given, str):
            self._refuse(given)
        elif given.answer.prompt:
            self._go_on_typing(given, page.asked, given.answer.prompt)
        elif self._is_said_again(given, page.asked):
            where, undo = place_name(page.asked), self._keys_of("strike_last")
            self._refuse(recorded_lately(where, page.asked.check, given.answer, undo))
        else:
            self._question = page.question
            self._say(given, page.asked)

    def _is_said_again(self, given: TypedAnswer, due: Due) -> bool:
        """Whether the same was answered to the same check less than a minute ago, and nothing
        since."""
        if self._saved is None or given.answer.stays:
            return False
        last, before, at = self._saved
        return (
            (last.where, last.check) == (due.where, due.check)
            and (before.answer.key, before.amount) == (given.answer.key, given.amount)
            and self.desk.now() - at < A_MINUTE
        )

    def _go_on_typing(
        self, given: TypedAnswer, due: Due, prompt: Callable[[AnswerContext], Begun]
    ) -> None:
        """A line that is begun, and goes on by what is typed, or by an empty line as is likely."""
        begun = prompt(context_of(self.desk, due, given.amount, self.desk.now()))
        alone = f"Enter alone: {literal(begun.likely)}. " if begun.likely else ""
        self._told(f"{alone}Type on, after: {literal(begun.text)}")
        if typed := next(self._typed, "").strip() or begun.likely:
            self._phrase(f"{begun.text}{typed}")
        else:
            self._told("Nothing is recorded.")

    def _say(self, given: TypedAnswer, due: Due) -> None:
        led = led_to_all(self.desk, given.answer, [due], given.amount, self.desk.now())
        if isinstance(led, Question):
            self._say_further(led, due)
        elif isinstance(led, str):
            self._refuse(led)
        elif led:
            if self._outcome(self.desk.say_many(led, at=self._when)):
                self._saved = due, given, self.desk.now()
        else:
            begun = "".join(begin_host(context_of(self.desk, due, given.amount, self.desk.now())))
            self._refuse(f"{NOT_KNOWN}, as: {self._keys_of('prompt')} {begun}")

    def _say_further(self, question: Question, due: Due) -> None:
        """The one more thing that an answer wants told; an empty line leaves it."""
        self._told(f"{question.text} Enter alone leaves it.")
        self._told(options(question))
        line = next(self._typed, "").strip()
        if not line:
            self._told("Nothing is recorded.")
            return
        given = read_answer(question, line)
        if isinstance(given, str):
            self._refuse(given)
        else:
            self._say(given, due)

    def _keys_of(self, name: str) -> str:
        return next(key for key, one in self._keys.items() if one == name)

    def _do(self, name: str, rest: str, page: RoundPage) -> None:
        if name in ("skip_check", "skip_stop"):
            self._skip(rest, page, whole_stop=name == "skip_stop")
        elif name == "strike_last":
            self._saved = None
            self._outcome(self.desk.strike_last())
        elif name == "suspect":
            self._outcome(self._walking.suspect())
        elif name == "when":
            self._set_when(rest)
        elif name in ("note", "photo"):
            self._phrase(f"{self._walking.here} {name} {rest or self._more(f'{name}: ')}".strip())
        elif name == "one_by_one":
            if not self._walking.ask_one_by_one():
                self._refuse("here each check is asked by itself anyway")
        elif name == "to_worst":
            if not self._walking.go_to_worst():
                self._refuse(NOTHING_WORSE)
        elif name == "prompt":
            self._phrase(rest or self._more("what happened? "))
        elif name == "help":
            desk = self.desk
            if page.asked:
                self._say_all(why_spoken(desk.bench, page.asked, desk.moment(), desk.foresight))
            if page.question:
                self._told(options(page.question))
            self._say_all(command_lines(desk.bench.settings))
        else:
            self.leave()

    def _more(self, wanted: str) -> str:
        self._told(wanted.strip())
        return next(self._typed, "")

    def _skip(self, rest: str, page: RoundPage, *, whole_stop: bool) -> None:
        if page.asked is None:
            self._refuse("nothing is asked here")
            return
        question = handed(skip_question(page.asked), self.desk.bench.settings)
        named = tuple(answer for answer in question.answers if answer.label != OTHER_WORDS)
        reasons = {answer.key: answer.label for answer in named}
        if not rest:
            choices = options(replace(question, answers=named))
            rest = self._more(f"Why? {choices} Or other words.").strip()
        why = reasons.get(rest, rest)
        self._outcome(self._walking.skip(page.dues, why, whole_stop=whole_stop, at=self._when))

    def _set_when(self, rest: str) -> None:
        if self._when and not rest:
            self._when = None
            self._told("the next answers happened now")
            return
        typed = rest or self._more("when did it happen? -20m, 7:40")
        result = read_time(typed, now=self.desk.now(), zone=self.desk.zone)
        if not isinstance(result, datetime):
            self._refuse(result.message)
        elif result > self.desk.now():
            self._refuse("that is ahead of now; give a time that has passed, as -20m or 7:40")
        else:
            self._when = result
            at, key = clock(result, self.desk.now(), self.desk.zone), self._keys_of("when")
            self._told(f"the next answers happened at {at}; {key} again for now")
            if twice := which_of_two(typed, result, self.desk.now(), self.desk.zone):
                self._told(twice)

    def _phrase(self, text: str) -> None:
        self._say_all(f"Care: {words}" for words in cautions_of_line(self.desk, text))
        self._outcome(say_phrase(self.desk, text, self._when))

    def _outcome(self, outcome: Outcome) -> bool:
        if isinstance(outcome, Recorded):
            at = clock(outcome.entry.at, self.desk.now(), self.desk.zone)
            self._told(f"Saved, {at}: {literal(self.desk.told(outcome.entries))}")
            if advised := advice(outcome.entries, self.desk.bench):
                self._told(literal(advised))
            return True
        if isinstance(outcome, Refusal):
            self._refuse(outcome.line)
        else:
            self._told(f"NOT SAVED: {literal(outcome.line)}. Enter tries again.")
        return False

    def _refuse(self, line: str) -> None:
        self.refused += 1
        self._told(f"Not taken: {literal(line)}")
