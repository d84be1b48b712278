"""How much more laying would settle whether one host gets twice the eggs of another."""

from __future__ import annotations


def settling_words(female_days: float) -> str:
    """``about 40 more female-days would settle a two-fold difference``; that there are enough where
    it is none.

    Args:
        female_days: that are wanted still.
    """
    if female_days < 0.5:
        return "there are enough female-days to settle a two-fold difference"
    return f"about {female_days:.0f} more female-days would settle a two-fold difference"
