"""What the store hands out, as frozen values, and how each is put into a row and checked when it comes back."""

from __future__ import annotations

import hashlib
import json
import math
from collections.abc import Mapping
from dataclasses import asdict, dataclass, fields
from datetime import UTC, datetime
from typing import Any, TypeAlias

from engine.rules.actions import Action, parse_action
from engine.rules.house import House
from engine.tiles import Kind, counts_of, full_set, parse_tiles

Json: TypeAlias = "bool | int | float | str | list[Json] | dict[str, Json] | None"
Row: TypeAlias = Mapping[str, Any]

LONGEST_TEXT = 20_000
"""Characters that a note or a sentence may have."""


class StoreError(ValueError):
    """Something asked of the store that can't be; the message says what to do."""


class UnsoundRowError(ValueError):
    """A row that our own writing can't have left so: the file was damaged."""


@dataclass(frozen=True)
class KeptSheet:
    """A sheet that was played or loaded once; `whole` is False while only a deal that names it was imported."""

    fingerprint: str
    name: str
    season: str
    maker: str
    first_seen: datetime
    whole: bool


@dataclass(frozen=True)
class LineSummary:
    """One line of play of a deal, for a list of past deals."""

    id: int
    parent: int | None
    """The line that it was forked from."""
    forked_at: int
    """How many entries it shares with its parent; 0 without one."""
    deal: str
    """Deal code."""
    sheet_name: str
    season: str
    fingerprint: str
    chosen: tuple[str, ...] | None
    """Sections that the sheet was cut to, None for all."""
    house: House
    kind: str
    """Of practice: `game`, `passes` or what the caller named."""
    advice_hidden: bool
    """Whether no advice was seen from the start to now."""
    imported: bool
    """Whether it came in as a text file instead of being played here."""
    started: datetime
    touched: datetime
    entries: int
    """Length of the record, the shared part included."""
    notes: int
    outcome: str | None
    """One sentence; None while unfinished."""
    figures: Mapping[str, Json]
    """What the caller kept with the outcome, such as points and picks."""

    @property
    def finished(self) -> bool:
        """Whether an outcome is written."""
        return self.outcome is not None


@dataclass(frozen=True)
class Note:
    """A player's words on a line; `moment` is how many entries came before, None for the deal as a whole."""

    id: int
    line: int
    moment: int | None
    text: str
    at: datetime


@dataclass(frozen=True)
class Result:
    """The tally of one drill. `allowance` is the seconds allowed, None for an untimed one."""

    id: int
    at: datetime
    kind: str
    allowance: float | None
    figures: Mapping[str, Json]
    line: int | None


@dataclass(frozen=True)
class KeptReview:
    """What a measure of play needs of the review of one finished game; the review itself can be made again."""

    id: int
    line: int | None
    """None where the game is lost and only its figures could be rescued."""
    at: datetime
    """When the game was played to its end."""
    choices: int
    """Unforced ones."""
    cost: float
    """Worth lost by all of them together, each 0 to 1."""
    faults: int
    """How many of them were worse than the best choice, as far as could be told."""
    advice_seen: bool
    """Whether advice may have been looked at: it wasn't hidden throughout, or the game is a fork of another."""


def stamp(moment: datetime) -> str:
    """A moment as it is kept: UTC, ISO 8601, to the millisecond, so that text order is time order."""
    return moment.astimezone(UTC).isoformat(timespec="milliseconds")


def moment_of(text: object) -> datetime:
    """The moment that `stamp` wrote. Raises UnsoundRowError."""
    try:
        moment = datetime.fromisoformat(str(text))
    except ValueError as error:
        raise UnsoundRowError(f"“{text}” is no time") from error
    return moment if moment.tzinfo else moment.replace(tzinfo=UTC)


def clean(text: str) -> str:
    """Text that a database, a file and a screen can take: no control characters but new lines, no lone surrogates."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n")
    plain = "".join(" " if char.isspace() and char != "\n" else char for char in lines)
    plain = "".join(char for char in plain if char == "\n" or char.isprintable() or ord(char) in _JOINERS)
    return plain.encode("utf-8", "ignore").decode()


_JOINERS = (0x200C, 0x200D, 0xFE0E, 0xFE0F)  # not "printable", yet part of words and of characters


def to_json(value: object, what: str) -> str:
    """A value as JSON text. Raises StoreError for one that JSON has no form for."""
    try:
        return json.dumps(value, allow_nan=False, separators=(",", ":"))
    except (TypeError, ValueError, RecursionError) as error:
        raise StoreError(f"{what} can't be kept: {error}; give text, numbers, lists and dicts of these") from error


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


def summary_of(row: Row) -> LineSummary:
    """The summary of a line's row, joined with its sheet and the number of its notes. Raises UnsoundRowError."""
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
        entries=row["entries"],
        notes=row["notes"],
        outcome=row["outcome"],
        figures=object_of(row["figures"]),
    )


def note_of(row: Row) -> Note:
    """The note of a row. Raises UnsoundRowError."""
    return Note(row["id"], row["line"], row["moment"], row["text"], moment_of(row["at"]))


def result_of(row: Row) -> Result:
    """The result of a row. Raises UnsoundRowError."""
    return Result(
        row["id"], moment_of(row["at"]), row["kind"], row["allowance"], object_of(row["figures"]), row["line"]
    )


def review_of(row: Row) -> KeptReview:
    """The kept review of a row. Raises UnsoundRowError."""
    numbers = (row["choices"], row["faults"], row["advice_seen"])
    if any(type(number) is not int for number in numbers) or not isinstance(row["cost"], int | float):
        raise UnsoundRowError("the figures of a review are no numbers")
    choices, faults, seen = numbers
    if not (0 <= faults <= choices and seen in (0, 1) and 0 <= row["cost"] < math.inf):
        raise UnsoundRowError("the figures of a review can't be")
    if row["line"] is not None and type(row["line"]) is not int:
        raise UnsoundRowError("a line is a number")
    return KeptReview(row["id"], row["line"], moment_of(row["at"]), choices, float(row["cost"]), faults, bool(seen))


def canonical_is_sound(fingerprint: str, canonical: str | None) -> bool:
    """Whether a kept sheet's text is what its fingerprint says (see `Sheet.fingerprint`)."""
    if canonical is None:
        return False
    return hashlib.sha256(canonical.encode()).hexdigest()[: len(fingerprint)] == fingerprint
