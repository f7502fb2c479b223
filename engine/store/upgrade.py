"""What bringing an older file up to date takes beside SQL.

The third step: a finished line held a sentence, and now it holds how the game ended as data. The record has everything,
so the game is replayed. Where that can't be, the sentence stays.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from typing import Any

from engine.rules.record import Record
from engine.sheet.model import Sheet
from engine.store.endings import end_by_replay, end_from_sentence, end_text
from engine.store.lineage import line_row, sound_entries
from engine.store.rows import header_of, insert, object_of, whole_sheet
from engine.store.values import UnsoundRowError


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


def ended_from(
    db: sqlite3.Connection,
    line: int,
    sentence: str,
    figures: object,
    imported: bool,
    sheets: dict[str, Sheet | None],
) -> str | None:
    """The end, as it is stored now, of a line that an older version had finished. None where it has no end after all.

    `sheets` holds the sheets that were read already, by fingerprint.
    """
    try:
        known: Mapping[str, Any] = object_of(figures)
    except UnsoundRowError:
        known = {}
    said = end_from_sentence(sentence, known)
    if said.kind and not imported:
        return end_text(said)  # nobody made a hand: the figures say all there is
    try:
        row = {**line_row(db, line), "ended": None}
        record = Record(header_of(row), sound_entries(db, line))
        fingerprint = record.header.fingerprint
        if fingerprint not in sheets:
            found = db.execute("SELECT * FROM sheets WHERE fingerprint = ?", (fingerprint,)).fetchone()
            sheets[fingerprint] = None if found is None else whole_sheet(found)
        sheet = sheets[fingerprint]
        end = None if sheet is None else end_by_replay(record, sheet)
    except (ValueError, TypeError, KeyError, IndexError):  # damage of any kind must not stop the game from starting
        sheet, end = None, None
    if end is None and imported and sheet is not None:
        return None  # what somebody's file says of a game that isn't over
    return end_text(said if end is None else end)
