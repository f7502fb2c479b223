"""The chance to win the game that is being played, from what a contest makes of a rack.

The contest's figure counts calls and knows that another may win first. In games of sharp seats it orders racks well and
says too little or too much. A logistic curve through those games sets that right: ln(p / (1 - p)) = START + SLOPE s,
where p is the chance to win and s the figure's score, ln(q / (1 - q)) for a figure q.

Before play every seat of a table is as good as any on average, whatever the sheet. There the score is what it is beyond
that of usual racks of the same sheet, which have become better by the passes made.
`tests/bench/win_chance.py` fits both curves anew and measures them on other sheets.
"""

from __future__ import annotations

import math

import numpy as np

IN_PLAY = -0.55, 1.168
"""START and SLOPE, fitted by logistic regression to 7,182 moments of 400 games among sharp seats, on Lantern Street and
First Steps."""
BEFORE_PLAY = -1.194, 0.838
"""The same for the passes, fitted to 2,592 passes of 220 games on those two sheets and two drafts."""
PASSES = 0, 2, 4
"""Passes made, for which RISEN was counted."""
RISEN = -0.08, 0.343, 0.522
"""How much better than a random rack one is that has been through so many passes, in score: its mean in those games. On
each of the four sheets it was the same within 0.06."""
LEAST = 1e-4
"""A figure nearer to none or to certainty than this is taken as this."""


def score(figure: float) -> float:
    """The logarithm of the odds of a figure of 0 to 1."""
    inside = min(max(figure, LEAST), 1.0 - LEAST)
    return math.log(inside / (1.0 - inside))


def beyond(figure: float, random: float, passed: int) -> float:
    """How far the score of a figure is beyond that of a usual rack after so many passes. `random` is the mean score of
    random racks of the sheet, with as many tiles to come."""
    return score(figure) - random - float(np.interp(passed, PASSES, RISEN))


def chance_to_win(figure: float) -> float:
    """The chance, 0 to 1, for the contest's figure of 0 to 1, in play."""
    return _chance(IN_PLAY, score(figure))


def chance_before_play(figure: float, random: float, passed: int) -> float:
    """The same during the passes (`beyond`)."""
    return _chance(BEFORE_PLAY, beyond(figure, random, passed))


def _chance(curve: tuple[float, float], along: float) -> float:
    start, slope = curve
    return 1.0 / (1.0 + math.exp(-start - slope * along))
