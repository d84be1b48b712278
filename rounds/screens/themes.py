"""The colours: dark, light, high contrast, and dim red for the moth shelf at night.

Fill does the work that hue cannot: none, half, full. Late is letters, urgent a half fill, in danger
a full fill; so the three stay apart for eyes that see fewer colours. In the red theme nothing but
the red channel is on: there, and without any colours, urgent has a line under it.
"""

from __future__ import annotations

from functools import cache
from typing import Any

from msgspec import Struct
from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.filter import LineFilter
from textual.theme import Theme

from rounds.views.settings import THEME_NAMES
from rounds.word_tables import table_rows


class Roles(Struct, frozen=True):
    """What each colour of a theme is for."""

    dark: bool
    background: str
    row: str  # of the cursor
    text: str
    quiet: str
    due: str  # keys too
    late: str
    saved: str
    urgent: tuple[str, str]  # letters on fill
    danger: tuple[str, str]


def _colours(cell: str) -> Any:
    return tuple(cell.split()) if " " in cell else cell


# For each role in its order its colour in dark, light, contrast and red, as the names are ordered.
_COLOURS = """
#14181b | #fbfaf6 | #000000 | #000000
#2b3339 | #e6e3d8 | #00305f | #140000
#e6e6e0 | #1b1f23 | #ffffff | #f00000
#97a1a8 | #5a636c | #c8c8c8 | #c00000
#8ecae6 | #0b5cad | #9fd8ff | #f00000
#f2c14e | #7d5200 | #ffff00 | #ff0000
#a3c9a8 | #2b6a33 | #ffffff | #f00000
#ffd2a6 #6b3d12 | #1b1f23 #ffc07a | #ffff00 #5c3a00 | #ff0000 #300000
#14181b #ffb3ad | #ffffff #8f0f08 | #000000 #ffffff | #000000 #ff0000
"""
ROLES: dict[str, Roles] = {
    name: Roles(name != "light", *map(_colours, colours))
    for name, colours in zip(THEME_NAMES, zip(*table_rows(_COLOURS), strict=True), strict=True)
}


def _theme(name: str, roles: Roles) -> Theme:
    return Theme(
        name=name,
        primary=roles.due,
        secondary=roles.quiet,
        accent=roles.due,
        foreground=roles.text,
        background=roles.background,
        surface=roles.row,
        panel=roles.row,
        success=roles.saved,
        warning=roles.late,
        error=roles.danger[1],
        dark=roles.dark,
        variables={
            "text-muted": roles.quiet,
            "urgent-ink": roles.urgent[0],
            "urgent-fill": roles.urgent[1],
            "danger-ink": roles.danger[0],
            "danger-fill": roles.danger[1],
            "input-cursor-background": roles.text,
            "input-cursor-foreground": roles.background,
            "scrollbar": roles.quiet,
            "scrollbar-background": roles.background,
            "border": roles.quiet,
        },
    )


THEMES: tuple[Theme, ...] = tuple(_theme(name, roles) for name, roles in ROLES.items())
URGENT_FILLS = frozenset(roles.urgent[1] for roles in ROLES.values())
# a ground that has that contrast to the screen's own is drawn in reverse where there are no colours
STANDS_OUT = 3.0


class Uncoloured(LineFilter):
    """What is drawn without any colour (NO_COLOR): bold, underlined, and reverse for what stands on
    a full fill."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The same segments with their weight alone."""
        ground = background.hex6
        return [one if one.control else _uncoloured(one, ground) for one in segments]


def _uncoloured(one: Segment, ground: str) -> Segment:
    if one.style is None:
        return one
    return Segment(one.text, _weight(one.style, ground, is_word=bool(one.text.strip())))


@cache
def _weight(style: Style, ground: str, *, is_word: bool) -> Style:
    fill = Color.from_rich_color(style.bgcolor) if style.bgcolor is not None else None
    filled = fill is not None and _contrast(fill, Color.parse(ground)) >= STANDS_OUT
    urgent = fill is not None and fill.hex6.lower() in URGENT_FILLS
    return Style(
        bold=style.bold,
        underline=is_word and (urgent or bool(style.underline)),
        reverse=filled != bool(style.reverse),
    )


def _contrast(one: Color, other: Color) -> float:
    """Contrast ratio, 1 to 21, after W3C, Web Content Accessibility Guidelines 2.1."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(color: Color) -> float:
    """Relative luminance, 0 to 1, as there."""
    linear = [
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
        for part in color.normalized
    ]
    return sum(share * part for share, part in zip((0.2126, 0.7152, 0.0722), linear, strict=True))
