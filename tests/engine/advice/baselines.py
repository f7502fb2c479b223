"""Players to measure against: one that goes for the nearest hand, and a bound that knows the wall."""

import numpy as np

from engine.advice.rollout.games import DEALT, Games, Played
from engine.tiles import JOKER, KINDS

_LATER = 1 << 40
"""More than any number of uses adds up to."""
_REACH = 2
"""The nearest-hand player looks at variants up to so many tiles behind the nearest."""


def by_nearest(table, batch):
    """Let go a tile that leaves the nearest variant as near as it is; of several the one used least by the variants up
    to two tiles further, each tile further counting a quarter; of those the first kind. A joker goes only where every
    other tile would leave the nearest variant further off."""
    size = len(batch.racks)
    jokers = batch.racks[:, JOKER].astype(np.uint8)[:, None]
    behind = (batch.short >> 4) + np.maximum(batch.short & 15, jokers)
    behind |= (~batch.alive).view(np.uint8) * np.uint8(255)
    behind -= behind.min(axis=1, initial=255, keepdims=True)
    at = np.flatnonzero(behind <= _REACH)
    games, rows = np.divmod(at, max(len(table), 1))
    held = batch.racks.astype(np.uint8)
    uses = table.total[rows] >= held[games]
    uses[:, JOKER] = (batch.short.ravel()[at] & 15) >= held[games, JOKER]
    spare = np.flatnonzero(~uses[:, JOKER])  # a joker to spare steps in wherever it may
    uses[spare, :JOKER] = (table.real[rows[spare]] >= held[games[spare]])[:, :JOKER]
    tiles_behind = behind.ravel()[at]
    used = _added(games, uses * (1 << 2 * (_REACH - tiles_behind.astype(np.int32)))[:, None], size)
    nearest = tiles_behind == 0
    needed = _added(games[nearest], uses[nearest].astype(np.int32), size)
    by_all = (needed == np.bincount(games[nearest], minlength=size)[:, None]) & (needed > 0)
    rank = used + 2 * _LATER * by_all
    rank[:, JOKER] += _LATER
    rank[held == 0] = 4 * _LATER
    return rank.argmin(axis=1)


def _added(games, values, size):
    """[size, 36] the rows [n, 36] added up by game; games come in order."""
    total = np.zeros((size, values.shape[1]), np.int64)
    starts = np.flatnonzero(np.diff(games, prepend=-1))
    if len(starts):
        total[games[starts]] = np.add.reduceat(values, starts, axis=0)
    return total


def clairvoyant(table, walls, picks=60):
    """The bound for a player who knows the wall: the first pick at which all tiles that came so far hold a hand, as for
    a rack without limit. No player can finish sooner."""
    number = len(walls)
    played = Played.none(number)
    games = Games.of(table, _counts(walls[:, :DEALT]), _counts(walls[:, DEALT:]))
    live = np.arange(number)
    for pick in range(1, picks + 1):
        games.come(walls[live, DEALT + pick - 1])
        live, games = played.without_finished(live, games, pick)
        if not len(live):
            break
    return played


def _counts(tiles):
    """[G, 36] counts of tiles [G, n]."""
    games = len(tiles)
    places = np.arange(games)[:, None] * KINDS + tiles
    return np.bincount(places.ravel(), minlength=games * KINDS).reshape(games, KINDS)
