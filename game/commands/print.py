"""`lone-east print`: a sheet, a study, a comparison, practice pages, the ledger or a lesson, as a PDF file."""

from __future__ import annotations

import argparse
import sys
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from engine.drills.ledger import Ledger
from engine.drills.lesson.model import Lesson
from engine.drills.lesson.reader import read_lesson_file
from engine.sheet.model import Sheet
from engine.sheet.shelf import shipped
from engine.store.files import default_path
from engine.store.store import Store
from game.commands.options import BadInputError, chosen_sheet, complain
from game.commands.shared.long_jobs import file_to_write, unwritable, whole_number
from game.commands.shared.progress_bar import Progress
from game.paper.printing import MOST_PRACTICE, PAPERS, PrintParts, write_pdf
from game.play.practice.ledgers import Ledgers

if TYPE_CHECKING:
    Subparsers = argparse._SubParsersAction[argparse.ArgumentParser]

SEEDS = 1_000_000


def add_parser(subparsers: Subparsers) -> None:
    """Add the command to the command line."""
    parser = subparsers.add_parser(
        "print",
        help="put a sheet on paper, with what else helps to learn it",
        description=(
            "Write a PDF: the sheet's hands in tiles, and with the options a study of it, what changed since another "
            "sheet, racks to practise on with their answers behind them, the season's ledger to tick by hand, and a "
            "lesson."
        ),
    )
    parser.add_argument("sheet", metavar="SHEET", help=f"a sheet's file, or a shipped sheet: {', '.join(shipped())}")
    parser.add_argument("-o", "--output", metavar="FILE", required=True, help="the PDF file to write")
    parser.add_argument("--study", action="store_true", help="add what the sheet leans on")
    parser.add_argument("--compare", metavar="OLD", help="add what changed since an old sheet")
    parser.add_argument("--practice", metavar="N", help=f"add so many racks to practise on, 1 to {MOST_PRACTICE}")
    parser.add_argument("--ledger", action="store_true", help="add the season's ledger, with what you have won so far")
    parser.add_argument("--lesson", metavar="FILE", type=Path, help="add a lesson made for this sheet")
    parser.add_argument("--only", action="store_true", help="leave the sheet's hands out, and print what is added")
    parser.add_argument("--large", action="store_true", help="print the hands in large tiles, in one column")
    parser.add_argument("--paper", choices=PAPERS, default=PAPERS[0], help="the size of the page")
    parser.add_argument("--seed", metavar="S", help="of the racks; the same seed prints the same ones")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Write the file; 0, or 1 for what can't be read or written."""
    try:
        wanted = _wanted(args)
        path = file_to_write("--output", args.output)
        assert path is not None  # the option must be given
        with Progress(sys.stderr, max(wanted.practice, 1), "racks") as progress:
            try:
                write_pdf(wanted, path, progress.show)
            except OSError as error:
                raise BadInputError(unwritable("--output", path, error)) from error
    except BadInputError as error:
        return complain(error)
    print(f"Written to {path}.")
    return 0


def _wanted(args: argparse.Namespace) -> PrintParts:
    """What the options ask for. Raises BadInputError."""
    sheet = chosen_sheet(args.sheet)
    number = 0 if args.practice is None else whole_number("--practice", args.practice, 1, MOST_PRACTICE)
    seed = 1 if args.seed is None else whole_number("--seed", args.seed, 0, SEEDS)
    old = None if args.compare is None else chosen_sheet(args.compare)
    lesson = None if args.lesson is None else _lesson(args.lesson, sheet)
    if args.only and not (args.study or old or number or args.ledger or lesson):
        raise BadInputError("--only leaves the hands out; say what to print, for instance --study or --practice 12.")
    kept = _kept(sheet) if args.ledger else None
    return PrintParts(
        sheet, not args.only, args.study, old, number, args.ledger, kept, lesson, args.large, args.paper, seed
    )


def _lesson(path: Path, sheet: Sheet) -> Lesson:
    reading = read_lesson_file(path, (sheet,))
    if reading.lesson is None:
        raise BadInputError("\n".join(map(str, reading.faults)))
    return reading.lesson


def _kept(sheet: Sheet) -> Ledger | None:
    """What was played on the sheet so far; None where nothing was ever kept."""
    if not default_path().exists():
        return None
    with Store(default_path()) as store:
        ledgers = Ledgers(store, sheet)
        ledgers.fill(lambda *_: None)
        return ledgers.ledger(date.today())
