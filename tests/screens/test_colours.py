"""Colours: every text stands out enough, and no state is told by colour alone, also for eyes that see fewer colours.

Contrast: relative luminance and ratio after W3C, Web Content Accessibility Guidelines 2.2, 'relative luminance' and
'contrast ratio'; 4.5 is its level AA for text (success criterion 1.4.3).
Fewer colours: matrices in linear RGB after Machado, Oliveira and Fernandes 2009, A physiologically-based model for
simulation of color vision deficiency, IEEE Transactions on Visualization and Computer Graphics 15:1291-1298,
doi:10.1109/TVCG.2009.113, severity 1.0 (values from memory; each row of such a matrix sums to 1, which is tested).
"""

from __future__ import annotations

import re
from html import unescape
from itertools import combinations
from typing import get_args

import pytest
from textual.color import Color

from rounds.app.desk import Desk
from rounds.screens.app import RoundsApp
from rounds.screens.lines import STYLE_OF_TONE
from rounds.screens.rowlist import RowList
from rounds.screens.themes import THEMES
from rounds.views.cells import Cell, Column, Row, Tone
from rounds.views.states import SIGNS, STATES, TONES
from tests.screens.conftest import Opened
from tests.screens.pictures import FOLDER

LEAST, QUIET = 4.5, 3.0  # what is read; what only stands by
QUIET_IN_RED = "#c00000"  # that role of the red theme
FEWER_COLOURS = {
    "no red cones": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "no green cones": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "no blue cones": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}
RGB = tuple[float, float, float]


def linear(value: float) -> float:
    """One channel, 0 to 1, without its gamma (sRGB, IEC 61966-2-1, as WCAG writes it)."""
    return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4


def luminance(rgb: RGB) -> float:
    """Relative luminance of a linear colour."""
    return 0.2126 * rgb[0] + 0.7152 * rgb[1] + 0.0722 * rgb[2]


def contrast(one: RGB, other: RGB) -> float:
    """Contrast ratio of two linear colours, 1 to 21."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def of_hex(text: str) -> RGB:
    """A colour as #rrggbb, in linear RGB."""
    red, green, blue = (int(text[place : place + 2], 16) / 255 for place in (1, 3, 5))
    return linear(red), linear(green), linear(blue)


def seen_by(rgb: RGB, matrix: tuple[RGB, RGB, RGB]) -> RGB:
    """A linear colour as eyes with fewer kinds of cones see it."""
    red, green, blue = (
        min(1.0, max(0.0, sum(a * b for a, b in zip(row, rgb, strict=True)))) for row in matrix
    )
    return red, green, blue


def test_the_formulas_give_the_values_of_their_sources() -> None:
    # WCAG: black on white is 21 to 1; #777777 on white is 4.48, the best known near miss of level AA.
    assert contrast(of_hex("#000000"), of_hex("#ffffff")) == pytest.approx(21)
    assert contrast(of_hex("#777777"), of_hex("#ffffff")) == pytest.approx(4.48, abs=0.005)
    assert contrast(of_hex("#767676"), of_hex("#ffffff")) >= LEAST
    # Grey stays grey for every eye: the rows of each matrix sum to 1.
    for matrix in FEWER_COLOURS.values():
        assert seen_by((0.5, 0.5, 0.5), matrix) == pytest.approx((0.5, 0.5, 0.5), abs=1e-5)
    red, green = of_hex("#d04040"), of_hex("#5f8a3c")
    assert contrast(red, green) < 1.5  # told apart by hue alone, which is what must never be needed


def eyes(theme: str) -> list[tuple[str, tuple[RGB, RGB, RGB]]]:
    """Whose eyes a theme is for: red on black, for the night, is dark by nature where there are no red cones."""
    return [] if theme == "red" else list(FEWER_COLOURS.items())


COLOURED = re.compile(r"\.terminal-\d+-(r\d+) \{ fill: (#[0-9a-f]{6})")


def drawn(svg: str) -> tuple[set[str], str]:
    """The colours of all text in a picture, and its ground."""
    fills = dict(COLOURED.findall(svg))
    pieces = re.findall(r'<text class="terminal-\d+-(r\d+)"[^>]*>([^<]*)</text>', svg)
    used = {
        name for name, text in pieces if re.search(r"[A-Za-z0-9]", unescape(text))
    }  # rules and frames say nothing
    ground = re.findall(r'<rect fill="(#[0-9a-f]{6})"', svg)
    return {fills[name] for name in used if name in fills}, max(set(ground), key=ground.count)


@pytest.mark.parametrize("picture", sorted(path.name for path in FOLDER.glob("*.svg")))
def test_all_text_of_every_picture_stands_out_for_every_eye(picture: str) -> None:
    svg = (FOLDER / picture).read_text("utf-8")
    inks, ground = drawn(svg)
    assert inks
    text = {
        ink for ink in inks if contrast(of_hex(ink), of_hex(ground)) > 2
    }  # what stands on a ground of its own is below
    for ink in text:
        # Quiet text in red is a step darker than the rest: pure red on black has no room for more.
        least = QUIET if "-red-" in picture and ink == QUIET_IN_RED else LEAST
        assert contrast(of_hex(ink), of_hex(ground)) >= least, ink
        for name, matrix in eyes("red" if "-red-" in picture else ""):
            assert (
                contrast(seen_by(of_hex(ink), matrix), seen_by(of_hex(ground), matrix)) >= least
            ), (ink, name)


async def rendered(app: RoundsApp) -> dict[Tone, tuple[Color, Color]]:
    """Every tone as it comes out in a list: ink and ground, plain and under the highlight."""
    rows = app.screen.query_one(RowList)
    tones: list[Tone] = list(get_args(Tone))
    rows.show((Column("one", 10),), tuple(Row(tone, (Cell(tone, tone),)) for tone in tones))
    found = {}
    for place, tone in enumerate(tones):
        rows.cursor = place
        strip = rows.render_line(place + 1 - rows.scroll_offset.y)
        segment = next(one for one in strip if one.text.strip() == tone)
        assert segment.style is not None
        assert segment.style.color is not None
        assert segment.style.bgcolor is not None
        found[tone] = (
            Color.from_rich_color(segment.style.color),
            Color.from_rich_color(segment.style.bgcolor),
        )
    return found


@pytest.mark.parametrize("theme", [theme.name for theme in THEMES])
async def test_every_tone_stands_out_in_every_theme_also_under_the_highlight(
    demo_desk: Desk, opened: Opened, theme: str
) -> None:
    async with opened(demo_desk) as (app, pilot):
        app.theme = theme
        await pilot.pause()
        for tone, (ink, ground) in (await rendered(app)).items():
            one, other = of_hex(ink.hex6.lower()), of_hex(ground.hex6.lower())
            least = QUIET if tone == "quiet" else LEAST
            assert contrast(one, other) >= least, (theme, tone, ink.hex6, ground.hex6)
            for name, matrix in eyes(theme):
                assert contrast(seen_by(one, matrix), seen_by(other, matrix)) >= least, (
                    theme,
                    tone,
                    name,
                )


def test_states_differ_in_words_as_well() -> None:
    assert set(TONES) == set(SIGNS) == set(STATES)
    assert len({TONES[state] for state in STATES if state != "do not disturb"}) == len(STATES) - 1
    for one, other in combinations(SIGNS.values(), 2):
        assert one != other


def test_every_tone_has_a_style() -> None:
    assert set(STYLE_OF_TONE) == set(get_args(Tone))
