"""Which tile to let go, tried out: by an exact search where the rest of the game is short enough, else by rollouts.

The fast policy's choice gives way only to one that is clearly better, by a pick or more. The best of several sampled
means is partly luck: taking it as it came made play worse.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from engine.advice.endgame.search import Ending, exact_ending
from engine.advice.moment import USUAL, Moment, Work
from engine.advice.rollout.beside import begin_games, play_games
from engine.advice.rollout.games import Games
from engine.advice.rollout.playout import Results, orders, play_on
from engine.advice.rollout.race import FEW, FIRST, Contrast, Play, Tried, first_round, race, stand
from engine.advice.table import Real
from engine.advice.worth.choice import let_go
from engine.advice.worth.worth import weigh
from engine.tiles import Kind

MOST_GAMES = 600
"""Games for one moment, however short."""
CLOSE = 2.0
"""Choices that the fast policy puts further behind than so many picks are not tried."""
LONG = 50
"""Games with more draws than this are mostly over by then; the effort is shared out as if none were longer."""
MOST_CHOICES = 3
"""Choices that are tried, the fast policy's own among them."""
PICKS = 1.0
"""By how many picks a choice must be better to be taken instead of the fast policy's."""
LATE = 12
"""With fewer draws a game may be searched whole (`exact_ending`)."""
SEED = 4711


@dataclass(frozen=True)
class Trial:
    """What trying the choices showed."""

    goes: Kind
    """The tile to let go."""
    tried: dict[Kind, Tried]
    """Each choice that was looked at, against that one."""
    exact: bool
    """Whether the rest of the game was searched whole. Then nothing is left to chance, and `games` are 0."""


def try_choices(moment: Moment, work: Work = USUAL, *, picks: float = PICKS) -> Trial:
    """Try letting go each tile of a moment with 14 tiles that are no hand. The same moment always gets the same answer.

    `picks` is by how many picks a choice must be better than the fast policy's. Raises StoppedError once `work` is
    stopped.
    """
    here = _games(moment)
    left, goes = _estimated(moment, here)
    ending = _ending(moment, work)
    if ending is not None:
        return _looked_at(ending, goes)
    kinds = _close(left, goes, moment.draws)
    most = most_games(moment.draws, work)
    found = race(_player(moment, here, kinds, work), len(kinds), most, first=_first(kinds, most))
    best = better_one(stand(found), picks / max(moment.draws, 1))
    return Trial(kinds[best], dict(zip(kinds, stand(found, best), strict=True)), False)


def begin_choices(moment: Moment, work: Work) -> None:
    """Let the helpers of `work` begin with the games that `try_choices` plays first, and go on at once. Near the end of
    a game, which may be searched whole, and with a hand made nothing is begun."""
    if moment.draws < LATE or work.helpers is None:
        return
    here = _games(moment)
    if here.finished[0]:
        return
    kinds = _close(*_estimated(moment, here), moment.draws)
    most = most_games(moment.draws, work)
    number = first_round(len(kinds), most, first=_first(kinds, most))
    begin_games(play_on, _starts(here, kinds), orders(_luck(moment), here.unseen[0], number, moment.draws), work)


def _estimated(moment: Moment, here: Games) -> tuple[Real, Kind]:
    """[36] what letting each tile go leaves, and the fast policy's choice."""
    batch = here.batch(moment.draws)
    left = weigh(moment.table, batch.racks, batch.unseen, moment.draws, short=batch.short, alive=batch.alive).left
    return left[0], int(let_go(moment.table, batch.racks, batch.short, batch.alive, left)[0])


def _first(kinds: Sequence[Kind], most: int) -> int:
    """Games of every choice in the first round: one round is quicker than two, where two spend the effort."""
    return FEW if most <= FEW * len(kinds) else FIRST


def compare(moment: Moment, best: Kind, other: Kind, work: Work = USUAL) -> Tried:
    """How letting `other` go stands to letting `best` go; the rest is as for `try_choices`."""
    ending = _ending(moment, work)
    if ending is not None:
        return _exactly(ending, best, other)
    play = _player(moment, _games(moment), (best, other), work)
    return stand(race(play, 2, most_games(moment.draws, work), alone=0, first=FEW))[1]


def most_games(draws: int, work: Work) -> int:
    """Games of so many draws that the work allows."""
    return min(work.effort // min(max(draws, 1), LONG), MOST_GAMES)


def _games(moment: Moment) -> Games:
    return Games.of(moment.table, np.array([moment.counts]), np.array([moment.unseen]))


def _ending(moment: Moment, work: Work) -> Ending | None:
    return exact_ending(moment.table, moment.counts, moment.unseen, moment.draws, stopped=work.halted)


def _player(moment: Moment, here: Games, kinds: Sequence[Kind], work: Work) -> Play:
    """Plays games to the end after each kind is let go. The tiles to come are the same for the same moment."""
    rng, starts = _luck(moment), _starts(here, kinds)

    def play(which: Sequence[int], number: int) -> Results:
        coming = orders(rng, here.unseen[0], number, moment.draws)
        return play_games(play_on, starts.take(np.array(which)), coming, work)

    return play


def _luck(moment: Moment) -> np.random.Generator:
    return np.random.default_rng([SEED, moment.draws, *moment.counts, *moment.unseen])


def _starts(here: Games, kinds: Sequence[Kind]) -> Games:
    """The game after each kind is let go."""
    starts = here.repeated(len(kinds))
    starts.go(np.array(kinds))
    return starts


def _close(left: Real, goes: Kind, draws: int) -> list[Kind]:
    """The choices to try, the fast policy's first, then by what they leave."""
    order = np.argsort(-left, kind="stable")
    near = [int(kind) for kind in order if kind != goes and left[kind] >= max(left[goes] - CLOSE / max(draws, 1), 0.0)]
    return [goes, *near[: MOST_CHOICES - 1]]


def better_one(tried: Sequence[Tried], pick: float) -> int:
    """The place of the choice that is clearly better than the first one, or of the first one if none is."""
    better = [place for place, one in enumerate(tried) if one.contrast(pick) is Contrast.BETTER]
    return min(better, key=lambda place: tried[place].behind, default=0)


def _looked_at(ending: Ending, goes: Kind) -> Trial:
    """The best play; the fast policy's choice where it is as good."""
    held = [kind for kind, worth in enumerate(ending.worth) if worth >= 0]
    best = max(held, key=lambda kind: (round(float(ending.worth[kind]), 12), kind == goes))
    return Trial(best, {kind: _exactly(ending, best, kind) for kind in held}, True)


def _exactly(ending: Ending, best: Kind, kind: Kind) -> Tried:
    worth, chance = float(ending.worth[kind]), float(ending.chance[kind])
    return Tried(0, worth, 0.0, chance, 0.0, float(ending.worth[best]) - worth, 0.0)
