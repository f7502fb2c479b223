"""Which tiles are worth letting go near the end: those that may leave a rack at its best, and no others.

Three reasons leave a tile out. None of them changes what the best play is worth, nor how likely it makes a hand.

To spare: no variant that can still be finished uses every copy held of some kind x. Keeping y for x is then never
worse: play as one would with x and without y, and let y go where that play lets an x go; whatever hand is made by it
can be made without the one x, so it is made here no later. (That x leaves no variant with more tiles missing is not
enough. Where a joker to spare fills in for x, it may have to fill in for y as well, and only one of them can go.)

No better: the same of one tile against another. Of the variants that can be finished once y is gone none uses
every copy of x: then x may go instead. A joker stands for any tile of a larger group, so that x may go instead of a
joker if none of them uses every copy of x in singles and pairs.

Far behind: what letting y go leaves is at most the sum over its variants of what each alone is worth at most; keeping
all tiles of a single variant leaves at least what that one is worth at least (`ending_bounds`).
"""

from __future__ import annotations

import numpy as np

from engine.advice.endgame.bounds import bounds
from engine.advice.endgame.positions import Level
from engine.advice.endgame.standing import Look
from engine.advice.table import Truth, Whole

_ROUNDING = 1e-9
"""Bounds are rounded numbers: what tiles leave at most is taken as higher by this share of what all is worth."""


def choices(level: Level, look: Look, lost: tuple[Truth, Truth], tiles: int, draws: int, unseen: int) -> Truth:
    """[P, K + 1] which columns' tiles are worth letting go from racks of so many `tiles`, with `draws` draws left out
    of `unseen` tiles; the last column is for a tile to spare. `lost` is `look.lost(draws)`."""
    size = level.wanted.size
    worth = np.zeros((len(level), size + 1), np.bool_)
    held = level.held
    spare = held.sum(axis=1) < tiles
    worth[:, size] = spare
    worth[:, :size] = (held > 0) & ~spare[:, None]
    worth[:, :size] &= _not_far_behind(level, look, lost, draws, unseen)
    open_ = np.flatnonzero(np.count_nonzero(worth, axis=1) > 1)
    if len(open_):
        gone = look.columns(lost[0]) | look.joker(lost[1])
        worth[open_, :size] = _best_only(level, look, gone, open_, worth[open_, :size])
    return worth


def _best_only(level: Level, look: Look, gone: Whole, open_: Whole, worth: Truth) -> Truth:
    """[O, K] what is left of `worth` once tiles that are no better than another are out, for the positions `open_`."""
    number = level.number[open_]
    starts = np.cumsum(number) - number
    pairs = np.arange(number.sum()) + np.repeat(level.starts[open_] - starts, number)
    gone, using = gone[pairs], look.using[pairs]
    real = (look.columns((look.held > 0) & (look.held <= look.real)))[pairs]
    size = level.wanted.size
    left = worth @ (1 << np.arange(size))
    for column in range(size):
        bit = np.int64(1 << column)
        users = np.where(gone & bit, 0, real if column == size - 1 else using)
        better = left & ~np.bitwise_or.reduceat(users, starts) & ~bit
        left = np.where((better != 0), left & ~bit, left)
    return level.wanted.among(left)


def _not_far_behind(level: Level, look: Look, lost: tuple[Truth, Truth], draws: int, unseen: int) -> Truth:
    """[P, K] whether letting a tile go may leave as much as letting go the best one."""
    alone = bounds(look, lost, draws, unseen)
    width = level.wanted.size + 1
    position = np.repeat(np.arange(len(level)), level.number)
    places = (position * width + level.wanted.columns.take(look.row, axis=1)).ravel()
    changed = (alone.left - alone.most).ravel()
    left = np.bincount(places, changed, len(level) * width).astype(np.float64).reshape(-1, width)[:, :-1]
    left[:, -1] += np.add.reduceat(alone.left_by_joker - alone.most, level.starts)
    left += np.add.reduceat(alone.most, level.starts)[:, None] * (1 + _ROUNDING)
    result: Truth = left >= np.maximum.reduceat(alone.least, level.starts)[:, None]
    return result
