"""Rollouts: games played to their end by the fast policy, the unseen tiles coming in a given order.

Each game gives one estimate of the worth and one of the chance of a hand. Both are right on average, whatever the order
of the tiles. Control variates take the luck of the draws out of them: before every draw each kind gets a value, which
is what it would add to the worth by `weigh_and_foresee`. The value of the tile that comes, less the mean over all
tiles that might have come, is taken off the result. This difference is exactly zero on average, however rough the
values are; the better they are, the less is left to chance. On the shipped sheets about a fifth of the spread is left,
so that one game tells as much as some twenty without.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from engine.advice.moment import nothing
from engine.advice.rollout.games import Games
from engine.advice.table import Real, Truth, Whole
from engine.advice.worth.choice import let_go
from engine.advice.worth.worth import Foreseen, Weighed, weigh_and_foresee
from engine.tiles import JOKER, KINDS

STEPS = 3
"""Moments in the draws to come at which games that are played on are weighed. Players with two, three, five and eight
moments did equally well in 10,000 games on twenty sheets, and three take less time than five."""
NEAR = 20
"""Near variants that count in them. With 15 a player closed 0.5 ± 0.8 points less of the gap between the nearest-hand
player and one who knows the wall than with 30, in the same games."""


@dataclass(frozen=True, eq=False)
class Results:
    """Estimates from G games, one each. A single one may lie outside 0 to 1."""

    worth: Real
    """[G] of the chance, averaged over the draws to come, that some hand is made by then."""
    chance: Real
    """[G] of the chance that some hand is made by the last draw."""


def orders(rng: np.random.Generator, unseen: Whole, number: int, draws: int) -> Whole:
    """[number, draws] kinds in the order in which they come, out of the 36 counts `unseen`."""
    hidden = np.repeat(np.arange(KINDS), unseen)
    return rng.permuted(np.tile(hidden, (number, 1)), axis=1)[:, :draws]


@dataclass(eq=False)
class Shared:
    """Games in play, where those that meet the same tiles and have come to stand alike are played once for all."""

    games: Games
    """n games, all different."""
    order: Whole
    """[n] which order of tiles each of them meets."""
    live: Whole
    """[m] the numbers of all games in play."""
    by: Whole
    """[m] the place of the one that plays for each of them."""

    @classmethod
    def of(cls, games: Games, orders: int) -> Shared:
        """G games: game g meets the order g modulo `orders`."""
        number = np.arange(len(games))
        return cls(games, number % orders, number, number).merged()

    def add(self, result: Real, values: Real) -> None:
        """Add to the `result` of every game in play what `values` [n] say of the one that plays for it."""
        result[self.live] += values[self.by]

    def without(self, done: Truth) -> Shared:
        """The games that go on, where `done` [n] are over."""
        stay = ~done
        place, mine = np.cumsum(stay) - 1, stay[self.by]
        return Shared(self.games.only(stay), self.order[stay], self.live[mine], place[self.by[mine]])

    def merged(self) -> Shared:
        """The same games, where those that have become alike are one."""
        if len(self.games) < 2:
            return self
        stands = np.concatenate((self.order[:, None], self.games.racks, self.games.unseen), axis=1).astype(np.int16)
        whole = np.ascontiguousarray(stands).view(np.dtype((np.void, stands.shape[1] * stands.itemsize))).ravel()
        _, first, of = np.unique(whole, return_index=True, return_inverse=True)
        if len(first) == len(whole):
            return self
        return Shared(self.games.take(first), self.order[first], self.live, of.ravel()[self.by])


def play_on(games: Games, coming: Whole, breathe: Callable[[], None] = nothing) -> Results:
    """Play G games to their end from racks of 13 tiles. The draws are `coming` [W, draws]: game g meets the order g
    modulo W. `games` is changed by it.

    `breathe` is called before every draw; it may take its time, or raise to stop.
    """
    found = Results(np.zeros(len(games)), np.zeros(len(games)))
    play_shared(Shared.of(games, len(coming)), coming, found, breathe)
    return found


def play_shared(play: Shared, coming: Whole, found: Results, breathe: Callable[[], None] = nothing) -> None:
    """`play_on` with games that are shared already. What they come to is added to `found`."""
    draws = coming.shape[1]
    if not draws:
        return
    _, foreseen = foresee(play.games, draws)
    kept = foreseen.worth
    for pick in range(1, draws + 1):
        breathe()
        games = play.games
        drawn, place, share = coming[play.order, pick - 1], np.arange(len(games)), (draws - pick + 1) / draws
        finishing, unseen = finishing_kinds(games), games.unseen / games.unseen[0].sum()
        for result, value, scale in (
            (found.worth, np.where(finishing, 1.0 - kept[:, None], foreseen.worth_more), share),
            (found.chance, np.where(finishing, 1.0 - foreseen.last[:, None], foreseen.last_more), 1.0),
        ):
            play.add(result, -scale * (value[place, drawn] - np.einsum("gk,gk->g", value, unseen)))
        games.come(drawn)
        done = games.finished
        if done.any():
            over = play.live[done[play.by]]
            found.worth[over] += share
            found.chance[over] += 1.0
            play = play.without(done)
        if not len(play.live) or pick == draws:
            break
        play = play.merged()
        games = play.games
        weighed, foreseen = foresee(games, draws - pick)
        goes = let_go(games.table, games.racks, games.short, games.alive, weighed.left)
        kept = weighed.left[np.arange(len(games)), goes]
        games.go(goes)


def foresee(games: Games, draws: int) -> tuple[Weighed, Foreseen]:
    """What the games are worth with so many draws to come, and what the next tile would add."""
    return weigh_and_foresee(games.table, games.racks, games.unseen, draws, games.short, games.alive, STEPS, NEAR)


def finishing_kinds(games: Games) -> Truth:
    """[G, 36] whether a tile of each kind would finish a rack of 13, for those that are unseen."""
    table, short, jokers = games.table, games.short, games.racks[:, JOKER]
    held = jokers.astype(np.uint8)[:, None]
    one_short = (short == held + 1) | ((short >= 16) & (short <= 16 + held))
    game, row = one_short.nonzero()
    finishing = np.zeros(games.racks.shape, np.bool_)
    strict = short[game, row] >= 16
    finishing[game[~strict], JOKER] = True
    wanted = np.where(strict[:, None], table.real[row], table.total[row])
    place, kind = (wanted > games.racks[game]).nonzero()
    finishing[game[place], kind] = True
    finishing &= games.unseen > 0
    return finishing
