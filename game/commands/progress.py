"""`lone-east progress`: how you get on, in games, choices, passes and drills, with intervals."""

from __future__ import annotations

import argparse
import json
from dataclasses import asdict
from typing import TYPE_CHECKING

from engine.sheet.model import Sheet
from engine.store.files import default_path
from engine.store.store import Store
from game.commands.options import BadInputError, chosen_sheet, complain
from game.play.practice.figures import Figure, Share
from game.play.practice.progress import ProgressReport, progress_of
from game.play.skill import play_over_time
from game.words.season.progress import change_line
from game.words.season.report import report_lines

if TYPE_CHECKING:
    Subparsers = argparse._SubParsersAction[argparse.ArgumentParser]


def add_parser(subparsers: Subparsers) -> None:
    """Add the command to the command line."""
    parser = subparsers.add_parser(
        "progress",
        help="how you get on: games, what choices cost, passes, drills, week by week",
        description=(
            "Print how you get on. Every figure stands with what it was counted from and an interval; of fewer than "
            "ten nothing more is said. Choices count that you made without looking advice up first."
        ),
    )
    parser.add_argument("--sheet", metavar="S", help="only this sheet: its file, or a shipped sheet by name")
    parser.add_argument("--json", action="store_true", help="print one JSON object instead")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the report; 0, or 1 for a sheet that can't be read."""
    try:
        sheet = None if args.sheet is None else chosen_sheet(args.sheet)
    except BadInputError as error:
        return complain(error)
    with Store(default_path()) as store:
        report = progress_of(store, None if sheet is None else sheet.fingerprint)
        tens = play_over_time(store.reviews()).of(hidden=True) if sheet is None else ()
    if args.json:
        print(json.dumps(as_data(report, sheet), indent=2))
        return 0
    print("All sheets." if sheet is None else f"{sheet.name}, season {sheet.season}.")
    for heading, lines in report_lines(report, change_line(tens)):
        print(f"\n{heading}")
        for line in lines:
            print(f"  {line}")
    return 0


def as_data(report: ProgressReport, sheet: Sheet | None) -> dict[str, object]:
    """The report as plain values: shares as good and of, figures as number, value and interval; costs are picks, at the
    full table points, luck and choices chances of a hand, times seconds."""
    play, points = report.play, report.points
    return {
        "sheet": None if sheet is None else sheet.name,
        "season": None if sheet is None else sheet.season,
        "games": {"quiet": _share(report.quiet), "full": _share(report.full), "wanted": _share(report.wanted),
                  "left": report.left, "picks": _figure(report.picks)},
        "choices": {"games": play.games, "counted": play.decisions, "lost": play.lost,
                    "cost": play.cost if play.enough else None, "within": play.within,
                    "game": _figure(report.game_cost), "looked_up": _share(report.looked_up)},
        "points": {"games": points.games, "counted": points.decisions, "lost": points.lost,
                   "cost": points.cost if points.enough else None, "within": points.within},
        "luck": _figure(report.luck),
        "chosen": _figure(report.choices),
        "seconds": _figure(report.seconds),
        "passes": {"best": _share(report.passes), "cost": _figure(report.passes_cost)},
        "drills": [
            {"skill": one.skill.value, "timed": one.timed, "right": _share(one.right), "near": one.near,
             "seconds": _figure(one.seconds)}
            for one in report.drills
        ],
        "sections": [{"section": name, "right": _share(share)} for name, share in report.sections],
        "weeks": [
            {"monday": one.monday.isoformat(), "games": _share(one.games), "choices": one.play.decisions,
             "lost": one.play.lost, "drills": _share(one.drills)}
            for one in report.weeks
        ],
    }  # fmt: skip


def _share(share: Share) -> dict[str, object]:
    return {**asdict(share), "within": share.within}


def _figure(figure: Figure) -> dict[str, object]:
    return asdict(figure) if figure.enough else {"number": figure.number, "value": None, "within": None}
