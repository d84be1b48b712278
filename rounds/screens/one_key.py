"""One key at a time: a key is let in once all that the key before it set off is done.

Keys can come faster than a slow machine draws: typed quickly, pasted, from a scanner. Without this the second of them would
go to where the keys belonged before the first was answered: twice to one question, or past a prompt that was just opened.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence

from textual import events
from textual.app import App
from textual.message_pump import MessagePump
from textual.timer import Timer

AT_ONCE = frozenset({"ctrl+c", "ctrl+z"})  # leaving never waits
LONGEST_WAIT_S = 2.0  # a key whose trace is lost, because what it went to is gone, holds up the next no longer


class OneKeyAtATime(App[None]):
    """An app whose keys wait for one another."""

    def __init__(self) -> None:
        super().__init__()
        self._waiting: deque[events.Key] = deque()
        self._in_hand = 0  # numbers the key that is being followed; none where even
        self._patience: Timer | None = None

    async def on_event(self, event: events.Event) -> None:
        """Let a fresh key wait for its turn; everything else goes its way."""
        if isinstance(event, events.Key) and not event.is_forwarded and event.key not in AT_ONCE:
            self._waiting.append(event)
            if self._in_hand % 2 == 0:
                await self._let_in()
            return
        await super().on_event(event)

    async def _let_in(self) -> None:
        event = self._waiting.popleft()
        target: MessagePump = self.focused or self.screen
        self._in_hand += 1
        self._patience = self.set_timer(LONGEST_WAIT_S, self._give_up)
        await super().on_event(event)
        # Twice through what got the key: once behind the key, once behind the messages that it posted to itself.
        way = [target, target, *_above(target), self]
        self._follow(self._in_hand, way)

    def _follow(self, number: int, way: Sequence[MessagePump]) -> None:
        """Go from queue to queue, each time behind what is already in it; then behind what the screen in front begins with."""
        for place, node in enumerate(way):
            if node.call_later(self._follow, number, way[place + 1 :]):
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
        if self._waiting and self._in_hand % 2 == 0:
            await self._let_in()


def _above(node: MessagePump) -> list[MessagePump]:
    """What a message bubbles through, up to the screen."""
    found: list[MessagePump] = []
    parent = node._parent
    while parent is not None and not isinstance(parent, App):
        found.append(parent)
        parent = parent._parent
    return found
