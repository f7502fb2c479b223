"""`lone-east study`: what a sheet leans on, in sentences or as JSON."""

from __future__ import annotations

import argparse
import json
from typing import Any

from engine.sheet.shelf import shipped
from engine.sheet.study.counts import Study
from engine.tiles import code
from game.commands.options import BadInputError, chosen_sheet, complain
from game.words.study import FEW, report, sentences


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    parser = subparsers.add_parser(
        "study",
        help="say what a sheet leans on",
        description=(
            "Count a sheet: which tiles its hands want, flowers, jokers, suits, the order of groups, what its sums and "
            "its season press on. Every figure counts all the ways to make a hand."
        ),
    )
    parser.add_argument("sheet", metavar="SHEET", help=f"a sheet's file, or a shipped sheet: {', '.join(shipped())}")
    parser.add_argument("--json", action="store_true", help="print a JSON object instead")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the study; 0, or 1 for a sheet that can't be read."""
    try:
        study = Study.of(chosen_sheet(args.sheet))
    except BadInputError as error:
        return complain(error)
    print(json.dumps(as_data(study), indent=2, ensure_ascii=False) if args.json else "\n".join(report(study)))
    return 0


def as_data(study: Study) -> dict[str, Any]:
    """The JSON object."""
    return {
        "sheet": study.sheet.name,
        "season": study.sheet.season,
        "hands": study.hands,
        "variants": study.variants,
        "tiles": {
            code(one.kind): {"hands": one.hands, "variants": one.variants, "groups": one.groups} for one in study.tiles
        },
        "flowers": {str(size): hands for size, hands in study.flowers.items()},
        "shapes": [{"sizes": list(shape), "hands": hands} for shape, hands in study.shapes],
        "concealed": study.concealed,
        "sections": [
            {
                "section": section.name,
                "hands": len(section.hands),
                "variants": sum(len(hand.variants) for hand in section.hands),
            }
            for section in study.sheet.sections
        ],
        "sentences": list(sentences(study, FEW)),
    }
