"""What the store keeps beside the deals: sheets, notes, settings, the tallies of drills and the figures of reviews."""

from __future__ import annotations

import math
import sqlite3
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from datetime import datetime
from typing import TypeVar

from engine.rules.house import QUIET
from engine.sheet.model import Sheet
from engine.sheet.reader import read
from engine.store.connection import Keeper
from engine.store.lines import HIGHEST_ROW, ancestors, insert_sheet, kept_sheet_of, line_row
from engine.store.rows import (
    LONGEST_TEXT,
    Json,
    KeptReview,
    KeptSheet,
    Note,
    Result,
    Row,
    StoreError,
    UnsoundRowError,
    canonical_is_sound,
    clean,
    from_json,
    house_of,
    note_of,
    result_of,
    review_of,
    stamp,
    to_json,
)

T = TypeVar("T")

OWN_GAMES = """WITH RECURSIVE brought (id) AS (
        SELECT id FROM lines WHERE imported UNION SELECT lines.id FROM lines JOIN brought ON lines.parent = brought.id
    ) SELECT * FROM lines WHERE kind = 'game' AND outcome IS NOT NULL AND id NOT IN brought"""
"""Games played here to an end: no drills, and nothing that somebody else may have played a part of."""


class Keepsakes:
    """Sheets, notes, settings, results and reviews in an open store file. Every method may raise StoreError."""

    def __init__(self, keeper: Keeper, now: Callable[[], datetime]) -> None:
        self._keeper = keeper
        self._now = now

    # Sheets

    def keep_sheet(self, sheet: Sheet) -> str:
        """Keep a sheet's whole text, so that its deals can be opened for ever; its fingerprint."""
        values = (sheet.fingerprint, sheet.name, sheet.season, sheet.maker, sheet.canonical, stamp(self._now()))

        def kept(db: sqlite3.Connection) -> bool:
            row = db.execute("SELECT canonical FROM sheets WHERE fingerprint = ?", (sheet.fingerprint,)).fetchone()
            return row is not None and row["canonical"] == sheet.canonical

        if not self._keeper.read(kept):
            self._keeper.write(lambda db: insert_sheet(db, values))
        return sheet.fingerprint

    def sheets(self) -> tuple[KeptSheet, ...]:
        """Every sheet that was kept, latest first."""
        found = self._keeper.read(lambda db: db.execute("SELECT * FROM sheets ORDER BY id DESC").fetchall())
        return tuple(self._sound(found, kept_sheet_of))

    def sheet(self, fingerprint: str) -> Sheet:
        """The kept sheet of that fingerprint, whole."""
        row = self._keeper.read(
            lambda db: db.execute("SELECT * FROM sheets WHERE fingerprint = ?", (fingerprint,)).fetchone()
        )
        if row is None:
            raise StoreError(f"no sheet with the fingerprint {fingerprint} is kept here; load its file")
        named = f"“{row['name']}” ({row['season']})"
        if not canonical_is_sound(fingerprint, row["canonical"]):
            raise StoreError(f"the sheet {named}, fingerprint {fingerprint}, isn't kept here; load its file")
        sheet = read(row["canonical"], source=row["name"]).sheet
        if sheet is None:
            raise StoreError(f"the kept sheet {named} can't be read by this version; load its file again")
        # A later version may write the plain form otherwise; the edition is still the one that was played.
        return sheet if sheet.fingerprint == fingerprint else replace(sheet, canonical=row["canonical"])

    # Notes

    def note(self, line: int, text: str, moment: int | None = None) -> int:
        """Keep a player's words on a line, or on one moment of it; the note's number."""
        words, at = words_of_note(text), stamp(self._now())

        def work(db: sqlite3.Connection) -> int:
            entries = line_row(db, line)["entries"]
            if moment is not None and not 0 <= moment <= entries:
                raise StoreError(f"deal {line} has no moment {moment}; choose 0 to {entries}")
            return _inserted(
                db.execute("INSERT INTO notes (line, moment, text, at) VALUES (?, ?, ?, ?)", (line, moment, words, at))
            )

        return self._keeper.write(work)

    def change_note(self, note: int, text: str) -> None:
        """Put other words in a note's place."""
        words, at = words_of_note(text), stamp(self._now())
        self._change(note, "UPDATE notes SET text = :text, at = :at WHERE id = :note", {"text": words, "at": at})

    def remove_note(self, note: int) -> None:
        """Take a note away."""
        self._change(note, "DELETE FROM notes WHERE id = :note", {})

    def _change(self, note: int, statement: str, values: Mapping[str, object]) -> None:
        def work(db: sqlite3.Connection) -> None:
            if not 0 < note <= HIGHEST_ROW or db.execute(statement, {**values, "note": note}).rowcount != 1:
                raise StoreError(f"there is no note numbered {note} here; it may have been taken away")

        self._keeper.write(work)

    def notes(self, line: int) -> tuple[Note, ...]:
        """Notes on a line: on the deal as a whole first, then by moment. Those on the part that it shares with the
        lines it was forked from are among them; `Note.line` tells.
        """

        def work(db: sqlite3.Connection) -> list[Row]:
            query = "SELECT * FROM notes WHERE line = ? AND (moment IS NULL OR moment <= ?)"
            return [row for owner, shared in ancestors(db, line) for row in db.execute(query, (owner, shared))]

        found = self._sound(self._keeper.read(work), note_of)
        return tuple(sorted(found, key=lambda note: (-1 if note.moment is None else note.moment, note.id)))

    # Settings

    def get(self, key: str, default: Json = None) -> Json:
        """A setting's value, or the default where it was never set (or its text is damaged)."""
        row = self._keeper.read(lambda db: db.execute("SELECT value FROM settings WHERE key = ?", (key,)).fetchone())
        try:
            value: Json = default if row is None else from_json(row["value"])
        except UnsoundRowError:
            value = default
        return value

    def set(self, key: str, value: Json) -> None:
        """Keep a setting: any value that JSON has a form for."""
        text = to_json(value, f"setting “{key}”")
        name = clean(key)
        if name != key or not name:
            raise StoreError("a setting's name is plain text; choose other letters")

        def kept(db: sqlite3.Connection) -> bool:
            row = db.execute("SELECT value FROM settings WHERE key = ?", (name,)).fetchone()
            return row is not None and row["value"] == text

        def work(db: sqlite3.Connection) -> None:
            db.execute(
                "INSERT INTO settings (key, value) VALUES (?, ?) "
                "ON CONFLICT (key) DO UPDATE SET value = excluded.value",
                (name, text),
            )

        if not self._keeper.read(kept):  # a setting that stays as it is costs no writing
            self._keeper.write(work)

    def settings(self) -> dict[str, Json]:
        """All settings by key."""
        rows = self._keeper.read(lambda db: db.execute("SELECT key FROM settings ORDER BY key").fetchall())
        return {row["key"]: self.get(row["key"]) for row in rows}

    # Results

    def add_result(
        self, kind: str, figures: Mapping[str, Json], allowance: float | None = None, line: int | None = None
    ) -> int:
        """Keep the tally of one drill: `allowance` in seconds, None for an untimed one; the result's number."""
        text, at, name = to_json(dict(figures), "a result"), stamp(self._now()), clean(kind)
        if allowance is not None and not 0 < allowance < 1e9:
            raise StoreError(f"an allowance of {allowance} seconds can't be; give more than 0, or None for no clock")

        def work(db: sqlite3.Connection) -> int:
            if line is not None:
                line_row(db, line)
            return _inserted(
                db.execute(
                    "INSERT INTO results (at, kind, allowance, figures, line) VALUES (?, ?, ?, ?, ?)",
                    (at, name, allowance, text, line),
                )
            )

        return self._keeper.write(work)

    def results(
        self, kind: str | None = None, timed: bool | None = None, limit: int | None = None
    ) -> tuple[Result, ...]:
        """Results, latest first: of one kind, only timed or only untimed ones, at most `limit`."""

        def work(db: sqlite3.Connection) -> list[Row]:
            query = """SELECT * FROM results WHERE (:kind IS NULL OR kind = :kind)
                AND (:timed IS NULL OR (allowance IS NOT NULL) = :timed) ORDER BY id DESC LIMIT :limit"""
            values = {"kind": kind, "timed": timed, "limit": -1 if limit is None else limit}
            return db.execute(query, values).fetchall()

        return tuple(self._sound(self._keeper.read(work), result_of))

    # Reviews

    def keep_review(self, line: int, choices: int, cost: float, faults: int) -> bool:
        """Keep the figures of a game's review in place of any from before; whether the game is one that counts.

        `choices` are the unforced ones, `cost` is the worth they lost together. When the game was played, and whether
        advice was seen, the line itself tells. Games that count: those played here to an end, at the quiet table.
        """
        if not (0 <= faults <= choices and 0 <= cost < math.inf):
            raise StoreError(f"{faults} faults in {choices} choices that cost {cost} can't be; review the game again")

        def figures(db: sqlite3.Connection) -> tuple[object, ...] | None:
            line_row(db, line)
            row = db.execute(f"{OWN_GAMES} AND id = ?", (line,)).fetchone()
            if row is None or not _quiet(row):
                return None
            seen = not row["advice_hidden"] or row["parent"] is not None  # a fork is made with hindsight
            return line, row["touched"], choices, float(cost), faults, int(seen)

        def kept(db: sqlite3.Connection) -> bool:
            query = "SELECT line, at, choices, cost, faults, advice_seen FROM reviews WHERE line = ?"
            row = db.execute(query, (line,)).fetchone()
            return row is not None and tuple(row) == figures(db)

        def work(db: sqlite3.Connection) -> bool:
            values = figures(db)
            if values is not None:
                db.execute(
                    """INSERT INTO reviews (line, at, choices, cost, faults, advice_seen) VALUES (?, ?, ?, ?, ?, ?)
                    ON CONFLICT (line) DO UPDATE SET at = excluded.at, choices = excluded.choices,
                        cost = excluded.cost, faults = excluded.faults, advice_seen = excluded.advice_seen""",
                    values,
                )
            return values is not None

        return self._keeper.read(kept) or self._keeper.write(work)  # looking at a game again costs no writing

    def reviews(self) -> tuple[KeptReview, ...]:
        """The figures of every reviewed game, in the order in which the games were played to their end."""
        found = self._keeper.read(lambda db: db.execute("SELECT * FROM reviews ORDER BY at, id").fetchall())
        return tuple(self._sound(found, review_of))

    def unreviewed(self) -> tuple[int, ...]:
        """Lines of the games that count but have no review yet, the one played last first."""
        query = f"{OWN_GAMES} AND id NOT IN (SELECT line FROM reviews WHERE line IS NOT NULL) ORDER BY touched DESC"
        found = self._keeper.read(lambda db: db.execute(query).fetchall())
        return tuple(row["id"] for row in found if _quiet(row))

    def _sound(self, found: Iterable[Row], convert: Callable[[Row], T]) -> list[T]:
        """Values of rows; one that is damaged is left out, and said so."""
        values = []
        for row in found:
            try:
                values.append(convert(row))
            except (UnsoundRowError, TypeError):
                self._keeper.notice(
                    f"some of what is kept in {self._keeper.path} is damaged and left out; the rest is as it was"
                )
        return values


def words_of_note(text: str) -> str:
    """A note's text as it is kept. Raises StoreError for none and for too much of it."""
    words = clean(text).strip()
    if not words:
        raise StoreError("a note needs words; write some, or take the note away")
    if len(words) > LONGEST_TEXT:
        raise StoreError(f"a note of {len(words)} characters is too long; keep it under {LONGEST_TEXT}")
    return words


def _quiet(row: Row) -> bool:
    """Whether a line was played at the quiet table, as far as its row can be read."""
    try:
        return house_of(row["house"]).table == QUIET
    except UnsoundRowError:
        return False


def _inserted(cursor: sqlite3.Cursor) -> int:
    return int(cursor.lastrowid or 0)
