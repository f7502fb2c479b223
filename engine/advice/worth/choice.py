"""Which tile to let go, once what is left after each is weighed."""

from __future__ import annotations

import numpy as np

from engine.advice.table import Bytes, Real, SheetTable, Truth, Whole
from engine.advice.worth.worth import SAME
from engine.tiles import JOKER

JOKER_MARGIN = 0.01
"""A joker goes only if the rack is then worth so much more. That happens near a hand of singles and pairs."""


def let_go(table: SheetTable, racks: Whole, short: Bytes, alive: Truth, left: Real) -> Whole:
    """[G] the kind to let go from each rack [G, 36], given its `shortfalls`, what is `possible`, and the worths left.

    It is the tile whose going leaves most. Of equal tiles it is the one that the sheet's variants use least: a variant
    that uses every held copy counts 4^-(tiles missing beyond those of the nearest variant). Of still equal ones it is
    the first kind. A joker goes only if that leaves JOKER_MARGIN more than any other tile, or if nothing else is held.
    """
    others = left.copy()
    others[:, JOKER] = np.where(left[:, JOKER] > left[:, :JOKER].max(axis=1) + JOKER_MARGIN, left[:, JOKER], -1.0)
    tied = others >= others.max(axis=1, keepdims=True) - SAME
    chosen: Whole = tied.argmax(axis=1)
    unsure = (np.count_nonzero(tied, axis=1) > 1).nonzero()[0]
    if len(unsure) and len(table):
        weight = _weights(table, racks[unsure], short[unsure], alive[unsure])
        place, kind = tied[unsure].nonzero()
        uses = table.total.T[kind] >= racks[unsure[place], kind, None]
        used = np.full((len(unsure), JOKER + 1), np.inf)
        used[place, kind] = np.einsum("nv,nv->n", weight[place], uses)
        chosen[unsure] = used.argmin(axis=1)
    return chosen


def _weights(table: SheetTable, racks: Whole, short: Bytes, alive: Truth) -> Real:
    """[G, V] 4^-(tiles missing beyond those of the nearest variant); powers of two, so that sums of them are exact."""
    missing = np.where(alive, table.closing[racks[:, JOKER, None], short], 99)
    beyond = missing - missing.min(axis=1, keepdims=True)
    weight: Real = np.where(alive, np.ldexp(1.0, -2 * beyond), 0.0)
    return weight
