"""Near the end of a game: which tiles are worth trying to let go, and which can be left out.

A tile is left out for one of three reasons. None of them changes the worth of the best play, or its chance of a hand.

To spare. Some kind x has a copy that no variant uses which can still be finished. Then letting x go is at least as good
as letting another tile y go. Proof: follow any play that has let y go and still holds x; when it lets x go, let y go.
Each hand it makes can be made without that copy of x, so it is made no later. (It is not enough that no variant misses
more tiles without x. A joker may fill in for x and be needed for y too.)

No better. This is the same for two tiles. Look at the variants that can be finished once y has gone. If none of them
uses every copy of x, then x may go instead of y. A joker fills any larger group; so x may go instead of a joker if none
of them uses every copy of x in singles and pairs.

Far behind. Once y has gone, the worth is at most a sum over the variants: the most that each alone is worth. If all
tiles of one variant stay, the worth is at least the least that it alone is worth (`bounds`).
"""

from __future__ import annotations

import numpy as np

from engine.advice.endgame.bounds import bounds
from engine.advice.endgame.positions import Level
from engine.advice.endgame.standing import LevelStanding
from engine.advice.table import Truth, Whole

_ROUNDING = 1e-9
"""Bounds are rounded. So the most that is left is taken higher by this share."""


def choices(level: Level, look: LevelStanding, lost: tuple[Truth, Truth], tiles: int, draws: int, unseen: int) -> Truth:
    """[P, K + 1] the columns whose tiles are worth letting go; the last column stands for a tile to spare.

    Racks have so many `tiles`; `draws` draws are left out of `unseen` tiles. `lost` is `look.lost(draws)`.
    """
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


def _best_only(level: Level, look: LevelStanding, gone: Whole, open_: Whole, worth: Truth) -> Truth:
    """[O, K] what is left of `worth` for the positions `open_`, without tiles that are no better than another."""
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


def _not_far_behind(level: Level, look: LevelStanding, lost: tuple[Truth, Truth], draws: int, unseen: int) -> Truth:
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
