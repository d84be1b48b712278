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
        primary="#ff6a6a",
        secondary="#d44a4a",
        accent="#ff6a6a",
        foreground="#e05050",
        background="#000000",
        surface="#100000",
        panel="#1c0000",
        success="#e05050",
        warning="#ff6a6a",
        error="#ff8080",
        dark=True,
        variables={"text-muted": "#d44a4a"},
    ),
)
NAMES = tuple(theme.name for theme in THEMES)
