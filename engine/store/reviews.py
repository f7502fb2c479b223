"""The figures of reviewed games: what a measure of play needs of each."""

from __future__ import annotations

import math
import sqlite3

from engine.rules.house import QUIET
from engine.store.connection import StorePart
from engine.store.lineage import line_row
from engine.store.rows import house_of, mended, review_of
from engine.store.values import Row, StoredReview, StoreError, UnsoundRowError

OWN_GAMES = """WITH RECURSIVE brought (id) AS (
        SELECT id FROM lines WHERE imported UNION SELECT lines.id FROM lines JOIN brought ON lines.parent = brought.id
    ) SELECT * FROM lines WHERE kind = 'game' AND ended IS NOT NULL AND id NOT IN brought"""
"""Games played here to an end: no drills, and nothing that somebody else may have played a part of."""


class ReviewsPart(StorePart):
    """The figures of reviews in an open store. Every method may raise StoreError."""

    def save_review(self, line: int, choices: int, cost: float, faults: int, looks_known: bool = False) -> bool:
        """Store the figures of a game's review in place of any from before. Gives whether the game is one that counts.

        `choices` are the unforced ones, `cost` is the picks they lost together. When the game was played, and whether
        advice was seen, the line itself tells. Games count that were played here to an end, at the quiet table and
        without a twist.
        `looks_known`: the figures leave out the choices made while advice was on the screen, so the game counts.
        """
        if not (0 <= faults <= choices and 0 <= cost < math.inf):
            raise StoreError(f"{faults} faults in {choices} choices that cost {cost} can't be; review the game again")

        def figures(db: sqlite3.Connection) -> tuple[object, ...] | None:
            line_row(db, line)
            row = db.execute(f"{OWN_GAMES} AND id = ?", (line,)).fetchone()
            if row is None or not _counts(row):
                return None
            hidden = row["advice_hidden"] or (looks_known and choices > 0)
            seen = not hidden or row["parent"] is not None  # a fork is made with hindsight
            return line, row["touched"], choices, float(cost), faults, int(seen)

        def stored(db: sqlite3.Connection) -> bool:
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

        return self._connection.read(stored) or self._connection.write(work)  # looking at a game again costs no writing

    def reviews(self) -> tuple[StoredReview, ...]:
        """The figures of every reviewed game, in the order in which the games were played to their end."""
        found = self._connection.read(lambda db: db.execute("SELECT * FROM reviews ORDER BY at, id").fetchall())
        return tuple(self._sound(found, review_of))

    def unreviewed(self) -> tuple[int, ...]:
        """Lines of the games that count but have no review yet, the one played last first."""
        query = f"{OWN_GAMES} AND id NOT IN (SELECT line FROM reviews WHERE line IS NOT NULL) ORDER BY sequence DESC"
        found = self._connection.read(lambda db: db.execute(query).fetchall())
        return tuple(row["id"] for row in found if _counts(row))


def _counts(row: Row) -> bool:
    """Whether a line was played at the quiet table without a twist, as far as its row can be read."""
    try:
        house = house_of(mended(row)["house"])
    except UnsoundRowError:
        return False
    return house.table == QUIET and not house.twist
