"""How strong a simulated player is, and its fixed character: what it overlooks, what it fears, what it likes."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from hashlib import blake2b

from engine.rules.observation import Observation


class Strength(Enum):
    """How well a simulated player plays."""

    BEGINNER = "beginner"
    """Thinks of the few nearest hands and of missing tiles only. Overlooks calls and jokers, calls too eagerly, and
    fears no discard."""
    STEADY = "steady"
    """Looks at every hand of the sheet, counts missing tiles, and knows which hands have become impossible. Errs
    seldom."""
    SHARP = "sharp"
    """Reckons with the tiles left, with calls and with points. Lets nothing go that a seat with exposures may need."""
    EXPERT = "expert"
    """Weighs every choice as the advice for a full table does, by what it brings until the game ends. It has no
    character of its own."""


@dataclass(frozen=True)
class Character:
    """What tells one player from another; it never changes during a game."""

    strength: Strength
    few: int
    """How many near variants it has in mind, 0 for all."""
    overlooks: float
    """The share of exposures and joker exchanges that it does not notice."""
    slips: float
    """The share of turns in which it lets the second best tile go."""
    spare: float
    """It can spare a tile that takes no more than this share of the rack's worth with it."""
    eager: float
    """It calls for an exposure when the rack is then worth at least so many times as much."""
    hasty: float
    """The share of calls for which it does not ask whether they bring it nearer, or come too early."""
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
    """A number from 0 up to 1. It depends only on what the seat sees and on what the whim is about.

    Neither the order of the rack nor anything hidden matters. It is the same on every machine.
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
