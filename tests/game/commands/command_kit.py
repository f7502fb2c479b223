"""What the tests of the commands share: a sheet, deal codes, what was kept, and the tiles that may be typed."""

import sqlite3
from pathlib import Path

from engine.rules.deal import DealCode
from engine.rules.house import House
from engine.sheet.shelf import find

DISPLAYS = ("DISPLAY", "WAYLAND_DISPLAY", "SDL_VIDEODRIVER")

SHEET = ("--sheet", "first-steps")


def code(house=None, seed=4, sheet="first-steps"):
    """A deal code as text."""
    return str(DealCode.of(find(sheet), house or House(picks=3), seed))


def kept(environment):
    """Every line of play in the data folder: entries, how it ended, whether advice was hidden."""
    with sqlite3.connect(Path(environment["LONE_EAST_DATA"]) / "lone-east.sqlite") as db:
        return db.execute("SELECT entries, ended, advice_hidden FROM lines ORDER BY id").fetchall()


def every_tile():
    """Names that a player may type; those not held are refused and do no harm."""
    return [f"{rank}{suit}" for suit in "bcd" for rank in range(1, 10)]
