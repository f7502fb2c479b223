"""The simulated players of the other seats, as the house rules want them."""

from __future__ import annotations

from dataclasses import replace

from engine.advice.table import SheetTable
from engine.rules.house import QUIET, House
from engine.seats.players import Strength, table_of
from engine.sheet.model import Sheet
from game.sitting import SeatPlayer


def others_of(whole: Sheet, house: House, table: SheetTable) -> SeatPlayer | None:
    """They play on the whole sheet, of which `table` is made, whatever sections the player has chosen.

    None where the player is alone from the first tile.
    """
    if house.table == QUIET and house.passes == 0 and not house.courtesy:
        return None
    players = table_of((Strength.STEADY,), table)
    return lambda observation: players(replace(observation, sheet=whole))
