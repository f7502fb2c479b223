"""`lone-east ledger`: every hand of a sheet with its wins, tries and near misses, and the pace to win them all."""

from __future__ import annotations

import argparse
import json
import sys
from datetime import date
from typing import TYPE_CHECKING

from engine.drills.ledger import Ledger
from engine.sheet.model import Sheet
from engine.store.files import default_path
from engine.store.store import Store
from engine.words import quoted
from game.commands.options import BadInputError, chosen_sheet, complain
from game.commands.shared.progress_bar import Progress
from game.play.practice.ledgers import Ledgers
from game.words.season.calendar import read_day
from game.words.season.ledger import pace_words, record_words, summary_words

if TYPE_CHECKING:
    Subparsers = argparse._SubParsersAction[argparse.ArgumentParser]


def add_parser(subparsers: Subparsers) -> None:
    """Add the command to the command line."""
    parser = subparsers.add_parser(
        "ledger",
        help="which hands of a sheet you have won, tried and nearly made",
        description=(
            "Print the season's ledger of a sheet: for every hand how often you won it and where, how often you went "
            "for it, and how near you came. Games count that you played to their end without taking anything back."
        ),
    )
    parser.add_argument("sheet", metavar="SHEET", help="a sheet's file, or a shipped sheet by name")
    parser.add_argument("--json", action="store_true", help="print one JSON object instead")
    parser.add_argument("--won", metavar="HAND", help="tick a hand that you won at a real table, by its name")
    parser.add_argument("--on", metavar="DAY", help="the day of that win, such as 2026-04-01 (default: today)")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the ledger; 0, or 1 for a sheet or a hand that can't be used."""
    try:
        sheet = chosen_sheet(args.sheet)
        with Store(default_path()) as store:
            ledgers = Ledgers(store, sheet)
            if args.won is not None:
                _tick(ledgers, args.won, args.on)
            waiting = len(ledgers.waiting())
            if waiting:
                with Progress(sys.stderr, waiting, "games") as progress:
                    ledgers.fill(lambda done, _: progress.show(done))
            ledger = ledgers.ledger(date.today())
    except BadInputError as error:
        return complain(error)
    if args.json:
        print(json.dumps(as_data(sheet, ledger), indent=2))
    else:
        print("\n".join(said(sheet, ledger)))
    return 0


def _tick(ledgers: Ledgers, hand: str, on: str | None) -> None:
    try:
        day = date.today() if on is None else read_day(on)
    except ValueError as error:
        raise BadInputError(f"--on is {quoted(on or '')}; {error}.") from error
    if day > date.today():
        raise BadInputError("--on is a day still to come; write the day on which you won.")
    try:
        ledgers.tick(hand, day)
    except KeyError as error:
        names = ", ".join(one.name for one in ledgers.sheet.hands)
        raise BadInputError(f"There is no such hand on {ledgers.sheet.name}; write one of: {names}.") from error


def said(sheet: Sheet, ledger: Ledger) -> list[str]:
    """The ledger in sentences, section by section."""
    lines = [f"{sheet.name}, season {sheet.season}. {summary_words(ledger)}"]
    if ledger.pace is not None:
        lines.append(pace_words(ledger.pace))
    for section in sheet.sections:
        won, hands = ledger.sections[section.name]
        lines += ["", f"{section.name}: {won} of {hands} won."]
        lines += [f"  {record_words(record)}" for record in ledger.records if record.section == section.name]
    if ledger.avoided:
        names = ", ".join(record.hand for record in ledger.avoided)
        lines += ["", f"Within reach at times and never gone for: {names}."]
    return lines


def as_data(sheet: Sheet, ledger: Ledger) -> dict[str, object]:
    """The ledger as plain values."""
    pace = ledger.pace
    return {
        "sheet": sheet.name,
        "season": sheet.season,
        "games": ledger.games,
        "wanted_games": ledger.wanted,
        "won": ledger.won,
        "hands": [
            {
                "hand": record.hand,
                "section": record.section,
                "wins": {
                    "quiet_hidden": record.wins.quiet_hidden,
                    "quiet_seen": record.wins.quiet_seen,
                    "full_hidden": record.wins.full_hidden,
                    "full_seen": record.wins.full_seen,
                    "wanted": record.wins.wanted,
                    "ticked": record.wins.ticked,
                },
                "first": None if record.first is None else record.first.isoformat(),
                "tries": record.tries,
                "near": record.near,
                "best": record.best,
            }
            for record in ledger.records
        ],
        "sections": {name: {"won": won, "hands": hands} for name, (won, hands) in ledger.sections.items()},
        "pace": None
        if pace is None
        else {"left": pace.left, "days": pace.days, "needed": pace.needed, "so_far": pace.so_far},
        "avoided": [record.hand for record in ledger.avoided],
    }
