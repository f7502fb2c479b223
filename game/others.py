"""The simulated players of the other seats, as the house rules want them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from engine.advice.table import SheetTable
from engine.rules.house import FULL, QUIET, House
from engine.seats.players import Strength, table_of
from engine.sheet.model import Sheet
from game.sitting import SeatPlayer


def others_of(
    sheet: Sheet,
    whole: Sheet,
    house: House,
    table: Callable[[Sheet], SheetTable],
    strength: Strength = Strength.STEADY,
) -> SeatPlayer | None:
    """The others at a table where `sheet`, a cut of `whole` or all of it, is played; `table` compiles a sheet.

    At a quiet table they pass towards the whole sheet, whatever sections the player has chosen; at a full table all
    four play for the same hands. None where the player is alone from the first tile.
    """
    if house.table == QUIET and house.passes == 0 and not house.courtesy:
        return None
    theirs = sheet if house.table == FULL else whole
    players = table_of((strength,), table(theirs))
    return lambda observation: players(replace(observation, sheet=theirs))
