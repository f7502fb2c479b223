"""Sequential elimination: choices are compared over rounds of games, and those that fall clearly behind drop out.

All choices meet the same tiles to come. The first one is the fast policy's; it is the one to beat and never drops out.
Rounds go on until the effort is spent or all others are out. How far one choice is behind another is the mean of the
differences, game by game, with its standard error.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import Enum

import numpy as np

from engine.advice.rollout.playout import Results
from engine.advice.stats import half_width
from engine.advice.table import Real
from engine.advice.worth.worth import SAME

FIRST = 12
"""Games of every choice before any drops out."""
AT_ONCE = 64
"""Games of a later round at most, shared out among the choices still in the race."""
ALONE = 64
"""Games after which the first choice needs no more once all others are out."""
OUT = 0.999
"""How sure it must be that a choice is behind the leader before it drops out. The choices are looked at after every
round, so this is stricter than for a verdict."""
WORSE = 0.95
"""How sure it must be that a choice is worse before it is called so: zero is outside the interval."""
TRIFLE = 0.0005
"""Of worth. A smaller difference is called none, however sure it is."""
BETTER = 2.5
"""A choice is called better from so many standard errors on, if it is also a pick better, over FEW games or more."""
FEW = 24


class Contrast(Enum):
    """How a choice stands to the one that it was raced against."""

    BETTER = "better"
    WORSE = "worse"
    ALIKE = "not to be told apart"


@dataclass(frozen=True)
class Tried:
    """What the games of one choice came to."""

    games: int
    worth: float
    """The chance, averaged over the draws to come, that some hand is made by then."""
    worth_error: float
    """Standard error; so are the other errors."""
    chance: float
    """The chance that some hand is made by the last draw."""
    chance_error: float
    behind: float
    """By how much the choice it is compared with is worth more, over the games that both played."""
    behind_error: float

    @property
    def half(self) -> float:
        """Half of a 95% interval of what it is behind."""
        return half_width(self.behind_error, self.games, WORSE)

    def contrast(self, pick: float) -> Contrast:
        """How it stands to the choice it is compared with, where one pick more costs `pick` of worth."""
        least = TRIFLE if self.games else SAME
        if self.behind > max(self.half, least):
            return Contrast.WORSE
        ahead = -self.behind
        sure = self.games >= FEW and ahead > BETTER * self.behind_error
        return Contrast.BETTER if sure and ahead >= pick else Contrast.ALIKE


Play = Callable[[Sequence[int], int], Results]
"""Plays so many games of each of some choices, with the same tiles to come for each, and other tiles with every call.
The results go choice by choice."""


def race(play: Play, choices: int, most: int, alone: int = ALONE, first: int = FIRST) -> list[Results]:
    """Compare so many choices over `most` games in all, or a few more; the results of each, game by game.

    No choice drops out before `first` games. Once all others are out, the first choice needs no more than `alone`; a
    single choice plays so many at once.
    """
    first = first_round(choices, most, alone, first)
    found = [Results(np.zeros(0), np.zeros(0)) for _ in range(choices)]
    running = list(range(choices))
    spent = 0
    while spent < most and not (running == [0] and len(found[0].worth) >= alone):
        number = first if not spent else max(FIRST, min(AT_ONCE, most - spent) // len(running))
        results = play(running, number)
        spent += number * len(running)
        for place, choice in enumerate(running):
            part = slice(place * number, (place + 1) * number)
            found[choice] = Results(
                np.concatenate((found[choice].worth, results.worth[part])),
                np.concatenate((found[choice].chance, results.chance[part])),
            )
        running = _in_the_race(found, running)
    return found


def first_round(choices: int, most: int, alone: int = ALONE, first: int = FIRST) -> int:
    """Games of every choice that `race` asks for first."""
    return first if choices > 1 else max(min(alone, most), first)


def stand(found: Sequence[Results], against: int = 0) -> list[Tried]:
    """How choices stand to one of them."""
    return [_tried(found[against], one) for one in found]


def _in_the_race(found: Sequence[Results], running: Sequence[int]) -> list[int]:
    """The choices that may still turn out best, and the first one as long as another does."""
    leader = max(running, key=lambda choice: found[choice].worth.mean())
    still = [choice for choice in running if choice == leader or not _out(found[leader].worth, found[choice].worth)]
    return still if still == [0] or 0 in still else [0, *still]


def _out(leader: Real, other: Real) -> bool:
    apart = leader - other
    return bool(apart.mean() > half_width(_error(apart), len(apart), OUT))


def _tried(against: Results, one: Results) -> Tried:
    both = min(len(against.worth), len(one.worth))
    apart = against.worth[:both] - one.worth[:both]
    return Tried(
        len(one.worth),
        float(one.worth.mean()),
        _error(one.worth),
        float(one.chance.mean()),
        _error(one.chance),
        float(apart.mean()),
        _error(apart),
    )


def _error(values: Real) -> float:
    """Standard error of the mean."""
    return float(values.std(ddof=1) / len(values) ** 0.5)
