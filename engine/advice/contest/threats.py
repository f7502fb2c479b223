"""What a discard may do for the others: the chance that it finishes the hand of a seat, from what all can see.

A seat's exposures allow certain variants of the sheet. Each counts by how far the tiles it still needs can be in that
seat's rack, and the last tile that it waits for is taken to be any of them alike. How likely the seat is to wait for
its last tile was measured in games of sharp players.
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
"""Tiles left in the wall are told apart in parts of so many."""
WAITING = (
    (0.15, 0.15, 0.09, 0.08, 0.03, 0.01, 0.00),
    (0.37, 0.24, 0.15, 0.13, 0.09, 0.04, 0.04),
    (0.54, 0.46, 0.36, 0.33, 0.24, 0.22, 0.20),
    (0.50, 0.40, 0.40, 0.40, 0.35, 0.30, 0.30),
    (1.00, 1.00, 1.00, 1.00, 1.00, 1.00, 1.00),
)
"""By exposures and by parts of the wall left, the chance that a seat waits for its last tile."""
SLIGHT = 0.02
"""A chance to wait that is less than this is not looked at."""
LACKING = 0.15
"""A variant counts so much less for each tile that only a joker can still be."""
LATELY = 8
"""Discards that are so recent."""
SAFE_LATELY, SAFE_OWN, SAFE_BEFORE = 0.1, 0.3, 0.6
"""How much a tile's danger counts when the seat let one like it go by lately, threw one itself, or let one go by long
before."""


class Threats:
    """Looks at exposures by one sheet."""

    def __init__(self, table: SheetTable) -> None:
        self._table = table
        self._total = table.real.astype(np.int64) + table.loose
        of = {copies: _supply(copies) for copies in set(COPIES)}
        self._supply = np.array([of[copies] for copies in COPIES])
        """[36, unseen, needed] how many of the ways to choose the tiles needed are left."""

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


def _supply(copies: int) -> list[list[float]]:
    """`_left` for every number unseen and needed."""
    return [[_left(copies, unseen, needed) for needed in range(HAND_TILES + 1)] for unseen in range(MOST_ALIKE + 1)]


def _left(copies: int, unseen: int, needed: int) -> float:
    """How many of the ways to choose the tiles needed out of all copies are still left; tiles that lack are jokers."""
    real = min(needed, unseen)
    ways = math.comb(min(unseen, copies), real) / math.comb(copies, real) if real <= copies else 0.0
    return ways * LACKING ** (needed - real)


def _let_by(discards: Sequence[Discarded], seat: int) -> Real:
    """[36] how much of a tile's danger is left, for what the seat has thrown or let go by itself."""
    left = np.ones(KINDS)
    for place, discard in enumerate(discards):
        let_by = SAFE_LATELY if len(discards) - place <= LATELY else SAFE_BEFORE
        left[discard.kind] = min(left[discard.kind], SAFE_OWN if discard.seat == seat else let_by)
    return left
