"""TinyDB over append-only JSON Lines: its queries work, and an insert costs one line and one flush.

TinyDB's own storage rewrites the whole file on every insert. Here the table appends, and what would
change or take away a line is refused: a line is struck by another line.
"""

import contextlib
import errno
import json
import os
import stat
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, NoReturn

import msgspec
from tinydb import Storage, TinyDB
from tinydb.table import Document, Table

from rounds.daybook.lines import Problem, entry_files, read_on
from rounds.daybook.machine_memory import remembered_at
from rounds.daybook.safe_files import NOT_DECODED, flush_folder, is_left, make_below
from rounds.daybook.systems import NEW, PLAINLY, read_at
from rounds.daybook.writer import OwnFile, Writer, announced, own_of, settled

ASIDE = "aside"
MAX_NAMES = 5  # tried one after the other, where files are taken away while they are written
OTHER_TABLE = f"a daybook has one table, {TinyDB.default_table_name}; it is not called {{}}"
# why a file that is to be written is gone, or another's
NOT_OURS = (errno.ENOENT, errno.EEXIST, errno.ELOOP, errno.ENXIO, errno.EISDIR)
POINTER = "a daybook only grows: to take a line back, cross it out"


class AppendOnly(TypeError):
    """Something tried to change or remove a line in place."""


class NotSaved(OSError):
    """A line could not be written; nothing of it counts as said."""


class _Logged(msgspec.Struct):
    logged: str


class LogStorage(Storage):
    """A book's folder as a TinyDB storage.

    Args:
        folder: the book.
        writer: who writes from this machine, to its own files only; or a name that is nobody
            else's.
        write, flush: the operating system's write and fsync; tests put failing ones in their place.
        wrote: told what is on disk: the file, the offset in it, and the lines.
    """

    def __init__(
        self,
        folder: Path,
        writer: Writer | str = "",
        write: Callable[[int, bytes], int] = os.write,
        flush: Callable[[int], None] = os.fsync,
        *,
        wrote: Callable[[str, int, bytes], None] = lambda file, offset, data: None,
    ) -> None:
        self.folder = folder
        self.writer = (
            writer
            if isinstance(writer, Writer)
            else Writer(folder, writer, remembered_at(folder, writer))
        )
        self.problems: list[Problem] = []  # met while writing, not yet told
        self._write = write
        self._flush = flush
        self._wrote = wrote

    def read(self) -> dict[str, dict[str, Any]]:
        """Every entry, by its number, read from the files now; nothing is kept of them."""
        batch, _ = read_on(self.folder, {})
        entries: dict[str, Any] = {}
        for line in batch.lines:
            with contextlib.suppress(ValueError, RecursionError):
                entry = json.loads(line.raw)
                if isinstance(entry, dict) and isinstance(entry.get("id"), str):
                    entries.setdefault(str(number_of(entry["id"])), entry)
        return {TinyDB.default_table_name: entries} if entries else {}

    def write(self, data: dict[str, dict[str, Any]]) -> NoReturn:
        """Refused.

        Raises:
            AppendOnly: always.
        """
        raise AppendOnly(POINTER)

    def append(self, entries: Iterable[Mapping[str, Any]]) -> None:
        """Append entries, one line each, to this machine's file of the month; on return they are on
        disk.

        Raises:
            NotSaved: nothing was written, and why.
        """
        self.append_lines(
            json.dumps(entry, ensure_ascii=False, allow_nan=False, separators=(",", ":")).encode(
                "utf-8", "surrogateescape"
            )
            for entry in entries
        )

    def append_lines(self, lines: Iterable[bytes]) -> None:
        """Append lines that are written already, byte by byte, each to the file of the month in
        which it was typed; on return they are on disk.

        Raises:
            NotSaved: a file could not be written, and why; those before it were.
        """
        by_month: dict[str, list[bytes]] = {}
        for line in lines:
            try:
                logged = msgspec.json.decode(line, type=_Logged).logged
            except NOT_DECODED:
                logged = ""
            by_month.setdefault(_month(logged), []).append(line + b"\n")
        self._append_all(by_month)

    def _append_all(self, by_month: Mapping[str, Sequence[bytes]]) -> None:
        with self.writer.turn():
            for month, lines in by_month.items():
                try:
                    self._append(month, b"".join(lines))
                except OSError as trouble:
                    raise NotSaved(
                        f"{_in_words(trouble)} ({self.writer.file_of(month)})"
                    ) from trouble

    def _append(self, month: str, data: bytes) -> None:
        """Append to the file of a month; where it is not, or not any more, this writer's own, to
        another one."""
        for _ in range(MAX_NAMES):
            if self._appended(self.folder / self.writer.file_of(month), data):
                return
            self.writer.take_new_name()
        raise OSError(
            errno.EBUSY,
            "the book's files are taken away while they are written; stop what does that",
        )

    def _appended(self, path: Path, data: bytes) -> bool:
        own = self.writer.files.get(path.name)
        if own is None and not os.path.lexists(path):
            begun = self._begun(path, data)
            if begun is not None:
                return begun
        descriptor = self._opened(path, is_own=own is not None)
        if descriptor is None:
            return False
        try:
            own = self._own_or_none(descriptor, path.name, own)
            if own is None or not self.writer.announce(path.name, announced(own, data), data):
                return False
            self._put(descriptor, path.name, own, data)
            return self._is_in_place(path, descriptor, data, own.size, own.lines)
        finally:
            os.close(descriptor)

    def _is_in_place(
        self, path: Path, descriptor: int, data: bytes, size: int = 0, lines: int = 0
    ) -> bool:
        """Whether what was written behind so many bytes and lines lies under the file's name; it is
        announced then as written."""
        if size == 0:
            flush_folder(self.folder)
        if not _is_still(path, descriptor, size + len(data)):
            return False
        self.writer.announce(path.name, own_of(descriptor, lines + data.count(b"\n")))
        self._wrote(path.name, size, data)
        return True

    def _write_all(self, descriptor: int, data: bytes) -> None:
        if self._write(descriptor, data) != len(data):
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        self._flush(descriptor)

    def _begun(self, path: Path, data: bytes) -> bool | None:
        """Make the file of a month with its first lines in it, so that nobody ever sees it empty;
        None where the file system does not let it be put in place so."""
        part = path.with_name(f".{path.name}.{os.urandom(4).hex()}.part")
        descriptor = os.open(part, os.O_RDWR | os.O_APPEND | NEW, 0o600)
        try:
            self._write_all(descriptor, data)
            try:
                os.link(part, path)
            except FileExistsError:
                return False
            except OSError:
                return None
            return self._is_in_place(path, descriptor, data)
        finally:
            os.close(descriptor)
            with contextlib.suppress(OSError):
                part.unlink()

    def _opened(self, path: Path, *, is_own: bool) -> int | None:
        """The file of a month, opened; None where it is gone, or another's."""
        made = 0 if is_own else os.O_CREAT if self.writer.adopts else os.O_CREAT | os.O_EXCL
        try:
            return os.open(path, os.O_RDWR | os.O_APPEND | PLAINLY | made, 0o600)
        except OSError as trouble:
            if trouble.errno == errno.ENOENT and not self.folder.is_dir():
                raise
            if trouble.errno in NOT_OURS:
                return None
            raise

    def _own_or_none(self, descriptor: int, name: str, own: OwnFile | None) -> OwnFile | None:
        """The same; where what was torn cannot be set aside the file is left alone."""
        try:
            return self._own(descriptor, name, own)
        except OSError as trouble:
            self._not_set_aside(name, trouble)
            return None

    def _not_set_aside(self, name: str, trouble: OSError) -> None:
        text = f"its torn end could not be set aside: {trouble.strerror or trouble}"
        self.problems.append(Problem(name, 0, text))

    def _own(self, descriptor: int, name: str, own: OwnFile | None) -> OwnFile | None:
        """The file as it is this writer's own, what was torn in it set aside; None where it is not
        its own any more."""
        if own is None:
            if not stat.S_ISREG(os.fstat(descriptor).st_mode):
                return None
            fresh = own_of(descriptor)
            ends_whole = fresh.size == 0 or read_at(descriptor, 1, fresh.size - 1) == b"\n"
            return fresh if ends_whole else None
        own_file, torn = settled(descriptor, own, self.writer.pending_of(own))
        if own_file is not None and torn:
            self._set_aside(descriptor, name, own_file.size, torn)
        return own_file

    def _put(self, descriptor: int, name: str, own: OwnFile, data: bytes) -> None:
        """Write and flush; where that fails nothing of it stays."""
        try:
            self._write_all(descriptor, data)
        except OSError:
            # Should it be there all the same, it is set aside before anything else is said: it was
            # reported as not saved.
            failed = msgspec.structs.replace(announced(own, data), failed=True)
            self.writer.announce(name, failed, data)
            with contextlib.suppress(OSError):
                os.ftruncate(descriptor, own.size)
            raise

    def _set_aside(self, descriptor: int, name: str, size: int, torn: bytes) -> None:
        """What a broken-off write left is kept in a file of its own; the entry files end in whole
        lines."""
        aside = make_below(self.folder, ASIDE)
        path = aside / f"{name}.torn-{datetime.now(UTC):%Y%m%dT%H%M%S%f}"
        out = os.open(path, os.O_WRONLY | NEW, 0o600)
        with os.fdopen(out, "wb") as file:
            file.write(torn)
            file.flush()
            os.fsync(out)
        flush_folder(aside)
        os.ftruncate(descriptor, size)
        os.fsync(descriptor)
        text = f"its last line was torn; {len(torn)} bytes set aside in {ASIDE}/{path.name}"
        self.problems.append(Problem(name, 0, text))

    def settle(self, former: Iterable[str] = ()) -> None:
        """Set aside what a writer of this machine left of a line when it was killed; what others
        write stays as it is.

        Args:
            former: other files that this machine wrote, perhaps under another name: others may have
                torn them.
        """
        with self.writer.turn(waits=False) as is_mine:
            for names in (self._unsettled(), former) if is_mine else ():
                for name in (one for one in names if _size_of(self.folder / one) >= 0):
                    try:
                        self._settle(self.folder / name, self.writer.files.get(name))
                    except OSError as trouble:
                        self._not_set_aside(name, trouble)

    def _unsettled(self) -> list[str]:
        """The writer's files of which a write was announced last, and files that it takes for its
        own."""
        texts = [
            name
            for name, own in self.writer.files.items()
            if own.failed or _size_of(self.folder / name) != own.then
        ]
        if self.writer.adopts:
            its_own = f"entries-{self.writer.name}-"
            texts += [
                path.name
                for path in entry_files(self.folder)
                if path.name.startswith(its_own) and path.name not in self.writer.files
            ]
        return texts

    def _settle(self, path: Path, own: OwnFile | None) -> None:
        descriptor = os.open(path, os.O_RDWR | PLAINLY)
        try:
            if own is not None:
                own_file = self._own(descriptor, path.name, own)
                if own_file is None:
                    self.writer.take_new_name()
                else:
                    self.writer.announce(path.name, own_file)
                return
            about = os.fstat(descriptor)
            torn = _torn_end(descriptor, about.st_size)
            if torn and is_left(about):
                self._set_aside(descriptor, path.name, about.st_size - len(torn), torn)
        finally:
            os.close(descriptor)


def _size_of(path: Path) -> int:
    try:
        return path.lstat().st_size
    except OSError:
        return -1


def _torn_end(descriptor: int, size: int) -> bytes:
    start = max(0, size - 2_000_000)
    tail = read_at(descriptor, size - start, start)
    return tail[tail.rfind(b"\n") + 1 :]


def _is_still(path: Path, descriptor: int, size: int) -> bool:
    """Whether what was written is in the file of that name now, and all of it."""
    about = os.fstat(descriptor)
    try:
        named = path.lstat()
    except OSError:
        return False
    return (named.st_dev, named.st_ino) == (about.st_dev, about.st_ino) and about.st_size >= size


def _month(logged: str) -> str:
    try:
        return f"{datetime.fromisoformat(logged):%Y-%m}"
    except ValueError:
        return "0000-00"


def _in_words(trouble: OSError) -> str:
    words = {
        errno.ENOSPC: "the disk is full; make room",
        errno.EROFS: "the disk is read-only",
        errno.EACCES: "the book may not be written by you; mend its permissions",
        errno.ENOENT: "the book's folder is gone; bring it back",
        errno.EIO: "the disk failed while writing",
    }
    return words.get(trouble.errno or 0, trouble.strerror or str(trouble))


def number_of(entry_id: str) -> int:
    """TinyDB's number of an entry: its id, read as one whole number."""
    return int.from_bytes(entry_id.encode("utf-8", "surrogatepass"))


def _checked(document: Mapping[str, Any]) -> Mapping[str, Any]:
    if not isinstance(document, Mapping):
        raise ValueError(
            f"Document is not a Mapping but a {type(document).__name__}; an entry maps names to"
            " values"
        )
    if not isinstance(document.get("id"), str) or not document["id"]:
        raise ValueError("an entry needs an 'id', a text that no other entry has")
    if isinstance(document, Document) and document.doc_id != number_of(document["id"]):
        raise ValueError("an entry's number is made of its id; leave the number out")
    return document


class LogTable(Table):
    """The entries as a TinyDB table: searching works as TinyDB says, changing in place is
    refused."""

    def __init__(
        self, storage: Storage, name: str, cache_size: int = 0, persist_empty: bool = False
    ) -> None:
        if persist_empty and name != TinyDB.default_table_name:
            raise AppendOnly(OTHER_TABLE.format(name))
        # other writers append too, so that a kept result could be stale
        super().__init__(storage, name, cache_size=0)

    def insert(self, document: Mapping[str, Any]) -> int:
        """Append one entry; on return it is on disk."""
        return self.insert_multiple([document])[0]

    def insert_multiple(self, documents: Iterable[Mapping[str, Any]]) -> list[int]:
        """Append entries; on return they are on disk.

        Returns:
            TinyDB's numbers of the entries: each is made of the entry's own id, and so the same in
            every process.

        Raises:
            NotSaved: nothing was written, and why.
            ValueError: a document is no entry, was given another number, or one that is taken. (A
                plain mapping is not looked for in the book, which would have to be read for it; of
                two lines under one id the earlier counts.)
            AppendOnly: this is not the table of the entries.
        """
        documents = [_checked(document) for document in documents]
        self._refuse_taken(documents)
        entries = [dict(document) for document in documents]
        if self.name != TinyDB.default_table_name:
            raise AppendOnly(OTHER_TABLE.format(self.name))
        storage = self._storage
        assert isinstance(storage, LogStorage)
        storage.append(entries)
        return [number_of(entry["id"]) for entry in entries]

    def _refuse_taken(self, documents: Sequence[Mapping[str, Any]]) -> None:
        numbers = [number_of(document["id"]) for document in documents]
        given = {document.doc_id for document in documents if isinstance(document, Document)}
        taken = {int(number) for number in self._read_table()} & given if given else set()
        if len(set(numbers)) < len(numbers):
            taken |= {one for one, times in Counter(numbers).items() if times > 1}
        if taken:
            raise ValueError(
                f"Document with ID {min(taken)} already exists; an entry needs an 'id' that no"
                " other has"
            )

    def _read_table(self) -> dict[str, Mapping[str, Any]]:
        return dict(self._storage.read() or {}).get(self.name, {})

    def _refuse(self, *args: Any, **kwargs: Any) -> NoReturn:
        raise AppendOnly(POINTER)

    update = update_multiple = upsert = remove = truncate = _update_table = _refuse


class DaybookDB(TinyDB):
    """A book as a TinyDB."""

    table_class = LogTable
    default_storage_class = LogStorage  # type: ignore[assignment]  # TinyDB's own hint is too narrow

    def drop_table(self, name: str) -> None:
        """Refused; one that is not there needs no dropping."""
        if name in self.tables():
            raise AppendOnly(POINTER)

    def drop_tables(self) -> NoReturn:
        """Refused."""
        raise AppendOnly(POINTER)
