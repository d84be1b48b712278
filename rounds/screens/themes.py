"""The colours: dark, light, high contrast, and dim red for the moth shelf at night."""

from __future__ import annotations

from textual.theme import Theme

THEMES: tuple[Theme, ...] = (
    Theme(
        name="dark",
        primary="#8ecae6",
        secondary="#a8b5c0",
        accent="#8ecae6",
        foreground="#e6e6e0",
        background="#14181b",
        surface="#1d2327",
        panel="#2b3339",
        success="#a3c9a8",
        warning="#f2c14e",
        error="#ff7b72",
        dark=True,
    ),
    Theme(
        name="light",
        primary="#0b5cad",
        secondary="#4d5660",
        accent="#0b5cad",
        foreground="#1b1f23",
        background="#fbfaf6",
        surface="#f0eee6",
        panel="#dcd9cd",
        success="#2b6a33",
        warning="#8a5a00",
        error="#b3150c",
        dark=False,
    ),
    Theme(
        name="contrast",
        primary="#ffffff",
        secondary="#ffffff",
        accent="#ffff00",
        foreground="#ffffff",
        background="#000000",
        surface="#000000",
        panel="#00449e",
        success="#ffffff",
        warning="#ffff00",
        error="#ffb3ad",
        dark=True,
        variables={"text-muted": "#ffffff"},
    ),
    Theme(
        name="red",
        primary="#d04040",
        secondary="#8a2a2a",
        accent="#d04040",
        foreground="#a83232",
        background="#000000",
        surface="#100000",
        panel="#300808",
        success="#a83232",
        warning="#d04040",
        error="#ff5050",
        dark=True,
        variables={"text-muted": "#7a2424"},
    ),
)
NAMES = tuple(theme.name for theme in THEMES)
