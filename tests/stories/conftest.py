"""A new book for each story."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story


@pytest.fixture
def story(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Story:
    """One keeper at an empty book on 1 May 2027, 07:05."""
    return Story(tmp_path / "book", monkeypatch).at("2027-05-01 07:05")
