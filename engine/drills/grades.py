"""How an answer in a drill is graded: right, nearly right or wrong, and how quickly it came."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from statistics import median

from engine.advice.advise.answers import Known
from engine.advice.rollout.race import Contrast, Tried
from engine.words import TRIFLE

QUICK = 0.75
"""An answer within this share of the player's usual time is a quick one."""
SLOW = 2.0
"""An answer after more than this many times the usual time is a slow one."""
FEWEST_TIMES = 5
"""Answers in one skill before the player's usual time is known."""
NEARLY = 1.0
"""A choice that costs less than so many picks (turns at a full table) is nearly right."""
NEARLY_OF_ALL = 0.05
"""The same as a share of the draws to come, where those are few."""


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
class Price:
    """What a choice costs against the best one, in picks; in turns at a full table."""

    cost: float
    """0 for the best choice, and where trying both out can't tell them apart."""
    draws: int
    """Draws to come, the most that a choice can cost."""
    known: Known
    half: float = 0.0
    """Half of a 95% interval of the difference, where games were played out."""
    games: int = 0
    """How many."""

    @classmethod
    def tried(cls, one: Tried, draws: int) -> Price:
        """As tried out against the best choice, with so many draws to come."""
        cost = one.behind * draws if one.contrast(1.0 / max(draws, 1)) is Contrast.WORSE else 0.0
        return cls(cost, draws, Known.PLAYED if one.games else Known.EXACT, one.half * draws, one.games)

    @property
    def grade(self) -> Grade:
        """Right where it costs nothing that matters, nearly right where it costs little, else wrong."""
        nearly = min(NEARLY, NEARLY_OF_ALL * self.draws)
        return Grade.RIGHT if self.cost < min(TRIFLE, nearly) else Grade.NEAR if self.cost < nearly else Grade.WRONG


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
