"""How games ended, found by replaying what is stored of them."""

from __future__ import annotations

import contextlib
import sqlite3
from collections.abc import Iterable, Mapping
from typing import Any

from engine.rules.record import Record
from engine.sheet.model import Sheet
from engine.store.endings import GameEnd, end_by_replay, end_from_sentence, end_text
from engine.store.lineage import line_row, sound_entries
from engine.store.rows import header_of, object_of, whole_sheet
from engine.store.values import UnsoundRowError


def find_ends(db: sqlite3.Connection, lines: Iterable[int]) -> None:
    """Write how the games of these lines ended, where it isn't stored.

    An imported game has no end while its sheet is missing, and a damaged one may have lost it.
    """
    sheets: dict[str, Sheet | None] = {}
    for line in lines:
        row = line_row(db, line)
        sheet = None if row["ended"] is not None else _sheet(db, row["sheet"], sheets)
        end = None if sheet is None else _end(db, row, sheet)
        if end is not None:
            db.execute("UPDATE lines SET ended = ? WHERE id = ?", (end_text(end), line))


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
    known: Mapping[str, Any] = {}
    with contextlib.suppress(UnsoundRowError):
        known = object_of(figures)
    said = end_from_sentence(sentence, known)
    if said.kind and not imported:
        return end_text(said)  # nobody made a hand: the figures say all there is
    row = {**line_row(db, line), "ended": None}
    sheet = _sheet(db, row["sheet"], sheets)
    end = None if sheet is None else _end(db, row, sheet)
    if end is None and imported and sheet is not None:
        return None  # what somebody's file says of a game that isn't over
    return end_text(said if end is None else end)


def _sheet(db: sqlite3.Connection, fingerprint: str, sheets: dict[str, Sheet | None]) -> Sheet | None:
    if fingerprint not in sheets:
        row = db.execute("SELECT * FROM sheets WHERE fingerprint = ?", (fingerprint,)).fetchone()
        sheets[fingerprint] = None if row is None else whole_sheet(row)
    return sheets[fingerprint]


def _end(db: sqlite3.Connection, row: Mapping[str, Any], sheet: Sheet) -> GameEnd | None:
    """The end by replay. None for an unfinished game, and for one that is damaged: that must not stop the game."""
    try:
        return end_by_replay(Record(header_of(row), sound_entries(db, row["id"])), sheet)
    except (ValueError, TypeError, KeyError, IndexError):
        return None
