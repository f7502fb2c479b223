"""Options that several commands share: which sheet, deal and sections; and how their faults are said."""

from __future__ import annotations

import argparse
import random
import sys

from engine.rules.deal import SEEDS, DealCode, DealCodeError
from engine.rules.house import House
from engine.sheet.model import Sheet
from engine.sheet.reader import SheetFaults
from engine.sheet.shelf import find, shipped
from game.play.defaults import FIRST_SHEET


class BadInputError(Exception):
    """Something given on the command line that can't be used; the message is for the player, exit status 1."""


def add_deal_options(parser: argparse.ArgumentParser) -> None:
    """`--deal`, `--sheet`, `--sections`."""
    parser.add_argument("--deal", metavar="CODE", help="deal these very tiles; without it a new deal is shuffled")
    parser.add_argument(
        "--sheet",
        metavar="S",
        help=f"a sheet's file, or a shipped sheet by name: {', '.join(shipped())} (default: {FIRST_SHEET})",
    )
    parser.add_argument("--sections", metavar="NAMES", help="play with these sections only, parted by semicolons")


def chosen_sheet(name: str | None, sections: str | None = None) -> Sheet:
    """The sheet asked for, cut to the sections asked for. Raises BadInputError."""
    try:
        sheet = find(name or FIRST_SHEET)
        return sheet.cut([part.strip() for part in sections.split(";") if part.strip()]) if sections else sheet
    except SheetFaults as error:
        raise BadInputError(str(error)) from error
    except ValueError as error:
        raise BadInputError(f"{error}.") from error


def chosen_deal(sheet: Sheet, text: str | None, house: House) -> DealCode:
    """The deal asked for, or a new one by these house rules. Raises BadInputError."""
    if text is None:
        return DealCode.of(sheet, house, random.SystemRandom().randrange(SEEDS))
    try:
        code = DealCode.parse(text)
        code.deal(sheet)
    except DealCodeError as error:
        raise BadInputError(f"{str(error)[:1].upper()}{str(error)[1:]}.") from error
    return code


def complain(error: BadInputError) -> int:
    """Print the fault to standard error; the exit status for it."""
    print(error, file=sys.stderr)
    return 1
