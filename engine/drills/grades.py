"""How an answer in a drill is graded: right, nearly right or wrong, and how quickly it came."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from statistics import median

QUICK = 0.75
"""An answer within this share of the player's usual time is a quick one."""
SLOW = 2.0
"""An answer after more than this many times the usual time is a slow one."""
FEWEST_TIMES = 5
"""Answers in one skill before the player's usual time is known."""


class Skill(Enum):
    """What a drill trains; the value is its name in the store and in commands."""

    LAY = "lay"
    """Lay a hand from loose tiles."""
    WHICH = "which"
    """Name the hands that a rack is nearest to."""
    LET_GO = "let-go"
    """Choose the tile to let go."""
    MAY_I = "may-i"
    """Say whether something is allowed."""
    RECALL = "recall"
    """Recall a hand's groups from its name."""
    FOLLOW = "follow"
    """Choose as a strong player would, over their shoulder."""
    PASS = "pass"
    """Choose the tiles of one pass."""


class Grade(Enum):
    """How good an answer was."""

    RIGHT = "right"
    NEAR = "near"
    """Not the best answer, but one that a good player might give."""
    WRONG = "wrong"


class Pace(Enum):
    """How quickly an answer came, set against the player's own usual time in that skill."""

    QUICK = "quick"
    USUAL = "usual"
    SLOW = "slow"


@dataclass(frozen=True)
class Answered:
    """One answer in a drill."""

    skill: Skill
    hand: str
    """The hand it was about, by its name; empty where it was about none."""
    grade: Grade
    seconds: float
    """Time taken, whether or not there was a clock."""
    allowance: float | None = None
    """Seconds allowed; None for an untimed drill."""


def pace_of(seconds: float, usual: list[float]) -> Pace:
    """The pace of an answer; `usual` are the times in seconds of earlier right answers in the same skill.

    With too few of them every answer has the usual pace.
    """
    if len(usual) < FEWEST_TIMES:
        return Pace.USUAL
    middle = median(usual)
    if seconds <= QUICK * middle:
        return Pace.QUICK
    return Pace.SLOW if seconds > SLOW * middle else Pace.USUAL
