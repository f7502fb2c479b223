"""A deal's header, a sheet and an outcome as rows of the store, and back."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from typing import Any

from engine.practice.rows import (
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
from engine.rules.record import Header
from engine.tiles import write_tiles


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
