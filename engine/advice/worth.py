"""What a rack is worth over all hands of a sheet at once, and what it is worth after letting go each of its tiles.

A variant's chance within a share p of the unseen tiles takes every unseen tile as coming independently (`arrivals`).
The chances of the some thirty nearest variants are brought together as X = (sum of P^4)^(1/4): plain sums overrate a
rack that is vaguely near to many overlapping variants. `made` turns X into the chance that some hand is made; the
worth is the mean of that chance at five moments spread over the draws to come: the chance, averaged over the draws to
come, that some hand of the sheet is made by then.

Many racks are weighed in one go (G of them, all with as many draws to come and tiles unseen).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from engine.advice.arrivals import Arrivals, Numbers
from engine.advice.needs import Needs, needs
from engine.advice.reach import shortfalls
from engine.advice.table import Bytes, Real, SheetTable, Truth, Whole
from engine.tiles import JOKER, KINDS

STEPS = 5
"""Points in the draws to come at which the chance is taken."""
NEAR = 30
"""How many near variants count."""
SPREAD = 8
"""How far behind the nearest variant a near one may be, in halves of a tile."""
SURE = 0.95
"""The share of the unseen tiles that may come is taken as at most this."""
SAME = 1e-12
"""Worths that differ by less are equal: rounding makes no difference between tiles."""


@dataclass(frozen=True, eq=False)
class Weighed:
    """G racks, weighed."""

    here: Real
    """[G] worth of the whole rack."""
    left: Real
    """[G, 36] worth after letting go one tile of each kind held; -1 where none is held."""


def raised(chances: Numbers) -> Numbers:
    """What chances count for when they are added up for `made`: their fourth powers."""
    squares: Numbers = chances * chances
    powers: Numbers = squares * squares
    return powers


def made(powers: Real) -> Real:
    """The chance that some hand is made, where the near variants' `raised` chances add up to `powers`.

    X = powers^(1/4) is that chance as long as it is small; the more is likely, the more variants overlap, and
    X / (1 + X^4)^(1/4) never passes 1. Nothing in it is fitted, but the power was chosen for how games by this policy
    went on (2,500 quiet games on each of two sheets): in every tenth of what it says, what came was within 2 points of
    it for both sheets together.
    """
    chance: Real = np.sqrt(np.sqrt(powers / (1.0 + powers)))
    return chance


def possible(table: SheetTable, racks: Whole, unseen: Whole) -> Truth:
    """[G, V] whether rack and unseen tiles together still hold the variant."""
    jokers = np.minimum(racks[:, JOKER] + unseen[:, JOKER], len(table.closing) - 1)
    result: Truth = table.closing[jokers[:, None], shortfalls(table, racks + unseen)] == 0
    return result


def weigh(
    table: SheetTable,
    racks: Whole,
    unseen: Whole,
    draws: int,
    *,
    short: Bytes | None = None,
    alive: Truth | None = None,
) -> Weighed:
    """Weigh racks [G, 36] with `draws` tiles to come out of `unseen` [G, 36], whose sums are all alike. `short` and
    `alive` are `shortfalls` and `possible` where the caller has them."""
    short = shortfalls(table, racks) if short is None else short
    alive = possible(table, racks, unseen) if alive is None else alive
    games, rows = near(short, alive, racks[:, JOKER])
    steps = horizons(draws, int(unseen[0].sum()))
    arrivals = Arrivals(steps, 1.0 - steps)
    missed = needs(table, rows, racks, unseen, games)
    plain, filled, changes = _chances(arrivals, missed, racks[games, JOKER], unseen[games, JOKER])
    chances = plain * filled
    powers = raised(chances)
    total = _summed(games, powers, len(racks))

    places, differences = [], []
    at, ratio = changes.plain_at, changes.plain_ratio
    pair = missed.plain_of[at]
    places.append(games[pair] * KINDS + missed.plain_kind[at])
    differences.append(raised(chances[:, pair] * ratio) - powers[:, pair])
    pair = changes.group_at // 4
    places.append(games[pair] * KINDS + missed.kinds.ravel()[changes.group_at])
    differences.append(raised(plain[:, pair] * changes.group_filled) - powers[:, pair])
    pair = changes.joker_at
    places.append(games[pair] * KINDS + JOKER)
    differences.append(raised(plain[:, pair] * changes.joker_filled) - powers[:, pair])
    lost = _summed(np.concatenate(places), np.concatenate(differences, axis=1), len(racks) * KINDS)

    game, kind = (racks > 0).nonzero()
    after = np.maximum(total[:, game] + lost[:, game * KINDS + kind], 0.0)
    left = np.full(racks.shape, -1.0)
    left[game, kind] = made(after).mean(axis=0)
    return Weighed(made(total).mean(axis=0), left)


def horizons(draws: int, unseen: int) -> Real:
    """[STEPS] the shares of the unseen tiles that have come at the `moments`."""
    return np.minimum(moments(draws) / max(unseen, 1), SURE)


def moments(draws: int) -> Real:
    """[STEPS] numbers of draws, evenly spread, whose mean stands for the mean over the first, second, ... last of the
    draws to come: the middles of equal steps, half a draw later, as the mean of 1 to n is (n + 1) / 2."""
    return (np.arange(STEPS) + 0.5) / STEPS * draws + 0.5 * (draws > 0)


def near(short: Bytes, alive: Truth, jokers: Whole) -> tuple[Whole, Whole]:
    """Game and row of every near variant, game by game. A tile missing from singles and pairs counts one and a half, as
    no joker fills it. The reach is widened by halves until NEAR variants are in, or to SPREAD."""
    held = jokers.astype(np.uint8)[:, None]
    far = (short >> 4) * np.uint8(3) + np.maximum(short & 15, held) * np.uint8(2)
    far |= (~alive).view(np.uint8) * np.uint8(255)
    far -= far.min(axis=1, initial=255, keepdims=True)  # those that can't be made are far off, or all alike
    at = np.flatnonzero((far <= SPREAD) & alive)
    games, rows = np.divmod(at, max(short.shape[1], 1))
    distance = far.ravel()[at].astype(np.int64)
    number = np.bincount(games * (SPREAD + 1) + distance, minlength=len(short) * (SPREAD + 1))
    within = np.cumsum(number.reshape(len(short), SPREAD + 1), axis=1)
    cut = np.count_nonzero(within[:, :-1] < NEAR, axis=1)
    kept = distance <= cut[games]
    return games[kept], rows[kept]


@dataclass(frozen=True, eq=False)
class _Changes:
    """What letting go one tile does to the near variants: only those that use all copies held of it change."""

    plain_at: Whole
    """Places in the needs' plain lists."""
    plain_ratio: Numbers
    """[Z, .] by what the variant's plain factor changes."""
    group_at: Whole
    """Places in the needs' [n, 4] lists, flattened."""
    group_filled: Numbers
    """[Z, .] the new chance of the larger groups being filled."""
    joker_at: Whole
    """Variants that change when a joker goes."""
    joker_filled: Numbers


def _chances(arrivals: Arrivals, missed: Needs, held: Whole, unseen: Whole) -> tuple[Numbers, Numbers, _Changes]:
    """[Z, n] chances of the plain kinds and of the larger groups, and what each tile let go makes of them."""
    short = missed.plain_short
    size = len(held)
    plain = np.ones((arrivals.points, size))
    factors = arrivals.at_least(missed.plain_unseen, short)
    starts = np.flatnonzero(np.diff(missed.plain_of, prepend=-1))
    if len(starts):
        plain[:, missed.plain_of[starts]] = np.multiply.reduceat(factors, starts, axis=1)
    plain_at = ((missed.plain_held > 0) & (missed.plain_held <= missed.plain_real)).nonzero()[0]
    worse = arrivals.at_least(missed.plain_unseen[plain_at], short[plain_at] + 1)
    before = factors[:, plain_at]
    ratio = np.divide(worse, before, out=np.zeros_like(worse), where=before > 0)

    elements = missed.elements
    group_at = ((missed.held > 0) & (missed.held <= missed.real + missed.loose)).ravel().nonzero()[0]
    fewer = elements[group_at // 4]
    fewer[np.arange(len(group_at)), group_at % 4] = missed.elements_with(missed.held - 1).ravel()[group_at]
    joker_at = ((held > 0) & (held <= (elements >> 4 & 15).sum(axis=1))).nonzero()[0]
    everything = arrivals.finished(
        np.concatenate((elements, fewer, elements[joker_at])),
        np.concatenate((held, held[group_at // 4], held[joker_at] - 1)),
        np.concatenate((unseen, unseen[group_at // 4], unseen[joker_at])),
    )
    filled, group_filled, joker_filled = np.split(everything, (size, size + len(group_at)), axis=1)
    return plain, filled, _Changes(plain_at, ratio, group_at, group_filled, joker_at, joker_filled)


def _summed(places: Whole, values: Numbers, size: int) -> Real:
    """[Z, size] the values [Z, n] added up by place."""
    return np.stack([np.bincount(places, row, size) for row in values])
