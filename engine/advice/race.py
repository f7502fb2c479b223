"""How far a game at a full table is, as one seat sees it: what tells how soon another may win."""

from __future__ import annotations

from dataclasses import dataclass

from engine.rules.house import SEATS
from engine.rules.observation import Observation
from engine.rules.state import Phase

OTHERS = len(SEATS) - 1
"""Seats that play besides one's own."""


@dataclass(frozen=True)
class Race:
    """A game among four. Make one with `seen`."""

    wall: int
    """Tiles left in the wall."""
    most: int = 0
    """Groups that the other seat with most has laid."""
    groups: int = 0
    """Groups that all others have laid."""
    live: int = OTHERS
    """Other seats that still play."""
    ahead: float = 0.0
    """How much sooner than a whole round from now this seat draws next, in rounds."""
    passes: int = 0
    """Tiles that passes will bring before play."""
    passed: int = 0
    """Passes that have been made."""

    @classmethod
    def seen(cls, observation: Observation, passes: int = 0) -> Race:
        """How far it is for the seat that observes.

        A seat that is asked about a discard draws sooner than one that has just let a tile go.
        """
        seat = observation.seat
        others = [other for other in range(len(SEATS)) if other != seat and not observation.dead[other]]
        laid = [len(observation.exposures[other]) for other in others]
        last = observation.discards[-1].seat if observation.discards else seat
        own_turn = observation.turn == seat and observation.phase is Phase.TURN
        steps = (seat - last) % len(SEATS)
        waits = steps and observation.discards and not observation.discards[-1].called and not own_turn
        ahead = 1.0 - steps / len(SEATS) if waits else 0.0
        return cls(
            observation.wall_left, max(laid, default=0), sum(laid), len(laid), ahead, passes, observation.passes_done
        )
