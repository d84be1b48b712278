"""A new book for each story."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from pathlib import Path
from types import FrameType

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def story(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Story:
    """One keeper at an empty book on 1 May 2027, 07:05."""
    return Story(tmp_path / "book", monkeypatch).at("2027-05-01 07:05")


@pytest.fixture
def four_females(story: Story) -> Story:
    """Four females in one cup, two of them marked."""
    tell(
        story,
        """
        K3 set up laying
        K3 founder W1 Boloria dia female mark=red
        K3 founder W2 Boloria dia female mark=blue
        K3 founder W3 Boloria dia female
        K3 founder W4 Boloria dia female
        K3 host in Viola hirta
        """,
    )
    return story.later(hours=12)


A_HANG_S = 60  # nothing in these stories takes a second; only what waits for ever comes to that


@pytest.fixture
def hangs_are_failures() -> Iterator[None]:
    """Whatever waits for a pipe or a lock fails instead."""

    def ring(number: int, frame: FrameType | None) -> None:
        raise TimeoutError("it hangs")

    former = signal.signal(signal.SIGALRM, ring)
    signal.alarm(A_HANG_S)
    yield
    signal.alarm(0)
    signal.signal(signal.SIGALRM, former)
