"""Putting a damaged store aside under a dated name and a fresh one, with what could be read, in its place.

The fresh file is complete and synced before anything is moved, and the moves can be taken up by the next start, so a
crash at any moment loses nothing:

    lone-east.sqlite.rescuing              being filled; worthless after a crash
    lone-east.sqlite.rescued-STAMP         complete; from here on the swap is only finished, never begun again
    lone-east.damaged-STAMP.sqlite         the damaged file (and -wal beside it)
"""

from __future__ import annotations

import contextlib
import os
import sqlite3
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from engine.store import schema
from engine.store.files import make_private, sync_folder
from engine.store.rescue.salvage import Salvaged, salvage

T = TypeVar("T")

_PARTS = ("-wal", "-journal", "")
"""What the names of a store's files end in."""


@dataclass(frozen=True)
class Rescued:
    """Where the damaged file is now, and what was read from it."""

    aside: Path
    read: Salvaged


def rescue(path: Path, stamp: str) -> Rescued:
    """Swap the damaged file for a fresh one. Raises OSError or sqlite3.Error; the damaged file is then where it was."""
    filling = path.with_name(f"{path.name}.rescuing")
    _remove_store(filling)
    with tempfile.TemporaryDirectory(prefix="lone-east-", ignore_cleanup_errors=True) as scratch:

        def fill(fresh: sqlite3.Connection) -> Salvaged:
            schema.bring_up_to_date(fresh)
            return salvage(path, fresh, Path(scratch))

        read = _new(filling, fill)
    stamp = _free_stamp(path, stamp)
    filling.replace(path.with_name(f"{path.name}.rescued-{stamp}"))
    sync_folder(path.parent)
    finish_swap(path)
    asides = [_aside(path, stamp, suffix) for suffix in reversed(_PARTS)]
    return Rescued(next((part for part in asides if os.path.lexists(part)), asides[0]), read)


def write_whole(path: Path, source: sqlite3.Connection) -> None:
    """Write all that an open store holds to a file where there is none. Raises OSError or sqlite3.Error."""
    filling = path.with_name(f"{path.name}.rescuing")
    _remove_store(filling)
    _new(filling, source.backup)
    _remove_store(path)  # a log that is left of the file that went would be read as the new one's own
    filling.replace(path)
    sync_folder(path.parent)


def _new(filling: Path, fill: Callable[[sqlite3.Connection], T]) -> T:
    """Fill a new file, complete and synced when this returns. It is gone again where that fails."""
    make_private(filling)
    fresh = schema.connect(filling)
    try:
        fresh.execute("PRAGMA synchronous = FULL")
        value = fill(fresh)
    except BaseException:
        fresh.close()
        with contextlib.suppress(OSError):
            _remove_store(filling)
        raise
    fresh.close()
    return value


def pending(path: Path) -> list[Path]:
    """Complete fresh files whose swap a crash interrupted (one at most)."""
    return sorted(path.parent.glob(f"{_escaped(path.name)}.rescued-*"))


def finish_swap(path: Path) -> None:
    """Take up an interrupted swap, if there is one. Raises OSError."""
    for complete in pending(path):
        aside = _aside(path, complete.name.rpartition(".rescued-")[2])
        # The write-ahead log goes first: beside the fresh file it would be read as that file's own.
        for suffix in _PARTS:
            part = path.with_name(path.name + suffix)
            if part.exists() or part.is_symlink():
                part.rename(aside.with_name(aside.name + suffix))
        path.with_name(f"{path.name}-shm").unlink(missing_ok=True)  # only an index into the log
        sync_folder(path.parent)
        complete.replace(path)
        sync_folder(path.parent)


@contextlib.contextmanager
def alone(path: Path, wait: float = 10.0) -> Iterator[None]:
    """Hold the right to rescue this file against other programs. Raises sqlite3.Error.

    SQLite's own file lock is used: it works on every system and ends with the program, however that ends.
    """
    db = sqlite3.connect(path.with_name(f"{path.name}.lock"), timeout=wait, isolation_level=None)
    try:
        db.execute("BEGIN EXCLUSIVE")
        yield
    finally:
        db.close()


def _remove_store(path: Path) -> None:
    for suffix in ("-wal", "-shm", "-journal", ""):
        path.with_name(path.name + suffix).unlink(missing_ok=True)


def _aside(path: Path, stamp: str, suffix: str = "") -> Path:
    return path.with_name(f"{path.stem}.damaged-{stamp}{path.suffix}{suffix}")


def _free_stamp(path: Path, stamp: str) -> str:
    """The stamp, with a number behind it when that name is taken."""
    number, free = 1, stamp
    while any(os.path.lexists(_aside(path, free, suffix)) for suffix in _PARTS):
        number += 1
        free = f"{stamp}-{number}"
    return free


def _escaped(name: str) -> str:
    """A name in which no character is a wild card."""
    return "".join(f"[{char}]" if char in "*?[" else char for char in name)
