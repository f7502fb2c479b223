"""Fair costs for a finished game: each choice that seems to have cost something is tried out against the best one.

Both get the same tiles to come, in rollouts or in an exact search, so that a cost has an interval. A choice whose
interval holds 0 is no fault.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from engine.advice.advise.passes import advise_passes, compare_passes
from engine.advice.moment import Moment, Work
from engine.advice.review.review import Decision, Review
from engine.advice.rollout.discards import compare
from engine.advice.rollout.race import Tried
from engine.advice.stats import Interval
from engine.advice.table import SheetTable
from engine.advice.worth.worth import SAME
from engine.rules.observation import Observation, observe
from engine.rules.state import State

EFFORT = 2500
"""Draws that rollouts may take for one choice."""
USUAL = Work(EFFORT)
"""That effort, and nobody interrupts."""


def try_costs(found: Review, table: SheetTable, states: Sequence[State], work: Work = USUAL) -> Review:
    """The review of the game that went through `states`, its costs tried out. The same game gets the same costs.

    Raises StoppedError once `work` is stopped.
    """
    trier = _Trier(table, states, work)
    return replace(found, decisions=tuple(trier.tried(decision) for decision in found.decisions))


def interval_of(tried: Tried, draws: int) -> Interval:
    """A 95% interval of what a choice costs in picks; just that number where it is exact."""
    return (tried.behind - tried.half) * draws, (tried.behind + tried.half) * draws


@dataclass(frozen=True)
class _Trier:
    table: SheetTable
    states: Sequence[State]
    work: Work

    def tried(self, decision: Decision) -> Decision:
        """The decision with its cost tried out, where one is estimated and tiles were let go or passed."""
        if decision.cost <= SAME or not decision.best or not decision.chosen:
            return decision
        if decision.passing:
            decision = self._against_three(decision)
        tried = self._passed(decision) if decision.passing else self._let_go(decision)
        draws = self._seen(decision).picks_left
        return replace(decision, cost=tried.behind * draws, within=interval_of(tried, draws))

    def _seen(self, decision: Decision) -> Observation:
        return observe(self.states[decision.index], self.states[0].house.seat)

    def _let_go(self, decision: Decision) -> Tried:
        moment = Moment.seen(self.table, self._seen(decision))
        return compare(moment, decision.best[0], decision.chosen[0], self.work)

    def _against_three(self, decision: Decision) -> Decision:
        """The best three from the rack instead of fewer, where passing on unseen tiles was advised."""
        if len(decision.best) == len(decision.chosen):
            return decision
        return replace(decision, best=advise_passes(self.table, self._seen(decision)).choices[0].kinds)

    def _passed(self, decision: Decision) -> Tried:
        return compare_passes(self.table, self._seen(decision), decision.best, decision.chosen, self.work)
