"""A lesson: reading, drills, positions with questions and deals, in one order, for one sheet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from engine.drills.grades import Skill
from engine.drills.one_pass import WhichPass
from engine.rules.laid_out import LaidOut
from engine.tiles import Kind

MOST_STEPS = 100
MOST_TIMES = 50
"""Questions of one drill in a lesson."""
MOST_CHOICES = 6
USUAL_DRAWS = 25
"""Draws to come in a position that names none: about one seat's share of the wall at a full table."""


@dataclass(frozen=True)
class ReadStep:
    """Words to read."""

    say: str


@dataclass(frozen=True)
class DealStep:
    """A deal to play, by its code."""

    deal: str
    say: str = ""
    """Read before it, as in a drill."""


@dataclass(frozen=True)
class DrillStep:
    """A drill."""

    drill: Skill
    times: int = 3
    """Questions."""
    hand: str = ""
    """The hand that it is about; empty for those that come up."""
    moment: WhichPass | None = None
    """Of the passes."""
    seconds: float | None = None
    """Allowed for each answer; None without a clock."""
    say: str = ""


@dataclass(frozen=True)
class PositionStep:
    """A position with a question."""

    position: str
    """Its title."""
    rack: str
    """Tile codes, as are `shown`; `exposed` is groups, as `kong 5d; pung wn jokers 1`."""
    shown: str = ""
    exposed: str = ""
    draws: int = USUAL_DRAWS
    ask: str = ""
    """The question. Without choices it is which tile to let go, or just a position to look at."""
    choices: tuple[str, ...] = ()
    answer: str = ""
    """One of the choices; or tiles that are right to let go. Empty: the advice grades."""
    say: str = ""
    """Read after the answer."""


Step: TypeAlias = ReadStep | DealStep | DrillStep | PositionStep


@dataclass(frozen=True)
class Lesson:
    """One lesson."""

    name: str
    sheet: str
    """The sheet's name."""
    season: str
    steps: tuple[Step, ...]
    maker: str = ""


@dataclass(frozen=True)
class StepResult:
    """What a player made of one step."""

    step: int
    """Its place, from 1."""
    of: int = 0
    """Questions answered; 0 for words that were read."""
    right: int = 0
    near: int = 0
    seconds: float = 0.0
    """All answers together."""
    answer: str = ""
    """What was answered, where that is one thing: a tile, a choice, the hand that a deal was won with."""


@dataclass(frozen=True)
class LessonResults:
    """What one player made of a lesson."""

    lesson: str
    """Its name."""
    fingerprint: str
    player: str
    day: str
    """As `2026-04-01`."""
    steps: tuple[StepResult, ...]

    def of(self, step: int) -> StepResult | None:
        """The result of a step by its place, from 1; None for one that was not done."""
        return next((one for one in self.steps if one.step == step), None)


@dataclass(frozen=True)
class Given:
    """A position as it is asked: what is held and seen, and which tiles are taken for right, if the teacher says."""

    laid: LaidOut
    right: tuple[Kind, ...]
