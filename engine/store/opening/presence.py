"""Whether another program has the same store open: the first one holds a lock beside the file for as long as it runs.

SQLite's own file lock is used. It works on every system, and ends with the program, however that ends.
"""

from __future__ import annotations

import contextlib
import sqlite3
from pathlib import Path

from engine.store.files import make_private


class Presence:
    """This program's mark beside a store's file. Close it with the store."""

    def __init__(self, path: Path) -> None:
        self.alone = True
        """Whether no other program had the store open when this one came. True where that can't be told."""
        self._db: sqlite3.Connection | None = None
        with contextlib.suppress(sqlite3.Error, OSError):
            mark = path.with_name(f"{path.name}.open")
            make_private(mark)
            self._db = sqlite3.connect(mark, timeout=0, isolation_level=None)
            try:
                self._db.execute("PRAGMA journal_mode = OFF")  # nothing is ever written to it
                self._db.execute("BEGIN EXCLUSIVE")
            except sqlite3.OperationalError as error:
                self.alone = error.sqlite_errorcode & 0xFF != sqlite3.SQLITE_BUSY
                self.close()

    def close(self) -> None:
        """Another program that comes now is the first."""
        if self._db is not None:
            self._db.close()
            self._db = None
