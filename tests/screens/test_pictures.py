"""The screens look as they did when their pictures were last looked at.

Where a change is meant: python -m tests.screens.pictures, look at them, commit them.
"""

from __future__ import annotations

import re

import pytest

from tests.screens.pictures import FOLDER, PICTURES, Picture, taken


def words(svg: str) -> list[str]:
    """The text of a picture with the colour class of each piece."""
    return re.findall(r'<text class="terminal-\d+-(r\d+)"[^>]*>([^<]*)</text>', svg)  # type: ignore[return-value]


@pytest.mark.parametrize("picture", PICTURES, ids=lambda picture: picture.name)
async def test_a_screen_looks_like_its_picture(picture: Picture) -> None:
    kept = (FOLDER / f"{picture.name}.svg").read_text(encoding="utf-8")

    assert words(await taken(picture)) == words(kept)


def test_no_picture_is_left_over() -> None:
    assert {path.stem for path in FOLDER.glob("*.svg")} == {picture.name for picture in PICTURES}
