"""The tables of the store, their version, and how an older file is brought up to date.

`user_version` in the file counts the steps it has been through. A step, once released, never changes. A new form of
the tables is a new step at the end. All steps that a file lacks run in one transaction, so a file is never half-way.
Every table has its row number as a column, since a damaged file is read by ranges of them.
"""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Callable, Sequence
from pathlib import Path

from engine.store.opening.upgrade import endings_and_sequence

APPLICATION = 0x4C456173
"""Marks a SQLite file as ours (`application_id`)."""

PAGE = 4096
"""Bytes of a page of our files."""

Step = tuple[str | Callable[[sqlite3.Connection], None], ...]
"""Statements, and functions for what SQL can't do."""

_LINE = """
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            parent INTEGER CHECK (parent < id),   -- the line it was forked from: older, so there is no circle
            forked_at INTEGER NOT NULL CHECK (forked_at >= 0),   -- entries shared with the parent; 0 without one
            deal TEXT NOT NULL,
            sheet TEXT NOT NULL,     -- fingerprint
            chosen TEXT,             -- JSON list of section names; NULL for the whole sheet
            house TEXT NOT NULL,     -- JSON object
            wall TEXT NOT NULL,      -- every tile in order, codes apart by spaces
            kind TEXT NOT NULL,      -- of practice, such as game or passes
            advice_hidden INTEGER NOT NULL CHECK (advice_hidden IN (0, 1)),
            imported INTEGER NOT NULL CHECK (imported IN (0, 1)),
            started TEXT NOT NULL,
            touched TEXT NOT NULL,
            entries INTEGER NOT NULL CHECK (entries >= forked_at),   -- length of the record, the shared part included
"""
"""The columns of a line of play that the first step and the later form of the table have alike."""

STEPS: tuple[Step, ...] = (
    (
        """CREATE TABLE sheets (
            id INTEGER PRIMARY KEY,
            fingerprint TEXT NOT NULL UNIQUE,
            name TEXT NOT NULL,
            season TEXT NOT NULL,
            maker TEXT NOT NULL,
            canonical TEXT,          -- NULL while a sheet is known only from an imported deal
            first_seen TEXT NOT NULL
        )""",
        f"""CREATE TABLE lines ({_LINE}\
            outcome TEXT,            -- one sentence; NULL while unfinished
            figures TEXT             -- JSON object that goes with the outcome
        )""",
        "CREATE INDEX lines_by_touch ON lines (touched)",
        "CREATE INDEX lines_by_parent ON lines (parent)",
        """CREATE TABLE entries (
            id INTEGER PRIMARY KEY,
            line INTEGER NOT NULL,
            number INTEGER NOT NULL CHECK (number >= 0),
            seat INTEGER NOT NULL CHECK (seat BETWEEN -1 AND 3),
            action TEXT NOT NULL,
            at TEXT NOT NULL,
            UNIQUE (line, number)
        )""",
        """CREATE TABLE notes (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            line INTEGER NOT NULL,
            moment INTEGER CHECK (moment >= 0),   -- entries made before it; NULL for the deal as a whole
            text TEXT NOT NULL,
            at TEXT NOT NULL
        )""",
        "CREATE INDEX notes_by_line ON notes (line)",
        """CREATE TABLE settings (
            id INTEGER PRIMARY KEY,
            key TEXT NOT NULL UNIQUE,
            value TEXT NOT NULL      -- JSON
        )""",
        """CREATE TABLE results (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            at TEXT NOT NULL,
            kind TEXT NOT NULL,
            allowance REAL,          -- seconds allowed; NULL for an untimed one
            figures TEXT NOT NULL,   -- JSON object
            line INTEGER
        )""",
        "CREATE INDEX results_by_kind ON results (kind)",
    ),
    (
        """CREATE TABLE reviews (
            id INTEGER PRIMARY KEY,
            line INTEGER UNIQUE,     -- the game that was reviewed; NULL where only its figures could be rescued
            at TEXT NOT NULL,        -- when that game was played to its end
            choices INTEGER NOT NULL CHECK (choices >= 0),   -- unforced ones
            cost REAL NOT NULL CHECK (cost >= 0),            -- worth lost by all of them, each 0 to 1
            faults INTEGER NOT NULL CHECK (faults BETWEEN 0 AND choices),
            advice_seen INTEGER NOT NULL CHECK (advice_seen IN (0, 1))
        )""",
    ),
    (
        f"""CREATE TABLE new_lines ({_LINE}\
            ended TEXT,              -- JSON object, how the game ended; NULL while unfinished
            sequence INTEGER NOT NULL   -- grows with every entry of any line, whatever the clock says
        )""",
        endings_and_sequence,
        "DROP TABLE lines",
        "ALTER TABLE new_lines RENAME TO lines",
        "CREATE INDEX lines_by_sequence ON lines (sequence)",
        "CREATE INDEX lines_by_parent ON lines (parent)",
    ),
    (
        # What choices cost is counted in picks now. A game that is still there is reviewed again when it is asked for.
        # Of a review without its game the cost was a share of up to forty draws; forty times that is its cost in picks.
        "DELETE FROM reviews WHERE line IN (SELECT id FROM lines)",
        "UPDATE reviews SET cost = 40 * cost",
    ),
)


FAULTS = (sqlite3.Error, UnicodeDecodeError, MemoryError)
"""What a statement raises: the second where a damaged schema stands in the message, and is no text; the third where a
damaged row claims to be longer than any can be."""


class NewerFileError(Exception):
    """The file was written by a newer version of the game."""


class ForeignFileError(Exception):
    """A SQLite file, but not one of ours."""


class MissingTableError(Exception):
    """One of our files, without a table or column that it must have."""


def connect(path: Path | str, wait: float = 5.0) -> sqlite3.Connection:
    """Open a file, making it if there is none; statements commit by themselves. `wait` is seconds for a busy file."""
    return _shaped(sqlite3.connect(path, timeout=wait, isolation_level=None))


def connect_reading(path: Path) -> sqlite3.Connection:
    """Open a file for reading only: nothing of it is written, not even on closing."""
    return _shaped(sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True, isolation_level=None))


def _shaped(db: sqlite3.Connection) -> sqlite3.Connection:
    db.row_factory = sqlite3.Row
    db.text_factory = _text
    return db


def _text(raw: bytes) -> str:
    """Read damaged text with marks in it, so that no query fails over it. Whoever uses the text finds the fault."""
    return raw.decode("utf-8", "replace")


def settle(db: sqlite3.Connection) -> None:
    """Set a connection for writing: every commit is on the disk before it returns."""
    db.execute(f"PRAGMA page_size = {PAGE}")  # of a new file; an old one keeps its own
    db.execute("PRAGMA trusted_schema = OFF")
    db.execute("PRAGMA cell_size_check = ON")
    db.execute("PRAGMA secure_delete = ON")  # what is deleted is gone from the file, and no rescue brings it back
    # Two programs that open one file at the same moment: the switch to WAL doesn't wait by itself.
    for attempt in range(50):
        try:
            db.execute("PRAGMA journal_mode = WAL")  # stays as it was where shared memory can't be had: safe, slower
            break
        except sqlite3.OperationalError as error:
            if error.sqlite_errorcode & 0xFF != sqlite3.SQLITE_BUSY or attempt == 49:
                raise
            time.sleep(0.02)
    db.execute("PRAGMA synchronous = FULL")


def version(db: sqlite3.Connection) -> int:
    """How many steps the file has been through."""
    return int(db.execute("PRAGMA user_version").fetchone()[0])


def inspect(db: sqlite3.Connection, steps: Sequence[Step] = STEPS) -> None:
    """Refuse a file that is not ours or newer than we are; writes nothing. Raises ForeignFileError, NewerFileError."""
    alone = not db.in_transaction
    if alone:
        db.execute("BEGIN")  # one view of the file: another program may be making it between two statements
    try:
        mark = int(db.execute("PRAGMA application_id").fetchone()[0])
        number = version(db)
        if mark != APPLICATION and (mark or number or db.execute("SELECT 1 FROM sqlite_master").fetchone()):
            raise ForeignFileError
        if number > len(steps):
            raise NewerFileError(f"format {number}; this version knows {len(steps)}")
    finally:
        if alone and db.in_transaction:
            db.execute("ROLLBACK")


def bring_up_to_date(db: sqlite3.Connection, steps: Sequence[Step] = STEPS) -> None:
    """Run the steps that the file lacks, all or none. Raises as `inspect` does, and MissingTableError."""
    if version(db) != len(steps):
        db.execute("BEGIN IMMEDIATE")
        try:
            inspect(db, steps)  # again, now that no other program can change it
            for step in steps[version(db) :]:
                for statement in step:
                    _run(db, statement)
            db.execute(f"PRAGMA application_id = {APPLICATION}")
            db.execute(f"PRAGMA user_version = {len(steps)}")
            db.execute("COMMIT")
        except BaseException:
            if db.in_transaction:
                db.execute("ROLLBACK")
            raise
    check_tables(db)


def _run(db: sqlite3.Connection, statement: str | Callable[[sqlite3.Connection], None]) -> None:
    if isinstance(statement, str):
        db.execute(statement)
    else:
        statement(db)


def tables_after(number: int) -> set[str]:
    """Names of the tables that a file has after so many steps."""
    db = connect(":memory:")
    try:
        for step in STEPS[:number]:
            for statement in step:
                _run(db, statement)
        return {str(row[0]) for row in db.execute("SELECT name FROM sqlite_master WHERE type = 'table'")} & set(WANTED)
    finally:
        db.close()


def columns(db: sqlite3.Connection, table: str) -> tuple[str, ...]:
    """Names of a table's columns, () where there is no such table."""
    return tuple(str(row["name"]) for row in db.execute(f"PRAGMA table_info({table})"))


def check_tables(db: sqlite3.Connection) -> None:
    """Raise MissingTableError unless every table has the columns that we use."""
    for table, wanted in WANTED.items():
        lacking = set(wanted) - set(columns(db, table))
        if lacking:
            raise MissingTableError(f"{table}: {', '.join(sorted(lacking))}")


WANTED: dict[str, tuple[str, ...]] = {
    "sheets": ("id", "fingerprint", "name", "season", "maker", "canonical", "first_seen"),
    "lines": (
        "id", "parent", "forked_at", "deal", "sheet", "chosen", "house", "wall", "kind", "advice_hidden", "imported",
        "started", "touched", "entries", "ended", "sequence",
    ),
    "entries": ("id", "line", "number", "seat", "action", "at"),
    "notes": ("id", "line", "moment", "text", "at"),
    "settings": ("id", "key", "value"),
    "results": ("id", "at", "kind", "allowance", "figures", "line"),
    "reviews": ("id", "line", "at", "choices", "cost", "faults", "advice_seen"),
}  # fmt: skip
"""The columns in use, table by table: the latest form, which a test holds against the steps."""
