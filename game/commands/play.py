"""`lone-east play`, and `lone-east` alone: the window, the text table, or a watched game where neither can be."""

from __future__ import annotations

import argparse
import os
import sys

from engine.advice.table import SheetTable
from engine.practice.store import Store, StoreError, default_path
from engine.rules.house import FULL, QUIET, House
from engine.sheet.model import Sheet
from game.advisor import Advisor
from game.commands import watch
from game.commands.choosing import (
    BadInputError,
    add_deal_options,
    chosen_deal,
    chosen_sheet,
    complain,
)
from game.keeping import USUAL_GAME, begin, line_of, resume
from game.others import others_of
from game.settings import ALWAYS, HIDDEN, Settings
from game.sitting import SeatPlayer, Sitting
from game.text.full import FullTextTable
from game.text.table import TextTable

FOUR_PLAY = House(table=FULL, passes=6, courtesy=True)
"""House rules of a whole game: both rounds of passes, the courtesy pass, then four play."""


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    parser = subparsers.add_parser("play", help="play a practice game (the window, or the text table)")
    parser.add_argument("--text", action="store_true", help="play in the terminal, in sentences")
    parser.add_argument("--table", choices=(QUIET, FULL), help="a new deal with you alone at the table, or with four")
    add_deal_options(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Open what can be opened here."""
    try:
        if args.text:
            return play_in_text(args)
        if not has_display():
            print("There is no display here, so the game is played in sentences.", flush=True)
            return play_in_text(args) if sys.stdin.isatty() else watch.run(args)
        return play_in_window(args)
    except BadInputError as error:
        return complain(error)


def has_display() -> bool:
    """Whether a window can be opened: on Linux and the BSDs one of the display variables must be set."""
    if os.environ.get("SDL_VIDEODRIVER"):
        return True
    if sys.platform in ("win32", "darwin"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def play_in_window(args: argparse.Namespace) -> int:
    """Open the window; where the display refuses it, say so and play in sentences."""
    from game.window import NoDisplayError, open_window  # late: pygame takes a while, and a terminal has no use for it

    asked_for = args.sheet or args.sections or args.deal or args.table
    sheet = chosen_sheet(args.sheet, args.sections) if asked_for else None
    code = chosen_deal(sheet, args.deal, _house(args)) if sheet is not None else None
    try:
        return open_window(sheet, code)
    except NoDisplayError as error:
        print(f"The display here can't be used ({error}), so the game is played in sentences.", flush=True)
        return play_in_text(args) if sys.stdin.isatty() else watch.run(args)


def play_in_text(args: argparse.Namespace) -> int:
    """Play in the terminal: the deal asked for, the one left unfinished, or a new one."""
    with Store(default_path()) as store:
        settings, notes = Settings.from_json(store.get("settings"))
        for note in notes:
            print(note)
        sitting = _text_sitting(args, store, settings.advice == HIDDEN)
        advisor = Advisor(sitting.state.sheet, sitting.state.house.jokers)

        def keep_note(text: str) -> None:
            line = line_of(sitting)
            if line is not None:
                store.note(line, text, sitting.cursor)

        def advice_given() -> None:
            line = line_of(sitting)
            if line is not None:
                store.advice_seen(line)

        maker = FullTextTable if sitting.state.house.table == FULL else TextTable
        table = maker(
            sitting,
            advisor,
            sys.stdin,
            lambda text: print(text, flush=True),
            keep_note,
            always_advise=settings.advice == ALWAYS,
            hide_advice=settings.advice == HIDDEN,
            advice_given=advice_given,
            trouble=lambda: store.trouble,
        )
        if not table.play():
            kept = store.saving or store.trouble is None
            print("The game is kept; it goes on from here next time." if kept else "The game could not be kept.")
        return 0


def _text_sitting(args: argparse.Namespace, store: Store, advice_hidden: bool) -> Sitting:
    asked_for = args.deal or args.sheet or args.sections or args.table
    last = None if asked_for else store.last_line("game")
    if last is not None:
        try:
            whole = store.sheet(store.line(last).fingerprint)
            return resume(store, last, others=_others(whole, store.line(last).house))
        except (StoreError, ValueError) as error:
            print(f"The game left unfinished can't be resumed: {error}.")
    sheet = chosen_sheet(args.sheet, args.sections)
    code = chosen_deal(sheet, args.deal, _house(args))
    print(f"A new deal, {code}.")
    others = _others(chosen_sheet(args.sheet), code.house)
    return begin(store, sheet, code, others=others, advice_hidden=advice_hidden)


def _house(args: argparse.Namespace) -> House:
    """House rules of a new deal: those of a first game, or a whole game of four with its passes."""
    return FOUR_PLAY if args.table == FULL else USUAL_GAME


def _others(whole: Sheet, house: House) -> SeatPlayer | None:
    return others_of(whole, house, SheetTable.of(whole, house.jokers))
