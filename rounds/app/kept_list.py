"""The list of a running bench as it was typed last and not recorded, kept on this machine."""

from __future__ import annotations

from functools import cached_property

from rounds.daybook import Daybook


class KeptList:
    """A list that waits to be recorded in a book.

    Args:
        book: the open daybook.
    """

    def __init__(self, book: Daybook) -> None:
        self._book = book

    @cached_property
    def text(self) -> str:
        """The list as it was typed; empty where there is none."""
        rows = self._book.listed.lines()
        return "\n".join(row.decode("utf-8", "replace") for row in rows)

    def keep(self, text: str) -> str:
        """Keep a list until it is recorded; an empty one is not kept.

        Returns:
            Why that cannot be, in words; empty where it is kept.
        """
        self.text, kept = text, self._book.listed
        try:
            kept.keep(text.encode().split(b"\n")) if text.strip() else kept.forget()
        except OSError as trouble:
            return trouble.strerror or str(trouble)
        return ""
