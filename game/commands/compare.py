"""`lone-east compare`: what has become of a sheet's hands on another, and what to unlearn."""

from __future__ import annotations

import argparse
import json
from typing import Any

from engine.sheet.compare.comparison import Comparison, compare
from engine.sheet.shelf import shipped
from game.commands.options import BadInputError, chosen_sheet, complain
from game.words.compare.report import because, change_short, report


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    parser = subparsers.add_parser(
        "compare",
        help="say what changed from one sheet to another, and what to unlearn",
        description=(
            "Compare two sheets. Hands are matched by what they are and not by name. What was mahjong on the old "
            "sheet and is none on the new one is said with the nearest new hand, and with racks to practise on."
        ),
    )
    names = ", ".join(shipped())
    parser.add_argument("old", metavar="OLD", help=f"the old sheet's file, or a shipped sheet: {names}")
    parser.add_argument("new", metavar="NEW", help="the new sheet, likewise")
    parser.add_argument("--json", action="store_true", help="print a JSON object instead")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the comparison; 0, or 1 for a sheet that can't be read."""
    try:
        compared = compare(chosen_sheet(args.old), chosen_sheet(args.new))
    except BadInputError as error:
        return complain(error)
    print(json.dumps(as_data(compared), indent=2, ensure_ascii=False) if args.json else "\n".join(report(compared)))
    return 0


def as_data(compared: Comparison) -> dict[str, Any]:
    """The JSON object."""
    return {
        "kept": [{"old": pair.old.name, "new": pair.new.name} for pair in compared.kept],
        "changed": [
            {"old": pair.old.name, "new": pair.new.name, "changes": [change_short(one) for one in pair.changes]}
            for pair in compared.changed
        ],
        "new": [hand.name for hand in compared.new_hands],
        "gone": [hand.name for hand in compared.gone],
        "unlearn": [
            {"hand": one.hand.name, "because": because(one), "nearest": one.nearest.name} for one in compared.unlearn
        ],
    }
