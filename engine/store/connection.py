"""One SQLite file held open whatever happens to it: damaged, newer than we are, not writable, full disk.

A piece of work is a function of a connection; every write is one transaction, on the disk before `write` returns.
When the file can't be written, work goes on in memory, waits, and is done again on the file as soon as that is
possible. `trouble` holds one sentence for the player for as long as something is not as it should be.
"""

from __future__ import annotations

import contextlib
import errno
import sqlite3
import tempfile
from collections.abc import Callable, Iterable
from datetime import UTC, datetime
from pathlib import Path
from typing import TypeVar

from engine.store import schema
from engine.store.files import FOLDER_VARIABLE, make_folder
from engine.store.opening.opening import BUSY, DAMAGED, FAILING, UNWRITABLE, CutError, DamagedError, code_of, open_file
from engine.store.opening.presence import Presence
from engine.store.rescue import rescue
from engine.store.rescue.salvage import Salvaged, salvage
from engine.store.values import Row, StoreError, UnsoundRowError
from engine.words import shown

T = TypeVar("T")
Work = Callable[[sqlite3.Connection], T]

_NO_SPACE = (errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC))


class StoreConnection:
    """An open store file. Use it from one thread, and close it."""

    def __init__(self, path: Path, now: Callable[[], datetime]) -> None:
        self.path = path
        self._now = now
        self._notice: str | None = None  # what happened on opening; stands for the whole session
        self._unsaved: str | None = None  # why work is in memory only; None while the file takes it
        self._may_return = True  # whether work in memory may go to the file later
        self._waiting: list[tuple[Work[object], object]] = []
        self._gone = False  # whether our file was deleted or replaced while it was open
        self._presence: Presence | None = None
        self._db = self._open()
        self._file = _identity(path)

    @property
    def trouble(self) -> str | None:
        """One sentence on what is not as it should be, or None."""
        said = self._unsaved or self._notice
        return None if said is None else shown(said)

    @property
    def also_open(self) -> str | None:
        """One sentence where another program had the file open when this one came, or None."""
        if self._presence is None or self._presence.alone:
            return None
        return (
            "Lone East is open in another window too; both save what is played in them, "
            "and a deal can go on in one of them only"
        )

    @property
    def saving(self) -> bool:
        """Whether what is written now reaches the file."""
        return self._unsaved is None

    @property
    def unsaved(self) -> bool:
        """Whether something that was written is in memory only."""
        return bool(self._waiting) or self._gone

    def notice(self, sentence: str) -> None:
        """Let `trouble` say something that was found later, unless more is wrong."""
        self._notice = self._notice or sentence

    def read(self, work: Work[T]) -> T:
        """Do work that only reads. Raises StoreError."""
        try:
            return work(self._db)
        except schema.FAULTS as error:
            if code_of(error) in DAMAGED and self.saving:
                self._put_aside()
                with contextlib.suppress(*schema.FAULTS):
                    return work(self._db)
            raise StoreError(f"{self.path} can't be read just now ({error}); try again") from error

    def write(self, work: Work[T]) -> T:
        """Do work in one transaction, and return its value once that is on the disk. Raises StoreError.

        The work may be done twice, on two connections: it takes its times and numbers from outside.
        """
        if self.saving and self._file != _identity(self.path):
            self._file_went()
        if not self.saving:
            self._try_file_again()
        for attempt in (1, 2):
            if not self.saving:
                break
            try:
                return _transact(self._db, work)
            except schema.FAULTS as error:
                code = code_of(error)
                if code in FAILING:
                    self._go_on_in_memory(self._why_unsaved(error), self._db)
                elif code in DAMAGED and attempt == 1:
                    self._put_aside()
                else:
                    raise StoreError(f"{self.path} can't take this ({error}); start the game again") from error
        value = _transact(self._db, work)
        self._waiting.append((work, value))
        return value

    def close(self) -> None:
        """Close the file. What waits in memory is tried once more."""
        if self.saving and self._file != _identity(self.path):
            self._file_went()
        if not self.saving:
            self._try_file_again()
        with contextlib.suppress(*schema.FAULTS):
            self._db.close()
        if self._presence is not None:
            self._presence.close()

    # Opening

    def _open(self) -> sqlite3.Connection:
        path = self.path
        try:
            if rescue.pending(path):
                with rescue.alone(path):
                    rescue.finish_swap(path)
                self._notice = f"{path} was damaged; it is kept beside a new one that holds what could be read"
            make_folder(path.parent)
            self._presence = Presence(path)
            return open_file(path, alone=self._presence.alone)
        except DamagedError as error:
            return self._swap(thorough=False, cut=isinstance(error, CutError))
        except schema.NewerFileError as error:
            self._may_return = False
            self._unsaved = (
                f"{path} was written by a newer version of Lone East ({error}), so it is left as it is and this "
                f"session is not saved; install the newer version, or set {FOLDER_VARIABLE} to another folder"
            )
            return self._memory(None)
        except (*schema.FAULTS, OSError) as error:
            self._unsaved = self._why_unsaved(error)
            return self._memory(path)

    def _swap(self, thorough: bool, cut: bool = False) -> sqlite3.Connection:
        """Put the damaged file aside and open the fresh one; in memory where that can't be.

        `thorough` looks harder before it believes that another program has put the file right meanwhile. `cut` says
        that the log has lost its end, which can't be seen a second time.
        """
        path = self.path
        try:
            with rescue.alone(path):
                righted = None if cut else self._righted(thorough)
                if righted is not None:
                    return righted
                done = rescue.rescue(path, self._now().astimezone(UTC).strftime("%Y-%m-%d-%H%M%S"))
            db = open_file(path)
        except (DamagedError, *schema.FAULTS, OSError) as error:
            self._unsaved = (
                f"{path} is damaged and can't be put aside ({error}), so this session is not saved; "
                f"move that file elsewhere yourself and start again"
            )
            self._may_return = False
            return self._memory(path)
        read = _read_words(done.read, cut or done.read.cut)
        self._notice = f"{path.name} was damaged and is kept as {done.aside}; {read}"
        return db

    def _righted(self, thorough: bool) -> sqlite3.Connection | None:
        """The file, opened, if another program has put it right meanwhile; else None."""
        with contextlib.suppress(DamagedError):
            db = open_file(self.path, thorough=thorough, alone=self._presence is None or self._presence.alone)
            self._notice = f"{self.path} was damaged and has been put right; what could be read is here"
            return db
        return None

    def _put_aside(self) -> None:
        """Damage was met in the middle of the session."""
        with contextlib.suppress(*schema.FAULTS):
            self._db.close()
        self._db = self._swap(thorough=True)
        self._file = _identity(self.path)

    # Memory

    def _memory(self, origin: Path | None) -> sqlite3.Connection:
        """A store in memory, with what can be read of a file."""
        memory = schema.connect(":memory:")
        schema.bring_up_to_date(memory)
        if origin is not None:
            with (
                contextlib.suppress(OSError, *schema.FAULTS),
                tempfile.TemporaryDirectory(prefix="lone-east-", ignore_cleanup_errors=True) as scratch,
            ):
                salvage(origin, memory, Path(scratch))
        return memory

    def _go_on_in_memory(self, why: str, source: sqlite3.Connection) -> None:
        self._unsaved = why
        try:
            self._db = _in_memory(source)
        except schema.FAULTS:
            self._db = self._memory(self.path)
        with contextlib.suppress(*schema.FAULTS):
            source.close()

    def _file_went(self) -> None:
        """The file was deleted, or another one has taken its place, while it was open. What it held is still read."""
        self._gone = not self.path.exists()
        if not self._gone:
            why = (
                f"another file has taken the place of {self.path}, so the game goes on, but only in memory; "
                f"move that file elsewhere and start the game again"
            )
        else:
            why = (
                f"{self.path} was deleted and can't be written anew, so the game goes on, but only in memory; "
                f"allow writing there and saving starts again by itself with the next action"
            )
        self._go_on_in_memory(why, self._db)

    def _write_anew(self) -> None:
        """Write all that memory holds to a new file in the place of the one that went, and go on with that."""
        if self.path.exists():
            return
        try:
            make_folder(self.path.parent)
            with rescue.alone(self.path):
                rescue.write_whole(self.path, self._db)
            db = open_file(self.path)
        except (*schema.FAULTS, OSError, DamagedError, schema.NewerFileError):
            return
        self._db.close()
        self._db = db
        self._waiting.clear()
        self._file = _identity(self.path)
        self._gone, self._unsaved = False, None
        self.notice(f"{self.path} was deleted while the game was open; all of it was written anew")

    def _try_file_again(self) -> None:
        """Do on the file what was done in memory, all or nothing. Go back to the file if that succeeds."""
        if self._gone:
            self._write_anew()
            return
        if not self._may_return:
            return
        db: sqlite3.Connection | None = None
        try:
            db = open_file(self.path, wait=0.25)
            _transact(db, self._repeat_waiting)
        except (*schema.FAULTS, OSError, DamagedError, schema.NewerFileError, StoreError) as error:
            if db is not None:
                db.close()
            if isinstance(error, StoreError):
                self._may_return = False
                self._unsaved = (
                    f"another program has written to {self.path} meanwhile, so this session can't be added to it; "
                    f"export the deal that you want to keep"
                )
            return
        self._db.close()
        self._db = db
        self._file = _identity(self.path)
        self._waiting.clear()
        self._unsaved = None

    def _repeat_waiting(self, db: sqlite3.Connection) -> None:
        for work, value in self._waiting:
            if work(db) != value:
                raise StoreError("other rows were given")

    def _why_unsaved(self, error: Exception) -> str:
        code = code_of(error)
        path = self.path
        again = "saving starts again by itself with the next action"
        on = "the game goes on, but only in memory"
        if code == sqlite3.SQLITE_FULL or getattr(error, "errno", None) in _NO_SPACE:
            return f"The disk is full, so {on}; free some space and {again}"
        if code in BUSY:
            return f"Another program is holding {path}, so {on}; close that program and {again}"
        if code in UNWRITABLE or isinstance(error, OSError):
            return (
                f"{path} can't be written, so {on}; allow writing there and {again}, "
                f"or set {FOLDER_VARIABLE} to a folder that can be written and start anew"
            )
        return f"Writing to {path} fails ({error}), so {on}; see to the disk and {again}"


def _identity(path: Path) -> tuple[int, int] | None:
    """What tells one file from another in the same place. None where there is none."""
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino


def _read_words(read: Salvaged, cut: bool) -> str:
    """How many deals were read from a damaged file, how many could not be, and whether its end is missing."""
    here = {0: "no deal could be read from it", 1: "one deal was read from it and is here"}.get(
        read.lines, f"{read.lines} deals were read from it and are here"
    )
    lost = {0: "", 1: ", one could not be read"}.get(read.lost, f", {read.lost} could not be read")
    return here + lost + ("; what was done last may be missing" if cut else "")


def _in_memory(source: sqlite3.Connection) -> sqlite3.Connection:
    memory = schema.connect(":memory:")
    source.backup(memory)
    schema.bring_up_to_date(memory)
    return memory


def _transact(db: sqlite3.Connection, work: Work[T]) -> T:
    db.execute("BEGIN IMMEDIATE")
    try:
        value = work(db)
        db.execute("COMMIT")
    except BaseException:
        if db.in_transaction:
            with contextlib.suppress(*schema.FAULTS):
                db.execute("ROLLBACK")
        raise
    return value


class StorePart:
    """One part of what the store holds. All parts share one connection and one clock."""

    def __init__(self, connection: StoreConnection, now: Callable[[], datetime]) -> None:
        self._connection = connection
        self._now = now

    def _sound(self, found: Iterable[Row], convert: Callable[[Row], T]) -> list[T]:
        """Values of rows. A damaged row is left out, and `trouble` says so."""
        values = []
        for row in found:
            try:
                values.append(convert(row))
            except (UnsoundRowError, TypeError):
                self._connection.notice(
                    f"some of what is stored in {self._connection.path} is damaged and left out; the rest is as it was"
                )
        return values
