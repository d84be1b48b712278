"""One key at a time: a key is let in once all that the key before it set off is done, and a key
that is held is one press.

A terminal tells no key let go: a held key is a stream of the same key, begun after the keyboard's
own delay. A repeat within half a second, or in such a stream, goes nowhere but to a line that is
typed, to a number, and to the arrows.

Keys can come faster than a slow machine draws: typed quickly, pasted, from a scanner. Without this
the second of them would go to where the keys belonged before the first was answered: twice to one
question, or past a prompt that was just opened.
"""

from __future__ import annotations

import time
from collections import deque
from collections.abc import Callable, Sequence
from functools import partial
from typing import Protocol, runtime_checkable

from textual import events
from textual.app import App
from textual.message_pump import MessagePump
from textual.timer import Timer
from textual.widgets import Input

ONE_PRESS_S = 0.5  # the same key again within this is the same press
# a keyboard may begin to repeat a held key as late as this after it was pressed
LONGEST_DELAY_S = 0.8
BETWEEN_REPEATS_S = 0.15  # a held key comes again within this
MOVING = frozenset({"up", "down", "left", "right", "pageup", "pagedown", "home", "end"})
AT_ONCE = frozenset({"ctrl+c", "ctrl+z"})  # leaving never waits
# a key whose trace is lost, because what it went to is gone, holds up the next no longer
LONGEST_WAIT_S = 2.0


@runtime_checkable
class GathersSigns(Protocol):
    """What has the keys and may gather signs, as the digits of a number, in which the same may come
    twice."""

    def gathers(self, event: events.Key) -> bool:
        """Whether this key is such a sign."""
        ...


class OneKeyAtATime(App[None]):
    """An app whose keys wait for one another.

    Args:
        monotonic: seconds of a clock that never goes back.
    """

    def __init__(self, monotonic: Callable[[], float] = time.monotonic) -> None:
        super().__init__()
        self.monotonic = monotonic
        # with whether it may be the same press as before
        self._waiting: deque[tuple[events.Key, bool]] = deque()
        self._begun = False  # a key that comes before the first page has its turn then
        self._in_hand = 0  # numbers the key that is being followed; none where even
        self._patience: Timer | None = None
        self._last_key, self._last_at = "", 0.0
        self.pressed = 0.0  # when the last key came, by the system's own steady clock
        self._maybe_held: events.Key | None = None  # may be the first repeat of a held key

    async def on_event(self, event: events.Event) -> None:
        """Let a fresh key wait for its turn; everything else goes its way."""
        if isinstance(event, events.Key) and not event.is_forwarded and event.key not in AT_ONCE:
            self._arrived(event)
            await self._next()
            return
        await super().on_event(event)

    def _arrived(self, event: events.Key) -> None:
        self.pressed = time.monotonic()
        now = self.monotonic()
        since = now - self._last_at if event.key == self._last_key else LONGEST_DELAY_S
        self._last_key, self._last_at = event.key, now
        is_repeat = since < ONE_PRESS_S
        if self._maybe_held is not None:
            earlier, self._maybe_held = self._maybe_held, None
            if not is_repeat:
                self._waiting.append((earlier, False))
        may_be_held = self._begun and not is_repeat and since < LONGEST_DELAY_S
        if may_be_held and self._goes_nowhere(self.focused or self.screen, event):
            self._maybe_held = event
            self.set_timer(BETWEEN_REPEATS_S, partial(self._is_no_repeat, event))
            return
        self._waiting.append((event, is_repeat))

    async def _is_no_repeat(self, event: events.Key) -> None:
        """No stream followed: the key was pressed a second time."""
        if self._maybe_held is event:
            self._maybe_held = None
            self._waiting.append((event, False))
            await self._next()

    async def begin_keys(self, *, forgets: bool = False) -> None:
        """The first page is there, and has the keys that came before it, unless it forgets them."""
        if forgets:
            self._waiting.clear()
        self._begun = True
        await self._next()

    def before_key(self, key: str) -> None:
        """What a fresh key brings about before it is heard."""

    def one_press(self, event: events.Key) -> None:
        """What a repeat brings about that is the same press as before."""

    def _goes_nowhere(self, target: MessagePump, event: events.Key) -> bool:
        """Whether a repeat of the key before is no press of its own where the keys go now."""
        may_repeat = MOVING | getattr(self.screen, "MAY_REPEAT", frozenset())
        if event.key in may_repeat or isinstance(target, Input):
            return False
        return not (isinstance(target, GathersSigns) and target.gathers(event))

    async def _let_in(self) -> None:
        event, is_repeat = self._waiting.popleft()
        target: MessagePump = self.focused or self.screen
        if is_repeat and self._goes_nowhere(target, event):
            self.one_press(event)
            if self._waiting:
                self.call_later(self._next)
            return
        self.before_key(event.key)
        self._in_hand += 1
        self._patience = self.set_timer(LONGEST_WAIT_S, self._give_up)
        await super().on_event(event)
        # Twice through what got the key: once behind the key, once behind the messages that it
        # posted to itself.
        way = [target, target, *_above(target), self]
        self._follow(self._in_hand, way)

    def _follow(self, number: int, way: Sequence[MessagePump]) -> None:
        """Go from queue to queue, each time behind what is already in it; then behind what the
        screen in front begins with."""
        for position, node in enumerate(way):
            if node.call_later(self._follow, number, way[position + 1 :]):
                return
        if not self.screen.call_later(self._done, number):
            self.call_later(self._done, number)

    def _give_up(self) -> None:
        self.call_later(self._done, self._in_hand)

    async def _done(self, number: int) -> None:
        if number != self._in_hand or number % 2 == 0:
            return
        self._in_hand += 1
        if self._patience is not None:
            self._patience.stop()
        if self._waiting:
            self.call_later(self._next)

    async def _next(self) -> None:
        if self._begun and self._waiting and self._in_hand % 2 == 0:
            await self._let_in()


def _above(node: MessagePump) -> list[MessagePump]:
    """What a message bubbles through, up to the screen."""
    message_pumps: list[MessagePump] = []
    parent = node._parent
    while parent is not None and not isinstance(parent, App):
        message_pumps.append(parent)
        parent = parent._parent
    return message_pumps
