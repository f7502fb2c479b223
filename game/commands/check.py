"""`lone-east check`: reads sheets and prints every fault, or hands and variants counted per section."""

from __future__ import annotations

import argparse
import json
import sys
from typing import TYPE_CHECKING, Any

from engine import words
from engine.sheet import shelf
from engine.sheet.model import Hand, Sheet
from engine.sheet.reader import Reading

if TYPE_CHECKING:
    Subparsers = argparse._SubParsersAction[argparse.ArgumentParser]


def add_parser(subparsers: Subparsers) -> None:
    """Add the command to the command line."""
    parser = subparsers.add_parser(
        "check",
        help="read sheets and print their faults, or what they hold",
        description=(
            "Read sheets. Each fault is printed to standard error as file:line:column: message, and the exit status is "
            "1; of a sheet without faults, the hands and variants of each section are printed."
        ),
    )
    parser.add_argument(
        "files",
        metavar="FILE",
        nargs="+",
        help=f"a sheet's YAML file, or a shipped sheet: {', '.join(shelf.shipped())}",
    )
    parser.add_argument("--json", action="store_true", help="print a JSON list instead, one object for each file")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Check all the files; 0 when none has a fault, else 1."""
    readings = [(file, shelf.reading(file)) for file in args.files]
    if args.json:
        print(json.dumps([_as_data(file, reading) for file, reading in readings], indent=2))
    else:
        for index, (file, reading) in enumerate(readings):
            if reading.sheet is not None:
                print(("\n" if index else "") + "\n".join(_summary(file, reading.sheet)))
            for fault in reading.faults:
                print(words.shown(str(fault)), file=sys.stderr)
    return 1 if any(reading.faults for _, reading in readings) else 0


def _summary(file: str, sheet: Sheet) -> list[str]:
    """A heading, a row for each section, and a total, in columns."""
    rows = [("Section", "Hands", "Variants")]
    rows += [(section.name, *_counts(section.hands)) for section in sheet.sections]
    rows += [("Total", *_counts(sheet.hands))]
    widths = [max(len(row[column]) for row in rows) for column in range(3)]
    return [
        f"{file}: {sheet.name}, season {sheet.season}",
        *(f"  {a:<{widths[0]}}  {b:>{widths[1]}}  {c:>{widths[2]}}" for a, b, c in rows),
    ]


def _counts(hands: tuple[Hand, ...]) -> tuple[str, str]:
    return f"{len(hands):,}", f"{sum(len(hand.variants) for hand in hands):,}"


def _as_data(file: str, reading: Reading) -> dict[str, Any]:
    """One file's entry of the JSON list."""
    sheet = reading.sheet
    hands = sheet.hands if sheet else ()
    return {
        "file": file,
        "sheet": sheet.name if sheet else None,
        "season": sheet.season if sheet else None,
        "variants": sum(len(hand.variants) for hand in hands),
        "hands": [{"section": hand.section, "hand": hand.name, "variants": len(hand.variants)} for hand in hands],
        "faults": [{"line": fault.line, "column": fault.column, "message": fault.said} for fault in reading.faults],
    }
