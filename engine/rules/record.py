"""A whole game as a small text that a person can read, and its replay from that log alone.

First a line with format and version, then the header as `key: value`, an empty line, and one line for everything that
happened, draws included: `east discard 5d`, `wall draw 3b`; the last line is `end`, so that a text cut short is found
out. The header holds the whole wall, so no shuffle is needed.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from engine.rules.actions import Action, MalformedActionError, parse_action
from engine.rules.deal import DealCode, DealCodeError, edition_of
from engine.rules.game import apply, start
from engine.rules.house import SEATS, House, parse_house, seat_name, write_house
from engine.rules.state import CHANCE, State
from engine.sheet.model import Sheet
from engine.tiles import Kind, counts_of, full_set, parse_tiles, write_tiles

VERSION = 1
TITLE = "lone-east record"
WALL = "wall"
END = "end"
_WALL_ROW = 38
_LONGEST_TEXT = 1 << 20

Entry = tuple[int, Action]
"""Who acted (CHANCE for the wall) and what happened."""


class RecordError(ValueError):
    """A record that can't be replayed; `states` are those up to the fault."""

    def __init__(self, message: str, states: Sequence[State] = ()) -> None:
        super().__init__(message)
        self.states = list(states)


@dataclass(frozen=True)
class Header:
    """What a game was dealt from."""

    sheet: str
    season: str
    fingerprint: str
    sections: tuple[str, ...] | None
    """The sections the sheet was cut to, None for all."""
    house: House
    deal: str
    """The deal code as text, empty when the wall came from elsewhere."""
    wall: tuple[Kind, ...]

    @classmethod
    def of(cls, sheet: Sheet, house: House, wall: Sequence[Kind], deal: str = "") -> Header:
        """The header of a game on this sheet."""
        return cls(sheet.name, sheet.season, sheet.fingerprint, sheet.chosen, house, deal, tuple(wall))


@dataclass(frozen=True)
class Record:
    """A header and everything that happened after the deal, in order."""

    header: Header
    entries: tuple[Entry, ...] = ()

    def plus(self, seat: int, action: Action) -> Record:
        """This record with one more entry."""
        return Record(self.header, (*self.entries, (seat, action)))


@dataclass(frozen=True)
class RecordReading:
    """What could be read: the record, up to the first damage if there is any, and one sentence about that."""

    record: Record | None
    error: str | None = None


def to_text(record: Record) -> str:
    """The record as text; `from_text` reads it back."""
    header = record.header
    wall = [write_tiles(header.wall[place : place + _WALL_ROW]) for place in range(0, len(header.wall), _WALL_ROW)]
    lines = [
        f"{TITLE} {VERSION}",
        f"sheet: {_write_name(header.sheet)}",
        f"season: {_write_name(header.season)}",
        f"fingerprint: {_write_name(header.fingerprint)}",
        *(f"section: {_write_name(section)}" for section in header.sections or ()),
        f"house: {write_house(header.house)}",
        *([f"deal: {_write_name(header.deal)}"] if header.deal else []),
        *(f"wall: {row}" for row in wall),
        "",
        *(f"{WALL if seat == CHANCE else seat_name(seat)} {action}" for seat, action in record.entries),
        END,
    ]
    return "\n".join(lines) + "\n"


def _write_name(name: str) -> str:
    plain = name.isprintable() and name == name.strip() and name and not name.startswith('"')
    return name if plain else json.dumps(name)


def from_text(text: str) -> RecordReading:
    """Read a record, never raising: a damaged one gives what stands before the damage, and says where that is.

    Without a whole header there is nothing to play, so `record` is None then.
    """
    if len(text) > _LONGEST_TEXT:
        return RecordReading(None, f"this is {len(text)} characters long, and no record is over {_LONGEST_TEXT}")
    lines = enumerate((line.rstrip("\r") for line in text.split("\n")), start=1)
    try:
        header = _read_header(lines)
    except _DamageError as damage:
        return RecordReading(None, str(damage))
    entries: list[Entry] = []
    error = None
    try:
        if not _read_entries(lines, entries):
            last = text.count("\n") + 1
            raise _DamageError(last, f"the record stops without its last line, “{END}”: it may be cut short")
    except _DamageError as damage:
        error = str(damage)
    return RecordReading(Record(header, tuple(entries)), error)


class _DamageError(Exception):
    def __init__(self, number: int, what: str) -> None:
        super().__init__(f"line {number}: {what}")


def _read_header(lines: Iterator[tuple[int, str]]) -> Header:
    number, first = next(lines)
    title = re.fullmatch(re.escape(TITLE) + r" ([0-9]{1,6})", first.lstrip("\ufeff").strip())
    if not title:
        raise _DamageError(number, f"this is no record of a game, which starts with “{TITLE} {VERSION}”")
    if int(title[1]) != VERSION:
        raise _DamageError(
            number, f"this record has version {title[1]}, and this game reads version {VERSION}; update it"
        )
    values: dict[str, str] = {}
    sections: list[str] = []
    wall: list[Kind] = []
    for number, line in lines:
        if not line.strip():
            break
        key, colon, value = (part.strip() for part in line.partition(":"))
        try:
            if key == "wall" and colon:
                wall += parse_tiles(value)
            elif key == "section" and colon:
                sections.append(_read_name(value))
            elif key in ("sheet", "season", "fingerprint", "house", "deal") and colon and key not in values:
                values[key] = value if key == "house" else _read_name(value)
                if key == "house":
                    parse_house(value)
            else:
                raise _DamageError(number, f"“{line[:40]}” is no line of a header, or comes twice")
        except ValueError as error:
            raise _DamageError(number, str(error)) from error
    for key in ("sheet", "season", "fingerprint", "house"):
        if key not in values:
            raise _DamageError(number, f"the header ends here and lacks a line “{key}: ...”")
    house = parse_house(values["house"])
    deal = values.get("deal", "")
    if deal:
        _hold_against(number, deal, values["fingerprint"], house, wall)
    if counts_of(wall) != full_set(house.jokers):
        raise _DamageError(number, f"the wall in the header is not the full set with {house.jokers} jokers")
    return Header(
        values["sheet"],
        values["season"],
        values["fingerprint"],
        tuple(sections) or None,
        house,
        deal,
        tuple(wall),
    )


def _hold_against(number: int, deal: str, fingerprint: str, house: House, wall: Sequence[Kind]) -> None:
    """Raises _DamageError where the deal code is none, or deals something else than the rest of the header says."""
    try:
        code = DealCode.parse(deal)
    except DealCodeError as error:
        raise _DamageError(number, f"the header's deal is wrong: {error}") from error
    if not re.fullmatch("[0-9a-f]{16}", fingerprint) or code.edition != edition_of(fingerprint):
        wrong = "sheet"
    elif code.house != house:
        wrong = "house rules"
    elif code.wall() != tuple(wall):
        wrong = "wall"
    else:
        return
    raise _DamageError(
        number, f"the deal {code} in the header is for another {wrong}; take out the line “deal: ...” to play the wall"
    )


def _read_name(text: str) -> str:
    if not text.startswith('"'):
        return text
    try:
        name = json.loads(text)
    except (ValueError, RecursionError):
        name = None
    if not isinstance(name, str):
        raise ValueError(f"{text[:40]} should be one quoted text")
    return name


def _read_entries(lines: Iterator[tuple[int, str]], entries: list[Entry]) -> bool:
    """Add entries to the list as they are read, so that those before a damage are kept. Whether the end was reached."""
    ended = False
    for number, line in lines:
        if line.strip() == END and not ended:
            ended = True
        elif line.strip():
            if ended:
                raise _DamageError(number, f"“{line[:40]}” stands after the record's last line")
            entries.append(_read_entry(number, line))
    return ended


def _read_entry(number: int, line: str) -> Entry:
    who, _, what = line.strip().partition(" ")
    if who != WALL and who not in SEATS:
        raise _DamageError(number, f"“{line[:40]}” does not start with {', '.join(SEATS)} or {WALL}")
    try:
        return CHANCE if who == WALL else SEATS.index(who), parse_action(what)
    except MalformedActionError as error:
        raise _DamageError(number, str(error).rstrip(".")) from error


@dataclass(frozen=True)
class Replayed:
    """The states of a record from the deal on, one more than entries played, and why it stopped short if it did."""

    states: tuple[State, ...]
    error: str | None = None


def play_back(record: Record, sheet: Sheet) -> Replayed:
    """Replay as far as the rules allow; the error quotes the entry, counted from 1.

    Raises RecordError when the record does not belong to this sheet at all.
    """
    state = start(sheet_for(record.header, sheet), record.header.house, record.header.wall)
    states = [state]
    for place, (seat, action) in enumerate(record.entries, start=1):
        if seat != state.to_act:
            due = "nobody" if state.outcome else WALL if state.to_act == CHANCE else seat_name(state.to_act)
            who = WALL if seat == CHANCE else SEATS[seat] if seat in range(4) else str(seat)
            return Replayed(tuple(states), f"entry {place}, “{who} {action}”: {due} acts next")
        try:
            state = apply(state, action)
        except ValueError as error:
            return Replayed(tuple(states), f"entry {place}: {error}")
        states.append(state)
    return Replayed(tuple(states))


def replay(record: Record, sheet: Sheet) -> list[State]:
    """Every state of the game, the dealt one first. Raises RecordError, holding the states up to the fault."""
    played = play_back(record, sheet)
    if played.error:
        raise RecordError(played.error, played.states)
    return list(played.states)


def sheet_for(header: Header, sheet: Sheet) -> Sheet:
    """The sheet cut as the game had it. Raises RecordError for another sheet, edition or choice of sections."""
    if sheet.fingerprint != header.fingerprint:
        raise RecordError(
            f"this game was played on {header.sheet} of season {header.season}, edition {header.fingerprint}; "
            f"{sheet.name} of season {sheet.season}, edition {sheet.fingerprint}, is another sheet or edition"
        )
    if (sheet.name, sheet.season) != (header.sheet, header.season):
        raise RecordError(
            f"this game names the sheet {header.sheet} of season {header.season}, but its fingerprint is that of "
            f"{sheet.name} of season {sheet.season}; correct the line “sheet: ...” or “season: ...”"
        )
    sheet = sheet.plain
    if sheet.chosen == header.sections:
        return sheet
    if sheet.chosen is not None or header.sections is None:
        raise RecordError(f"this game was played on other sections of {header.sheet}; replay it with the whole sheet")
    try:
        return sheet.cut(header.sections)
    except ValueError as error:
        raise RecordError(str(error)) from error
