"""Where the entries of a forked line lie: its own after the fork, those before it with its ancestors."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from engine.rules.record import Header
from engine.store.rows import (
    LONGEST_TEXT,
    Json,
    KeptSheet,
    Row,
    StoreError,
    canonical_is_sound,
    chosen_of,
    chosen_text,
    clean,
    house_of,
    house_text,
    moment_of,
    to_json,
    wall_of,
)
from engine.tiles import write_tiles

HIGHEST_ROW = (1 << 63) - 1


@dataclass(frozen=True)
class Stretch:
    """Entries `start` to `stop` (not included) of a record, kept under the line `line`."""

    line: int
    start: int
    stop: int


def line_row(db: sqlite3.Connection, line: int) -> Row:
    """The row of a line, with name and season of its sheet. Raises StoreError where there is none."""
    row: Row | None = None
    if 0 < line <= HIGHEST_ROW:
        row = db.execute(
            "SELECT lines.*, sheets.name AS sheet_name, sheets.season FROM lines "
            "LEFT JOIN sheets ON sheets.fingerprint = lines.sheet WHERE lines.id = ?",
            (line,),
        ).fetchone()
    if row is None:
        raise StoreError(f"there is no deal numbered {line} here; choose one from the list of past deals")
    return row


def stretches(db: sqlite3.Connection, line: int) -> tuple[Stretch, ...]:
    """The stretches that make up a line's record, first entries first. Raises StoreError."""
    row = line_row(db, line)
    found = []
    stop = int(row["entries"])
    while True:
        start = int(row["forked_at"]) if row["parent"] is not None else 0
        if start < stop:
            found.append(Stretch(int(row["id"]), start, stop))
        if row["parent"] is None:
            return tuple(reversed(found))
        stop = min(stop, start)
        row = line_row(db, int(row["parent"]))


def ancestors(db: sqlite3.Connection, line: int) -> Iterator[tuple[int, int]]:
    """The line and those it was forked from, each with the last moment that they share with it. Raises StoreError."""
    row = line_row(db, line)
    shared = int(row["entries"])
    while True:
        yield int(row["id"]), shared
        if row["parent"] is None:
            return
        shared = min(shared, int(row["forked_at"]))
        row = line_row(db, int(row["parent"]))


def entry_rows(db: sqlite3.Connection, line: int) -> Iterator[Row]:
    """The entries of a line's record in order, as far as none is missing. Raises StoreError."""
    wanted = 0
    for stretch in stretches(db, line):
        for row in db.execute(
            "SELECT number, seat, action FROM entries WHERE line = ? AND number >= ? AND number < ? ORDER BY number",
            (stretch.line, stretch.start, stretch.stop),
        ):
            if row["number"] != wanted:
                return
            wanted += 1
            yield row


def header_columns(header: Header) -> dict[str, Any]:
    """The columns of a line that a record's header fills."""
    return {
        "deal": header.deal,
        "sheet": header.fingerprint,
        "chosen": chosen_text(header.sections),
        "house": house_text(header.house),
        "wall": write_tiles(header.wall),
    }


def header_of(row: Row) -> Header:
    """The header that a line's row holds, its sheet's name and season joined. Raises UnsoundRowError."""
    house = house_of(row["house"])
    return Header(
        sheet=row["sheet_name"] or "",
        season=row["season"] or "",
        fingerprint=row["sheet"],
        sections=chosen_of(row["chosen"]),
        house=house,
        deal=row["deal"],
        wall=wall_of(row["wall"], house),
    )


def insert_line(db: sqlite3.Connection, row: Mapping[str, Any]) -> int:
    """Write a new line; its number."""
    names = ", ".join(row)
    marks = ", ".join(f":{name}" for name in row)
    return int(db.execute(f"INSERT INTO lines ({names}) VALUES ({marks})", dict(row)).lastrowid or 0)


def insert_sheet(db: sqlite3.Connection, values: tuple[str, str, str, str, str | None, str]) -> None:
    """Write a sheet, or its text where only its name was known (or the text was damaged)."""
    db.execute(
        """INSERT INTO sheets (fingerprint, name, season, maker, canonical, first_seen) VALUES (?, ?, ?, ?, ?, ?)
        ON CONFLICT (fingerprint) DO UPDATE SET
            name = excluded.name, season = excluded.season, maker = excluded.maker, canonical = excluded.canonical
        WHERE excluded.canonical IS NOT NULL""",
        values,
    )


def kept_sheet_of(row: Row) -> KeptSheet:
    """What is known of a sheet from its row. Raises UnsoundRowError."""
    whole = canonical_is_sound(row["fingerprint"], row["canonical"])
    seen = moment_of(row["first_seen"])
    return KeptSheet(row["fingerprint"], row["name"], row["season"], row["maker"], seen, whole)


def ending(outcome: str, figures: Mapping[str, Json] | None) -> tuple[str, str]:
    """The columns of an outcome. Raises StoreError."""
    sentence = clean(outcome).strip()
    if not 0 < len(sentence) <= LONGEST_TEXT:
        raise StoreError(f"an outcome is one sentence, not {len(sentence)} characters; write what happened")
    return sentence, to_json(dict(figures or {}), "an outcome's figures")
