"""How dangerous a discard is: the chance that it finishes the hand of another seat, from what all can see.

A seat's exposures allow certain variants of the sheet. A variant counts more, the more ways there are for the tiles
that it needs to lie in that seat's rack. Any of those tiles is equally likely to be the last one, which the seat waits
for. How likely a seat is to wait for its last tile was measured in games of sharp players.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from engine.advice.table import MOST_ALIKE, Real, SheetTable, Whole
from engine.rules.observation import Observation
from engine.rules.state import Discarded, Exposure
from engine.sheet.groups import HAND_TILES
from engine.tiles import COPIES, JOKER, KINDS

WALL_PARTS = 15
"""The wall is looked at in parts of so many tiles."""
WAITING = (
    (0.15, 0.15, 0.09, 0.08, 0.03, 0.01, 0.00),
    (0.37, 0.24, 0.15, 0.13, 0.09, 0.04, 0.04),
    (0.54, 0.46, 0.36, 0.33, 0.24, 0.22, 0.20),
    (0.50, 0.40, 0.40, 0.40, 0.35, 0.30, 0.30),
    (1.00, 1.00, 1.00, 1.00, 1.00, 1.00, 1.00),
)
"""The chance that a seat waits for its last tile, by its exposures (rows) and by the parts of the wall left
(columns)."""
SLIGHT = 0.02
"""A chance to wait that is less than this is not looked at."""
LACKING = 0.15
"""Each tile that only a joker can still be makes a variant count so much less."""
LATELY = 8
"""So many of the latest discards count as recent."""
SAFE_LATELY, SAFE_OWN, SAFE_BEFORE = 0.1, 0.3, 0.6
"""How much danger is left in a tile when the seat has let a like one go by lately, has thrown one itself, or has let
one go by longer ago."""


class Threats:
    """Judges discards from the exposures at the table, for one sheet."""

    def __init__(self, table: SheetTable) -> None:
        self._table = table
        self._total = table.real.astype(np.int64) + table.loose
        self._supply = np.array(
            [
                [
                    [_left(copies, unseen, needed) for needed in range(HAND_TILES + 1)]
                    for unseen in range(MOST_ALIKE + 1)
                ]
                for copies in COPIES
            ]
        )

    def of(self, observation: Observation) -> Real:
        """[36] the chance that a tile of each kind, let go now, finishes some other seat's hand."""
        wall = min(observation.wall_left // WALL_PARTS, len(WAITING[0]) - 1)
        unseen = np.minimum(np.array(observation.unseen), MOST_ALIKE)
        waited_for: dict[tuple[Exposure, ...], Real] = {}
        safe = np.ones(KINDS)
        for seat, laid in enumerate(observation.exposures):
            waiting = WAITING[min(len(laid), len(WAITING) - 1)][wall]
            if seat == observation.seat or observation.dead[seat] or waiting < SLIGHT:
                continue
            if laid not in waited_for:
                waited_for[laid] = self._waited_for(laid, unseen)
            safe *= 1.0 - waiting * waited_for[laid] * _let_by(observation.discards, seat)
        return 1.0 - safe

    def _waited_for(self, laid: tuple[Exposure, ...], unseen: Whole) -> Real:
        """[36] for a seat that has laid these groups and lacks one tile, the chance that it is of each kind."""
        rows = self._table.allowing(laid).nonzero()[0]
        needed = self._total[rows]
        for one in laid:
            needed[:, one.kind] -= one.size
        weights = self._supply[np.arange(JOKER), unseen[:JOKER], needed[:, :JOKER]].prod(axis=1)
        total = weights.sum()
        if not total:
            return np.zeros(KINDS)
        each: Real = np.einsum("n,nk->k", weights / total / needed.sum(axis=1), needed)
        return each


def _left(copies: int, unseen: int, needed: int) -> float:
    """The share of the ways to choose the tiles needed out of all copies that is still left. Tiles that can't come are
    jokers."""
    real = min(needed, unseen)
    ways = math.comb(min(unseen, copies), real) / math.comb(copies, real) if real <= copies else 0.0
    return ways * LACKING ** (needed - real)


def _let_by(discards: Sequence[Discarded], seat: int) -> Real:
    """[36] how much danger is left in a tile of each kind, by what the seat has thrown and what it has not called."""
    left = np.ones(KINDS)
    for place, discard in enumerate(discards):
        let_by = SAFE_LATELY if len(discards) - place <= LATELY else SAFE_BEFORE
        left[discard.kind] = min(left[discard.kind], SAFE_OWN if discard.seat == seat else let_by)
    return left
