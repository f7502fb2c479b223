"""A player's notes on a deal, or on one moment of it."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping

from engine.store.connection import StorePart
from engine.store.lineage import HIGHEST_ROW, ancestors, line_row
from engine.store.rows import clean, insert, note_of, stamp
from engine.store.values import LONGEST_TEXT, Note, Row, StoreError


class NotesPart(StorePart):
    """The notes in an open store. Every method may raise StoreError."""

    def note(self, line: int, text: str, moment: int | None = None) -> int:
        """Store a player's words on a line, or on one moment of it. Gives the note's number."""
        words, at = words_of_note(text), stamp(self._now())

        def work(db: sqlite3.Connection) -> int:
            entries = line_row(db, line)["entries"]
            if moment is not None and not 0 <= moment <= entries:
                raise StoreError(f"deal {line} has no moment {moment}; choose 0 to {entries}")
            return insert(db, "notes", {"line": line, "moment": moment, "text": words, "at": at})

        return self._connection.write(work)

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

        self._connection.write(work)

    def notes(self, line: int) -> tuple[Note, ...]:
        """Notes on a line: on the deal as a whole first, then by moment.

        Notes on the part that it shares with the lines it was forked from are among them. `Note.line` tells which.
        """

        def work(db: sqlite3.Connection) -> list[Row]:
            query = "SELECT * FROM notes WHERE line = ? AND (moment IS NULL OR moment <= ?)"
            return [row for owner, shared in ancestors(db, line) for row in db.execute(query, (owner, shared))]

        found = self._sound(self._connection.read(work), note_of)
        return tuple(sorted(found, key=lambda note: (-1 if note.moment is None else note.moment, note.id)))


def words_of_note(text: str) -> str:
    """A note's text as it is stored. Raises StoreError for none and for too much of it."""
    words = clean(text).strip()
    if not words:
        raise StoreError("a note needs words; write some, or take the note away")
    if len(words) > LONGEST_TEXT:
        raise StoreError(f"a note of {len(words)} characters is too long; keep it under {LONGEST_TEXT}")
    return words
