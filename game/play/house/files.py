"""A set of house rules as a small file, to be given to others: written, and read with every fault in its place.

house: Thursday table
rules: table full, jokers 8, picks 0, seat east, passes 6, courtesy yes, blind yes, slips no, last_tiles 16
"""

from __future__ import annotations

from os import PathLike

from engine.rules.house import parse_house, write_house
from engine.sheet.faults import SheetReading
from engine.sheet.plain_text import UnreadError, bytes_of, seen_text, text_of
from engine.sheet.reader import Fault
from engine.sheet.tree import Mapping, Places, Refused, Report, tree
from engine.sheet.writer import scalar
from engine.words import listed
from game.play.house.sets import HouseSet, clean_name

MOST_BYTES = 1 << 14
KEYS = ("house", "rules")
EXAMPLES = {
    "house": "house: and the set's name",
    "rules": "rules: table full, jokers 8, picks 0, seat east, passes 6, courtesy yes, blind yes, slips no",
}
ENDING = ".yaml"


def write_set(made: HouseSet) -> str:
    """The text of a set's file."""
    return f"house: {scalar(made.name)}\nrules: {scalar(write_house(made.house))}\n"


def read_set(content: str | bytes, source: str = "house rules") -> HouseSet:
    """The set that a file's text holds. Raises ValueError with one line a fault, each with its place."""
    try:
        text = text_of(content, MOST_BYTES, "rule set")
    except UnreadError as error:
        raise ValueError(str(Fault(source, error.line, error.column, error.message))) from error
    places = Places(text)
    found: list[tuple[int, str]] = []

    def report(offset: int, message: str) -> None:
        found.append((offset, message))

    seen = seen_text(text, report, "rule set")
    made = None if seen is None else _read(seen, report)
    if found or made is None:
        faults = {Fault(source, *places.of(offset), said) for offset, said in found}
        raise ValueError("\n".join(map(str, sorted(faults))))
    return made


def read_set_file(path: str | PathLike[str]) -> HouseSet:
    """The set of a file. Raises ValueError with one line a fault."""
    try:
        return read_set(bytes_of(path, MOST_BYTES, "rule set"), str(path))
    except UnreadError as error:
        raise ValueError(str(Fault(str(path), error.line, error.column, error.message))) from error


def _read(text: str, report: Report) -> HouseSet | None:
    root = tree(text, report, "rule set")
    if not isinstance(root, Mapping):
        if root is None or not isinstance(root, Refused):
            report(0, f"the file holds no house rules; write {listed(list(EXAMPLES.values()), 'and then')}")
        return None
    reading = SheetReading(text, report, examples=EXAMPLES)
    fields = reading.fields(root, KEYS, KEYS, "a set of house rules")
    name = reading.name(fields["house"], "house") if "house" in fields else None
    rules = reading.string(fields["rules"], "rules") if "rules" in fields else None
    if name is None or rules is None:
        return None
    try:
        name = clean_name(name)
    except ValueError as error:
        report(fields["house"].start, str(error))
        return None
    try:
        return HouseSet(name, parse_house(rules.value))
    except ValueError as error:
        report(rules.start, str(error))
        return None
