"""What a page asks of the app that shows it, so that no page needs to know the app or another
page."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from typing import Protocol

from rounds.app.desk import Desk
from rounds.views.actions import Scope
from rounds.views.cells import Line


class PageHost(Protocol):
    """The app, as pages see it.

    Attributes:
        desk: the desk behind every page.
        monotonic: seconds of a clock that never goes back.
        typed: lines typed at any prompt, oldest first.
        answered_lately: by place, check, key and number, when that key answered last, on both
            clocks.
    """

    desk: Desk
    monotonic: Callable[[], float]
    typed: list[str]
    answered_lately: dict[tuple[str, ...], tuple[float, datetime]]

    def open_page(self, name: str, at: str = "") -> None:
        """Open a page over the bench, by its name in the registry; at a container, where it shows
        containers."""

    def open_help(
        self,
        scopes: Sequence[Scope],
        about: Sequence[Line] = (),
        only: Mapping[str, str] | None = None,
    ) -> None:
        """Open the help; first what is highlighted or asked; ``only`` as ``Page.only_keys``."""

    def open_list(self) -> None:
        """Open the page where a running bench is listed."""

    def open_import(self, file: str) -> None:
        """Open the page where an old table comes in."""

    def open_first_start(self) -> None:
        """Ask the questions that lead to the first container."""

    def show_demo(self) -> None:
        """Leave for the invented bench."""

    def open_search(self) -> None:
        """Open the search."""

    def open_round(self, minutes: int = 0) -> None:
        """Go on with the open round, or begin one; with minutes first say what it takes and leaves
        out."""

    def begin_round(self, minutes: int) -> None:
        """Go on with the open round, or begin one that takes so many minutes, 0 as long as it
        takes."""

    def leave_round(self, words: str = "") -> None:
        """Back to the bench, with what is to be said of the round there."""

    def show_bench(self) -> None:
        """Back to the bench."""

    def show_container(self, code: str) -> None:
        """The bench with a container highlighted."""

    def next_theme(self) -> None:
        """The next colours."""

    def leave(self) -> None:
        """Leave; where something is not on disk, ask first."""
