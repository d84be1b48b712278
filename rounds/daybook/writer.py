"""Who writes here: in each book folder each machine has a name of its own, taken at random and kept
outside the folder.

A synchroniser brings files together by their names, so that two machines must never append to files
of one name. What a machine is called says nothing of that: images are cloned and homes are copied.
So a name is bound to the folder's path, to device and inode of each file written under it, and to
how that file ended when it was written last. Where any of these is not as it was, somebody else has
been there, and the writer goes on under a new name.
"""

import contextlib
import os
import stat
import time
from collections.abc import Iterator
from pathlib import Path

import msgspec

from rounds.bench.entry_ids import ALPHABET
from rounds.daybook.digests import blake2b
from rounds.daybook.lines import print_before
from rounds.daybook.safe_files import NOT_DECODED, put_lines, read_plain
from rounds.daybook.systems import PLAINLY, lock, read_at, write_at

NAME_LENGTH = 8
MAX_WRITERS = 4  # names that are remembered: machines that share one home find their own again
# bytes of a write that are kept to know them again; a longer one has a file of its own
MAX_PENDING = 16_384
LONG = ".long"  # the ending of that file
WAIT_S = 1.5  # for another process of this machine; then this one goes on under a name of its own


class OwnFile(msgspec.Struct, frozen=True):
    """A file of this writer: how it ended, and what was to be written after that.

    The write is announced before it is done. Whoever is killed in it leaves nothing that the next
    one could take for the lines of somebody else.
    """

    device: int
    inode: int
    size: int
    print: str
    lines: int = 0
    then: int = 0  # the size after what is announced
    pending: bytes = b""
    digest: bytes = b""
    failed: bool = False  # the write was reported as not saved


class _Named(msgspec.Struct):
    name: str
    files: dict[str, OwnFile] = {}


class _Kept(msgspec.Struct):
    path: str
    secret: bytes
    writers: list[_Named] = []


def new_name() -> str:
    """A name that nobody else has."""
    import secrets  # once for a book, and it loads much

    return "".join(secrets.choice(ALPHABET) for _ in range(NAME_LENGTH))


def own_of(descriptor: int, lines: int = 0) -> OwnFile:
    """How an open file ends now."""
    about = os.fstat(descriptor)
    return OwnFile(
        about.st_dev, about.st_ino, about.st_size, print_before(descriptor, about.st_size), lines
    )


class Writer:
    """The one that writes to a book from this machine.

    Args:
        folder: the book.
        given: a name that the caller knows to be nobody else's; files under it that are there
            already are taken for its own.
        beside: where this machine remembers things of the book, without an ending; None where
            nothing can be.
    """

    def __init__(self, folder: Path, given: str, beside: Path | None) -> None:
        self.folder = folder
        self.given = given
        self._beside = beside
        # nothing can be remembered; the name is for this process
        self._alone = self._beside is None
        self._descriptor = -1
        self._length = 0
        self._kept = self._read() or _Kept(str(folder), b"")
        self._mine = self._chosen()

    @property
    def name(self) -> str:
        """The name under which it writes now."""
        return self._mine.name

    @property
    def secret(self) -> bytes:
        """What nobody knows who has only the book; empty where it cannot be kept."""
        return b"" if self._alone else self._kept.secret

    @property
    def adopts(self) -> bool:
        """Whether it takes files under its name for its own though it does not remember them."""
        return self.name == self.given

    @property
    def files(self) -> dict[str, OwnFile]:
        """Its files, by their names."""
        return self._mine.files

    @property
    def former(self) -> list[str]:
        """Names under which it wrote before."""
        return [named.name for named in self._kept.writers if named.name != self.name]

    @property
    def written(self) -> dict[str, int]:
        """How many lines this machine has written, by file, under all the names that it
        remembers."""
        return {
            name: own.lines for named in self._kept.writers for name, own in named.files.items()
        }

    def begin_anew(self) -> None:
        """Forget what was written, and go on under another name."""
        with self.turn():
            self._kept.writers = []
            self.take_new_name()
            if not self._alone:
                self._remember()

    def forget(self, file: str) -> bool:
        """Remember a file no longer as one that it wrote; False where another process is at it just
        now."""
        with self.turn(waits=False) as is_mine:
            if is_mine:
                for named in self._kept.writers:
                    named.files.pop(file, None)
                return self._alone or self._descriptor < 0 or self._remember()
        return False

    def file_of(self, month: str) -> str:
        """The name of its file for a month."""
        return f"entries-{self.name}-{month}.jsonl"

    def _chosen(self) -> _Named:
        """The newest of the names all of whose files are where they were; else a new one."""
        for named in self._kept.writers:
            if all(self._is_there(name, own) for name, own in named.files.items()):
                return named
        return self._added(self.given if self.given and not self._kept.writers else new_name())

    def _is_there(self, name: str, own: OwnFile) -> bool:
        try:
            about = (self.folder / name).lstat()
        except OSError:
            return False
        return _is_the_file(about, own) and about.st_size >= own.size

    def _added(self, name: str) -> _Named:
        fresh = _Named(name, {})
        self._kept.writers = [fresh, *self._kept.writers][:MAX_WRITERS]
        return fresh

    def take_new_name(self) -> None:
        """Go on under another name: its files are not only its own any more."""
        self._mine = self._added(new_name())

    @contextlib.contextmanager
    def turn(self, *, waits: bool = True) -> Iterator[bool]:
        """A turn at writing, in which no other process of this machine writes under this name.

        Args:
            waits: for another process, and makes a memory where there is none; without it the turn
                may be missed.

        Yields:
            Whether it is this one's turn.
        """
        if self._alone:
            yield True
            return
        try:
            self._open(os.O_CREAT if waits else 0)
            if self._locked(WAIT_S if waits else 0):
                self._take_up()
                yield True
            elif waits:
                self._go_alone()
                yield True
            else:
                # where nothing is remembered there is nobody to wait for
                yield (self._descriptor < 0)
        finally:
            self._let_go()

    def _open(self, flags: int) -> None:
        """Open what is remembered; where it cannot be, the lock is not had either."""
        assert self._beside is not None
        path, flags = self._beside.with_suffix(".json"), flags | os.O_RDWR | PLAINLY
        with contextlib.suppress(OSError):
            if flags & os.O_CREAT and not path.parent.is_dir():
                path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            self._descriptor = os.open(path, flags, 0o600)

    def _let_go(self) -> None:
        if self._descriptor >= 0:
            os.close(self._descriptor)
            self._descriptor = -1

    def _locked(self, patience: float) -> bool:
        end, pause = time.monotonic() + patience, 0.0005
        while self._descriptor >= 0:
            try:
                lock(self._descriptor)
            except BlockingIOError:
                if time.monotonic() >= end:
                    return False
                time.sleep(pause)
                pause = min(0.02, pause * 1.5)
            except OSError:
                return False
            else:
                return True
        return False

    def _go_alone(self) -> None:
        """Nothing can be remembered: a name for this process only."""
        self._alone = True
        self._let_go()
        self.take_new_name()

    def _read(self) -> _Kept | None:
        """What is remembered; None where that is nothing, or cannot be read."""
        try:
            if self._descriptor >= 0:
                data = read_at(self._descriptor, os.fstat(self._descriptor).st_size, 0)
            elif self._beside is not None:
                data = read_plain(self._beside.with_suffix(".json"))
            else:
                return None
            self._length = len(data)
            return msgspec.json.decode(data, type=_Kept)
        except (OSError, *NOT_DECODED):
            return None

    def _take_up(self) -> None:
        """Go on from what is remembered: another process of this machine may have written since."""
        kept = self._read()
        if kept is None:
            self._kept.secret = self._kept.secret or os.urandom(32)
            return
        self._kept = kept
        self._mine = (
            next((named for named in kept.writers if named.name == self.name), None)
            or self._chosen()
        )

    def announce(self, file: str, own: OwnFile, data: bytes = b"") -> bool:
        """Remember how a file of its own ends, and what is to be written to it now.

        Returns:
            False where that cannot be remembered; it goes on under another name then.
        """
        before = self._mine.files.get(file)
        if len(data) > MAX_PENDING:
            self._keep_long(data)
        self._mine.files[file] = own
        remembered = self._alone or self._remember()
        if before and before.digest and not before.pending and not own.digest:
            self._forget_long()
        return remembered

    def pending_of(self, own: OwnFile) -> bytes:
        """What was announced for a file; empty where that is not kept any more."""
        if own.pending or not own.digest or self._beside is None:
            return own.pending
        with contextlib.suppress(OSError):
            kept = read_plain(self._beside.with_suffix(LONG))
            return kept if blake2b(kept).digest() == own.digest else b""
        return b""

    def _keep_long(self, data: bytes) -> None:
        """Keep a write that is too long for the memory in a file beside it."""
        if self._beside is not None and not self._alone:
            with contextlib.suppress(OSError):
                put_lines(self._beside.with_suffix(LONG), [data.removesuffix(b"\n")])

    def _forget_long(self) -> None:
        if self._beside is not None:
            with contextlib.suppress(OSError):
                self._beside.with_suffix(LONG).unlink()

    def keep_secret(self) -> bytes:
        """The secret, remembered; empty where it cannot be."""
        if not self._alone and not self._kept.secret:
            with self.turn():
                if not self._alone:
                    self._remember()
        return self.secret

    def _remember(self) -> bool:
        data = msgspec.json.encode(self._kept)
        try:
            # One write over the last one, padded: whoever is killed here leaves one of the two
            # whole.
            write_at(self._descriptor, data.ljust(self._length), 0)
        except OSError:
            self._go_alone()
            return False
        self._length = max(self._length, len(data))
        return True


def settled(descriptor: int, own: OwnFile, pending: bytes) -> tuple[OwnFile | None, bytes]:
    """How a file of this writer stands, and what of an announced write is to be set aside of it.

    Args:
        pending: what was announced; empty where only its digest is known.

    Returns:
        The file as it is its own, up to what is to be set aside; None where it is not, or not only
        its own.
    """
    about = os.fstat(descriptor)
    if not _is_the_file(about, own):
        return None, b""
    size = about.st_size
    if size < own.size or print_before(descriptor, own.size) != own.print:
        return None, b""
    if size == own.size:
        return msgspec.structs.replace(own, then=0, pending=b"", digest=b"", failed=False), b""
    if size > own.then:
        return None, b""
    more = read_at(descriptor, size - own.size, own.size)
    whole = size == own.then and blake2b(more).digest() == own.digest
    if not whole and not (pending and pending.startswith(more)):
        return None, b""
    good = b"" if own.failed else more[: more.rfind(b"\n") + 1]
    end = own.size + len(good)
    lines = own.lines + good.count(b"\n")
    return (
        OwnFile(own.device, own.inode, end, print_before(descriptor, end), lines),
        more[len(good) :],
    )


def _is_the_file(about: os.stat_result, own: OwnFile) -> bool:
    """Whether that is the plain file that was written; a folder put in its place may have got its
    inode."""
    return stat.S_ISREG(about.st_mode) and (about.st_dev, about.st_ino) == (own.device, own.inode)


def announced(own: OwnFile, data: bytes) -> OwnFile:
    """The same file with a write that is about to be done."""
    pending = data if len(data) <= MAX_PENDING else b""
    return msgspec.structs.replace(
        own,
        then=own.size + len(data),
        pending=pending,
        digest=blake2b(data).digest(),
        failed=False,
    )
