"""Reads a sheet file: YAML text to a Sheet, or every fault of the file with line, column and cure."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from os import PathLike

from engine.sheet.faults import Fields, SheetReading
from engine.sheet.hand import read_hand
from engine.sheet.model import Hand, Section, Sheet
from engine.sheet.plain_text import UnreadError, bytes_of, seen_text, text_of
from engine.sheet.tree import Listing, Mapping, Node, Places, Refused, tree
from engine.sheet.writer import write_parts
from engine.words import quoted

MOST_BYTES = 1 << 18
"""A sheet of a hundred hands is a tenth of this. PyYAML takes up to two seconds for a million bytes made for it."""


@dataclass(frozen=True, order=True)
class Fault:
    """What is wrong at one place of a file, and what to write instead. Line and column count from 1."""

    file: str
    line: int
    column: int
    message: str
    hand: str = ""
    """The name of the hand in which it is, as far as it can be read; empty outside of hands."""

    @property
    def said(self) -> str:
        """The message with the hand's name before it."""
        return f"{quoted(self.hand)}: {self.message}" if self.hand else self.message

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}: {self.said}"


@dataclass(frozen=True)
class Reading:
    """The sheet of a file, or its faults in the order of the file: exactly one of the two is there."""

    sheet: Sheet | None
    faults: tuple[Fault, ...]


class SheetFaultsError(ValueError):
    """A sheet that can't be used; `faults` holds all of its faults, and the message has a line for each."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__("\n".join(map(str, faults)))
        self.faults = faults


SheetFaults = SheetFaultsError


def load(path: str | PathLike[str]) -> Sheet:
    """The sheet of a file. Raises SheetFaults holding every fault."""
    return sheet_of(read_file(path))


def sheet_of(reading: Reading) -> Sheet:
    """The sheet of a reading. Raises SheetFaults holding every fault."""
    if reading.sheet is None:
        raise SheetFaultsError(reading.faults)
    return reading.sheet


def read_file(path: str | PathLike[str]) -> Reading:
    """Read a file; one that can't be read is a fault too."""
    source = str(path)
    try:
        return read(bytes_of(path, MOST_BYTES, "sheet"), source)
    except UnreadError as error:
        return _unread(source, error)


def _unread(source: str, error: UnreadError) -> Reading:
    return Reading(None, (Fault(source, error.line, error.column, error.message),))


def read(content: str | bytes, source: str = "sheet") -> Reading:
    """Read a sheet from the text or the bytes of a YAML file; `source` names it in faults."""
    try:
        text = text_of(content, MOST_BYTES, "sheet")
    except UnreadError as error:
        return _unread(source, error)
    return _Reader(text, source).reading()


_MOST_FAULTS = 1000
_KEYS = ("sheet", "season", "maker", "sections")
_FORM = "write sheet:, season: and sections: at the beginning of lines of their own"


class _EnoughError(Exception):
    """There are so many faults that more would help nobody."""


class _Reader:
    """Reads one text, gathering faults on the way."""

    def __init__(self, text: str, source: str) -> None:
        self._source = source
        self._found: list[tuple[int, str, str]] = []
        self._begun: SheetReading | None = None
        self._places = Places(text)
        self._text = text

    def reading(self) -> Reading:
        """The whole text, judged."""
        sheet = None
        with suppress(_EnoughError):
            sheet = self._sheet() if self._seen() else None
        faults = {Fault(self._source, *self._places.of(offset), said, hand) for offset, said, hand in self._found}
        return Reading(None, tuple(sorted(faults))) if faults else Reading(sheet, ())

    def _report(self, offset: int, message: str) -> None:
        if len(self._found) == _MOST_FAULTS:
            self._found.append(
                (offset, f"there are more than {_MOST_FAULTS:,} faults; mend the others and check again", "")
            )
            raise _EnoughError
        self._found.append((offset, message, self._begun.hand if self._begun is not None else ""))

    def _seen(self) -> bool:
        """Report characters that YAML has no place for and put spaces in their stead; False for a binary file."""
        text = seen_text(self._text, self._report, "sheet")
        self._text = text or ""
        return text is not None

    def _sheet(self) -> Sheet | None:
        root = tree(self._text, self._report)
        if root is None:
            self._report(0, f"the file holds no sheet; {_FORM}")
        if not isinstance(root, Mapping):
            if root is not None and not isinstance(root, Refused):
                what = "a list" if isinstance(root, Listing) else "a single text"
                self._report(root.start, f"the file is {what} and no sheet; {_FORM}")
            return None
        reading = self._begun = SheetReading(self._text, self._report)
        found = reading.fields(root, _KEYS, ("sheet", "season", "sections"), "a sheet")
        name = reading.name(found["sheet"], "sheet") if "sheet" in found else None
        reading.season = self._season(found, reading)
        sections = self._sections(found["sections"], reading) if "sections" in found else ()
        maker = self._maker(found, reading)
        if self._found or name is None or reading.season is None:
            return None
        return Sheet(name, reading.season, maker, sections, write_parts(name, reading.season, maker, sections))

    def _season(self, found: Fields, reading: SheetReading) -> str | None:
        scalar = reading.string(found["season"], "season") if "season" in found else None
        if scalar is None:
            return None
        text = scalar.value.strip()
        if text.isascii() and text.isdigit() and len(text) <= 4:
            return text
        reading.report(scalar.start, f"season is {quoted(text)}; write 1 to 4 digits, such as season: 2026")
        return None

    def _maker(self, found: Fields, reading: SheetReading) -> str:
        node = found.get("maker")
        if node is None or (hasattr(node, "value") and not node.value.strip()):
            return ""
        return reading.name(node, "maker") or ""

    def _sections(self, node: Node, reading: SheetReading) -> tuple[Section, ...]:
        items = self._items(node, "sections", "section")
        names: set[str] = set()
        sections = []
        for item in items:
            if not isinstance(item, Mapping):
                if not isinstance(item, Refused):
                    self._report(item.start, "this is no section; write - section: and its name, and hands: below that")
                continue
            found = reading.fields(item, ("section", "hands"), ("section", "hands"), "a section")
            name = reading.name(found["section"], "section") if "section" in found else None
            if name is not None and name in names:
                self._report(found["section"].start, f"there is a section {quoted(name)} already; give it another name")
            names.add(name or "")
            hands: list[Hand | None] = []
            if "hands" in found:
                hands = [read_hand(hand, name or "", reading) for hand in self._items(found["hands"], "hands", "hand")]
            sections.append(Section(name or "", tuple(hand for hand in hands if hand is not None)))
        return tuple(sections)

    def _items(self, node: Node, key: str, item: str) -> tuple[Node, ...]:
        """The items of a list that may not be empty."""
        if isinstance(node, Refused):
            return ()
        if not isinstance(node, Listing):
            self._report(node.start, f"{key} is no list; write each below it, beginning with - {item}: and its name")
            return ()
        if not node.items and node.complete:
            self._report(
                node.start, f"{key} is an empty list; write at least one, beginning with - {item}: and its name"
            )
        return node.items
