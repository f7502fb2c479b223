"""Over the shoulder: a full table played by the strongest seats, stopped before each choice of one of them.

A `Shoulder` is one game. The drill asks before choices that matter; the film shows every choice with its reasons.
"""

from __future__ import annotations

import random
from typing import TypeAlias

from engine.advice.advise.answers import Advice, CourtesyAdvice, PassAdvice, RoundAdvice
from engine.advice.advise.exchanges import ExchangeChoice, advise_exchange
from engine.advice.advise.passes import advise_courtesy, advise_second_round
from engine.advice.advise.plan import Plan, plan_of
from engine.advice.moment import Moment
from engine.drills.follow import FollowTask, follow_matters, is_choice
from engine.rules.actions import Action, Discard, Exchange
from engine.rules.deal import SEEDS, DealCode
from engine.rules.house import FULL, House
from engine.rules.observation import Observation
from engine.rules.state import Phase
from engine.seats.character import Strength
from engine.seats.players import SeatPlayer
from game.play.advising import advise_table, choice_before
from game.play.advisor import Advisor
from game.play.sitting import Sitting

STRONGEST = Strength.EXPERT
"""The strength of all four seats: they choose as advised at a full table, so that the reasons are their own."""
Aside: TypeAlias = "PassAdvice | RoundAdvice | CourtesyAdvice | ExchangeChoice"
"""The advice on a choice that is shown and never asked about: before play, or a joker to be had."""


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
            before = choice_before(sitting)
            advice = advise_table(self.advisor, seen, before)
            does = self._seat(seen)
            self._task = FollowTask(
                seen, does, advice.rack, advice.defence, advice.call, self._own_plan(advice.rack, seen, does)
            )
        return self._task

    def _own_plan(self, rack: Advice, seen: Observation, does: Action) -> Plan | None:
        """What the seat's own tile leads to, where the advice would let another one go."""
        if not isinstance(does, Discard) or does.kind == rack.let_go:
            return None
        return plan_of(Moment.seen(self.advisor.table, seen).without(does.kind), rack.plan)

    def aside(self) -> Aside | None:
        """What is advised on a choice that `choice` says nothing of: a pass, the vote, the courtesy pass, a joker
        that the seat takes. None elsewhere."""
        if self.sitting.over:
            return None
        seen, table = self.sitting.observation, self.advisor.table
        if seen.phase is Phase.PASSING:
            return self.advisor.passes(seen, choice_before(self.sitting))
        if seen.phase is Phase.AGREEING:
            return advise_second_round(table, seen)
        if seen.phase in (Phase.ASKING, Phase.GIVING):
            return advise_courtesy(table, seen)
        return advise_exchange(table, seen).best if isinstance(self.does(), Exchange) else None

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
