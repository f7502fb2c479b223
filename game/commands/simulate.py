"""`lone-east simulate`: many practice deals at once, and how often each hand and section of a sheet is made."""

from __future__ import annotations

import argparse
import sys
from concurrent.futures import BrokenExecutor
from pathlib import Path

from engine.advice.simulation.simulate import LAST_SEED, PICKS, simulate
from engine.advice.simulation.tally import SheetTally, tally
from engine.advice.table import SheetTable
from engine.sheet.model import Sheet
from engine.sheet.shelf import shipped
from engine.store.files import write_safely
from engine.words import quoted
from game.commands.options import BadInputError, chosen_sheet, complain
from game.commands.shared.long_jobs import INTERRUPTED, ctrl_c, file_to_write, unwritable, whole_number
from game.commands.shared.progress_bar import Progress
from game.play.defaults import USUAL_GAME
from game.words.simulation import as_csv, as_lines, explained, heading

DEALS = 2000
MOST_DEALS = 10_000_000
MOST_JOBS = 256


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    parser = subparsers.add_parser(
        "simulate",
        help="play many deals at once and count how often each hand is made",
        description=(
            "Play many practice deals at once, without passes, by the fast policy, and print how often each section "
            "and hand is made, in how many picks, with 95% intervals, and which hands never are. Ctrl-C ends it with "
            "what has been counted so far."
        ),
    )
    parser.add_argument("sheet", metavar="SHEET", help=f"a sheet's file, or a shipped sheet: {', '.join(shipped())}")
    parser.add_argument("--deals", metavar="N", default=str(DEALS), help=f"how many deals (default: {DEALS:,})")
    parser.add_argument("--sections", metavar="NAMES", help="play with these sections only, parted by semicolons")
    parser.add_argument(
        "--picks",
        metavar="K",
        default=str(USUAL_GAME.picks),
        help=f"tiles that may be drawn in a deal, 1 to {PICKS} (default: {USUAL_GAME.picks}, as in a first game)",
    )
    parser.add_argument("--seed", metavar="S", default="1", help="another number gives other deals (default: 1)")
    parser.add_argument("--jobs", metavar="J", help="deals played side by side (default: one on each core)")
    parser.add_argument("--csv", metavar="FILE", help="write the figures to this file too")
    parser.add_argument("--chart", metavar="FILE.png", help="draw a chart of them to this file")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Play and print; 0, 1 for input that can't be used, 130 when it was ended early."""
    try:
        sheet = chosen_sheet(args.sheet, args.sections)
        deals = whole_number("--deals", args.deals, 1, MOST_DEALS)
        picks = whole_number("--picks", args.picks, 1, PICKS)
        seed = whole_number("--seed", args.seed, 0, LAST_SEED)
        jobs = None if args.jobs is None else whole_number("--jobs", args.jobs, 1, MOST_JOBS)
        table_file = file_to_write("--csv", args.csv)
        chart_file = file_to_write("--chart", args.chart)
        if chart_file is not None and chart_file.suffix.lower() != ".png":
            raise BadInputError(f"--chart is {quoted(args.chart)}; give a name that ends in .png.")
        with ctrl_c() as stopped, Progress(sys.stderr, deals) as progress:
            told, ended_early = progress.show, stopped.is_set
            ended = simulate(SheetTable.of(sheet), deals, picks, seed, workers=jobs, told=told, stopped=ended_early)
        if stopped.is_set():
            print(f"Stopped after {len(ended):,} of {deals:,} deals.", file=sys.stderr)
        if len(ended):
            counted = tally(sheet, ended)
            print("\n".join(as_lines(sheet, counted, picks, seed)), flush=True)
            _write(sheet, counted, picks, seed, table_file, chart_file)
    except BadInputError as error:
        return complain(error)
    except BrokenExecutor:
        return complain(BadInputError("A part of the simulation was ended from outside; start it again."))
    return INTERRUPTED if stopped.is_set() else 0


def _write(
    sheet: Sheet, counted: SheetTally, picks: int, seed: int, table_file: Path | None, chart_file: Path | None
) -> None:
    """Write the files asked for. Raises BadInputError."""
    if table_file is not None:
        try:
            write_safely(table_file, as_csv(counted))
        except OSError as error:
            raise BadInputError(unwritable("--csv", table_file, error)) from error
    if chart_file is not None:
        from game.commands.shared.chart import Chart  # late: it draws with pygame, and the table needs none of it

        chart = Chart(counted, heading(sheet), explained(counted, picks, seed))
        try:
            chart.save(chart_file)
        except OSError as error:
            raise BadInputError(unwritable("--chart", chart_file, error)) from error
