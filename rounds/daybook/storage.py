"""TinyDB over append-only JSON Lines: its queries work, and an insert costs one line and one flush.

TinyDB's own storage rewrites the whole file on every insert. Here the table appends, and what would change
or take away a line is refused: a line is struck by another line.
"""

from __future__ import annotations

import contextlib
import errno
import fcntl
import json
import os
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import datetime
from pathlib import Path
from typing import Any, NoReturn

import msgspec
from tinydb import Storage, TinyDB
from tinydb.table import Document, Table

from rounds.daybook.lines import entry_files, read_on

POINTER = "a daybook only grows: to take a line back, strike it"


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
        laptop: letters and digits that name this machine; it writes to its own files only.
        write, flush: the operating system's write and fsync; tests put failing ones in their place.
    """

    def __init__(
        self,
        folder: Path,
        laptop: str,
        write: Callable[[int, bytes], int] = os.write,
        flush: Callable[[int], None] = os.fsync,
    ) -> None:
        self.folder = folder
        self.laptop = laptop
        self._write = write
        self._flush = flush
        self._broken = ""

    def read(self) -> dict[str, dict[str, Any]]:
        """Every entry, by its number, read from the files now; nothing is kept of them."""
        batch, _ = read_on(self.folder, {})
        entries: dict[str, Any] = {}
        for line in batch.lines:
            with contextlib.suppress(ValueError, RecursionError):
                entry = json.loads(line.raw)
                if isinstance(entry, dict) and isinstance(entry.get("id"), str):
                    entries.setdefault(str(number_of(entry["id"])), entry)
        return {TinyDB.default_table_name: entries}

    def write(self, data: dict[str, dict[str, Any]]) -> NoReturn:
        """Refused.

        Raises:
            AppendOnly: always.
        """
        raise AppendOnly(POINTER)

    def append(self, entries: Iterable[Mapping[str, Any]]) -> None:
        """Append entries, one line each, to this laptop's file of the month; on return they are on disk.

        Raises:
            NotSaved: nothing was written, and why.
        """
        by_file: dict[Path, list[bytes]] = {}
        for entry in entries:
            line = json.dumps(entry, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
            by_file.setdefault(self._file_of(str(entry.get("logged", ""))), []).append(
                line.encode("utf-8", "surrogateescape") + b"\n"
            )
        self._append_all(by_file)

    def append_lines(self, lines: Iterable[bytes]) -> None:
        """Append lines that are written already, byte by byte; on return they are on disk.

        Raises:
            NotSaved: a file could not be written, and why; those before it were.
        """
        by_file: dict[Path, list[bytes]] = {}
        for line in lines:
            try:
                logged = msgspec.json.decode(line, type=_Logged).logged
            except (msgspec.MsgspecError, RecursionError):
                logged = ""
            by_file.setdefault(self._file_of(logged), []).append(line + b"\n")
        self._append_all(by_file)

    def _append_all(self, by_file: Mapping[Path, Sequence[bytes]]) -> None:
        for path, lines in by_file.items():
            try:
                self._append_to(path, b"".join(lines))
            except OSError as trouble:
                raise NotSaved(f"{_in_words(trouble)} ({path.name})") from trouble

    def _file_of(self, logged: str) -> Path:
        try:
            month = f"{datetime.fromisoformat(logged):%Y-%m}"
        except ValueError:
            month = "0000-00"
        return self.folder / f"entries-{self.laptop}-{month}.jsonl"

    def _append_to(self, path: Path, data: bytes) -> None:
        new = not path.exists()
        descriptor = os.open(path, os.O_RDWR | os.O_APPEND | os.O_CREAT, 0o600)
        try:
            fcntl.flock(descriptor, fcntl.LOCK_EX)
            before = os.fstat(descriptor).st_size
            data = self._after_torn_end(descriptor, before) + data
            try:
                written = self._write(descriptor, data)
                if written != len(data):
                    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
                self._flush(descriptor)
            except OSError:
                os.ftruncate(descriptor, before)
                raise
        finally:
            os.close(descriptor)
        if new:
            flush_folder(path.parent)

    @staticmethod
    def _after_torn_end(descriptor: int, size: int) -> bytes:
        """A line end to begin with, where another writer was killed in the middle of its line."""
        return b"" if size == 0 or os.pread(descriptor, 1, size - 1) == b"\n" else b"\n"


def _in_words(trouble: OSError) -> str:
    words = {
        errno.ENOSPC: "the disk is full; make room",
        errno.EROFS: "the disk is read-only",
        errno.EACCES: "the book may not be written by you; mend its permissions",
        errno.ENOENT: "the book's folder is gone; bring it back",
        errno.EIO: "the disk failed while writing",
    }
    return words.get(trouble.errno or 0, trouble.strerror or str(trouble))


def flush_folder(folder: Path) -> None:
    """Make a new or renamed name in a folder lasting."""
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def number_of(entry_id: str) -> int:
    """TinyDB's number of an entry: its id, read as one whole number."""
    return int.from_bytes(entry_id.encode("utf-8", "surrogatepass"))


def _checked(document: Mapping[str, Any]) -> Mapping[str, Any]:
    if not isinstance(document, Mapping):
        raise ValueError(f"an entry is a mapping of names to values, not {type(document).__name__}")
    if not isinstance(document.get("id"), str) or not document["id"]:
        raise ValueError("an entry needs an 'id', a text that no other entry has")
    if isinstance(document, Document) and document.doc_id != number_of(document["id"]):
        raise ValueError("an entry's number is made of its id; leave the number out")
    return document


class LogTable(Table):
    """The entries as a TinyDB table: searching works as TinyDB says, changing in place is refused."""

    def __init__(self, storage: Storage, name: str, cache_size: int = 0, persist_empty: bool = False) -> None:
        del cache_size, persist_empty  # other writers append too, so that a kept result could be stale
        super().__init__(storage, name, cache_size=0)

    def insert(self, document: Mapping[str, Any]) -> int:
        """Append one entry; on return it is on disk."""
        return self.insert_multiple([document])[0]

    def insert_multiple(self, documents: Iterable[Mapping[str, Any]]) -> list[int]:
        """Append entries; on return they are on disk.

        Returns:
            TinyDB's numbers of the entries: each is made of the entry's own id, and so the same in every process.

        Raises:
            NotSaved: nothing was written, and why.
            ValueError: a document is no entry, or was given another number.
            AppendOnly: this is not the table of the entries.
        """
        entries = [dict(_checked(document)) for document in documents]
        if self.name != TinyDB.default_table_name:
            raise AppendOnly(f"a daybook has one table, {TinyDB.default_table_name}; it is not called {self.name}")
        storage = self._storage
        assert isinstance(storage, LogStorage)
        storage.append(entries)
        return [number_of(entry["id"]) for entry in entries]

    def _read_table(self) -> dict[str, Mapping[str, Any]]:
        return dict(self._storage.read() or {}).get(self.name, {})

    def _update_table(self, updater: Callable[[dict[int, Mapping[str, Any]]], None]) -> NoReturn:
        raise AppendOnly(POINTER)

    def update(self, *args: Any, **kwargs: Any) -> NoReturn:
        """Refused."""
        raise AppendOnly(POINTER)

    def update_multiple(self, *args: Any, **kwargs: Any) -> NoReturn:
        """Refused."""
        raise AppendOnly(POINTER)

    def upsert(self, *args: Any, **kwargs: Any) -> NoReturn:
        """Refused."""
        raise AppendOnly(POINTER)

    def remove(self, *args: Any, **kwargs: Any) -> NoReturn:
        """Refused."""
        raise AppendOnly(POINTER)

    def truncate(self) -> NoReturn:
        """Refused."""
        raise AppendOnly(POINTER)


class DaybookDB(TinyDB):
    """A book as a TinyDB."""

    table_class = LogTable
    default_storage_class = LogStorage  # type: ignore[assignment]  # TinyDB's own hint is too narrow

    def drop_table(self, name: str) -> NoReturn:
        """Refused."""
        raise AppendOnly(POINTER)

    def drop_tables(self) -> NoReturn:
        """Refused."""
        raise AppendOnly(POINTER)


__all__ = ["AppendOnly", "DaybookDB", "Document", "LogStorage", "LogTable", "NotSaved", "entry_files"]
