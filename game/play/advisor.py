"""Advice for the player's seat, worked out once per moment and remembered while the game is open."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from typing import TypeVar

from engine.advice.advise.answers import Advice, CourtesyAdvice, PassAdvice, RoundAdvice
from engine.advice.advise.calls import CallAdvice, advise_call, deepen_call
from engine.advice.advise.discard import advise, deepen
from engine.advice.advise.passes import advise_courtesy, advise_passes, advise_second_round, deepen_passes
from engine.advice.advise.plan import Plan
from engine.advice.moment import EFFORT, Beside, Moment, Work, never, nothing
from engine.advice.rollout.discards import begin_choices
from engine.advice.table import SheetTable
from engine.rules.observation import Observation
from engine.rules.state import Phase
from engine.sheet.model import Sheet

BeforePlay = PassAdvice | RoundAdvice | CourtesyAdvice
"""What is advised for a choice before play: a pass, a vote, or the courtesy pass."""

REMEMBERED = 200
"""Moments whose advice is remembered: more than one game has."""


class Advisor:
    """Gives advice against one sheet (cut to the chosen sections, if any) and one number of jokers.

    The first answer comes at once; `deepen` tries the close choices out with so much `effort`, or not at all for 0.
    The `helpers` play a share of the games for it.
    Where the moment `before` is given, its plan stays while it is nearly as good as any.
    """

    def __init__(self, sheet: Sheet, jokers: int, effort: int = EFFORT, helpers: Beside | None = None) -> None:
        self.table = SheetTable.of(sheet, jokers)
        self.effort, self.helpers = effort, helpers
        self._estimated: OrderedDict[Observation, Advice] = OrderedDict()
        self._tried: OrderedDict[Observation, Advice] = OrderedDict()
        self._passes: OrderedDict[Observation, PassAdvice] = OrderedDict()
        self._passes_tried: OrderedDict[Observation, PassAdvice] = OrderedDict()
        self._votes: OrderedDict[Observation, RoundAdvice | CourtesyAdvice] = OrderedDict()
        self._calls: OrderedDict[Observation, CallAdvice] = OrderedDict()
        self._calls_tried: OrderedDict[Observation, CallAdvice] = OrderedDict()

    def known(self, observation: Observation) -> Advice | None:
        """The best advice of this moment that has been worked out already."""
        return self._tried.get(observation) or self._estimated.get(observation)

    def plan(self, observation: Observation | None) -> Plan | None:
        """The plan of a moment, if it has been worked out already."""
        if observation is None:
            return None
        passes = self._passes_tried.get(observation) or self._passes.get(observation)
        found = self.known(observation) or passes or self._votes.get(observation)
        return None if found is None else found.plan

    def advise(self, observation: Observation, before: Observation | None = None) -> Advice:
        """The advice of this moment, at once: estimated, whatever was tried out already."""
        found = self._estimated.get(observation)
        if found is None:
            found = advise(Moment.seen(self.table, observation), self.plan(before))
        return _cached(self._estimated, observation, found)

    def best(self, observation: Observation, before: Observation | None = None) -> Advice:
        """What is known of this moment, or else what is estimated at once."""
        return self.known(observation) or self.advise(observation, before)

    def call(self, observation: Observation, before: Observation | None = None) -> CallAdvice:
        """What is known about the discard that the seat is asked about, or else what is estimated at once."""
        found = self._calls_tried.get(observation) or self._calls.get(observation)
        if found is None:
            found = _cached(self._calls, observation, advise_call(self.table, observation, self.plan(before)))
        return found

    def may_deepen(self, observation: Observation) -> bool:
        """Whether `deepen` or `deepen_call` may say more about this moment than is known."""
        tried = self._calls_tried if observation.phase is Phase.CALLING else self._tried
        return self.effort > 0 and observation not in tried

    def begin(self, observation: Observation) -> None:
        """Let the helpers begin with the games for `deepen`, while this is busy with the estimate."""
        if self.effort and self.helpers is not None and observation not in self._tried:
            moment = Moment.seen(self.table, observation)
            if moment.full and moment.race is None:
                begin_choices(moment, Work(self.effort, helpers=self.helpers))

    def deepen(
        self,
        observation: Observation,
        stopped: Callable[[], bool] = never,
        breathe: Callable[[], None] = nothing,
        before: Observation | None = None,
    ) -> Advice:
        """The advice of this moment, the close choices tried out. Raises StoppedError once `stopped` says so."""
        if not self.effort or observation in self._tried:
            return self.best(observation, before)
        moment, work = Moment.seen(self.table, observation), Work(self.effort, stopped, breathe, self.helpers)
        return _cached(self._tried, observation, deepen(moment, work, self.plan(before)))

    def deepen_call(
        self,
        observation: Observation,
        stopped: Callable[[], bool] = never,
        breathe: Callable[[], None] = nothing,
        before: Observation | None = None,
    ) -> CallAdvice:
        """What `call` says, the answers tried out. Raises StoppedError once `stopped` says so."""
        if not self.effort or observation in self._calls_tried:
            return self.call(observation, before)
        work = Work(self.effort, stopped, breathe, self.helpers)
        found = deepen_call(self.table, observation, work, self.plan(before))
        return _cached(self._calls_tried, observation, found)

    def passes(self, observation: Observation, before: Observation | None = None) -> PassAdvice:
        """The best advice for a pass that is known, or else what is estimated at once."""
        found = self._passes_tried.get(observation) or self._passes.get(observation)
        if found is None:
            found = _cached(self._passes, observation, advise_passes(self.table, observation, self.plan(before)))
        return found

    def before_play(self, observation: Observation, before: Observation | None = None) -> BeforePlay:
        """The best advice that is known for a choice before play, or else what is estimated at once."""
        if observation.phase is Phase.PASSING:
            return self.passes(observation, before)
        found = self._votes.get(observation)
        if found is None:
            ask = advise_second_round if observation.phase is Phase.AGREEING else advise_courtesy
            found = _cached(self._votes, observation, ask(self.table, observation, self.plan(before)))
        return found

    def deepen_passes(
        self,
        observation: Observation,
        stopped: Callable[[], bool] = never,
        breathe: Callable[[], None] = nothing,
        before: Observation | None = None,
    ) -> PassAdvice:
        """The advice for a pass, the close choices tried out. Raises StoppedError once `stopped` says so."""
        found = self._passes_tried.get(observation)
        if found is None:
            work = Work(self.effort, stopped, breathe, self.helpers)
            found = deepen_passes(self.table, observation, work, self.plan(before))
        return _cached(self._passes_tried, observation, found)


Given = TypeVar("Given")


def _cached(among: OrderedDict[Observation, Given], observation: Observation, advice: Given) -> Given:
    """Remember advice, and forget the oldest."""
    among[observation] = advice
    while len(among) > REMEMBERED:
        among.popitem(last=False)
    return advice
