"""Which hands? A rack is shown, and the player names the two or three hands that it is most likely to make."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass

from engine.advice.advise.hands import HandReach, best_of_each_hand, reaches_of
from engine.advice.table import SheetTable
from engine.drills.grades import Grade
from engine.drills.racks import pick, rack_near
from engine.sheet.model import Hand
from engine.tiles import Kind, counts_of, full_set

DRAWS = 40
"""Draws that the odds look ahead: about as many as a player has in a game."""
NAMED = 3
"""Hands that may be named at most."""
FEWEST = 2
"""Hands that must be named."""
RIGHT = 0.9
"""Named hands whose odds together reach this share of the best ones' are a right answer."""
NEAR = 0.6
"""The same for an answer that is nearly right."""
MISSING = (4, 5, 6, 7)
"""Tiles that the rack may lack of the hand it was dealt for."""


@dataclass(frozen=True)
class WhichTask:
    """A rack, and the hands within reach of it."""

    rack: tuple[Kind, ...]
    """13 tiles, sorted."""
    about: Hand
    """The hand that the rack was dealt for. It need not be the nearest."""
    hands: tuple[HandReach, ...]
    """All hands that can still be made, best odds first."""

    def odds(self, name: str) -> float:
        """The odds of a hand by its name; 0 for one that can't be made any more."""
        return next((reach.odds for reach in self.hands if reach.hand.name == name), 0.0)


@dataclass(frozen=True)
class WhichJudged:
    """How good the named hands are."""

    grade: Grade
    share: float
    """Their odds, added up, as a share of the best possible; 0 to 1."""
    better: tuple[HandReach, ...]
    """Better hands that were not named, best first; no more than were named."""


def which_task(table: SheetTable, about: Hand, chance: random.Random, jokers: int = 8) -> WhichTask:
    """A fresh rack near a hand, and what can be made of it."""
    variant = about.variants[pick(chance, len(about.variants))]
    rack = rack_near(variant, MISSING[pick(chance, len(MISSING))], chance, jokers)
    return WhichTask(rack, about, hands_of(table, rack, jokers))


def hands_of(table: SheetTable, rack: Sequence[Kind], jokers: int = 8) -> tuple[HandReach, ...]:
    """The hands that a rack can still make, best odds first, nothing else being seen."""
    counts = counts_of(rack)
    unseen = tuple(all_of - held for all_of, held in zip(full_set(jokers), counts, strict=True))
    rows, odds = best_of_each_hand(table, counts, unseen, DRAWS)
    return reaches_of(table, rows, [odds[int(row)] for row in rows], counts, unseen, DRAWS)


def judge_named(task: WhichTask, names: Sequence[str]) -> WhichJudged:
    """The grade of the hands named. Raises ValueError for fewer than two, more than three, or one named twice."""
    if not FEWEST <= len(names) <= NAMED or len(set(names)) != len(names):
        raise ValueError(f"name {FEWEST} or {NAMED} different hands")
    best = task.hands[: len(names)]
    most = sum(reach.odds for reach in best)
    share = sum(task.odds(name) for name in names) / most if most > 0 else 0.0
    grade = Grade.RIGHT if share >= RIGHT else Grade.NEAR if share >= NEAR else Grade.WRONG
    worst = min(task.odds(name) for name in names)
    better = tuple(reach for reach in best if reach.hand.name not in names and reach.odds > worst)
    return WhichJudged(grade, min(share, 1.0), better)
