"""How long a game at a full table still lasts, and which tiles it brings to one seat until then.

A game ends for a seat when another one wins or the wall is used up. How soon that is was fitted to games of sharp
seats: the chance that one of the others wins within a round (`fit.py` beside this file makes the numbers anew).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from engine.advice.contest.tuning import SHIPPED, Tuning
from engine.advice.race import OTHERS, Race
from engine.advice.table import Real, SheetTable
from engine.advice.worth.incoming import let_go_by_others
from engine.tiles import JOKER, KINDS

MOMENTS = 5
"""Moments of the end that are told apart; each is as likely as any other."""
MOST = 0.95
"""The chance that a given tile comes is taken as at most this."""
SELDOM = 0.45
"""Of three tiles that others draw while this seat draws one, each comes to be thrown SELDOM plus the readiness of its
kind (`let_go_by_others`) times as often as if tiles were thrown blindly. Counted in 260 games of sharp seats."""

BASE, WALL, MOST_LAID, ALSO_LAID, LATER = -2.4, -0.033, 0.42, 0.31, 0.062
"""The chance that another seat wins within a round: the logistic function of BASE, WALL for each tile left in the wall
then, MOST_LAID for each group that the seat with most has laid now, ALSO_LAID for each other group laid by others, and
LATER for each round from now, in which they may lay more."""


def rounds_until_the_end(race: Race, hasten: float = 0.0) -> Real:
    """[MOMENTS] rounds from now to equally likely moments of the end: the middles of parts of the same chance. `hasten`
    is added to the score of how soon another wins."""
    times, chances = _lasting(race, hasten)
    wanted = 1.0 - (np.arange(MOMENTS) + 0.5) / MOMENTS
    found: Real = np.interp(-wanted, -np.array(chances), np.array(times), right=race.wall / (race.live + 1))
    return found


def another_wins(race: Race) -> float:
    """The chance, 0 to 1, that one of the others wins before the wall is used up, if this seat doesn't."""
    return 1.0 - _lasting(race)[1][-1]


def _lasting(race: Race, hasten: float = 0.0) -> tuple[list[float], list[float]]:
    """Rounds from now, up to the end of the wall, and for each the chance that none of the others has won by then."""
    rounds = race.wall / (race.live + 1)
    lasting, times, chances = 1.0, [0.0], [1.0]
    laid = MOST_LAID * race.most + ALSO_LAID * (race.groups - race.most)
    step = 0
    while step < rounds:
        score = BASE + hasten + WALL * (race.wall - (race.live + 1) * step) + laid + LATER * step
        share = min(rounds - step, 1.0)
        lasting *= (1.0 - 1.0 / (1.0 + math.exp(-score))) ** (share * race.live / OTHERS)
        step += 1
        times.append(min(float(step), rounds))
        chances.append(lasting)
    return times, chances


@dataclass(frozen=True, eq=False)
class Coming:
    """The chance that a given unseen tile of each kind has come, by each of the moments."""

    drawn: Real
    """[36, MOMENTS] to this seat, by its draws and by passes."""
    thrown: Real
    """[36, MOMENTS] to another seat that has thrown it, so that it may have been called."""


def coming(table: SheetTable, unseen: Sequence[int], race: Race, lost: float = 0.0, tuning: Tuning = SHIPPED) -> Coming:
    """What comes of the 36 counts `unseen`, had so many rounds been `lost`. `table` is the one of the whole sheet: it
    tells what others keep."""
    rounds = np.maximum(rounds_until_the_end(race, tuning.hasten) - lost, 0.0)
    hidden = np.asarray(unseen, np.float64)
    total = max(float(hidden.sum()), 1.0)
    ready = let_go_by_others(table)
    drawn = np.broadcast_to(np.minimum((rounds + race.ahead) / total, MOST), (KINDS, MOMENTS))
    if race.passes:
        all_ready = float(hidden @ ready)
        passed = np.minimum(race.passes * ready / all_ready, MOST) if all_ready > 0 else np.zeros(KINDS)
        drawn = 1.0 - (1.0 - passed[:, None]) * (1.0 - drawn)
    often = tuning.thrown * OTHERS * (SELDOM + ready)
    often[JOKER] = 0.0
    thrown = np.minimum(often[:, None] * rounds[None, :] / total, MOST)
    return Coming(np.minimum(drawn, MOST), thrown)
