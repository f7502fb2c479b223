"""What the contest is tuned by: the numbers that were chosen by playing games, in one place.

`tests/bench/tuning.py` plays games with all of them changed at once and tells what each change does.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Tuning:
    """How the contest weighs. The defaults are what is shipped."""

    collected: float = 5.0
    """What a win brings, in the hand's points: four when another's discard wins it, six when it is drawn; half are."""
    saved: float = 1.6
    """What a win saves, in the points of a usual hand: who doesn't win pays a third of what the winner collects, in
    nearly every game."""
    fed: float = 0.75
    """What letting the winning tile go costs besides the game, in the points of a usual hand: the discarder pays
    double, and would have paid some of it anyway."""
    fed_alone: float = 2.4
    """The same where the discarder pays for all: four times the points, less what would have been paid anyway."""
    dear: float = 0.8
    """Points count with this power."""
    hasten: float = 0.6
    """Added to the score of how soon another wins (`pace`): the game is taken to end sooner than it does."""
    thrown: float = 0.4
    """Tiles that others throw are taken to come so many times as often as they do."""
    call_margin: float = 0.9
    """A call is made where it leaves so many times what letting go does."""
    too_far: int = 7
    """With so many tiles lacking nothing is exposed yet: it would say too much and rule out too much."""
    blind_gain: float = 1.03
    """Tiles are passed on unseen only where that leaves so many times as much."""
    pass_care: float = 0.0015
    """What passing a tile costs that others ask for most, in that of a win with a usual hand."""


SHIPPED = Tuning()
FORETELLING = Tuning(dear=1.0, hasten=0.0, thrown=1.0)
"""What tells best who wins, by the curve of `winning`: tiles and the end come as counted. For choosing, games showed
that less should be hoped for."""
