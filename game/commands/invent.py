"""`lone-east invent`: a fresh sheet of hands, balanced by play, or the next season of a sheet that is there."""

from __future__ import annotations

import argparse
import random
import sys
from concurrent.futures import BrokenExecutor
from pathlib import Path

from engine.advice.moment import StoppedError
from engine.invent.balance import UnbalancedError, work_done
from engine.invent.draft import FEWEST_HANDS, MOST_HANDS
from engine.invent.making import HANDS, KEPT, SEASON, Invented, Wish, invent
from engine.rules.deal import SEEDS
from engine.sheet.shelf import shipped
from engine.store.files import write_safely
from engine.words import quoted
from game.commands.options import BadInputError, chosen_sheet, complain
from game.commands.shared.long_jobs import INTERRUPTED, ctrl_c, file_to_write, unwritable, whole_number
from game.commands.shared.progress_bar import Progress
from game.words.invent import loosened_words, next_season

_SEEDS = 1_000_000
"""A seed that nobody gave is one of so many, so that it is easily typed again."""

_PARTS = 100
"""Parts of the progress bar."""


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    parser = subparsers.add_parser(
        "invent",
        help="make a fresh sheet, balanced by play",
        description=(
            "Make a sheet of hands that nobody has seen: every section with a theme, points from rarity, no hand that "
            "takes over and none that is never made. The same seed gives the same sheet. Ctrl-C leaves nothing behind."
        ),
    )
    parser.add_argument(
        "--hands", metavar="N", help=f"how many hands, {FEWEST_HANDS} to {MOST_HANDS} (default: {HANDS})"
    )
    parser.add_argument(
        "--season", metavar="Y", help=f"four digits (default: {SEASON}, or the season after that of --like)"
    )
    parser.add_argument(
        "--like", metavar="SHEET", help=f"make the next season of this sheet: a file, or {', '.join(shipped())}"
    )
    parser.add_argument(
        "--kept", metavar="SHARE", help=f"with --like: the percentage of hands kept, 0 to 100 (default: {KEPT})"
    )
    parser.add_argument("--seed", metavar="S", help="which sheet (default: any)")
    parser.add_argument("-o", "--output", metavar="FILE", help="write the sheet to this file (default: print it)")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Make the sheet; 0, 1 for input that can't be used, 130 when it was ended early."""
    try:
        wish = _wish(args)
        file = file_to_write("--output", args.output)
        with ctrl_c() as asked, Progress(sys.stderr, _PARTS, "parts, at a guess") as progress:
            furthest = 0

            def told(done: int, deals: int, look: int) -> None:
                nonlocal furthest
                furthest = max(furthest, int(_PARTS * work_done(look, done, deals)))
                progress.show(furthest)

            made = invent(wish, told=told, stopped=asked.is_set)
        _tell(made, wish, file)
    except StoppedError:
        print("Stopped. No sheet was made.", file=sys.stderr)
        return INTERRUPTED
    except BadInputError as error:
        return complain(error)
    except UnbalancedError as error:
        return complain(BadInputError(f"Seed {wish.seed}: {error}."))
    except BrokenExecutor:
        return complain(BadInputError("A part of the play was ended from outside; start it again."))
    return 0


def _wish(args: argparse.Namespace) -> Wish:
    """What the options ask for. Raises BadInputError."""
    seed = random.randrange(_SEEDS) if args.seed is None else whole_number("--seed", args.seed, 0, SEEDS - 1)
    like = None if args.like is None else chosen_sheet(args.like)
    if like is None and args.kept is not None:
        raise BadInputError("--kept says how much of a sheet is kept; name the sheet with --like.")
    if like is not None and args.hands is not None:
        raise BadInputError("--like makes as many hands as its sheet has; leave --hands out.")
    if like is not None and len(like.hands) > MOST_HANDS:
        raise BadInputError(f"{like.name} has {len(like.hands)} hands; --like takes a sheet of at most {MOST_HANDS}.")
    hands = HANDS if args.hands is None else whole_number("--hands", args.hands, FEWEST_HANDS, MOST_HANDS)
    kept = KEPT if args.kept is None else whole_number("--kept", args.kept.removesuffix("%"), 0, 100)
    season = args.season if args.season is not None else SEASON if like is None else next_season(like.season)
    if not (len(season) == 4 and season.isascii() and season.isdigit()):
        raise BadInputError(f"--season is {quoted(season)}; write four digits, such as {SEASON}.")
    return Wish(seed, hands, season, like, kept)


def _tell(made: Invented, wish: Wish, file: Path | None) -> None:
    """Write the sheet and say what it is. Raises BadInputError."""
    if file is None:
        print(made.text, end="", flush=True)
    else:
        try:
            write_safely(file, made.text)
        except OSError as error:
            raise BadInputError(unwritable("--output", file, error)) from error
    lines = [f"{made.sheet.name}, season {made.sheet.season}, from seed {wish.seed}."]
    counts = iter(made.shares.made)
    width = max(len(section.name) for section in made.sheet.sections)
    for section, theme in zip(made.sheet.sections, made.themes, strict=True):
        share = 100 * sum(next(counts) for _ in section.hands) / max(made.shares.total, 1)
        lines.append(f"  {section.name.ljust(width)}  {len(section.hands):2} hands  {share:4.1f}%  {theme}")
    lines.append(f"The percentages are shares of the hands made in {made.shares.deals:,} quiet games of 99 picks.")
    loosened = loosened_words(len(made.sheet.hands), len(made.sheet.sections))
    lines += [loosened] if loosened else []
    print("\n".join(lines), file=sys.stderr if file is None else sys.stdout)
