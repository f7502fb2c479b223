"""How strong a simulated player is, and its fixed character: what it overlooks, what it fears, what it likes."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from hashlib import blake2b

from engine.rules.observation import Observation


class Strength(Enum):
    """How well a simulated player plays."""

    BEGINNER = "beginner"
    """Has its mind on the few nearest hands, counts tiles missing only, overlooks calls and jokers, calls too eagerly,
    fears nothing."""
    STEADY = "steady"
    """Looks at every hand of the sheet, counts tiles missing, knows which hands have become impossible; errs seldom."""
    SHARP = "sharp"
    """Counts on the tiles left, on calls and on points, and feeds no seat whose exposures threaten."""


@dataclass(frozen=True)
class Character:
    """What tells one player from another; it never changes during a game."""

    strength: Strength
    few: int
    """How many near variants it has in mind, 0 for all."""
    overlooks: float
    """The share of exposures and joker exchanges that it does not notice."""
    slips: float
    """The share of turns in which it lets go the tile it should rather have kept of the two it could spare best."""
    spare: float
    """A tile is to spare when letting it go loses no more than this share of what the rack is worth."""
    eager: float
    """An exposure is called for when the rack is then worth so many times what it was."""
    hasty: float
    """The share of calls that it judges without asking whether they bring it nearer, or come too early."""
    redeems: bool
    """Whether it exchanges a tile for a joker rather than let the tile go."""
    wary: float
    """How much it fears to feed a seat that threatens; 0 not at all."""


CHARACTERS = {
    Strength.BEGINNER: Character(
        Strength.BEGINNER, few=4, overlooks=0.4, slips=0.15, spare=0.15, eager=1.0, hasty=1.0, redeems=False, wary=0.0
    ),
    Strength.STEADY: Character(
        Strength.STEADY, few=0, overlooks=0.1, slips=0.05, spare=0.15, eager=1.1, hasty=0.03, redeems=True, wary=0.0
    ),
    Strength.SHARP: Character(
        Strength.SHARP, few=0, overlooks=0.0, slips=0.0, spare=0.15, eager=1.05, hasty=0.0, redeems=True, wary=0.4
    ),
}


def whim(observation: Observation, about: str) -> float:
    """A number from 0 up to 1 that follows from what the seat sees and from what the whim is about.

    The order of the rack does not matter, nor anything hidden; the same on every machine.
    """
    seen = (
        about,
        observation.seat,
        observation.counts,
        observation.passes_done,
        observation.wall_left,
        [(one.seat, one.kind) for one in observation.discards],
    )
    digest = blake2b(repr(seen).encode(), digest_size=8).digest()
    return int.from_bytes(digest) / (1 << 64)
