"""`lone-east export`: everything that is kept, as CSV files for a spreadsheet."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from engine.store.files import default_path
from engine.store.store import Store
from engine.words import listed, quoted
from game.commands.options import BadInputError, complain
from game.play.desk import Desk
from game.play.practice.tables import FilesThereError, all_tables, write_tables
from game.play.worker import Worker

if TYPE_CHECKING:
    Subparsers = argparse._SubParsersAction[argparse.ArgumentParser]


def add_parser(subparsers: Subparsers) -> None:
    """Add the command to the command line."""
    parser = subparsers.add_parser(
        "export",
        help="write everything that is kept as CSV files",
        description=(
            "Write games, choices, passes, drills, ledger and cards into a folder, one CSV file each, with a text file "
            "that says what every column holds. Nothing leaves this machine."
        ),
    )
    parser.add_argument("folder", metavar="FOLDER", help="where to write; the folder is made if it isn't there")
    parser.add_argument("--replace", action="store_true", help="write over files of the same names")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Write the files and name them; 0, or 1 where they can't be written."""
    folder = Path(args.folder)
    with Store(default_path()) as store:
        tables = all_tables(store, Desk(Worker(), store).sheets(), date.today())
    try:
        written = write_tables(tables, folder, args.replace)
    except FilesThereError as error:
        return complain(BadInputError(
            f"{quoted(str(folder))} holds {listed(error.names)} already; choose another folder, or add --replace."
        ))  # fmt: skip
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or str(error)
        return complain(BadInputError(f"{quoted(str(folder))} can't be written to ({why}); choose another folder."))
    for path, table in zip(written, tables, strict=False):
        print(f"{path}: {len(table.rows):,} rows")
    print(f"{written[-1]} says what every column holds.")
    return 0
