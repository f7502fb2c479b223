"""Opening the store's file: whole, ours and no newer than we are, or the reason why not. It is private to its user."""

from __future__ import annotations

import errno
import os
import sqlite3
from pathlib import Path

from engine.store import schema
from engine.store.files import make_folder, make_private, sync_folder
from engine.store.rescue.log import has_lost_its_end, read_log

DAMAGED = (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB)
BUSY = (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)
UNWRITABLE = (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM, sqlite3.SQLITE_AUTH)
FAILING = (sqlite3.SQLITE_FULL, sqlite3.SQLITE_IOERR, sqlite3.SQLITE_NOLFS, *BUSY, *UNWRITABLE)
"""Results that tell of the disk or of other programs, not of what the file holds."""

CHECKED = 64 << 20
"""Bytes up to which a file is checked page by page on opening; a larger one would hold up the start."""

_MAGIC = b"SQLite format 3\0"
_FORMATS = (b"\1", b"\2")  # for a rollback journal and for a log
_FRACTIONS = bytes((64, 32, 32))  # these never change


class DamagedError(Exception):
    """The file can't be used as it is."""


class CutError(DamagedError):
    """The log has lost its end, and what was done last with it."""


def code_of(error: Exception) -> int | None:
    """SQLite's primary result code of what a statement raised (see `schema.FAULTS`); None for other errors."""
    if isinstance(error, UnicodeDecodeError | MemoryError):
        return sqlite3.SQLITE_CORRUPT
    code = getattr(error, "sqlite_errorcode", None)
    return None if code is None else int(code) & 0xFF


def open_file(path: Path, wait: float = 5.0, thorough: bool = False, alone: bool = False) -> sqlite3.Connection:
    """Open the file for writing. It and its folder are made, or brought up to date, where needed.

    `wait` is seconds for a busy file. `thorough` looks into every row. `alone` says that no other program writes to the
    file, so that its log may be looked at. Raises DamagedError, CutError, schema.NewerFileError, schema.FAULTS and
    OSError. A file that is refused is as it was.
    """
    make_folder(path.parent)
    new = not path.exists()
    if new and has_log(path):
        raise DamagedError  # SQLite would make a new file and throw the log away
    db: sqlite3.Connection | None = None
    content, index = (_content(log_of(path)), _content(index_of(path))) if alone and not new else (b"", b"")
    try:
        if not new:
            _look(path)  # which makes the index anew
            # SQLite would read the log up to the damage and say nothing of the rest.
            log = read_log(content, schema.PAGE)
            if log.damaged:
                raise DamagedError
            if has_lost_its_end(content, log, index):
                raise CutError
        make_private(path)
        db = schema.connect(path, wait)
        schema.inspect(db)
        schema.settle(db)
        schema.bring_up_to_date(db)
        if thorough or path.stat().st_size <= CHECKED:
            check = "integrity_check" if thorough else "quick_check"
            if db.execute(f"PRAGMA {check}(1)").fetchone()[0] != "ok":
                raise DamagedError
        if new:
            sync_folder(path.parent)
        return db
    except BaseException as error:
        if db is not None:
            db.close()
        if isinstance(error, schema.ForeignFileError | schema.MissingTableError):
            raise DamagedError from error
        if isinstance(error, schema.FAULTS) and code_of(error) not in FAILING:
            raise DamagedError from error
        raise


def log_of(path: Path) -> Path:
    """The write-ahead log beside a file."""
    return path.with_name(f"{path.name}-wal")


def index_of(path: Path) -> Path:
    """The index into that log, which SQLite makes anew where it is missing."""
    return path.with_name(f"{path.name}-shm")


def _content(path: Path) -> bytes:
    return path.read_bytes() if path.is_file() else b""


def has_log(path: Path) -> bool:
    """Whether a log with something in it lies beside a file."""
    log = log_of(path)
    return log.is_file() and log.stat().st_size > 0


def _look(path: Path) -> None:
    """Refuse a file that is damaged, not ours or newer than we are, before anything of it can change."""
    if not path.is_file():
        raise DamagedError
    if not os.access(path, os.W_OK):  # SQLite would open it for reading and fail only later
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(path))
    with path.open("rb") as file:
        head = file.read(100)
    if not head:
        if has_log(path):
            raise DamagedError  # SQLite would throw the log away
        return
    if path.with_name(f"{path.name}-journal").exists():
        return  # a change was interrupted, and only a connection that may write can take it back
    if not head.startswith(_MAGIC):
        raise DamagedError  # SQLite takes a very short file for an empty one
    if head[18:19] not in _FORMATS or head[19:20] not in _FORMATS or head[21:24] != _FRACTIONS:
        raise DamagedError  # SQLite takes such a file for one of a later SQLite, which it may only read
    number, mark = int.from_bytes(head[60:64], "big"), int.from_bytes(head[68:72], "big")
    if mark == schema.APPLICATION and not has_log(path):
        if number > len(schema.STEPS):
            raise schema.NewerFileError(f"format {number}; this version knows {len(schema.STEPS)}")
        return
    db = schema.connect_reading(path)  # what counts may stand in the log
    try:
        schema.inspect(db)
    finally:
        db.close()
