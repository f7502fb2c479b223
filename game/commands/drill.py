"""`lone-east drill`: one drill in the terminal, hand after hand; or with no kind, what is due today."""

from __future__ import annotations

import argparse
import sys
from typing import TYPE_CHECKING

from engine.drills.grades import Skill
from engine.drills.let_one_go import NoRackError
from engine.drills.one_pass import WhichPass
from engine.store.files import default_path
from engine.store.store import Store
from engine.words import listed
from game.commands.options import BadInputError, chosen_sheet, complain
from game.play.defaults import kept_sheet
from game.play.practice.drilling import ASKED, Drilling, season_before
from game.text.drills import TextDrill
from game.words.drills import SKILLS

if TYPE_CHECKING:
    Subparsers = argparse._SubParsersAction[argparse.ArgumentParser]


def add_parser(subparsers: Subparsers) -> None:
    """Add the command to the command line."""
    parser = subparsers.add_parser(
        "drill",
        help="practise the hands of a sheet in the terminal",
        description=(
            "Practise the hands of a sheet, one question after another: "
            + "; ".join(f"{skill.value}: {SKILLS[skill]}" for skill in ASKED)
            + ". Without a kind, what is due today comes up."
        ),
    )
    parser.add_argument("kind", metavar="KIND", nargs="?", choices=[skill.value for skill in ASKED])
    parser.add_argument(
        "--moment", metavar="M", choices=[moment.value for moment in WhichPass],
        help=f"for {Skill.PASS.value}: {listed([moment.value for moment in WhichPass], 'or')}",
    )  # fmt: skip
    add_options(parser)
    parser.set_defaults(run=run)


def add_options(parser: argparse.ArgumentParser) -> None:
    """`--sheet`, `--seconds`, `--most`."""
    parser.add_argument("--sheet", metavar="S", help="a sheet's file, or a shipped sheet by name")
    parser.add_argument("--seconds", type=_seconds, metavar="S", help="answer by the clock, so many seconds for each")
    parser.add_argument("--most", type=_most, metavar="N", help="stop after so many questions")


def run(args: argparse.Namespace) -> int:
    """Ask until the player leaves; 0, or 1 for a sheet that can't be read."""
    try:
        return drill(args, None if args.kind is None else Skill(args.kind))
    except BadInputError as error:
        return complain(error)


def drill(args: argparse.Namespace, skill: Skill | None) -> int:
    """One skill, or what is due today. Raises BadInputError."""
    with Store(default_path()) as store:
        sheet = chosen_sheet(args.sheet) if args.sheet else kept_sheet(store)
        others = [store.sheet(kept.fingerprint) for kept in store.sheets() if kept.whole]
        drilling = Drilling(store, sheet, last=season_before(sheet, others))
        moment = getattr(args, "moment", None)
        drilling.pass_moment = WhichPass(moment) if moment else None
        table = TextDrill(drilling, sys.stdin, lambda text: print(text, flush=True), seconds=args.seconds)
        try:
            if skill is None:
                table.today()
            else:
                table.one_skill(skill, args.most)
        except NoRackError as error:
            raise BadInputError(str(error)) from error
    return 0


def _seconds(text: str) -> float:
    try:
        seconds = float(text)
    except ValueError:
        seconds = 0.0
    if not 1 <= seconds <= 3600:
        raise argparse.ArgumentTypeError(f"{text[:20]!r} seconds can't be; give a number from 1 to 3600")
    return seconds


def _most(text: str) -> int:
    if not text.isascii() or not text.isdigit() or not 1 <= int(text[:6]) <= 1000:
        raise argparse.ArgumentTypeError(f"{text[:20]!r} questions can't be; give a number from 1 to 1000")
    return int(text)
