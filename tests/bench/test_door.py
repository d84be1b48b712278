"""Every refusal at the door: its one line, as the keeper reads it."""

from __future__ import annotations

import pytest

from rounds.app.desk import Desk, Refusal
from rounds.shell.log import say_phrase
from tests.bench.test_stories import BEGIN, tell
from tests.conftest import Clock

STOCKED = """
R4 stocked 12 L3 QUE-26-02/A
R7 stocked 4 L3 QUE-26-02/A
brood QUE-26-02/B mothers=QUE-26-02
R7 stocked 3 L3 QUE-26-02/B
E3 stocked 20 eggs QUE-26-02/A
L2 host in violet leaf
"""

REFUSALS = [
    # What was typed, and the line that answers it.
    ("X9 drank", "no container is called X9; there are E3, L2, R4, R7"),
    ("L2 drank -3", "number is -3; it cannot be below zero"),
    ("L2 drank 3", "3 adults drank, but L2 holds 1; give 1 or fewer"),
    ("E3 host seen limp", "E3 has no host plant in it; say what was put in, as: E3 host in violet leaf"),
    ("R4 drank", "R4 holds no adults to drink; it holds 12 larvae L3 of QUE-26-02/A"),
    ("R4 died 13", "13 out of R4, but it holds 12 larvae L3 of QUE-26-02/A; count again, or correct the stock"),
    ("R4 moved 13 to R7", "13 out of R4, but it holds 12 larvae L3 of QUE-26-02/A; count again, or correct the stock"),
    ("R4 moved 3 to R4", "R4 to R4 is no move; give another container"),
    ("R4 moved 3 to R7 4 arrived", "4 arrived but 3 left; no more can arrive than left"),
    ("R7 died 1", "R7 holds several broods; say which: brood=QUE-26-02/A, brood=QUE-26-02/B or not known"),
    ("R7 counted 6", "R7 holds 4 larvae L3 of QUE-26-02/A, 3 larvae L3 of QUE-26-02/B; say which were counted, as brood=QUE-26-02/A"),
    ("R4 split into R7,E3 5", "2 containers but 1 numbers; give one number for each, or say '5 each'"),
    ("R4 merged sources=R7 8", "8 arrived, but the sources hold 7; no more can arrive than left"),
    ("R4 merged sources=R4", "R4 cannot be merged into itself"),
    ("R4 settled found 1", "R4 has 0 not seen; settle no more than that"),
    ("E3 hatched 21", "21 hatched, but E3 holds 20 eggs on record; count first"),
    ("R4 moulted 1 L3", "none of R4 can have become L3; of the L3 there that moulted, as: R4 moulted 1 L4"),
    ("R4 pupated 13", "13 pupated, but R4 holds 12 larvae on record; count first"),
    ("R4 emerged 1", "1 emerged, but R4 holds 0 pupae on record; count first"),
    ("R4 stocked 2 L3 NO-26-02/A", "no brood is called NO-26-02/A; there are QUE-26-02, QUE-26-02/A, QUE-26-02/B; a new one begins with 'brood'"),
    ("brood QUE-26-02/A", "code QUE-26-02/A was used before and is never used again; choose the next free one"),
    ("brood ZZ-26-02/A mothers=ZZ-26-02", "no founder or brood is called ZZ-26-02; name parents that came in before"),
    ("L2 founder QUE-26-02, Boloria dia", "code QUE-26-02 was used before and is never used again; choose the next free one"),
    ("L2 set up laying", "L2 stands on the bench already; close it first, or choose another code"),
    ("H2 set up hatchlings inside=H9", "no container is called H9; there are E3, L2, R4, R7"),
    ("R4 changed inside=R4", "R4 cannot stand inside itself"),
    ("R4 closed", "R4 still holds 12 larvae L3 of QUE-26-02/A; move, release or settle them first"),
    ("R4 host out", "R4 has no host plant in it"),
    ("R4 frass trace lot=1", "R4 has no kept stems"),
    ("L2 searched 4 confirmed brood=QUE-26-02/A", "L2 has nothing seen that was not sure; say what was found, as: L2 searched 4"),
    ("L2 host out sorrel", "L2 has no such host; it has violet A"),
    ("L2 host in violet cut=+2h", "the host was cut after it was put in; give the cut an earlier time"),
    ("shelf Q barrier low", "no shelf is called Q; there is B"),
    ("barrier low shelf=Q", "no shelf is called Q; there is B"),
    ("E3 searched 3 brood=ZZ", "no brood is called ZZ; there are QUE-26-02, QUE-26-02/A, QUE-26-02/B; a new one begins with 'brood'"),
    ("room air", "give a temperature or a humidity, as 21.4C 46%"),
    ("room air 200C", "temperature is 200 C; it must be at most 60 C"),
    ("room air low=24 high=15", "lowest 24 C is above highest 15 C; swap them"),
    ("room air 21C 140%", "humidity is 140 %; it must be at most 100 %"),
    ("L2 leave be until=-1h", "'until' must be later than when it begins, as +24h"),
    ("L2 release by +2h code=ZZ", "no founder is called ZZ; there is QUE-26-02"),
    ("L2 paired QUE-26-02 with ZZ", "no brood is called ZZ; there are QUE-26-02, QUE-26-02/A, QUE-26-02/B; a new one begins with 'brood'"),
    ("plan drink amber_h=20 red_h=10", "late_h=20 is above urgent_h=10; late comes before urgent, urgent before in danger"),
    ("plan drnk every_h=10", "no check is called drnk; perhaps drink"),
    ("struck nothing", "no line has the id 'nothing'; the daybook shows the id of each"),
    ("round finished", "no round is open; start one first"),
    ("L2 drank 07:30", "that is ahead of now"),
]  # fmt: skip


@pytest.fixture
def stocked(desk: Desk, clock: Clock) -> Desk:
    """A desk at a small bench."""
    tell(desk, clock, BEGIN + STOCKED)
    return desk


@pytest.mark.parametrize(("typed", "line"), REFUSALS[:-1])
def test_each_refusal_is_one_line_that_says_what_would_be_right(
    stocked: Desk, typed: str, line: str
) -> None:
    before = stocked.bench.entries

    outcome = say_phrase(stocked, typed)

    assert isinstance(outcome, Refusal)
    assert outcome.line == line
    assert stocked.bench.entries == before


def test_a_time_that_is_still_to_come_is_refused(stocked: Desk, clock: Clock) -> None:
    ahead = clock.now.replace(hour=23)

    outcome = say_phrase(stocked, f"L2 drank {ahead:%Y-%m-%dT%H:%M:%S%z}")

    assert isinstance(outcome, Refusal)
    assert outcome.line.startswith("that is ahead of now (Wed 20 May 07:")
    assert outcome.line.endswith("give a time that has passed, as -20m or 7:40")


def test_a_time_before_the_container_stood_there_is_refused(stocked: Desk) -> None:
    outcome = say_phrase(stocked, "L2 drank yesterday 18:00")

    assert outcome == Refusal("L2 was set up later, on Wed 20 May 07:05; give a time after that")


def test_a_closed_container_says_so(stocked: Desk, clock: Clock) -> None:
    tell(stocked, clock, "P9 set up pupation\nP9 closed")

    outcome = say_phrase(stocked, "P9 misted")

    assert outcome == Refusal(
        "P9 was closed and washed; set it up again, or use another; there are E3, L2, R4, R7"
    )


def test_two_laptops_clocks_may_differ_by_a_little(stocked: Desk, clock: Clock) -> None:
    slightly_ahead = clock.now.replace(second=59)

    assert not isinstance(
        say_phrase(stocked, f"L2 drank {slightly_ahead:%Y-%m-%dT%H:%M:%S%z}"), Refusal
    )


@pytest.mark.parametrize("text", ["\x1b[2J", "[red]x[/]", "a\u202eb", "\x00", "<script>", "=1+1"])
def test_any_text_is_kept_as_it_is(stocked: Desk, text: str) -> None:
    from rounds.entries.registry import Note

    outcome = stocked.record(Note, container="L2", text=text)

    assert not isinstance(outcome, Refusal)
    assert stocked.bench.containers["L2"].notes[-1].text == text.strip()
