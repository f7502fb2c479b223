"""Fair costs for a finished game: each choice that is reckoned to have cost something is tried out against the best.

Both are played on with the same tiles to come, or looked at to the end where that can be done, so that a cost has an
interval; a choice whose interval holds 0 is no fault.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from engine.advice.advise.passes import advise_passes, compare_passes
from engine.advice.review.review import LOOK_AHEAD, Decision, Interval, Review
from engine.advice.rollout.discards import compare
from engine.advice.rollout.race import Tried
from engine.advice.table import SheetTable
from engine.advice.worth.worth import SAME
from engine.rules.observation import observe
from engine.rules.state import State

EFFORT = 2500
"""Draws played on for one choice."""


def try_costs(
    found: Review,
    table: SheetTable,
    states: Sequence[State],
    *,
    look_ahead: int = LOOK_AHEAD,
    effort: int = EFFORT,
    stopped: Callable[[], bool] = lambda: False,
    breathe: Callable[[], None] = lambda: None,
) -> Review:
    """The review of the game that went through `states`, with costs as tried out. The same game gets the same costs.

    Raises `played.StoppedError` once `stopped` says so.
    """
    trier = _Trier(table, states, look_ahead, effort, stopped, breathe)
    return replace(found, decisions=tuple(trier.tried(decision) for decision in found.decisions))


def interval_of(tried: Tried) -> Interval:
    """A 95% interval of what a choice is behind; no more than that number where it is exact."""
    return tried.behind - tried.half, tried.behind + tried.half


@dataclass(frozen=True)
class _Trier:
    table: SheetTable
    states: Sequence[State]
    look_ahead: int
    effort: int
    stopped: Callable[[], bool]
    breathe: Callable[[], None]

    def tried(self, decision: Decision) -> Decision:
        """The decision with its cost tried out, where one is reckoned and tiles were let go or passed."""
        if decision.cost <= SAME or not decision.best or not decision.chosen:
            return decision
        if decision.passing:
            decision = self._against_three(decision)
        tried = self._passed(decision) if decision.passing else self._let_go(decision)
        return replace(decision, cost=tried.behind, within=interval_of(tried))

    def _let_go(self, decision: Decision) -> Tried:
        seen = observe(self.states[decision.index], self.states[0].house.seat)
        return compare(
            self.table,
            seen.counts,
            seen.unseen,
            min(seen.picks_left, self.look_ahead),
            decision.best[0],
            decision.chosen[0],
            effort=self.effort,
            stopped=self.stopped,
            breathe=self.breathe,
        )

    def _against_three(self, decision: Decision) -> Decision:
        """The best three from the rack instead of fewer, where passing on unseen tiles was advised."""
        if len(decision.best) == len(decision.chosen):
            return decision
        seen = observe(self.states[decision.index], self.states[0].house.seat)
        return replace(decision, best=advise_passes(self.table, seen).choices[0].kinds)

    def _passed(self, decision: Decision) -> Tried:
        seen = observe(self.states[decision.index], self.states[0].house.seat)
        return compare_passes(
            self.table,
            seen,
            decision.best,
            decision.chosen,
            effort=self.effort,
            stopped=self.stopped,
            breathe=self.breathe,
        )
