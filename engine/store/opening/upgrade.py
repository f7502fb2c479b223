"""What bringing an older file up to date takes beside SQL.

The third step: a finished line held a sentence, and now it holds how the game ended as data. The record has everything,
so the game is replayed. Where that can't be, the sentence stays.
"""

from __future__ import annotations

import sqlite3

from engine.sheet.model import Sheet
from engine.store.replay import ended_from
from engine.store.rows import insert


def endings_and_sequence(db: sqlite3.Connection) -> None:
    """Copy every line into `new_lines`, its end as data, numbered in the order in which lines were played to."""
    sheets: dict[str, Sheet | None] = {}
    order = db.execute("SELECT id FROM lines ORDER BY touched, id").fetchall()
    for number, (line,) in enumerate(order, start=1):
        row = dict(db.execute("SELECT * FROM lines WHERE id = ?", (line,)).fetchone())
        sentence, figures = row.pop("outcome"), row.pop("figures")
        ended = (
            None if sentence is None else ended_from(db, line, str(sentence), figures, bool(row["imported"]), sheets)
        )
        insert(db, "new_lines", {**row, "ended": ended, "sequence": number})
