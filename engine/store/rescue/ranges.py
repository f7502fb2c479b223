"""Rows of a table read by ranges of row numbers, from both ends towards the damage.

One bad page costs the rows on it and no more.
"""

from __future__ import annotations

import sqlite3
from collections import deque
from typing import Any

from engine.store import schema

_FINEST = 4
"""Rows: a stretch shorter than this that can't be entered from either end is given up."""

_PROBES = 250
"""How many stretches of one table are tried."""

Found = dict[int, dict[str, Any]]
"""Rows by row number."""


def read_table(db: sqlite3.Connection, table: str, columns: list[str], highest: int) -> tuple[Found, bool]:
    """Every row that can be read, by row number from 1 to `highest`, and whether there was no damage on the way."""
    found: Found = {}
    whole = True
    stretches = deque([(1, highest)])
    for _ in range(_PROBES):
        if not stretches:
            break
        low, high = stretches.popleft()
        up = _scan(db, table, columns, low, high, "ASC", found)
        if up is None:
            continue
        whole = False
        down = _scan(db, table, columns, up + 1, high, "DESC", found)
        if down is None or down - up <= _FINEST:
            continue
        middle = (up + down) // 2
        stretches += [(up + 1, middle), (middle + 1, down - 1)]
    return found, whole


def _scan(
    db: sqlite3.Connection, table: str, columns: list[str], low: int, high: int, order: str, found: Found
) -> int | None:
    """Read a stretch of rows from one end until damage stops it.

    Gives the number of the last row that was read, or the number just outside of the stretch if none was. None when
    the whole stretch was read.
    """
    last = low - 1 if order == "ASC" else high + 1
    query = f"SELECT {', '.join(columns)} FROM {table} NOT INDEXED WHERE rowid BETWEEN ? AND ? ORDER BY rowid {order}"
    try:
        for row in db.execute(query, (low, high)):
            number = row["id"]
            if not (last < number <= high if order == "ASC" else low <= number < last):
                return last  # a damaged page that leads astray
            found.setdefault(number, dict(row))
            last = number
    except (*schema.FAULTS, OverflowError):
        return last
    return None
