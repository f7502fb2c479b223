"""Which tiles are worth letting go near the end: those that may leave a rack at its best, and no others.

Three reasons leave a tile out. None of them changes what the best play is worth, nor how likely it makes a hand.

To spare: no variant that can still be finished uses every copy held of some kind x. Keeping y for x is then never
worse: play as one would with x and without y; whatever hand is made that way is made without x. (That x leaves no
variant with more tiles missing is not enough. Where a joker to spare fills in for x, it may have to fill in for y as
well, and only one of them can go.)

No better: the same of one tile against another. Of the variants that can be finished once y is gone none uses
every copy of x: then x may go instead. A joker stands for any tile of a larger group, so that x may go instead of a
joker if none of them uses every copy of x in singles and pairs.

Far behind: what letting y go leaves is at most the sum over its variants of what each alone is worth; keeping
all tiles of a single variant leaves at least what that one is worth. Both are reckoned from A, the number of least
sets of unseen tiles that finish the variant, m tiles each. That one of them comes among t draws out of N tiles has at
most the chance A t(t-1)...(t-m+1) / N(N-1)...(N-m+1), the sum over the sets; and at least A C(N-H, t-m) / C(N, t), the
chance of drawing one of them and nothing else of the H tiles that help. A is a product of binomials; for groups
that jokers fill, it is held between C(a, g) and C(b, g), where g tiles are missing, b tiles help, and a are what is
left of these when no kind is counted for more tiles than it misses.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from engine.advice.ending_look import Look
from engine.advice.ending_positions import Level
from engine.advice.table import Real, Truth, Whole

_ROUNDING = 1e-9
"""Bounds are rounded numbers: what tiles leave at most is taken as higher by this share of what all is worth."""
_HELP = 64
"""No variant is helped by so many unseen tiles: it has four larger groups at most, and there are ten jokers at most."""


def binomials(most: int, draws: int) -> Real:
    """[most + 1, draws + 1] n over k, each column summed up from the one before."""
    table = np.zeros((most + 1, draws + 1))
    table[:, 0] = 1.0
    for chosen in range(1, draws + 1):
        table[1:, chosen] = np.cumsum(table[:-1, chosen - 1])
    return table


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
    wanted = level.wanted
    bounds = _Bounds.of(draws, unseen)
    missing = look.missing.astype(np.int64)
    strict = bounds.over(look.unseen.astype(np.int64), look.strict).prod(axis=0)
    rest = np.maximum(look.unseen - look.strict, 0)
    pool = (rest * (look.flex > 0)).sum(axis=0, dtype=np.int64) + look.jokers_unseen
    surely = np.minimum(rest, look.flex).sum(axis=0, dtype=np.int64) + look.jokers_unseen
    gap = np.maximum(look.gap, 0).astype(np.int64)
    helping = (look.unseen * look.helps).sum(axis=0, dtype=np.int64) + np.where(look.gap > 0, look.jokers_unseen, 0)
    twice = ((look.strict > 0) & (look.flex > 0)).any(axis=0)  # one tile would be counted for a pair and for a group
    least = np.where(twice, 0.0, strict * bounds.over(surely, gap) * bounds.least[missing, np.minimum(helping, unseen)])
    sets = strict * bounds.over(pool, gap)
    most = sets * bounds.most[missing]

    changed = -most * look.hurts
    at = np.flatnonzero(look.hurts & ~lost[0])
    pair = at % len(missing)
    add = rest.ravel()[at].astype(np.int64)
    more = np.where(
        look.held.ravel()[at] <= look.real.ravel()[at],
        sets[pair] * add / (look.strict.ravel()[at] + 1.0),
        strict[pair] * bounds.over(pool[pair] + add * (look.flex.ravel()[at] == 0), gap[pair] + 1),
    )
    changed.ravel()[at] += more * bounds.most[missing[pair] + 1]
    jokers = np.where(lost[1], 0.0, strict * bounds.over(pool, gap + 1) * bounds.most[missing + 1]) - most
    jokers *= look.joker_hurts

    width = wanted.size + 1
    position = np.repeat(np.arange(len(level)), level.number)
    places = (position * width + wanted.columns.take(look.row, axis=1)).ravel()
    left: Real = np.bincount(places, changed.ravel(), len(level) * width).reshape(-1, width)[:, :-1]
    left[:, -1] += np.add.reduceat(jokers, level.starts)
    left += np.add.reduceat(most, level.starts)[:, None] * (1 + _ROUNDING)
    result: Truth = left >= np.maximum.reduceat(least, level.starts)[:, None]
    return result


@dataclass(frozen=True, eq=False)
class _Bounds:
    """What a variant with m tiles missing is worth at most and at least, for each least set of tiles that finishes it:
    the sum over the draws to come of the chance to have it by then."""

    most: Real
    """[draws + 2]"""
    least: Real
    """[draws + 1, unseen + 1] by the number of unseen tiles that help, too."""
    table: Real
    """[., draws + 2] binomials."""

    @classmethod
    def of(cls, draws: int, unseen: int) -> _Bounds:
        table = binomials(max(unseen, _HELP), draws + 1)
        chosen = np.arange(draws + 2)
        # t(t-1)...(t-m+1) / N(N-1)...(N-m+1) is C(t, m) / C(N, m)
        most = table[1 : draws + 1].sum(axis=0) / np.maximum(table[unseen], 1.0)
        least = np.zeros((draws + 1, unseen + 1))
        others = unseen - np.arange(unseen + 1)
        for missing in chosen[:-1]:
            for drawn in range(max(int(missing), 1), draws + 1):
                least[missing] += table[others, drawn - missing] / table[unseen, drawn]
        return cls(most, least, table)

    def over(self, count: Whole, chosen: npt.NDArray[np.integer[Any]]) -> Real:
        """Binomials, element by element."""
        found: Real = self.table.ravel().take(count * self.table.shape[1] + chosen)
        return found
