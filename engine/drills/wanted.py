"""A deal for a wanted hand: a fair shuffle like any other, picked out because the hand is within reach of the rack.

The tiles of one shuffle in many are as they fell; only which shuffle is played is chosen. Such games are counted apart.
"""

from __future__ import annotations

import random
from dataclasses import dataclass

from engine.advice.odds.reach import missing
from engine.advice.table import SheetTable
from engine.rules.deal import SEEDS, shuffle
from engine.rules.game import start
from engine.rules.house import House
from engine.tiles import counts_of

WITHIN = 6
"""A hand that lacks so many tiles or fewer is within reach of a fresh rack."""
MOST_SHUFFLES = 500
"""Shuffles looked at at most; then the best of them is played."""


@dataclass(frozen=True)
class WantedDeal:
    """A shuffle for a wanted hand."""

    seed: int
    missing: int
    """Tiles that the rack lacks of the hand."""
    looked_at: int
    """Shuffles looked at, this one counted: said to the player, so that nobody takes it for luck."""


def wanted_deal(table: SheetTable, hand: str, house: House, chance: random.Random) -> WantedDeal:
    """A shuffle in which the hand is within reach of the player's first rack. Raises KeyError for an unknown hand."""
    wanted = table.sheet.hands.index(table.sheet.hand(hand))
    rows = table.hand == wanted
    best: WantedDeal | None = None
    for number in range(1, MOST_SHUFFLES + 1):
        seed = int(chance.random() * SEEDS)
        rack = start(table.sheet, house, shuffle(seed, house.jokers)).racks[house.seat]
        short = int(missing(table, counts_of(rack))[rows].min())
        if best is None or short < best.missing:
            best = WantedDeal(seed, short, number)
        if short <= WITHIN:
            break
    assert best is not None
    return WantedDeal(best.seed, best.missing, number)
