"""What a choice costs a player who has spoiled the game already, so that ruin doesn't make mistakes cheap.

A rack that is worth little has little to lose. Whoever throws a whole game away at the start would then go on without
cost, and be rated like somebody who is careless now and then. So the measure of play takes a rack for worth at least
half of what an average deal is at the start, as a share of the draws left. What a choice then costs is its share of
that.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from engine.advice.table import SheetTable
from engine.advice.worth.finish import dealt, standing
from engine.sheet.groups import HAND_TILES

LEAST = 0.5
"""A rack counts as worth at least so much of an average deal."""
DEALS, SEED = 64, 20262
"""Random deals that the average deal is estimated from, and the seed of that sample."""


def counted(usual: float, best: float, lost: float, draws: int) -> float | None:
    """What a choice costs in the measure of play, in picks, where the rack is worth so little that it counts as worth
    more; None where the usual cost counts.

    `best` is what the best choice leaves, `lost` how much less the chosen one leaves, and `usual` what the best choice
    leaves of an average deal: all as shares of the draws.
    """
    least = LEAST * usual
    if not 0.0 < best < least:
        return None
    return max(lost, 0.0) / best * least * draws


@lru_cache(maxsize=16)
def usual_worth(table: SheetTable, draws: int) -> float:
    """What the best choice leaves of an average deal with so many draws to come, as a share of the draws."""
    racks, unseen = dealt(np.random.default_rng(SEED), HAND_TILES, table.jokers, DEALS)
    return float(standing(table, racks, unseen, draws).worth.max(axis=1).mean())
