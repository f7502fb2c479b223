"""The sheets that were played or loaded, each with its whole text, so that its deals can be opened for ever."""

from __future__ import annotations

import sqlite3

from engine.sheet.model import Sheet
from engine.sheet.shelf import shipped_as
from engine.store.connection import StorePart
from engine.store.replay import find_ends
from engine.store.rows import canonical_is_sound, sheet_of, stamp, whole_sheet
from engine.store.values import Row, StoredSheet, StoreError


class SheetsPart(StorePart):
    """The sheets in an open store. Every method may raise StoreError."""

    def add_sheet(self, sheet: Sheet) -> str:
        """Store a sheet's whole text, so that its deals can be opened for ever. Gives its fingerprint.

        Deals of that sheet that were imported before it are checked now, and their ends found.
        """
        values = (sheet.fingerprint, sheet.name, sheet.season, sheet.maker, sheet.canonical, stamp(self._now()))

        def stored(db: sqlite3.Connection) -> bool:
            row = db.execute("SELECT canonical FROM sheets WHERE fingerprint = ?", (sheet.fingerprint,)).fetchone()
            return row is not None and row["canonical"] == sheet.canonical

        def work(db: sqlite3.Connection) -> None:
            insert_sheet(db, values)
            lines = db.execute("SELECT id FROM lines WHERE sheet = ? AND imported", (sheet.fingerprint,)).fetchall()
            find_ends(db, [int(row["id"]) for row in lines])

        if not self._connection.read(stored):
            self._connection.write(work)
        return sheet.fingerprint

    def sheets(self) -> tuple[StoredSheet, ...]:
        """Every sheet that is stored, latest first."""
        found = self._connection.read(lambda db: db.execute("SELECT * FROM sheets ORDER BY id DESC").fetchall())
        return tuple(self._sound(found, sheet_of))

    def sheet(self, fingerprint: str) -> Sheet:
        """The stored sheet of that fingerprint, whole; one that ships where its text here is damaged or lost."""
        row = self._connection.read(lambda db: _sheet_row(db, fingerprint))
        sheet = (None if row is None else whole_sheet(row)) or shipped_as(fingerprint)
        if sheet is not None:
            return sheet
        if row is None:
            raise StoreError(f"no sheet with the fingerprint {fingerprint} is stored here; load its file")
        named = f"“{row['name']}” ({row['season']})"
        if canonical_is_sound(fingerprint, row["canonical"]):
            raise StoreError(f"the stored sheet {named} can't be read by this version; load its file again")
        raise StoreError(f"the sheet {named}, fingerprint {fingerprint}, isn't stored here; load its file")


def insert_sheet(db: sqlite3.Connection, values: tuple[str, str, str, str, str | None, str]) -> None:
    """Write a sheet, or its text where only its name was known (or the text was damaged)."""
    db.execute(
        """INSERT INTO sheets (fingerprint, name, season, maker, canonical, first_seen) VALUES (?, ?, ?, ?, ?, ?)
        ON CONFLICT (fingerprint) DO UPDATE SET
            name = excluded.name, season = excluded.season, maker = excluded.maker, canonical = excluded.canonical
        WHERE excluded.canonical IS NOT NULL""",
        values,
    )


def _sheet_row(db: sqlite3.Connection, fingerprint: str) -> Row | None:
    row: Row | None = db.execute("SELECT * FROM sheets WHERE fingerprint = ?", (fingerprint,)).fetchone()
    return row
