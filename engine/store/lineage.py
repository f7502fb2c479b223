"""Where the entries of a forked line lie: its own after the fork, those before it with its ancestors."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass

from engine.rules.actions import Action
from engine.rules.record import Entry
from engine.store.rows import action_of
from engine.store.values import Row, StoreError, UnsoundRowError

HIGHEST_ROW = (1 << 63) - 1


@dataclass(frozen=True)
class Stretch:
    """Entries `start` to `stop` (not included) of a record, stored under the line `line`."""

    line: int
    start: int
    stop: int


def line_row(db: sqlite3.Connection, line: int) -> Row:
    """The row of a line, with name and season of its sheet. Raises StoreError where there is none."""
    row: Row | None = None
    if 0 < line <= HIGHEST_ROW:
        row = db.execute(
            "SELECT lines.*, sheets.name AS sheet_name, sheets.season FROM lines "
            "LEFT JOIN sheets ON sheets.fingerprint = lines.sheet WHERE lines.id = ?",
            (line,),
        ).fetchone()
    if row is None:
        raise StoreError(f"there is no deal numbered {line} here; choose one from the list of past deals")
    return row


def stretches(db: sqlite3.Connection, line: int) -> tuple[Stretch, ...]:
    """The stretches that make up a line's record, first entries first. Raises StoreError."""
    row = line_row(db, line)
    found = []
    stop = int(row["entries"])
    while True:
        start = int(row["forked_at"]) if row["parent"] is not None else 0
        if start < stop:
            found.append(Stretch(int(row["id"]), start, stop))
        if row["parent"] is None:
            return tuple(reversed(found))
        stop = min(stop, start)
        row = line_row(db, int(row["parent"]))


def ancestors(db: sqlite3.Connection, line: int) -> Iterator[tuple[int, int]]:
    """The line and those it was forked from, each with the last moment that they share with it. Raises StoreError."""
    row = line_row(db, line)
    shared = int(row["entries"])
    while True:
        yield int(row["id"]), shared
        if row["parent"] is None:
            return
        shared = min(shared, int(row["forked_at"]))
        row = line_row(db, int(row["parent"]))


def entry_rows(db: sqlite3.Connection, line: int) -> Iterator[Row]:
    """The entries of a line's record in order, as far as none is missing. Raises StoreError."""
    wanted = 0
    for stretch in stretches(db, line):
        for row in db.execute(
            "SELECT number, seat, action FROM entries WHERE line = ? AND number >= ? AND number < ? ORDER BY number",
            (stretch.line, stretch.start, stretch.stop),
        ):
            if row["number"] != wanted:
                return
            wanted += 1
            yield row


def sound_entries(db: sqlite3.Connection, line: int) -> tuple[Entry, ...]:
    """The entries of a line's record in order, up to the first that is damaged or missing. Raises StoreError."""
    entries: list[tuple[int, Action]] = []
    for row in entry_rows(db, line):
        try:
            entries.append((row["seat"], action_of(row)))
        except UnsoundRowError:
            break
    return tuple(entries)


FAMILIES = """family (line, first) AS (
    SELECT id, id FROM lines WHERE parent IS NULL OR parent NOT IN (SELECT id FROM lines)
    UNION ALL SELECT lines.id, family.first FROM lines JOIN family ON lines.parent = family.line
)"""
"""For a WITH RECURSIVE clause: every line, and the first line of its deal."""
