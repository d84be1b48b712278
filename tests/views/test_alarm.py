"""The bell: once where a check turns late, twice where one turns red, and never for what is known."""

from __future__ import annotations

from rounds.app.desk import Desk
from rounds.app.prompt_line import say_phrase
from rounds.entries import registry as k
from rounds.views.alarm import Alarm
from tests.conftest import Clock
from tests.screens.conftest import Opened, opened
from tests.screens.test_bench_screen import on_disk

assert opened


def test_it_rings_once_for_late_twice_for_red_and_not_again(desk: Desk, clock: Clock) -> None:
    for line in ("L2 set up laying", "L2 founder BOL-26-01, Boloria dia female", "L2 drank"):
        say_phrase(desk, line)
    alarm = Alarm()

    def bells() -> int:
        return alarm.bells([due for due in desk.dues() if due.check == "drink"], desk.now())

    # Starter plan for a warm laying female: due 12 h, late 14 h, red 24 h after she drank (rounds/checks/rules.py).
    heard = []
    for hours in (0, 13, 1.5, 0.5, 9.5, 0.5):
        clock.on(hours=hours)
        heard.append(bells())
    assert heard == [0, 0, 1, 0, 2, 0]
    say_phrase(desk, "L2 drank")
    assert bells() == 0
    clock.on(hours=15)
    assert bells() == 1


def test_what_was_late_before_the_first_look_is_not_rung(demo_desk: Desk, clock: Clock) -> None:
    clock.on(hours=30)
    assert Alarm().bells(demo_desk.dues(), demo_desk.now()) == 0


async def test_it_is_off_until_switched_on(demo_desk: Desk, opened: Opened, clock: Clock) -> None:
    async with opened(demo_desk) as (app, pilot):
        rung: list[int] = []
        app.bell = lambda: rung.append(1)  # type: ignore[method-assign]
        app.changed()
        clock.on(hours=30)
        app.changed()
        await pilot.pause(0.1)
        assert rung == []
        demo_desk.record(k.Setting, name="bell", value="on")
        clock.on(hours=30)
        app.changed()
        await pilot.pause(0.8)
        assert len(rung) == 2
        assert on_disk(demo_desk)[-1]["name"] == "bell"
