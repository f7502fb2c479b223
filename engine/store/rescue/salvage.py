"""Reading what can be read of a damaged store into a fresh one.

Rows are read by ranges of row numbers from both ends towards the damage, so one bad page costs the rows on it and no
more. A first page that is destroyed is replaced, in a copy, by that of a new file: the tables of the two begin on the
same pages. What no table leads to any longer is carved out of the pages. All that is read is checked before it is kept.
"""

from __future__ import annotations

import contextlib
import shutil
import sqlite3
from collections import deque
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from engine.store import rows, schema
from engine.store.endings import end_from_sentence, end_text
from engine.store.rescue.carve import carve
from engine.store.values import UnsoundRowError

LARGEST = 1 << 30
"""Bytes of the largest file that is read through; a larger one was never a store."""

_FINEST = 4
"""Rows: a stretch shorter than this that can't be entered from either end is given up."""

_PROBES = 250
"""How many stretches of one table are tried."""

Found = dict[int, dict[str, Any]]
"""Rows by row number."""


def salvage(damaged: Path, fresh: sqlite3.Connection, scratch: Path) -> int:
    """Copy what is sound from a damaged file (and its write-ahead log) into a fresh store; the number of lines kept.

    `scratch` is a folder for copies: the damaged file itself is only read. Raises OSError and sqlite3.Error where the
    copies or the fresh store can't be written.
    """
    found: dict[str, Found] = {table: {} for table in schema.WANTED}
    if damaged.is_file() and damaged.stat().st_size <= LARGEST:
        copy = _copy(damaged, scratch)
        if not _read_all(copy, found):
            copy = _copy(damaged, scratch)  # anew: opening a file may have changed it
            _graft_first_page(copy, scratch)
            _read_all(copy, found)
            _drop_unsound(found)
            _carve_rest(copy, found)
    return _keep(found, fresh)


def _copy(damaged: Path, scratch: Path) -> Path:
    copy = scratch / "copy.sqlite"
    for suffix in ("", "-wal"):
        part = damaged.with_name(damaged.name + suffix)
        target = copy.with_name(copy.name + suffix)
        target.unlink(missing_ok=True)
        if part.is_file() and part.stat().st_size <= LARGEST:
            shutil.copyfile(part, target)
    copy.with_name(copy.name + "-shm").unlink(missing_ok=True)
    return copy


def _graft_first_page(copy: Path, scratch: Path) -> None:
    """Put the first page of a new, empty store in place of the copy's own."""
    model = scratch / "model.sqlite"
    model.unlink(missing_ok=True)
    db = schema.connect(model)
    try:
        schema.settle(db)
        db.execute("PRAGMA synchronous = OFF")  # a copy that is thrown away needn't reach the disk
        schema.bring_up_to_date(db)
    finally:
        db.close()
    page = bytearray(model.read_bytes()[: schema.PAGE])
    page[92:96] = bytes(4)  # "valid for" another change: the length of the file counts, not what this page says of it
    with copy.open("r+b") as file:
        file.write(page)


def _drop_unsound(found: dict[str, Found]) -> None:
    """A table that was added to an older file begins on another page than in a new one, so that the grafted page may
    have led into the rows of another table."""
    for table, read in found.items():
        found[table] = {number: row for number, row in read.items() if _sound(table, row)}


def _carve_rest(copy: Path, found: dict[str, Found]) -> None:
    """Add rows that only the pages still hold. A row may be of any table with as many columns, if it is sound there."""
    for number, values in carve(copy.read_bytes(), schema.PAGE):
        for table, wanted in schema.WANTED.items():
            if len(values) == len(wanted) and number not in found[table]:
                row = {**dict(zip(wanted, values, strict=True)), "id": number}
                if _sound(table, row):
                    found[table][number] = row


def _read_all(copy: Path, found: dict[str, Found]) -> bool:
    """Read every table into `found`; whether no damage was met."""
    complete = True
    db = schema.connect(copy)
    try:
        with contextlib.suppress(*schema.FAULTS):
            db.execute("PRAGMA synchronous = OFF")
        size = sum(p.stat().st_size for p in (copy, copy.with_name(copy.name + "-wal")) if p.exists())
        made = _tables_made(db)
        highest = size // 8 + 1000  # a row takes more than eight bytes, and row numbers are given one after another
        for table, wanted in schema.WANTED.items():
            try:
                present = [column for column in schema.columns(db, table) if column in (*wanted, "outcome", "figures")]
            except schema.FAULTS:
                present = []
            if "id" not in present:
                complete = complete and table not in made
                continue
            rows_read, whole = read_table(db, table, present, highest)
            complete = complete and whole
            for number, row in rows_read.items():
                found[table].setdefault(number, _of_today(table, row))
    finally:
        db.close()
    return complete


def _tables_made(db: sqlite3.Connection) -> set[str]:
    """The tables that a file of its version has: an older one lacks some without being damaged."""
    with contextlib.suppress(*schema.FAULTS):
        number = schema.version(db)
        if 0 < number < len(schema.STEPS):
            return schema.tables_after(number)
    return set(schema.WANTED)


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
    """Read from one end of a stretch until damage stops it: the last row number that was read, None at the end.

    Before the first row that is the number just outside of the stretch.
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


def _keep(found: Mapping[str, Found], fresh: sqlite3.Connection) -> int:
    """Write the sound rows in one transaction; the number of lines among them."""
    entries: dict[int, dict[int, dict[str, Any]]] = {}
    for row in found["entries"].values():
        if _sound("entries", row):
            entries.setdefault(row["line"], {})[row["number"]] = row
    fresh.execute("BEGIN IMMEDIATE")
    lengths: dict[int, int] = {}
    sound = {number: line for number, line in found["lines"].items() if _sound("lines", line)}
    order = sorted(sound, key=lambda number: (sound[number]["sequence"], sound[number]["touched"], number))
    for number in sorted(sound):
        line = {**sound[number], "sequence": order.index(number) + 1}
        start = line["forked_at"]
        if line["parent"] is not None and lengths.get(line["parent"], -1) < start:
            continue  # what it shares with its parent is lost
        own = entries.get(number, {})
        length = start
        while length in own:
            _insert(fresh, "entries", {**own[length], "id": None})
            length += 1
        if length != line["entries"]:
            line = {**line, "ended": None}  # its end is lost, so it may be played on
        lengths[number] = length
        _insert(fresh, "lines", {**line, "entries": length})
    for table in ("sheets", "notes", "settings", "results", "reviews"):
        for row in found[table].values():
            if _sound(table, row) and (table != "notes" or row["line"] in lengths):
                if table == "reviews" and row["line"] not in lengths:
                    row = {**row, "line": None}  # its number may come to be another game's
                _insert(fresh, table, row)
    fresh.execute("COMMIT")
    return len(lengths)


def _insert(fresh: sqlite3.Connection, table: str, row: Mapping[str, Any]) -> None:
    names = [name for name in row if name in schema.WANTED[table]]
    marks = ", ".join(f":{name}" for name in names)
    fresh.execute(f"INSERT OR IGNORE INTO {table} ({', '.join(names)}) VALUES ({marks})", dict(row))


def _sound(table: str, row: dict[str, Any]) -> bool:
    """Whether our own writing could have left the row so."""
    if any(name not in row for name in schema.WANTED[table]):
        return False
    if table != "notes" and any("\ufffd" in value for value in row.values() if isinstance(value, str)):
        return False  # bytes that are no text; in a note the player may have written the mark
    try:
        return _CHECKS[table](row)
    except (UnsoundRowError, TypeError, ValueError, KeyError):
        return False


def _of_today(table: str, row: dict[str, Any]) -> dict[str, Any]:
    """A row of an older form as it would be written today."""
    if table != "lines" or "outcome" not in row:
        return row
    sentence, figures = row.pop("outcome"), row.pop("figures")
    with contextlib.suppress(UnsoundRowError):
        if sentence is not None:
            row["ended"] = end_text(end_from_sentence(str(sentence), rows.object_of(figures)))
    return {"ended": None, "sequence": 0, **row}


def _whole(*values: object) -> bool:
    return all(isinstance(value, int) and value >= 0 for value in values)


def _text(*values: object) -> bool:
    return all(isinstance(value, str) for value in values)


def _sound_sheet(row: dict[str, Any]) -> bool:
    rows.moment_of(row["first_seen"])
    if not rows.canonical_is_sound(row["fingerprint"], row["canonical"]):
        row["canonical"] = None  # its name is still worth having
    return _text(row["fingerprint"], row["name"], row["season"], row["maker"])


def _sound_line(row: dict[str, Any]) -> bool:
    rows.summary_of({**row, "sheet_name": "", "season": "", "notes": 0, "set_aside": 0})
    rows.wall_of(row["wall"], rows.house_of(row["house"]))
    parent_is_older = row["parent"] is None or (_whole(row["parent"]) and row["parent"] < row["id"])
    return (
        parent_is_older
        and _whole(row["forked_at"], row["entries"])
        and row["forked_at"] <= row["entries"]
        and _text(row["deal"], row["sheet"], row["kind"])
        and row["advice_hidden"] in (0, 1)
        and row["imported"] in (0, 1)
        and _whole(row["sequence"])
    )


def _sound_entry(row: dict[str, Any]) -> bool:
    rows.action_of(row)
    rows.moment_of(row["at"])
    return _whole(row["line"], row["number"]) and _whole(row["seat"] + 1)


def _sound_note(row: dict[str, Any]) -> bool:
    rows.note_of(row)
    return _whole(row["line"]) and _text(row["text"]) and (row["moment"] is None or _whole(row["moment"]))


def _sound_setting(row: dict[str, Any]) -> bool:
    rows.from_json(row["value"])
    return _text(row["key"])


def _sound_result(row: dict[str, Any]) -> bool:
    rows.result_of(row)
    allowance_is_sound = row["allowance"] is None or isinstance(row["allowance"], int | float)
    return allowance_is_sound and _text(row["kind"]) and (row["line"] is None or _whole(row["line"]))


def _sound_review(row: dict[str, Any]) -> bool:
    rows.review_of(row)
    return _text(row["at"])


_CHECKS = {
    "sheets": _sound_sheet,
    "lines": _sound_line,
    "entries": _sound_entry,
    "notes": _sound_note,
    "settings": _sound_setting,
    "results": _sound_result,
    "reviews": _sound_review,
}
