"""Notes, photos, and lines crossed out."""

from typing import Annotated, Literal

from msgspec import Meta

from rounds.bench.folding.lots import container_for
from rounds.bench.measures import Measures
from rounds.bench.state import Bench, CardNote
from rounds.entries.base import Code, Count, Entry, Instar
from rounds.entries.slots import Slots
from rounds.entries.wording import comma_joined

MAX_NOTES = 3
MAX_BENCH_NOTES = 20
MAX_IMPORTS = 50


class Note(Entry, frozen=True, kw_only=True, tag="note"):
    """Anything worth a line."""

    text: Annotated[str, Meta(min_length=1, max_length=2000, description="the note")]
    container: str = ""
    brood: str = ""

    is_look = False
    only_here = True
    slots = Slots(text="text")

    def effect(self, bench: Bench) -> None:
        """A note stands on its container's card, else on the bench."""
        note = CardNote(self.at, self.by, self.text, self.id)
        if self.container:
            container = container_for(bench, self.container, self)
            container.notes.append(note)
            del container.notes[:-MAX_NOTES]
        else:
            bench.notes.append(note)
            del bench.notes[:-MAX_BENCH_NOTES]

    def wording(self, measures: Measures) -> str:
        return f"note '{self.text}'"


class Photo(Entry, frozen=True, kw_only=True, tag="photo"):
    """A picture taken, by its file name."""

    file: Annotated[str, Meta(min_length=1, max_length=400, description="file name")]
    container: str = ""
    brood: str = ""
    stage: Literal["", "egg", "larva", "pupa", "adult"] = ""
    instar: Instar | None = None
    digest: Annotated[str, Meta(max_length=64, description="SHA-256 of the file")] = ""

    slots = Slots(words=("file",))

    def effect(self, bench: Bench) -> None:
        if self.container:
            container = container_for(bench, self.container, self)
            container.photos.append(CardNote(self.at, self.by, self.file, self.id))
            del container.photos[:-MAX_NOTES]


class Imported(Entry, frozen=True, kw_only=True, tag="imported"):
    """An old table was taken in: from which file, how many of its lines, and how it was read, for
    the next time."""

    file: Annotated[str, Meta(min_length=1, max_length=200, description="file name")]
    lines: Annotated[Count, Meta(description="lines of the table")] = 0
    entries: Annotated[Count, Meta(description="what they became")] = 0
    columns: Annotated[
        tuple[str, ...], Meta(description="what each column was taken for, as column=field")
    ] = ()
    names: Annotated[
        tuple[str, ...], Meta(description="what words of the table mean, as word=meaning")
    ] = ()
    dates: Annotated[str, Meta(max_length=20, description="day first, month first, year first")] = (
        ""
    )
    after: Annotated[
        tuple[str, ...], Meta(description="the lines of earlier imports of it that this one knew")
    ] = ()
    said: Annotated[str, Meta(max_length=32, description="a digest of what it became")] = ""

    of_now = True
    slots = Slots(words=("file",))

    def effect(self, bench: Bench) -> None:
        """How a table was read is remembered; the newest of a file holds."""
        bench.imports.append(self)
        del bench.imports[:-MAX_IMPORTS]

    def wording(self, measures: Measures) -> str:
        return comma_joined(
            f"imported {self.file}", f"{self.lines} lines as {self.entries} entries"
        )


class CrossedOut(Entry, frozen=True, kw_only=True, tag="struck"):
    """An earlier line no longer counts; the original stays.

    Crossing out a cross-out brings the line back.
    """

    entry: Code
    why: Annotated[str, Meta(max_length=200, description="why")] = ""

    slots = Slots(words=("entry",), verbs=("strike", "cross out", "crossed out"))

    @property
    def crosses_out(self) -> str:
        return self.entry

    def wording(self, measures: Measures) -> str:
        return comma_joined(f"crossed out line {self.entry}", self.why)
