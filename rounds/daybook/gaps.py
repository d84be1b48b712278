"""What of a book cannot be read now: as long as there is any, nothing that is worked out from it
may pass for the whole."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from rounds.daybook.lines import NEWER, LinesRead, Problem, newer_words, still_broken


def lacking_words(code: str) -> str:
    """That lines speak of a container or an animal that no line gave."""
    return (
        f"lines speak of {code}, and none that is here says how {code} came: a file of another"
        " laptop may not have come yet; if none will, set it up, or cross these lines out"
    )


class Gaps:
    """The gaps as they stand, look by look.

    Args:
        folder: the book.
        known: problems met while the bench was recalled; of these the damaged lines are kept, for
            files are looked at again.
    """

    def __init__(self, folder: Path, known: Iterable[Problem] = ()) -> None:
        self._folder = folder
        self.lines = [problem for problem in known if problem.gap and problem.number]
        self._files: list[Problem] = []
        self._open = still_broken(folder, self.lines)

    def looked(self, batch: LinesRead) -> None:
        """Take in what a look at the files met; what it does not tell of a file again is over."""
        lines = [
            *(problem for problem in self.lines if problem.file not in batch.changed),
            *batch.problems,
        ]
        self.lines = list(dict.fromkeys(line for line in lines if line.gap and line.number))
        self._files = [one for one in batch.problems if one.gap and not one.number]
        if batch.lines or batch.problems or batch.changed:
            self._open = still_broken(self._folder, self.lines)

    def met(self, odd: Iterable[Problem]) -> None:
        """Lines that could be read from their files and are no entries."""
        self.lines = list(dict.fromkeys((*self.lines, *odd)))
        self._open = still_broken(self._folder, self.lines)

    def told(self) -> list[str]:
        """All of them in words, whole files first."""
        newer = sum(problem.text == NEWER for problem in self._open)
        words = [newer_words(newer)] if newer else []
        return [*words, *(str(one) for one in (*self._files, *self._open) if one.text != NEWER)]
