"""The codes of founders and broods, and of animals of which nobody knows to which of several they belong."""

from __future__ import annotations

from collections.abc import Iterable

OR = " or "  # joins the codes of animals that nobody can tell apart any more; no code has a space


def members(code: str) -> tuple[str, ...]:
    """The founders or broods that a code names: one, or several where nobody knows which of them."""
    return tuple(code.split(OR)) if OR in code else (code,)


def one_of(codes: Iterable[str]) -> str:
    """The code of animals of which nobody knows to which of these founders or broods they belong."""
    return OR.join(sorted({member for code in codes for member in members(code)}))
