"""Over the shoulder: a full table played by the strongest seats, stopped before each choice of one of them.

A `Shoulder` is one game. The drill asks before choices that matter; the film shows every choice with its reasons.
"""

from __future__ import annotations

import random

from engine.drills.follow import FollowTask, follow_matters, is_choice
from engine.rules.actions import Action
from engine.rules.deal import SEEDS, DealCode
from engine.rules.house import FULL, House
from engine.seats.character import Strength
from engine.seats.players import SeatPlayer
from game.play.advising import advise_table
from game.play.advisor import Advisor
from game.play.sitting import Sitting

STRONGEST = Strength.SHARP
"""The strength of all four seats."""


class Shoulder:
    """One game at a full table, seen over the shoulder of one seat."""

    def __init__(self, advisor: Advisor, seat: SeatPlayer, chance: random.Random, passes: int = 6) -> None:
        """`seat` plays all four seats. `passes` 0 begins with the first turn."""
        sheet, jokers = advisor.table.sheet, advisor.table.jokers
        house = House(table=FULL, jokers=jokers, passes=passes, courtesy=passes > 0)
        self.advisor = advisor
        self.code = DealCode.of(sheet, house, int(chance.random() * SEEDS))
        self.sitting = Sitting(self.code.deal(sheet), others=seat)
        self._seat = seat
        self._task: FollowTask | None = None

    @property
    def over(self) -> bool:
        """Whether the game has come to its end."""
        return self.sitting.over

    def choice(self) -> FollowTask | None:
        """The choice that the seat is about to make, with what is advised; None where there is nothing to say of it:
        before play, and where it can do only one thing."""
        sitting = self.sitting
        if sitting.over:
            return None
        seen = sitting.observation
        if not is_choice(seen):
            return None
        if self._task is None or self._task.seen != seen:
            advice = advise_table(self.advisor, seen)
            self._task = FollowTask(seen, self._seat(seen), advice.rack, advice.defence, advice.call)
        return self._task

    def play(self) -> None:
        """The seat does what it does, and the others play on to its next choice."""
        self.sitting.act(self.does())

    def play_on(self) -> FollowTask | None:
        """Play on to the next choice that matters; None where the game ends before."""
        while not self.over:
            task = self.choice()
            if task is not None and follow_matters(task):
                return task
            self.play()
        return None

    def does(self) -> Action:
        """What the seat does now. Raises ValueError once the game is over."""
        return self._seat(self.sitting.observation)
