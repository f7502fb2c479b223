"""What comes in a pass: which tiles others tend to let go, and how likely each kind comes by passes and draws.

People keep what a sheet asks for and never pass a joker. So the tiles that come in are no fair sample of the unseen
ones. A kind that the sheet seldom uses comes in several times as often as one that it uses a lot.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from engine.advice.table import Real, SheetTable, Whole
from engine.advice.worth.worth import SURE, moments
from engine.tiles import JOKER, KINDS

STEEPNESS = 2.5
"""How sharply a kind's coming falls with its use. Fitted to what the simulated seats of all strengths passed in 120
deals on each of two sheets: the likeliest values were 1.9 to 2.8."""


@lru_cache(maxsize=8)
def let_go_by_others(table: SheetTable) -> Real:
    """[36] how readily others pass a tile of each kind, as a weight from 0 to 1; 0 for jokers.

    A kind that is used as much as the mean kind has the weight 1/2; use is counted in tiles over all variants.
    """
    weights = np.full(JOKER + 1, 0.5)
    if len(table):
        use = table.total.sum(axis=0, dtype=np.int64)
        weights = 1.0 / (1.0 + (use / use[:JOKER].mean()) ** STEEPNESS)
    weights[JOKER] = 0.0
    weights.flags.writeable = False  # every caller gets the same array
    return weights


def shares(table: SheetTable, unseen: Sequence[int], coming: int, draws: int) -> Real:
    """[36, STEPS] the chance that a given unseen tile of each kind has come, by `coming` tiles of passes and, after
    those, by the `moments` of the draws."""
    return _shares(table, unseen, coming, moments(draws))


def shares_by_last(table: SheetTable, unseen: Sequence[int], coming: int, draws: int) -> Real:
    """[36, 1] the same by the last of the draws."""
    return _shares(table, unseen, coming, np.array([float(draws)]))


def _shares(table: SheetTable, unseen: Sequence[int], coming: int, drawn: Real) -> Real:
    hidden = np.asarray(unseen, np.float64)
    ready = let_go_by_others(table)
    all_ready = float(hidden @ ready)
    passed = np.minimum(coming * ready / all_ready, SURE) if all_ready > 0 else np.zeros(len(ready))
    came = drawn / max(float(hidden.sum()), 1.0)
    result: Real = np.minimum(1.0 - (1.0 - passed[:, None]) * (1.0 - np.minimum(came, SURE)), SURE)
    return result


def weighted_order(rng: np.random.Generator, unseen: Whole, ready: Real, number: int) -> Whole:
    """[number, tiles] the unseen tiles as kinds, in an order drawn one after another with the weights `ready` [36].
    Tiles without weight come last.

    A tile comes the sooner, the less its exponential time divided by its weight is: the order of these times is that
    of drawing by weight without putting back (Efraimidis and Spirakis, Information Processing Letters 97, 2006).
    """
    hidden = np.repeat(np.arange(KINDS), unseen)
    with np.errstate(divide="ignore"):
        times = rng.exponential(size=(number, len(hidden))) / ready[hidden]
    order: Whole = hidden[np.argsort(times, axis=1, kind="stable")]
    return order
