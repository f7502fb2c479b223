"""A deal as a small text file: the record that the rules write, and below it the player's notes and more.

    lone-east record 1
    ...
    east discard 5d

    kind: game
    ended: {"kind": "picks", "picks": 31}
    note: Played twice, see the other line.
    note 12: Here the pung went.

How the game ended is written for who reads the file. Coming in, it is found by replaying the record, whatever the file
says. Files of an older version say it as `outcome:` and `figures:`.

A text that holds more than one line, or starts with a quotation mark, stands as one JSON string.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from engine.rules.deal import DealCode, DealCodeError
from engine.rules.record import Record, RecordError, from_text, play_back, to_text
from engine.store.endings import GameEnd, end_text
from engine.store.files import write_safely
from engine.store.rows import clean
from engine.store.store import GAME, Store
from engine.store.values import LONGEST_TEXT, LineSummary, StoreError

LONGEST_FILE = 1 << 20
"""Bytes of the longest text that is read."""

LONGEST_NAME = 200
MOST_NOTES = 1000

_OURS = re.compile(r"(kind|ended|outcome|figures|note(?: ([0-9]{1,6}))?): ?(.*)")
_FOUND_BY_REPLAY = ("ended", "outcome", "figures")


@dataclass(frozen=True)
class Imported:
    """The line that a text became, and one sentence on what of the text could not be used, if anything."""

    line: int
    trouble: str | None = None


def export_text(store: Store, line: int) -> str:
    """A line of play as text, the part that it shares with others included. Raises StoreError."""
    summary, record = store.line(line), store.record(line)
    below = [f"kind: {_one_line(summary.kind)}"]
    if summary.ending is not None:
        below.append(f"ended: {end_text(summary.ending)}")
    for note in store.notes(line):
        below.append(f"note{'' if note.moment is None else f' {note.moment}'}: {_one_line(note.text)}")
    return to_text(record) + "\n" + "\n".join(below) + "\n"


def export_file(store: Store, line: int, path: Path) -> None:
    """Write that text to a file; an old file of the name is replaced whole. Raises StoreError."""
    text = export_text(store, line)
    try:
        write_safely(path, text)
    except OSError as error:
        raise StoreError(f"{path} can't be written ({_reason(error)}); choose another folder or name") from error


def file_name(line: LineSummary) -> str:
    """What to call the file of a line: by its deal code, or by its number where it has no sound one."""
    try:
        return f"deal-{str(DealCode.parse(line.deal)).lower()}.txt"
    except DealCodeError:
        return f"deal-{line.id}.txt"


def import_file(store: Store, path: Path) -> Imported:
    """Store the deal that a file holds. Raises StoreError, as `import_text` does."""
    try:
        if path.exists() and not path.is_file():
            raise StoreError(f"{path} is no file; choose the text file of a deal")
        with path.open("rb") as file:
            raw = file.read(LONGEST_FILE + 1)
    except (OSError, ValueError) as error:
        if isinstance(error, StoreError):
            raise
        raise StoreError(f"{path} can't be read ({_reason(error)}); check its name and folder") from error
    return import_text(store, raw.decode("utf-8", "replace"))


def import_text(store: Store, text: str) -> Imported:
    """Store the deal that a text holds, up to where it is damaged or breaks the rules, as a new line.

    Raises StoreError when there is nothing to play, with what is wrong.
    """
    if len(text) > LONGEST_FILE:
        raise StoreError("this text is over a million characters long, and no deal is; choose the text file of a deal")
    bare, below, faults = _split(text)
    reading = from_text(bare)
    if reading.record is None:
        raise StoreError(f"this is no deal that can be opened: {reading.error}")
    checked = _legal_part(store, _checked_names(reading.record))
    record, cut = checked.record, checked.error or reading.error
    notes = [(moment, words) for moment, words in below.notes if moment is None or moment <= len(record.entries)]
    line = store.add_record(
        record,
        kind=below.kind,
        end=checked.end if cut is None else None,
        notes=notes,
    )
    if cut:
        return Imported(line, f"this deal was taken in up to entry {len(record.entries)}, where it is damaged: {cut}")
    if checked.unchecked:
        return Imported(line, f"this deal was taken in unchecked: {checked.unchecked}")
    if faults:
        return Imported(line, f"this deal was taken in, but not all that was written with it: {faults[0]}")
    return Imported(line)


@dataclass
class _Below:
    """What stands below the record."""

    kind: str = GAME
    notes: list[tuple[int | None, str]] = field(default_factory=list)


def _split(text: str) -> tuple[str, _Below, list[str]]:
    """The text with our own lines left empty, so that lines keep their numbers; what those held; and faults."""
    lines = text.split("\n")
    below, faults = _Below(), []
    below_header = False
    for number, line in enumerate(lines):
        below_header = below_header or not line.strip()
        ours = _OURS.fullmatch(line.rstrip("\r")) if below_header else None
        if ours:
            lines[number] = ""
            try:
                _take(below, ours)
            except ValueError as error:
                faults.append(f"line {number + 1}: {error}")
    return "\n".join(lines), below, faults


def _take(below: _Below, ours: re.Match[str]) -> None:
    key, moment, rest = ours[1], ours[2], ours[3].strip()
    if key in _FOUND_BY_REPLAY:
        return
    words = clean(_read_line(rest)).strip()
    if not 0 < len(words) <= (LONGEST_NAME if key == "kind" else LONGEST_TEXT):
        raise ValueError(f"{key} is empty or too long")
    if key == "kind":
        below.kind = words
    elif len(below.notes) < MOST_NOTES:
        below.notes.append((None if moment is None else int(moment), words))
    else:
        raise ValueError(f"there are more than {MOST_NOTES} notes")


@dataclass(frozen=True)
class _Checked:
    """A record as far as the rules allow it, and why no further or why it couldn't be checked."""

    record: Record
    end: GameEnd | None = None
    error: str | None = None
    unchecked: str | None = None


def _legal_part(store: Store, record: Record) -> _Checked:
    try:
        sheet = store.sheet(record.header.fingerprint)
    except StoreError:
        header = record.header
        named = f"“{header.sheet}” ({header.season}), fingerprint {header.fingerprint},"
        return _Checked(record, unchecked=f"its sheet {named} isn't stored here; load its file to open this deal")
    try:
        played = play_back(record, sheet)
    except RecordError as error:
        raise StoreError(f"this deal can't be opened: {error}") from error
    last = played.states[-1]
    end = None if last.outcome is None else GameEnd.of(last)
    return _Checked(Record(record.header, record.entries[: len(played.states) - 1]), end, played.error)


def _checked_names(record: Record) -> Record:
    """The record with names that can be shown and stored. Raises StoreError."""
    header = record.header
    names = (header.sheet, header.season, header.fingerprint, header.deal, *(header.sections or ()))
    if any(len(name) > LONGEST_NAME for name in names):
        raise StoreError(f"a name in the header is over {LONGEST_NAME} characters long; choose the text file of a deal")
    sections = None if header.sections is None else tuple(map(_name, header.sections))
    values: dict[str, Any] = {key: _name(getattr(header, key)) for key in ("sheet", "season", "fingerprint")}
    if header.deal:
        values["deal"] = str(DealCode.parse(header.deal))  # as every code is written: names of files are made of it
    return Record(replace(header, sections=sections, **values), record.entries)


def _name(text: str) -> str:
    return " ".join(clean(text).split("\n"))


def _one_line(text: str) -> str:
    return text if "\n" not in text and not text.startswith('"') and text == text.strip() else json.dumps(text)


def _read_line(text: str) -> str:
    if not text.startswith('"'):
        return text
    try:
        words = json.loads(text)
    except (ValueError, RecursionError):
        words = None
    if not isinstance(words, str):
        raise ValueError("what starts with a quotation mark must be one JSON string")
    return words


def _reason(error: Exception) -> str:
    return getattr(error, "strerror", None) or str(error)
