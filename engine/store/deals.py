"""Past and present deals: lists of their lines, the line to go on with, and deleting a deal with a way back."""

from __future__ import annotations

import sqlite3
from collections.abc import Collection, Mapping
from typing import Any

from engine.store.connection import StorePart
from engine.store.lineage import FAMILIES, HIGHEST_ROW, line_row
from engine.store.rows import insert, summary_of
from engine.store.values import DeletedDeal, LineSummary, PastDeal, StoreError

_LATEST = f"""WITH RECURSIVE {FAMILIES}, latest (first, sequence) AS (
    SELECT family.first, max(lines.sequence) FROM family JOIN lines ON lines.id = family.line GROUP BY family.first
)"""
"""Every line with the first line of its deal, and for every deal the sequence of the line that was played to last."""

_SUMMARIES = f"""{_LATEST} SELECT lines.*, sheets.name AS sheet_name, sheets.season, family.first,
    (SELECT count(*) FROM notes WHERE notes.line = lines.id) AS notes,
    lines.ended IS NULL AND lines.sequence < latest.sequence AS set_aside
    FROM lines JOIN family ON family.line = lines.id JOIN latest ON latest.first = family.first
    LEFT JOIN sheets ON sheets.fingerprint = lines.sheet"""


class DealsPart(StorePart):
    """The deals in an open store. Every method may raise StoreError."""

    def line(self, line: int) -> LineSummary:
        """The summary of one line."""
        found = self._summaries("lines.id = :line", {"line": line}) if 0 < line <= HIGHEST_ROW else []
        if not found:
            raise StoreError(f"there is no deal numbered {line} here; choose one from the list of past deals")
        return found[0]

    def lines(
        self,
        limit: int | None = 50,
        skip: int = 0,
        finished: bool | None = None,
        kind: str | None = None,
        sheet: str | None = None,
    ) -> tuple[LineSummary, ...]:
        """Past and present lines, the one played to last first. `sheet` is a fingerprint."""
        condition = """(:kind IS NULL OR kind = :kind) AND (:sheet IS NULL OR sheet = :sheet)
            AND (:finished IS NULL OR (ended IS NOT NULL) = :finished)"""
        values = {"kind": kind, "sheet": sheet, "finished": finished}
        return tuple(self._summaries(condition, values, -1 if limit is None else limit, skip))

    def deals(
        self, kinds: Collection[str] | None = None, limit: int | None = None, skip: int = 0
    ) -> tuple[PastDeal, ...]:
        """Past and present deals, each with its forks, the one played to last first.

        `kinds` are those of the deals' first lines. None for all.
        """
        marks = {f"kind{number}": kind for number, kind in enumerate(kinds or ())}
        wanted = "" if kinds is None else f"WHERE lines.kind IN ({', '.join(f':{mark}' for mark in marks)})"
        chosen = f"""{_LATEST} SELECT latest.first FROM latest JOIN lines ON lines.id = latest.first {wanted}
            ORDER BY latest.sequence DESC LIMIT :limit OFFSET :skip"""
        values = {**marks, "limit": -1 if limit is None else limit, "skip": skip}
        firsts = [row["first"] for row in self._connection.read(lambda db: db.execute(chosen, values).fetchall())]
        families: dict[int, list[LineSummary]] = {first: [] for first in firsts}
        for first, summary in self._with_first(f"family.first IN ({', '.join(map(str, firsts))})", {}):
            families[first].append(summary)
        return tuple(PastDeal(tuple(sorted(lines, key=_number))) for lines in families.values() if lines)

    def last_line(self, kind: str | None = None) -> int | None:
        """The line to go on with: of the unfinished ones the one that was played to last. None if there is none.

        A line that the player took back doesn't count, even where the one played instead has come to its end.
        Imported lines don't count either.
        """
        condition = """lines.ended IS NULL AND NOT imported AND lines.sequence = latest.sequence
            AND (:kind IS NULL OR kind = :kind)"""
        found = self._summaries(condition, {"kind": kind}, limit=1)
        return found[0].id if found else None

    def branches(self, line: int) -> tuple[LineSummary, ...]:
        """Every line of the same deal: the first one and all its forks, oldest first."""
        self.line(line)
        condition = "family.first = (SELECT first FROM family WHERE line = :line)"
        return tuple(sorted(self._summaries(condition, {"line": line}), key=_number))

    def delete_deal(self, line: int) -> DeletedDeal:
        """Delete the deal of a line with all its forks, entries and notes. Gives what `restore_deal` needs.

        The figures of its reviews and results stay, so that what the player is told about their play stays true.
        """

        def work(db: sqlite3.Connection) -> DeletedDeal:
            line_row(db, line)
            query = f"""WITH RECURSIVE {FAMILIES} SELECT line FROM family
                WHERE first = (SELECT first FROM family WHERE line = ?)"""
            members = ", ".join(str(row["line"]) for row in db.execute(query, (line,)).fetchall())
            rows: dict[str, tuple[dict[str, Any], ...]] = {}
            for table, column in (("lines", "id"), ("entries", "line"), ("notes", "line")):
                found = db.execute(f"SELECT * FROM {table} WHERE {column} IN ({members}) ORDER BY id").fetchall()
                rows[table] = tuple(dict(row) for row in found)
                db.execute(f"DELETE FROM {table} WHERE {column} IN ({members})")
            stay = {}
            for table in ("reviews", "results"):
                found = db.execute(f"SELECT id, line FROM {table} WHERE line IN ({members})").fetchall()
                stay[table] = {int(row["id"]): int(row["line"]) for row in found}
                db.execute(f"UPDATE {table} SET line = NULL WHERE line IN ({members})")
            return DeletedDeal(rows, stay["reviews"], stay["results"])

        return self._connection.write(work)

    def restore_deal(self, deleted: DeletedDeal) -> None:
        """Put a deleted deal back as it was. Refused where it is there again already."""

        def work(db: sqlite3.Connection) -> None:
            for row in deleted.rows["lines"]:
                if db.execute("SELECT 1 FROM lines WHERE id = ?", (row["id"],)).fetchone():
                    raise StoreError(f"deal {row['id']} is there already; choose it from the list of past deals")
            for table, rows in deleted.rows.items():
                for row in rows:  # an entry's own number may be another's by now, and nothing refers to it
                    insert(db, table, {name: row[name] for name in row if (table, name) != ("entries", "id")})
            for table, lines in (("reviews", deleted.reviews), ("results", deleted.results)):
                for number, line in lines.items():
                    db.execute(f"UPDATE {table} SET line = ? WHERE id = ? AND line IS NULL", (line, number))

        self._connection.write(work)

    def _summaries(
        self, condition: str, values: Mapping[str, Any], limit: int = -1, skip: int = 0
    ) -> list[LineSummary]:
        return [summary for _, summary in self._with_first(condition, values, limit, skip)]

    def _with_first(
        self, condition: str, values: Mapping[str, Any], limit: int = -1, skip: int = 0
    ) -> list[tuple[int, LineSummary]]:
        """The lines that a condition chooses, the one played to last first, each with the first line of its deal."""
        query = f"{_SUMMARIES} WHERE {condition} ORDER BY lines.sequence DESC, lines.id DESC LIMIT :limit OFFSET :skip"
        values = {**values, "limit": limit, "skip": skip}
        found = self._connection.read(lambda db: db.execute(query, values).fetchall())
        return self._sound(found, lambda row: (int(row["first"]), summary_of(row)))


def _number(line: LineSummary) -> int:
    return line.id
