"""Before play: which tiles a simulated seat passes, whether it wants a second round, how many it would exchange across.

Tiles go one after another, each time the one whose going leaves the rack worth most. A tile is to spare when little of
the worth goes with it; a seat with fewer to spare than a pass takes passes blind where it may, stops the second round,
and asks for no more than it can spare.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from engine.rules.actions import PASS_TILES, Action, Agree, Ask, Give, Pass, Stop
from engine.rules.observation import Observation
from engine.rules.table import Phase
from engine.seats.character import Character, whim
from engine.seats.judging import Hold, Judge
from engine.tiles import Kind

SAME = 1e-9
"""Worths that differ by a smaller share are taken as equal."""


@dataclass(frozen=True)
class Spare:
    """Tiles in the order in which they would go, and the share of the rack's worth that is lost with each."""

    kinds: tuple[Kind, ...]
    lost: tuple[float, ...]

    def within(self, limit: float) -> int:
        """How many go before one costs more than the limit."""
        return next((place for place, lost in enumerate(self.lost) if lost > limit), len(self.lost))


def choose_before_play(observation: Observation, judge: Judge, character: Character) -> Action:
    """The choice of the seat to act in PASSING, AGREEING, ASKING or GIVING."""
    if observation.phase is Phase.GIVING:
        return Give(cheapest(observation, judge, observation.settled).kinds)
    spare = cheapest(observation, judge, PASS_TILES)
    number = spare.within(character.spare)
    if observation.phase is Phase.AGREEING:
        return Agree() if number == PASS_TILES else Stop()
    if observation.phase is Phase.ASKING:
        return Ask(number)
    blind = Pass(spare.kinds[:number], PASS_TILES - number)
    return blind if blind in observation.legal else Pass(spare.kinds)


def cheapest(observation: Observation, judge: Judge, number: int) -> Spare:
    """The tiles that are missed least, never a joker."""
    hold = Hold.seen_by(observation)
    worth = judge.worth(hold)
    kinds: list[Kind] = []
    lost: list[float] = []
    for _ in range(number):
        left = judge.keeps(hold)
        best = left.max()
        tied = np.flatnonzero(left >= best - SAME * max(best, 0.0))
        kind = int(tied[int(whim(observation, f"spare {len(kinds)}") * len(tied))])
        kinds.append(kind)
        lost.append(1.0 - float(best) / worth if worth > 0 else 0.0)
        worth = float(best)
        hold = hold.without(kind)
    return Spare(tuple(kinds), tuple(lost))
