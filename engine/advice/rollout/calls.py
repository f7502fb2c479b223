"""Answers to a discard, tried out by rollouts: each leaves a rack of 13 tiles, with exposed groups of its own."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from engine.advice.moment import USUAL, Moment, Work
from engine.advice.rollout.beside import play_games
from engine.advice.rollout.discards import SEED, most_games
from engine.advice.rollout.games import Games
from engine.advice.rollout.playout import Results, orders, play_on
from engine.advice.rollout.race import Tried, race, stand


def try_answers(moments: Sequence[Moment], work: Work = USUAL) -> list[Tried]:
    """How each of these racks stands to the first one, all with the same unseen tiles.

    Moments with fewer draws have missed the first ones, and their figures are shares of the most draws. The same
    moments always get the same answer. Raises StoppedError once `work` is stopped.
    """
    draws = max(one.draws for one in moments)
    unseen = np.array(moments[0].unseen)
    rng = np.random.default_rng([SEED, draws, *moments[0].counts, *moments[0].unseen])

    def play(which: Sequence[int], number: int) -> Results:
        coming = orders(rng, unseen, number, draws)
        parts = []
        for place in which:
            one = moments[place]
            start = Games.of(one.table, np.array([one.counts]), unseen[None])
            found = play_games(play_on, start, coming[:, draws - one.draws :], work)
            parts.append(Results(found.worth * (one.draws / max(draws, 1)), found.chance))
        return Results(np.concatenate([part.worth for part in parts]), np.concatenate([part.chance for part in parts]))

    return stand(race(play, len(moments), most_games(draws, work)))
