"""`lone-east today`: what is due today, asked in the terminal, each item with the reason why it comes up."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from game.commands.drill import add_options, drill
from game.commands.options import BadInputError, complain

if TYPE_CHECKING:
    Subparsers = argparse._SubParsersAction[argparse.ArgumentParser]


def add_parser(subparsers: Subparsers) -> None:
    """Add the command to the command line."""
    parser = subparsers.add_parser(
        "today",
        help="practise what is due today, about ten minutes",
        description="Practise what is due today: hands that were missed, hands that fade, and a few new ones.",
    )
    add_options(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Ask until nothing more is due; 0, or 1 for a sheet that can't be read."""
    try:
        return drill(args, None)
    except BadInputError as error:
        return complain(error)
