"""Lines that count together or not at all, such as those of an import: what of them is here.

Each names the set that it belongs to, and how many lines that has, so that a part that a
synchroniser brought, or a kill left, is known for one.
"""

from __future__ import annotations

from collections.abc import Collection, Container, Iterable, Iterator, Sequence

from rounds.bench.old_records import tag_of
from rounds.daybook.ids import tag_for
from rounds.entries.base import Entry
from rounds.entries.registry import CrossedOut, Imported


def mark(name: str, lines: int) -> str:
    """What each line of a set says of it."""
    return f"{name}/{lines}"


def size_of(part_of: str) -> int:
    """How many lines a set has, by its mark; 0 where it tells none, so that each counts alone."""
    number = part_of.rpartition("/")[2]
    return int(number) if number.isascii() and number.isdigit() and len(number) < 10 else 0


class Partial:
    """The lines of sets that are not whole yet.

    Args:
        entries: those that were met so far.
    """

    def __init__(self, entries: Iterable[Entry] = ()) -> None:
        self._sets: dict[str, dict[str, Entry]] = {}
        for entry in entries:
            self._sets.setdefault(entry.part_of, {})[entry.id] = entry

    def entries(self) -> list[Entry]:
        """All of them."""
        return [entry for lines in self._sets.values() for entry in lines.values()]

    def take(self, entries: Sequence[Entry]) -> list[Entry]:
        """Of what was read: what counts, with all of each set that is whole by it."""
        whole = [entry for entry in entries if not size_of(entry.part_of)]
        if len(whole) == len(entries):
            return whole
        touched: dict[str, None] = {}
        for entry in entries:
            if size_of(entry.part_of):
                self._sets.setdefault(entry.part_of, {})[entry.id] = entry
                touched[entry.part_of] = None
        for name in touched:
            if len(self._sets[name]) >= size_of(name):
                whole += self._sets.pop(name).values()
        return whole

    def missed(
        self, imports: Sequence[Imported], struck: Container[str], strikes: Container[str]
    ) -> Iterator[list[Entry]]:
        """The lines of each set whose others are missed.

        That is none whose lines count otherwise, or need count no more: for the whole stands
        elsewhere, or the table came in again since, or all of it is crossed out.

        Args:
            imports: that count.
            struck: ids of entries that do not count.
            strikes: ids of all that cross out something.
        """
        known = {one.id for one in imports}
        for part_of, lines in self._sets.items():
            name = part_of.rpartition("/")[0]
            if name in known or name in struck or name in strikes:
                continue
            if not _is_over(name, lines.values(), imports, struck):
                yield list(lines.values())


def _is_over(
    name: str, lines: Collection[Entry], imports: Sequence[Imported], struck: Container[str]
) -> bool:
    tags = {tag_of(one.id) for one in lines} | {
        tag_for(one.file.casefold()) for one in lines if isinstance(one, Imported)
    }
    begun = max(one.logged for one in lines), name
    since = (one for one in imports if (one.logged, one.id) > begun)
    if any(tag_for(one.file.casefold()) in tags for one in since):
        return True
    return all(
        one.id in struck or (isinstance(one, CrossedOut) and one.entry in struck) for one in lines
    )


def missed_words(lines: Sequence[Entry]) -> str:
    """That of a set so many lines are here, and what can be done."""
    file = next((one.file for one in lines if isinstance(one, Imported)), "")
    here = f"{len(lines)} of {size_of(lines[0].part_of)} lines are here"
    until = "nothing of it counts until the rest comes"
    if not file and all(isinstance(one, CrossedOut) for one in lines):
        return f"a crossing out of many lines is not whole: {here}; {until}, or it is said again"
    what = f"the import of {file}" if file else "an import"
    from shlex import quote

    again = f"rounds import {quote(file)}" if file else "rounds import"
    return (
        f"{what} is not whole: {here}; {until}, or the table is taken in again ({again}); --undo"
        " gives it up"
    )
