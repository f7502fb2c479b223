"""The chance to win the game that is being played, from what a contest makes of a rack.

The contest's figure counts calls and knows that another may win first, but it was made for choosing. In games of sharp
seats it orders racks well and says too little or too much. A logistic curve through those games sets that right:
ln(p / (1 - p)) = START + SLOPE ln(q / (1 - q)), where q is the contest's figure and p the chance to win.
`tests/bench/win_chance.py` fits it anew and measures it on other sheets.
"""

from __future__ import annotations

import math

START, SLOPE = -0.55, 1.168
"""Fitted by logistic regression to 7,182 moments of 400 games among sharp seats, on Lantern Street and First Steps."""
LEAST = 1e-4
"""A figure nearer to none or to certainty than this is taken as this."""


def chance_to_win(figure: float) -> float:
    """The chance, 0 to 1, for the contest's figure of 0 to 1."""
    inside = min(max(figure, LEAST), 1.0 - LEAST)
    score = START + SLOPE * math.log(inside / (1.0 - inside))
    return 1.0 / (1.0 + math.exp(-score))
