"""`lone-east simulate`: many practice deals at once, and how often each hand and section of a sheet is made."""

from __future__ import annotations

import argparse
import contextlib
import os
import signal
import sys
import threading
from collections.abc import Iterator
from concurrent.futures import BrokenExecutor
from pathlib import Path
from types import FrameType

from engine.advice.simulation.simulate import LAST_SEED, PICKS, simulate
from engine.advice.simulation.tally import SheetTally, tally
from engine.advice.table import SheetTable
from engine.sheet.model import Sheet
from engine.sheet.shelf import shipped
from engine.store.files import write_safely
from engine.words import quoted
from game.commands.options import BadInputError, chosen_sheet, complain
from game.commands.progress import Progress
from game.play.defaults import USUAL_GAME
from game.words.simulation import as_csv, as_lines, explained, heading

DEALS = 2000
MOST_DEALS = 10_000_000
INTERRUPTED = 130


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
    parser.add_argument("--csv", metavar="FILE", help="write the figures to this file too")
    parser.add_argument("--chart", metavar="FILE.png", help="draw a chart of them to this file")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Play and print; 0, 1 for input that can't be used, 130 when it was ended early."""
    try:
        sheet = chosen_sheet(args.sheet, args.sections)
        deals = _number("--deals", args.deals, 1, MOST_DEALS)
        picks = _number("--picks", args.picks, 1, PICKS)
        seed = _number("--seed", args.seed, 0, LAST_SEED)
        table_file = _file("--csv", args.csv)
        chart_file = _file("--chart", args.chart)
        if chart_file is not None and chart_file.suffix.lower() != ".png":
            raise BadInputError(f"--chart is {quoted(args.chart)}; give a name that ends in .png.")
        with _ctrl_c() as stopped, Progress(sys.stderr, deals) as progress:
            ended = simulate(SheetTable.of(sheet), deals, picks, seed, told=progress.show, stopped=stopped.is_set)
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
            raise BadInputError(_unwritable("--csv", table_file, error)) from error
    if chart_file is not None:
        from game.commands.chart import Chart  # late: it draws with pygame, and the table needs none of it

        chart = Chart(counted, heading(sheet), explained(counted, picks, seed))
        try:
            chart.save(chart_file)
        except OSError as error:
            raise BadInputError(_unwritable("--chart", chart_file, error)) from error


def _number(option: str, text: str, low: int, high: int) -> int:
    plain = text.strip().replace(",", "")
    if not (plain.isascii() and plain.isdecimal()) or len(plain) > 12 or not low <= int(plain) <= high:
        raise BadInputError(f"{option} is {quoted(text)}; write a whole number from {low} to {high:,}.")
    return int(plain)


def _file(option: str, text: str | None) -> Path | None:
    """Where to write, checked before hours of play rather than after. Raises BadInputError."""
    if text is None:
        return None
    path = Path(text)
    try:
        if not text or path.is_dir():
            raise BadInputError(f"{option} is {quoted(text)}, which is no file to write; give a file's name.")
        if not path.parent.is_dir():
            raise BadInputError(f"{option} is {quoted(text)}, in a folder that isn't there; make the folder first.")
        if not os.access(path.parent, os.W_OK):
            raise BadInputError(f"{option} is {quoted(text)}, in a folder that can't be written to; give another one.")
        with contextlib.suppress(FileNotFoundError):
            path.lstat()
    except (OSError, ValueError) as error:  # such as a name that is too long, or holds what no name may
        raise BadInputError(_unwritable(option, path, error)) from error
    return path


def _unwritable(option: str, path: Path, error: Exception) -> str:
    why = getattr(error, "strerror", None) or str(error)
    return f"{option}: {quoted(str(path))} can't be written ({why}); give another file's name."


@contextlib.contextmanager
def _ctrl_c() -> Iterator[threading.Event]:
    """An event that the first Ctrl-C sets; the second one ends the program as usual."""
    asked = threading.Event()

    def ask(_: int, __: FrameType | None) -> None:
        asked.set()
        signal.signal(signal.SIGINT, before)

    if threading.current_thread() is not threading.main_thread():
        yield asked
        return
    before = signal.signal(signal.SIGINT, ask)
    try:
        yield asked
    finally:
        signal.signal(signal.SIGINT, before)
