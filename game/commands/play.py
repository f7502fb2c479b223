"""`lone-east play`, and `lone-east` alone: the window, the text table, or a watched game where neither can be."""

from __future__ import annotations

import argparse
import os
import sys

from engine.rules.house import FULL, QUIET, TWO
from game.commands.options import BadInputError, add_deal_options, chosen_deal, complain, loaded_sheets
from game.play.defaults import house_for


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    parser = subparsers.add_parser("play", help="play a practice game (the window, or the text table)")
    parser.add_argument("--text", action="store_true", help="play in the terminal, in sentences")
    parser.add_argument(
        "--table", choices=(QUIET, FULL, TWO), help="a new deal: you alone, four, or two racks of yours"
    )
    add_deal_options(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Open what can be opened here."""
    try:
        if args.text:
            from game.commands.play_text import play_in_text  # late: the window has no use for it

            return play_in_text(args)
        if not has_display():
            print("There is no display here, so the game is played in sentences.", flush=True)
            return play_in_sentences(args)
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
    from game.window.open import (  # late: pygame takes a while, and a terminal has no use for it
        NoDisplayError,
        open_window,
    )

    asked_for = args.sheet or args.sections or args.deal or args.table or args.twist or args.house
    asked = chosen_deal(args, house_for(args.table), loaded_sheets) if asked_for else None
    try:
        return open_window(asked)
    except NoDisplayError as error:
        print(f"The display here can't be used ({error}), so the game is played in sentences.", flush=True)
        return play_in_sentences(args)


def play_in_sentences(args: argparse.Namespace) -> int:
    """The text table where there is a terminal, else a watched game."""
    if sys.stdin is not None and sys.stdin.isatty():
        from game.commands.play_text import play_in_text  # late: the window has no use for it

        return play_in_text(args)
    from game.commands import watch

    return watch.run(args)
