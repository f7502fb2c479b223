"""The chance to win the game that is being played, from what a contest makes of a rack.

The contest's figure counts calls and knows that another may win first, but it was made for choosing. In games of sharp
seats it orders racks well and says too little or too much. A logistic curve through those games sets that right:
ln(p / (1 - p)) = START + SLOPE ln(q / (1 - q)), where q is the contest's figure and p the chance to win.
`tests/bench/win_chance.py` fits it anew and measures it on other sheets.
"""

from __future__ import annotations

import math

IN_PLAY = -0.55, 1.168
"""START and SLOPE, fitted by logistic regression to 7,182 moments of 400 games among sharp seats, on Lantern Street and
First Steps."""
BEFORE_PLAY = -0.381, 0.817
"""The same for the passes, fitted to 1,396 passes of 120 of those games. Passes bring more than the contest counts on:
a second round, and what others can't use."""
LEAST = 1e-4
"""A figure nearer to none or to certainty than this is taken as this."""


def chance_to_win(figure: float, *, before_play: bool = False) -> float:
    """The chance, 0 to 1, for the contest's figure of 0 to 1."""
    start, slope = BEFORE_PLAY if before_play else IN_PLAY
    inside = min(max(figure, LEAST), 1.0 - LEAST)
    score = start + slope * math.log(inside / (1.0 - inside))
    return 1.0 / (1.0 + math.exp(-score))
