"""Reading what can still be read of a damaged store into a fresh one.

A damaged file is read in several ways, for each finds what the others miss: as SQLite reads it; with the pages of a
damaged log laid over it; and straight from the pages, whether anything leads to them or not. Whatever any way finds
counts if it is sound.
"""

from __future__ import annotations

import contextlib
import sqlite3
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from engine.sheet.shelf import shipped_as
from engine.store import schema
from engine.store.replay import find_ends
from engine.store.rescue.carve import Value, carve, carve_loose
from engine.store.rescue.log import Log, read_log
from engine.store.rescue.ranges import Found, read_table
from engine.store.rescue.sound import OLD_LINES, is_sound, of_today, rows_of

LARGEST = 1 << 30
"""Bytes of the largest file that is read through. A larger one was never a store."""


@dataclass(frozen=True)
class Salvaged:
    """How many lines of play were read, and how many more there must have been."""

    lines: int
    lost: int
    cut: bool = False
    """Whether the end of the log can't be read, so that what was done last may be missing."""


def salvage(damaged: Path, fresh: sqlite3.Connection, scratch: Path) -> Salvaged:
    """Copy what is sound from a damaged file and its log into a fresh store.

    `scratch` is a folder for copies: the damaged files themselves are only read. Raises OSError and sqlite3.Error where
    the copies or the fresh store can't be written.
    """
    found: dict[str, Found] = {table: {} for table in schema.WANTED}
    main, log_bytes = _content(damaged), _content(damaged.with_name(f"{damaged.name}-wal"))
    log = read_log(log_bytes, schema.PAGE)
    wrong = log.damaged or bool(log.torn) or not all(frame.sound for frame in log.frames)
    if wrong or (log.frames and not main):
        laid_over = scratch / "laid-over.sqlite"
        laid_over.write_bytes(_laid_over(main, log))
        _read_all(laid_over, found)
    if not _read_copy(main, log_bytes, scratch, found) or wrong or not main:
        for number, values in _carved(main, log):
            _add(found, number, values)
    return replace(_write(found, fresh), cut=log.cut)


def _content(path: Path) -> bytes:
    return path.read_bytes() if path.is_file() and path.stat().st_size <= LARGEST else b""


def _laid_over(main: bytes, log: Log) -> bytes:
    """The file with every page of the log in its place, those after the damage too."""
    content = bytearray(main)
    for number, page in log.pages.items():
        end = number * schema.PAGE
        content.extend(bytes(max(0, end - len(content))))
        content[end - schema.PAGE : end] = page
    if content[:16] == b"SQLite format 3\0":
        content[28:32] = (len(content) // schema.PAGE).to_bytes(4, "big")  # its length, which the log may have had
    return bytes(content)


def _read_copy(main: bytes, log_bytes: bytes, scratch: Path, found: dict[str, Found]) -> bool:
    """Read a copy of file and log as SQLite does. Gives whether nothing is wrong with it."""
    if not main:
        return False
    copy = scratch / "copy.sqlite"
    copy.write_bytes(main)
    if log_bytes:
        copy.with_name(f"{copy.name}-wal").write_bytes(log_bytes)
    return _read_all(copy, found)


def _read_all(copy: Path, found: dict[str, Found]) -> bool:
    """Add the rows of every table. Gives whether no damage was met."""
    db = schema.connect(copy)
    try:
        complete = _is_whole(db)
        size = sum(p.stat().st_size for p in (copy, copy.with_name(f"{copy.name}-wal")) if p.exists())
        made = _tables_made(db)
        highest = size // 8 + 1000  # a row takes more than eight bytes, and row numbers are given one after another
        for table, wanted in schema.WANTED.items():
            try:
                present = [column for column in schema.columns(db, table) if column in (*wanted, *OLD_LINES[-2:])]
            except schema.FAULTS:
                present = []
            if "id" not in present:
                complete = complete and table not in made
                continue
            rows_read, whole = read_table(db, table, present, highest)
            complete = complete and whole
            for number, row in rows_read.items():
                _take_better(found, table, number, of_today(table, row))
        return complete
    finally:
        db.close()


def _is_whole(db: sqlite3.Connection) -> bool:
    """Whether SQLite finds nothing wrong: half of a page of zeros can let a reading succeed that gives no rows."""
    try:
        db.execute("PRAGMA synchronous = OFF")  # a copy that is thrown away needn't reach the disk
        return bool(db.execute("PRAGMA integrity_check(1)").fetchone()[0] == "ok")
    except (*schema.FAULTS, OverflowError):
        return False


def _tables_made(db: sqlite3.Connection) -> set[str]:
    """The tables that a file of its version has: an older one lacks some without being damaged."""
    with contextlib.suppress(*schema.FAULTS):
        number = schema.version(db)
        if 0 < number < len(schema.STEPS):
            return schema.tables_after(number)
    return set(schema.WANTED)


def _carved(main: bytes, log: Log) -> Iterator[tuple[int, tuple[Value, ...]]]:
    """Rows straight from the pages: of the log, the newest first, then of the file; what pages hold loosely last."""
    whole = _laid_over(main, log)
    yield from carve(whole, schema.PAGE)
    for page in (log.torn, *(frame.page for frame in reversed(log.frames))):
        yield from carve(bytes(schema.PAGE) + page, schema.PAGE)
    if log.frames:
        yield from carve(main, schema.PAGE)
        yield from carve_loose(main, schema.PAGE)
    yield from carve_loose(whole, schema.PAGE)


def _add(found: dict[str, Found], number: int, values: tuple[Value, ...]) -> None:
    """Add a row that was carved. It may be of any table with as many columns, if it is sound there."""
    for table in schema.WANTED:
        for row in rows_of(table, number, values):
            _take_better(found, table, number, row)


def _take_better(found: dict[str, Found], table: str, number: int, row: dict[str, Any]) -> None:
    """Of two sound rows with one number take the one found first, but of lines the one with more entries."""
    there = found[table].get(number)
    if there is not None and (table != "lines" or not _longer(row["entries"], there["entries"])):
        return
    if is_sound(table, row):
        found[table][number] = row


def _longer(entries: object, there: int) -> bool:
    return isinstance(entries, int) and entries > there


def _write(found: dict[str, Found], fresh: sqlite3.Connection) -> Salvaged:
    """Write the rows in one transaction."""
    entries: dict[int, dict[int, dict[str, Any]]] = {}
    for row in found["entries"].values():
        entries.setdefault(row["line"], {})[row["number"]] = row
    lines = found["lines"]
    played = sorted(lines, key=lambda number: (lines[number]["sequence"], lines[number]["touched"], number))
    sequence = {number: place for place, number in enumerate(played, start=1)}
    fresh.execute("BEGIN IMMEDIATE")
    lengths: dict[int, int] = {}
    torn: list[int] = []
    for number in sorted(lines):
        line = {**lines[number], "sequence": sequence[number]}
        start = line["forked_at"]
        if line["parent"] is not None and lengths.get(line["parent"], -1) < start:
            continue  # what it shares with its parent is lost
        own = entries.get(number, {})
        length = start
        while length in own:
            _insert(fresh, "entries", {**own[length], "id": None})
            length += 1
        if length != line["entries"]:
            line["ended"] = None  # its end is lost, so it may be played on, unless the entries have it
            torn.append(number)
        lengths[number] = length
        _insert(fresh, "lines", {**line, "entries": length})
    _add_shipped(found)
    for table in ("sheets", "notes", "settings", "results", "reviews"):
        for row in found[table].values():
            if table != "notes" or row["line"] in lengths:
                if table == "reviews" and row["line"] not in lengths:
                    row = {**row, "line": None}  # its number may come to be another game's
                _insert(fresh, table, row)
    find_ends(fresh, torn)
    fresh.execute("COMMIT")
    known = {
        *lines,
        *entries,
        *(row["parent"] for row in lines.values()),
        *(row["line"] for row in found["notes"].values()),
    }
    return Salvaged(len(lengths), len(known - set(lengths) - {None}))


def _add_shipped(found: dict[str, Found]) -> None:
    """Sheets that ship are never lost: add those whose rows were not found, though there are deals of them."""
    sheets, lines = found["sheets"], found["lines"].values()
    for fingerprint in {line["sheet"] for line in lines} - {row["fingerprint"] for row in sheets.values()}:
        sheet = shipped_as(fingerprint)
        if sheet is not None:
            sheets[max(sheets, default=0) + 1] = {
                "id": None,
                "fingerprint": fingerprint,
                "name": sheet.name,
                "season": sheet.season,
                "maker": sheet.maker,
                "canonical": sheet.canonical,
                "first_seen": min(line["started"] for line in lines if line["sheet"] == fingerprint),
            }


def _insert(fresh: sqlite3.Connection, table: str, row: Mapping[str, Any]) -> None:
    names = [name for name in row if name in schema.WANTED[table]]
    marks = ", ".join(f":{name}" for name in names)
    fresh.execute(f"INSERT OR IGNORE INTO {table} ({', '.join(names)}) VALUES ({marks})", dict(row))
