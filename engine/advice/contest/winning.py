"""The chance to win the game that is being played, from what a contest makes of a rack.

The contest's figure counts calls and knows that another may win first. In games of sharp seats it orders racks well and
says too little or too much. A logistic curve through those games sets that right: ln(p / (1 - p)) is START + SLOPE s +
..., where p is the chance to win and s the figure's score, ln(q / (1 - q)) for a figure q.

Every seat of a table is as good as any on average, whatever the sheet. So a figure counts the more, the less random
racks of the same sheet come to: all of it before play, less and less as the wall goes. Before play the score is what
it is beyond that of usual racks, which have become better by the passes made.
`tests/bench/win_chance.py` fits both curves anew and measures them on other sheets.
"""

from __future__ import annotations

import math

import numpy as np

FULL_WALL = 99
"""Tiles in the wall when play begins."""
IN_PLAY = -1.278, 1.088, 0.261, -0.790, -0.607
"""START, SLOPE, and what is added for each unit of: the score where it is above 0; the mean score of random racks of
the sheet, times the share of the wall that is left; that share. Fitted by logistic regression to 135,608 racks of some
8,700 games among sharp seats on seven sheets: three shipped ones, and drafts of 12, 18, 24 and 30 hands. On each sheet,
with the curve fitted to the other six, what was said came true within 5 points in every tenth of 100 racks and more,
but for two that were 5.1 and 5.6 off."""
BEFORE_PLAY = -1.254, 0.981
"""START and SLOPE for the passes, fitted to 83,452 passes of 6,950 games on two of those sheets and two drafts."""
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


def in_play(figure: float, random: float, wall: int) -> tuple[float, float, float, float, float]:
    """What the curve in play counts, for the contest's figure of 0 to 1 and so many tiles in the wall. `random` is the
    mean score of random racks of the sheet when play begins."""
    along, left = score(figure), wall / FULL_WALL
    return 1.0, along, max(along, 0.0), random * left, left


def chance_to_win(figure: float, random: float, wall: int) -> float:
    """The chance, 0 to 1, in play (`in_play`)."""
    return _logistic(sum(weight * part for weight, part in zip(IN_PLAY, in_play(figure, random, wall), strict=True)))


def chance_before_play(figure: float, random: float, passed: int) -> float:
    """The same during the passes (`beyond`)."""
    start, slope = BEFORE_PLAY
    return _logistic(start + slope * beyond(figure, random, passed))


def _logistic(along: float) -> float:
    return 1.0 / (1.0 + math.exp(-along))
