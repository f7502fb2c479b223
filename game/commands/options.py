"""Options that several commands share: which sheet, deal and sections; and how their faults are said."""

from __future__ import annotations

import argparse
import contextlib
import random
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence

from engine import words
from engine.rules.deal import SEEDS, DealCode, DealCodeError
from engine.rules.house import House
from engine.rules.twists.names import TWISTS
from engine.sheet.model import Sheet
from engine.sheet.reader import SheetFaultsError
from engine.sheet.shelf import find, shipped
from engine.store.files import default_path
from engine.store.store import Store
from game.play.defaults import FIRST_SHEET
from game.play.desk import AskedDeal, Desk
from game.play.house.sets import SHIPPED, all_sets, find_set
from game.play.twisting import CHOICES, SURPRISE, with_twist
from game.play.worker import Worker


class BadInputError(Exception):
    """Something given on the command line that can't be used; the message is for the player, exit status 1."""


def add_deal_options(parser: argparse.ArgumentParser) -> None:
    """`--deal`, `--sheet`, `--twist`, `--sections`."""
    parser.add_argument("--deal", metavar="CODE", help="deal these very tiles; without it a new deal is shuffled")
    parser.add_argument(
        "--sheet",
        metavar="S",
        help=(
            f"a sheet's file, or a shipped sheet by name: {', '.join(shipped())} (default: the one that the deal code "
            f"was made for, or {FIRST_SHEET})"
        ),
    )
    parser.add_argument(
        "--twist", choices=CHOICES[1:], metavar="T",
        help=f"a small rule that changes this one new deal: {SURPRISE} for one drawn at random, or {', '.join(TWISTS)}",
    )  # fmt: skip
    parser.add_argument("--house", metavar="SET", help="play this new deal by a named set of house rules")
    parser.add_argument("--sections", metavar="NAMES", help="play with these sections only, parted by semicolons")


def chosen_sheet(name: str | None, sections: str | None = None) -> Sheet:
    """The sheet asked for, cut to the sections asked for. Raises BadInputError."""
    try:
        return _cut(find(name or FIRST_SHEET), sections)
    except SheetFaultsError as error:
        raise BadInputError(str(error)) from error


def chosen_deal(args: argparse.Namespace, house: House, loaded: Callable[[], Iterable[Sheet]]) -> AskedDeal:
    """The sheet and sections asked for, and the deal asked for or a new one by these house rules.

    A deal code finds its sheet among those that ship and those that were `loaded`, unless a sheet is named.
    Raises BadInputError.
    """
    if args.deal is not None and args.twist:
        raise BadInputError("A deal code says itself which twist the deal has; leave out --twist or --deal.")
    if args.deal is not None and args.house:
        raise BadInputError("A deal code says itself by which house rules it is played; leave out --house or --deal.")
    if args.deal is None:
        sheet = chosen_sheet(args.sheet)
        house = _named(house, args.house)
        house = _twisted(house, args.twist)
        code = DealCode.of(sheet, house, random.SystemRandom().randrange(SEEDS))
        return AskedDeal(sheet, _cut(sheet, args.sections), code)
    try:
        code = DealCode.parse(args.deal)
        sheet = find_sheet_of(code, loaded()) if args.sheet is None else chosen_sheet(args.sheet)
        code.deal(sheet)
    except DealCodeError as error:
        raise BadInputError(f"{words.sentence(str(error))}.") from error
    return AskedDeal(sheet, _cut(sheet, args.sections), code)


@contextlib.contextmanager
def kept_desk() -> Iterator[Desk | None]:
    """The player's desk, for a command that keeps nothing itself; None where nothing was ever kept."""
    if not default_path().exists():
        yield None
        return
    with Store(default_path()) as store:
        yield Desk(Worker(), store)


def loaded_sheets() -> Sequence[Sheet]:
    """Every whole sheet that a deal may be of, shipped or loaded; none where nothing was ever kept."""
    with kept_desk() as desk:
        return () if desk is None else desk.every_sheet()


def find_sheet_of(code: DealCode, loaded: Iterable[Sheet]) -> Sheet:
    """The sheet that a deal code was made for. Raises DealCodeError where it is not at hand."""
    for stem in shipped():
        sheet = find(stem)
        if code.is_for(sheet):
            return sheet
    for sheet in loaded:
        if code.is_for(sheet):
            return sheet
    raise DealCodeError(
        f"the code {code} was made for a sheet, or an edition of one, that isn't here; name its file with --sheet"
    )


def _named(house: House, name: str | None) -> House:
    """The house rules of the set asked for, else those given. Raises BadInputError."""
    if not name:
        return house
    try:
        with kept_desk() as desk:
            return find_set(SHIPPED if desk is None else all_sets(desk.store), name).house
    except ValueError as error:
        raise BadInputError(f"{words.sentence(str(error))}.") from error


def _twisted(house: House, choice: str | None) -> House:
    """The rules of a new deal with the twist asked for. Raises BadInputError for one that means nothing there."""
    twisted = with_twist(house, choice or "", random.SystemRandom())
    if choice and not twisted.twist:
        raise BadInputError(f"The twist {choice} is for tables where four play; add --table full, or choose another.")
    return twisted


def _cut(sheet: Sheet, sections: str | None) -> Sheet:
    if not sections:
        return sheet
    try:
        return sheet.cut([part.strip() for part in sections.split(";") if part.strip()])
    except ValueError as error:
        raise BadInputError(f"{words.sentence(str(error))}.") from error


def complain(error: BadInputError) -> int:
    """Print the fault to standard error; the exit status for it."""
    print(words.shown(str(error)), file=sys.stderr)
    return 1
