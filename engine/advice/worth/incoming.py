"""What comes in a pass: which tiles others tend to let go, and the share of every kind that comes by passes and draws.

People keep what a sheet asks for and never pass a joker, so that the tiles coming in are no fair sample of those that
are unseen. A kind that the sheet's variants use rarely comes in several times as often as one that they use a lot.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from engine.advice.table import Real, SheetTable
from engine.advice.worth.worth import SURE, moments
from engine.tiles import JOKER

STEEPNESS = 2.5
"""How sharply a kind's coming falls with its use. Fitted to what the simulated seats of all strengths passed in 120
deals on each of two sheets: the likeliest values were 1.9 to 2.8."""


def let_go_by_others(table: SheetTable) -> Real:
    """[36] how readily others pass a tile of each kind, as a weight from 0 to 1; 0 for jokers.

    A kind that is used as much as the mean kind has the weight 1/2; use is counted in tiles over all variants.
    """
    weights = np.full(JOKER + 1, 0.5)
    if len(table):
        use = table.total.sum(axis=0, dtype=np.int64)
        weights = 1.0 / (1.0 + (use / use[:JOKER].mean()) ** STEEPNESS)
    weights[JOKER] = 0.0
    return weights


def shares(table: SheetTable, unseen: Sequence[int], coming: int, draws: int) -> Real:
    """[36, STEPS] the chance that a given unseen tile of each kind has come, by `coming` tiles of passes and, after
    those, by the `moments` of the draws."""
    hidden = np.asarray(unseen, np.float64)
    ready = let_go_by_others(table)
    all_ready = float(hidden @ ready)
    passed = np.minimum(coming * ready / all_ready, SURE) if all_ready > 0 else np.zeros(len(ready))
    total = float(hidden.sum())
    drawn = moments(draws) / max(total, 1.0)
    result: Real = np.minimum(1.0 - (1.0 - passed[:, None]) * (1.0 - np.minimum(drawn, SURE)), SURE)
    return result
