"""What a rack is worth over all hands of a sheet at once, and what is left of that after letting go each of its tiles.

The worth is a mean over the draws to come: the chance that some hand of the sheet is made by then. It is an internal
figure to choose by; players see chances and picks.

When a share p of the unseen tiles has come, each unseen tile is taken to have come with probability p, independently
(`arrivals`). That gives the chance P of each variant. The chances of the thirty or so nearest variants are brought
together as X = (sum of P^4)^(1/4). (A plain sum overrates a rack that is vaguely near to many overlapping variants.)
`made` turns X into the chance that some hand is made. The worth is the mean of it at five moments, spread over the
draws to come.

Many racks are weighed at once: G of them, all with the same number of draws to come and of unseen tiles.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from engine.advice.odds.arrivals import Arrivals, Numbers, picked
from engine.advice.odds.needs import needs
from engine.advice.odds.reach import shortfalls
from engine.advice.table import Bytes, Real, SheetTable, Truth, Whole
from engine.advice.worth.changes import Chances, Changes, chances_of
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


@dataclass(frozen=True, eq=False)
class Foreseen:
    """What the next tile would add, roughly: the draw that it takes is not counted."""

    worth: Real
    """[G] worth of the whole rack."""
    last: Real
    """[G] the chance that some hand is made, at the last of the `moments` alone."""
    worth_more: Real
    """[G, 36] what one tile more of each kind adds to the worth; 0 where it adds nothing or none is unseen."""
    last_more: Real
    """[G, 36] what it adds to the chance at the last moment."""


def raised(chances: Numbers) -> Numbers:
    """What chances count for when they are added up for `made`: their fourth powers."""
    squares: Numbers = chances * chances
    powers: Numbers = squares * squares
    return powers


def made(powers: Real) -> Real:
    """The chance that some hand is made, where the near variants' `raised` chances add up to `powers`.

    X = powers^(1/4) is that chance while it is small. The likelier hands are, the more variants overlap, and
    X / (1 + X^4)^(1/4) never passes 1. Nothing in it is fitted, but the power was chosen for how games by this policy
    went on. Up to about 50% it was right within 3 points in every tenth of what it said. Above that it said up to 6
    points too little on one of the two shipped sheets (1,500 quiet games on each).
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
    games, chances = _near_chances(table, racks, unseen, draws, short, alive, coming=False)
    powers = raised(chances.now)
    total = _summed(games, powers, len(racks))
    return Weighed(made(total).mean(axis=0), _left(racks, games, powers, total, chances.less))


def weigh_and_foresee(
    table: SheetTable,
    racks: Whole,
    unseen: Whole,
    draws: int,
    short: Bytes,
    alive: Truth,
    steps: int = STEPS,
    number: int = NEAR,
) -> tuple[Weighed, Foreseen]:
    """`weigh`, and what the next tile would add to each rack; with `steps` moments and `number` near variants, of which
    fewer are quicker."""
    games, chances = _near_chances(table, racks, unseen, draws, short, alive, coming=True, steps=steps, number=number)
    powers = raised(chances.now)
    total = _summed(games, powers, len(racks))
    now, more = made(total), chances.more
    assert more is not None
    added = _summed(games[more.of] * KINDS + more.kind, raised(more.chance) - picked(powers, more.of), racks.size)
    gain = made(np.maximum(total[:, :, None] + added.reshape(steps, *racks.shape), 0.0)) - now[:, :, None]
    weighed = Weighed(now.mean(axis=0), _left(racks, games, powers, total, chances.less))
    return weighed, Foreseen(weighed.here, now[-1], gain.mean(axis=0), gain[-1])


def strengths(table: SheetTable, racks: Whole, unseen: Whole, draws: int) -> Real:
    """[hands of the sheet] how strong each hand is in one rack [1, 36]: what the rack would be worth if its near
    variants of that hand were all there are. So hands are ranked as choices are weighed: by what is made soon."""
    short, alive = shortfalls(table, racks), possible(table, racks, unseen)
    _, rows = near(short, alive, racks[:, JOKER])
    _, chances = _near_chances(table, racks, unseen, draws, short, alive, coming=False)
    of, hands = table.hand[rows], len(table.sheet.hands)
    each = np.array([np.bincount(of, powers, hands) for powers in raised(chances.now)], np.float64)
    result: Real = made(each).mean(axis=0)
    return result


def _near_chances(
    table: SheetTable,
    racks: Whole,
    unseen: Whole,
    draws: int,
    short: Bytes,
    alive: Truth,
    *,
    coming: bool,
    steps: int = STEPS,
    number: int = NEAR,
) -> tuple[Whole, Chances]:
    """The near variants' games, and their chances."""
    games, rows = near(short, alive, racks[:, JOKER], number)
    shares = horizons(draws, int(unseen[0].sum()), steps)
    missed = needs(table, rows, racks, unseen, games)
    arrivals = Arrivals(shares, 1.0 - shares)
    return games, chances_of(arrivals, missed, racks[games, JOKER], unseen[games, JOKER], coming=coming)


def _left(racks: Whole, games: Whole, powers: Numbers, total: Real, less: Changes) -> Real:
    """[G, 36] worth after letting go one tile of each kind held."""
    lost = _summed(games[less.of] * KINDS + less.kind, raised(less.chance) - picked(powers, less.of), racks.size)
    game, kind = (racks > 0).nonzero()
    left = np.full(racks.shape, -1.0)
    left[game, kind] = made(np.maximum(picked(total, game) + picked(lost, game * KINDS + kind), 0.0)).mean(axis=0)
    return left


def horizons(draws: int, unseen: int, steps: int = STEPS) -> Real:
    """[steps] the shares of the unseen tiles that have come at the `moments`."""
    return np.minimum(moments(draws, steps) / max(unseen, 1), SURE)


def moments(draws: int, steps: int = STEPS) -> Real:
    """[steps] numbers of draws, evenly spread, whose mean stands for the mean over the first, second, ... last of the
    draws to come: the middles of equal steps, half a draw later, as the mean of 1 to n is (n + 1) / 2."""
    return (np.arange(steps) + 0.5) / steps * draws + 0.5 * (draws > 0)


def near(short: Bytes, alive: Truth, jokers: Whole, wanted: int = NEAR) -> tuple[Whole, Whole]:
    """Game and row of every near variant, game by game. A tile missing from a single or a pair counts one and a half,
    as no joker fills it. The reach is widened by half a tile at a time until so many variants are in, or to SPREAD."""
    held = jokers.astype(np.uint8)[:, None]
    far = (short >> 4) * np.uint8(3) + np.maximum(short & 15, held) * np.uint8(2)
    far |= (~alive).view(np.uint8) * np.uint8(255)
    far -= far.min(axis=1, initial=255, keepdims=True)  # those that can't be made are far off, or all alike
    at = np.flatnonzero((far <= SPREAD) & alive)
    games, rows = np.divmod(at, max(short.shape[1], 1))
    distance = far.ravel()[at].astype(np.int64)
    number = np.bincount(games * (SPREAD + 1) + distance, minlength=len(short) * (SPREAD + 1))
    within = np.cumsum(number.reshape(len(short), SPREAD + 1), axis=1)
    cut = np.count_nonzero(within[:, :-1] < wanted, axis=1)
    kept = distance <= cut[games]
    return games[kept], rows[kept]


def _summed(places: Whole, values: Numbers, size: int) -> Real:
    """[Z, size] the values [Z, n] added up by place."""
    return np.stack([np.bincount(places, row, size) for row in values])
