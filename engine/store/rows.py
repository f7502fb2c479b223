"""How each value of the store is put into a row, and how a row is checked when it comes back."""

from __future__ import annotations

import hashlib
import json
import math
import sqlite3
from collections.abc import Callable, Mapping
from dataclasses import asdict, fields, replace
from datetime import UTC, datetime
from typing import Any

from engine.rules.actions import Action, parse_action
from engine.rules.deal import DealCode, DealCodeError
from engine.rules.house import House
from engine.rules.record import Header
from engine.sheet.model import Sheet
from engine.sheet.reader import read
from engine.store.endings import GameEnd, end_of, end_text
from engine.store.values import (
    Json,
    LineSummary,
    Note,
    Result,
    Row,
    StoredReview,
    StoredSheet,
    StoreError,
    UnsoundRowError,
)
from engine.tiles import Kind, counts_of, full_set, parse_tiles, write_tiles
from engine.words import JOINERS


def insert(db: sqlite3.Connection, table: str, row: Mapping[str, Any]) -> int:
    """Write a new row. Gives its number."""
    names = ", ".join(row)
    marks = ", ".join(f":{name}" for name in row)
    return int(db.execute(f"INSERT INTO {table} ({names}) VALUES ({marks})", dict(row)).lastrowid or 0)


def stamp(moment: datetime) -> str:
    """A moment as it is stored: UTC, ISO 8601, to the millisecond."""
    return moment.astimezone(UTC).isoformat(timespec="milliseconds")


def moment_of(text: object) -> datetime:
    """The moment that `stamp` wrote. Raises UnsoundRowError."""
    try:
        moment = datetime.fromisoformat(str(text))
    except ValueError as error:
        raise UnsoundRowError(f"“{text}” is no time") from error
    return moment if moment.tzinfo else moment.replace(tzinfo=UTC)


def clean(text: str) -> str:
    """Text that a database, a file and a screen can take.

    New lines stay. Other control characters go, and so do characters that turn the direction of writing and halves of
    characters (lone surrogates).
    """
    lines = text.replace("\r\n", "\n").replace("\r", "\n")
    plain = "".join(" " if char.isspace() and char != "\n" else char for char in lines)
    plain = "".join(char for char in plain if char == "\n" or char.isprintable() or char in JOINERS)
    return plain.encode("utf-8", "ignore").decode()


def to_json(value: object, what: str) -> str:
    """A value as JSON text. Raises StoreError for one that JSON has no form for."""
    try:
        return json.dumps(value, allow_nan=False, separators=(",", ":"))
    except (TypeError, ValueError, RecursionError) as error:
        raise StoreError(f"{what} can't be stored: {error}; give text, numbers, lists and dicts of these") from error


def from_json(text: object) -> Any:
    """The value of a JSON text. Raises UnsoundRowError."""
    try:
        return json.loads(str(text))
    except (ValueError, RecursionError) as error:
        raise UnsoundRowError(f"“{str(text)[:40]}” is no JSON") from error


def object_of(text: object) -> dict[str, Json]:
    """The JSON object of a text, {} for None. Raises UnsoundRowError."""
    value = {} if text is None else from_json(text)
    if not isinstance(value, dict):
        raise UnsoundRowError(f"“{str(text)[:40]}” is no JSON object")
    return value


def house_text(house: House) -> str:
    """House rules as a JSON object of the rules' names."""
    return json.dumps(asdict(house))


def house_of(text: object) -> House:
    """The house rules that `house_text` wrote; a rule not in it has its default. Raises UnsoundRowError."""
    given = object_of(text)
    known = {field.name: type(field.default) for field in fields(House)}
    for name, value in given.items():
        if type(value) is not known.get(name):
            raise UnsoundRowError(f"there is no house rule “{name}: {value}”")
    try:
        return House(**given)  # type: ignore[arg-type]  # each was just held against its default's type
    except ValueError as error:
        raise UnsoundRowError(str(error)) from error


def chosen_text(chosen: tuple[str, ...] | None) -> str | None:
    """Section names as a JSON list; None stays None."""
    return None if chosen is None else json.dumps(list(chosen))


def chosen_of(text: object) -> tuple[str, ...] | None:
    """The section names that `chosen_text` wrote. Raises UnsoundRowError."""
    if text is None:
        return None
    names = from_json(text)
    if not isinstance(names, list) or not all(isinstance(name, str) for name in names):
        raise UnsoundRowError(f"“{str(text)[:40]}” is no list of sections")
    return tuple(names)


def wall_of(text: object, house: House) -> tuple[Kind, ...]:
    """The wall of a row: the whole set of that house in some order. Raises UnsoundRowError."""
    try:
        wall = parse_tiles(str(text))
    except ValueError as error:
        raise UnsoundRowError(str(error)) from error
    if counts_of(wall) != full_set(house.jokers):
        raise UnsoundRowError("its wall is not the full set of tiles")
    return wall


def action_of(row: Row) -> Action:
    """The action of an entry's row. Raises UnsoundRowError."""
    try:
        if row["seat"] not in (-1, 0, 1, 2, 3):
            raise ValueError(f"there is no seat {row['seat']}")
        return parse_action(str(row["action"]))
    except ValueError as error:
        raise UnsoundRowError(str(error)) from error


def ended_of(text: object) -> GameEnd | None:
    """The end of a game that a line's row holds, None for an unfinished one. Raises UnsoundRowError."""
    if text is None:
        return None
    try:
        return end_of(str(text))
    except ValueError as error:
        raise UnsoundRowError(f"“{str(text)[:40]}” is no end of a game") from error


def mended(row: Row) -> dict[str, Any]:
    """A line's row as far as it can be put right where a byte of it is damaged.

    The deal code says house rules and wall. A time is taken from the other one. What else is damaged gets the value
    that stands for "not known", so that the deal can still be opened.
    """
    whole = dict(row)
    code = _code_of(row["deal"])
    if code is not None and not _is_sound(house_of, row["house"]):
        whole["house"] = house_text(code.house)
    if code is not None and not _is_sound(lambda text: wall_of(text, house_of(whole["house"])), row["wall"]):
        whole["wall"] = write_tiles(code.wall())
    if not _is_sound(chosen_of, row["chosen"]):
        whole["chosen"] = None
    if not _is_sound(ended_of, row["ended"]):
        whole["ended"] = end_text(GameEnd(""))
    times = [row[name] for name in ("started", "touched") if _is_sound(moment_of, row[name])]
    for name in ("started", "touched"):
        if row[name] not in times:
            whole[name] = times[0] if times else stamp(datetime.fromtimestamp(0, UTC))
    return whole


def _is_sound(check: Callable[[object], object], text: object) -> bool:
    try:
        check(text)
    except UnsoundRowError:
        return False
    return True


def _code_of(text: object) -> DealCode | None:
    try:
        return DealCode.parse(str(text))
    except DealCodeError:
        return None


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
    row = mended(row)
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


def summary_of(row: Row) -> LineSummary:
    """The summary of a line's row, joined with its sheet, the number of its notes and `set_aside`. Raises
    UnsoundRowError."""
    row = mended(row)
    return LineSummary(
        id=row["id"],
        parent=row["parent"],
        forked_at=row["forked_at"],
        deal=row["deal"],
        sheet_name=row["sheet_name"] or "a sheet that is lost",
        season=row["season"] or "",
        fingerprint=row["sheet"],
        chosen=chosen_of(row["chosen"]),
        house=house_of(row["house"]),
        kind=row["kind"],
        advice_hidden=bool(row["advice_hidden"]),
        imported=bool(row["imported"]),
        started=moment_of(row["started"]),
        touched=moment_of(row["touched"]),
        sequence=row["sequence"],
        entries=row["entries"],
        notes=row["notes"],
        ending=ended_of(row["ended"]),
        set_aside=bool(row["set_aside"]),
    )


def sheet_of(row: Row) -> StoredSheet:
    """What is known of a sheet from its row. Raises UnsoundRowError."""
    whole = canonical_is_sound(row["fingerprint"], row["canonical"])
    seen = moment_of(row["first_seen"])
    return StoredSheet(row["fingerprint"], row["name"], row["season"], row["maker"], seen, whole)


def note_of(row: Row) -> Note:
    """The note of a row. Raises UnsoundRowError."""
    return Note(row["id"], row["line"], row["moment"], row["text"], moment_of(row["at"]))


def result_of(row: Row) -> Result:
    """The result of a row. Raises UnsoundRowError."""
    return Result(
        row["id"], moment_of(row["at"]), row["kind"], row["allowance"], object_of(row["figures"]), row["line"]
    )


def review_of(row: Row) -> StoredReview:
    """The stored review of a row. Raises UnsoundRowError."""
    numbers = (row["choices"], row["faults"], row["advice_seen"])
    if any(type(number) is not int for number in numbers) or not isinstance(row["cost"], int | float):
        raise UnsoundRowError("the figures of a review are no numbers")
    choices, faults, seen = numbers
    if not (0 <= faults <= choices and seen in (0, 1) and 0 <= row["cost"] < math.inf):
        raise UnsoundRowError("the figures of a review can't be")
    if row["line"] is not None and type(row["line"]) is not int:
        raise UnsoundRowError("a line is a number")
    return StoredReview(row["id"], row["line"], moment_of(row["at"]), choices, float(row["cost"]), faults, bool(seen))


def canonical_is_sound(fingerprint: str, canonical: str | None) -> bool:
    """Whether a stored sheet's text is what its fingerprint says (see `Sheet.fingerprint`)."""
    if canonical is None:
        return False
    return hashlib.sha256(canonical.encode()).hexdigest()[: len(fingerprint)] == fingerprint


def whole_sheet(row: Row) -> Sheet | None:
    """The sheet that a row holds. None where its text is missing, damaged, or not to be read by this version.

    A later version of the game may write a sheet's plain form otherwise. The edition is still the one that was played.
    """
    fingerprint, canonical = row["fingerprint"], row["canonical"]
    if not canonical_is_sound(fingerprint, canonical):
        return None
    sheet = read(canonical, source=row["name"]).sheet
    return sheet if sheet is None or sheet.fingerprint == fingerprint else replace(sheet, canonical=canonical)
