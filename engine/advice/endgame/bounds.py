"""Near the end of a game: the most and the least that one variant alone is worth.

Its worth is here a sum over the draws to come: the chance that it is finished by each, if all is done for it.

A least set is a set of m unseen tiles that just finishes the variant; there are A of them. Take t draws out of N tiles.
The chance that some least set comes is at most the sum over the sets: A t(t-1)...(t-m+1) / N(N-1)...(N-m+1). It is at
least the chance of drawing one of them and no other of the H tiles that help: A C(N-H, t-m) / C(N, t).

A is a product of binomials. For groups that jokers fill it lies between C(a, g) and C(b, g): g tiles are missing, b
tiles help, and a of them are left when no kind counts for more tiles than it misses.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from engine.advice.endgame.standing import LevelStanding
from engine.advice.table import Real, Truth, Whole

_HELP = 64
"""More unseen tiles than can help a variant, which has four larger groups at most. There are ten jokers at most."""


@dataclass(frozen=True, eq=False)
class Bounds:
    """What each pair's variant alone is worth."""

    least: Real
    """[n] at least."""
    most: Real
    """[n] at most."""
    left: Real
    """[G, n] at most once a tile of the kind is let go; 0 where it can't be finished then."""
    left_by_joker: Real
    """[n] at most once a joker is let go, or just as before where none is held."""


def bounds(look: LevelStanding, lost: tuple[Truth, Truth], draws: int, unseen: int) -> Bounds:
    """What each pair's variant alone is worth, with `draws` draws left out of so many `unseen` tiles; `lost` is
    `look.lost(draws)`."""
    share = _Shares.of(draws, unseen)
    missing = look.missing.astype(np.int64)
    strict = share.over(look.unseen.astype(np.int64), look.strict).prod(axis=0)
    rest = np.maximum(look.unseen - look.strict, 0)
    pool = (rest * (look.flex > 0)).sum(axis=0, dtype=np.int64) + look.jokers_unseen
    surely = np.minimum(rest, look.flex).sum(axis=0, dtype=np.int64) + look.jokers_unseen
    gap = np.maximum(look.gap, 0).astype(np.int64)
    helping = (look.unseen * look.helps).sum(axis=0, dtype=np.int64) + np.where(look.gap > 0, look.jokers_unseen, 0)
    twice = ((look.strict > 0) & (look.flex > 0)).any(axis=0)  # one tile would be counted for a pair and for a group
    least = np.where(twice, 0.0, strict * share.over(surely, gap) * share.least[missing, np.minimum(helping, unseen)])
    sets = strict * share.over(pool, gap)
    most = sets * share.most[missing]

    left = np.where(look.hurts, 0.0, most)
    at = np.flatnonzero(look.hurts & ~lost[0])
    pair = at % len(missing)
    add = rest.ravel()[at].astype(np.int64)
    more = np.where(
        look.held.ravel()[at] <= look.real.ravel()[at],
        sets[pair] * add / (look.strict.ravel()[at] + 1.0),
        strict[pair] * share.over(pool[pair] + add * (look.flex.ravel()[at] == 0), gap[pair] + 1),
    )
    left.ravel()[at] = more * share.most[missing[pair] + 1]
    wider = strict * share.over(pool, gap + 1) * share.most[missing + 1]
    return Bounds(least, most, left, np.where(lost[1], 0.0, np.where(look.joker_hurts, wider, most)))


@dataclass(frozen=True, eq=False)
class _Shares:
    """What one least set of m tiles is worth."""

    most: Real
    """[draws + 2] by m."""
    least: Real
    """[draws + 1, unseen + 1] by m and the number of unseen tiles that help."""
    table: Real
    """[., draws + 2] binomials."""

    @classmethod
    def of(cls, draws: int, unseen: int) -> _Shares:
        table = binomials(max(unseen, _HELP), draws + 1)
        # t(t-1)...(t-m+1) / N(N-1)...(N-m+1) is C(t, m) / C(N, m)
        most = table[1 : draws + 1].sum(axis=0) / np.maximum(table[unseen], 1.0)
        least = np.zeros((draws + 1, unseen + 1))
        others = unseen - np.arange(unseen + 1)
        for missing in range(draws + 1):
            for drawn in range(max(missing, 1), draws + 1):
                least[missing] += table[others, drawn - missing] / table[unseen, drawn]
        return cls(most, least, table)

    def over(self, count: Whole, chosen: npt.NDArray[np.integer[Any]]) -> Real:
        """Binomials, element by element."""
        found: Real = self.table.ravel().take(count * self.table.shape[1] + chosen)
        return found


def binomials(most: int, draws: int) -> Real:
    """[most + 1, draws + 1] n over k, each column summed up from the one before."""
    table = np.zeros((most + 1, draws + 1))
    table[:, 0] = 1.0
    for chosen in range(1, draws + 1):
        table[1:, chosen] = np.cumsum(table[:-1, chosen - 1])
    return table
