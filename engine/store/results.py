"""The tallies of drills, timed ones apart from untimed ones."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping

from engine.store.connection import StorePart
from engine.store.lineage import line_row
from engine.store.rows import clean, insert, result_of, stamp, to_json
from engine.store.values import Json, Result, Row, StoreError


class ResultsPart(StorePart):
    """The results of drills in an open store. Every method may raise StoreError."""

    def add_result(
        self, kind: str, figures: Mapping[str, Json], allowance: float | None = None, line: int | None = None
    ) -> int:
        """Store the tally of one drill. `allowance` is seconds, None for an untimed one. Gives the result's number."""
        text, at, name = to_json(dict(figures), "a result"), stamp(self._now()), clean(kind)
        if allowance is not None and not 0 < allowance < 1e9:
            raise StoreError(f"an allowance of {allowance} seconds can't be; give more than 0, or None for no clock")

        def work(db: sqlite3.Connection) -> int:
            if line is not None:
                line_row(db, line)
            row = {"at": at, "kind": name, "allowance": allowance, "figures": text, "line": line}
            return insert(db, "results", row)

        return self._connection.write(work)

    def results(
        self, kind: str | None = None, timed: bool | None = None, limit: int | None = None
    ) -> tuple[Result, ...]:
        """Results, latest first: of one kind, only timed or only untimed ones, at most `limit`."""

        def work(db: sqlite3.Connection) -> list[Row]:
            query = """SELECT * FROM results WHERE (:kind IS NULL OR kind = :kind)
                AND (:timed IS NULL OR (allowance IS NOT NULL) = :timed) ORDER BY id DESC LIMIT :limit"""
            values = {"kind": kind, "timed": timed, "limit": -1 if limit is None else limit}
            return db.execute(query, values).fetchall()

        return tuple(self._sound(self._connection.read(work), result_of))
