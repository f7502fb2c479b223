"""Choices of tiles to pass, tried out by rollouts: the tiles of the passes come in, then the game is played to its end.

What comes in follows what others tend to let go (`incoming`). Before each later pass as many tiles go: those that the
fast policy finds least useful, no jokers. The luck of what comes in is taken out by control variates, tile by tile, as
`playout` does it for draws.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

import numpy as np

from engine.advice.moment import USUAL, Moment, Work, nothing
from engine.advice.rollout.beside import play_games
from engine.advice.rollout.discards import MOST_GAMES, SEED
from engine.advice.rollout.games import Games
from engine.advice.rollout.playout import Results, Shared, foresee, play_shared
from engine.advice.rollout.race import FIRST, race
from engine.advice.table import Real, SheetTable, Whole
from engine.advice.worth.choice import let_go
from engine.advice.worth.incoming import let_go_by_others, weighted_order
from engine.advice.worth.worth import weigh
from engine.sheet.groups import HAND_TILES
from engine.tiles import JOKER, KINDS, Kind

IN_OTHER_RACKS = 39
"""Tiles in the racks of the three others."""


def try_passes(
    moment: Moment,
    choices: Sequence[Sequence[Kind]],
    batches: Sequence[int],
    work: Work = USUAL,
    *,
    first: int = FIRST,
    elsewhere: Sequence[int] | None = None,
) -> list[Results]:
    """What each choice of tiles to go from the rack comes to, raced against the first choice.

    `batches` are the tiles that come in with this pass and with each later one; then the moment's draws are played.
    No choice drops out before `first` games. `elsewhere` are 36 counts of tiles that this seat has passed. They lie in
    other racks, and so come back by passes more often than a tile that may as well lie in the wall. In play they are
    drawn like any other. The same moment gets the same answer. Raises StoppedError once `work` is stopped.
    """
    table, counts, unseen, draws = moment.table, moment.counts, moment.unseen, moment.draws
    away = np.zeros(KINDS, np.int64) if elsewhere is None else np.array(elsewhere, np.int64)
    ready = ready_to_come(table, np.array(unseen), away)
    unseen = tuple((np.array(unseen) + away).tolist())
    here = Games.of(table, np.array([counts]), np.array([unseen]))
    rng = np.random.default_rng([SEED, draws, *batches, *counts, *unseen])
    starts = here.repeated(len(choices))
    for place in zip(*choices, strict=True):
        starts.go(np.array(place))

    def play(which: Sequence[int], number: int) -> Results:
        coming = arrivals(rng, here.unseen[0], ready, number, sum(batches), draws)
        playing = partial(play_passes, batches=tuple(batches), ready=ready)
        return play_games(playing, starts.take(np.array(which)), coming, work)

    most = min(work.effort // max(sum(batches) + draws, 1), MOST_GAMES)
    return race(play, len(choices), most, first=first)


def ready_to_come(table: SheetTable, unseen: Whole, elsewhere: Whole) -> Real:
    """[36] how readily a tile of each kind comes in a pass, as a weight. A tile passed before surely lies in another
    rack; any other unseen one does as often as other racks hold unseen tiles."""
    ready, both = let_go_by_others(table), unseen + elsewhere
    surely = both.sum() / IN_OTHER_RACKS
    weight: Real = ready * np.divide(unseen + surely * elsewhere, both, out=np.ones(KINDS), where=both > 0)
    return weight


def arrivals(rng: np.random.Generator, unseen: Whole, ready: Real, number: int, passed: int, draws: int) -> Whole:
    """[number, passed + draws] kinds in the order in which they come: first those passed, drawn by the weights `ready`
    [36], then draws, all alike."""
    order = weighted_order(rng, unseen, ready, number)
    rest = rng.permuted(order[:, passed:], axis=1)
    result: Whole = np.concatenate((order[:, :passed], rest[:, :draws]), axis=1)
    return result


def play_passes(
    games: Games,
    coming: Whole,
    batches: Sequence[int],
    breathe: Callable[[], None] = nothing,
    ready: Real | None = None,
) -> Results:
    """Let the tiles of the passes come in by `batches`, then play on with the rest of `coming` [W, tiles]: game g meets
    the order g modulo W. `games` is changed by it."""
    table = games.table
    ready = let_go_by_others(table) if ready is None else ready
    passed = sum(batches)
    draws = coming.shape[1] - passed
    found, at = Results(np.zeros(len(games)), np.zeros(len(games))), 0
    play = Shared.of(games, len(coming))
    for batch, size in enumerate(batches):
        for _ in range(size if batch else 0):
            _lets_go(play.games, draws)
        for _ in range(size):
            breathe()
            play = play.merged()
            _, foreseen = foresee(play.games, draws)
            comes, place = coming[play.order, at], np.arange(len(play.games))
            weight = play.games.unseen * ready
            share = weight / weight.sum(axis=1, keepdims=True)
            for result, value in ((found.worth, foreseen.worth_more), (found.chance, foreseen.last_more)):
                play.add(result, np.einsum("gk,gk->g", value, share) - value[place, comes])
            play.games.come(comes)
            at += 1
    if int(play.games.racks[0].sum()) + sum(group.size for group in table.laid) == HAND_TILES:
        _lets_go(play.games, draws)
    play_shared(play.merged(), coming[:, passed:], found, breathe)
    return found


def _lets_go(games: Games, draws: int) -> None:
    """The least useful tile that is no joker goes from every rack."""
    left = weigh(games.table, games.racks, games.unseen, draws, short=games.short, alive=games.alive).left
    left[:, JOKER] = -1.0
    games.go(let_go(games.table, games.racks, games.short, games.alive, left))
