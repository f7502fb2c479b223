"""How well somebody plays, over several reviewed games: the mean cost of a choice, and how many choices it rests on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from engine.advice.review import Review
from engine.advice.table import Real


@dataclass(frozen=True)
class Play:
    """How well somebody plays over several games, as reckoned."""

    games: int
    decisions: int
    """Unforced ones in all the games."""
    cost: float
    """Mean worth lost by an unforced decision."""
    error: float
    """Standard error of it, from game to game."""
    enough: bool
    """Whether there are enough games to say so."""


ENOUGH = 10
"""Games from which a measure of play is said."""


def play_measure(reviews: Sequence[Review]) -> Play:
    """The mean cost of an unforced decision. Decisions of one game hang together, so the error is that of a ratio of
    sums over games (the delta method), and 0 where there are fewer than two."""
    made = np.array([len(one.unforced) for one in reviews], np.float64)
    lost = np.array([sum(decision.cost for decision in one.unforced) for one in reviews])
    games, decisions = len(reviews), int(made.sum())
    if not decisions:
        return Play(games, 0, 0.0, 0.0, False)
    cost = float(lost.sum() / decisions)
    off: Real = lost - cost * made
    error = float(np.sqrt(games / (games - 1) * (off * off).sum()) / decisions) if games > 1 else 0.0
    return Play(games, decisions, cost, error, games >= ENOUGH)
