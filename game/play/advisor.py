"""Advice for the player's seat, worked out once per moment and remembered while the game is open."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from typing import TypeVar

from engine.advice.advise.answers import Advice, PassAdvice
from engine.advice.advise.discard import advise, deepen
from engine.advice.advise.passes import advise_passes, deepen_passes
from engine.advice.moment import EFFORT, Moment, Work
from engine.advice.table import SheetTable
from engine.rules.observation import Observation
from engine.sheet.model import Sheet

REMEMBERED = 200
"""Moments whose advice is kept: more than one game has."""


class Advisor:
    """Gives advice against one sheet (cut to the chosen sections, if any) and one number of jokers.

    The first answer comes at once; `deepen` tries the close choices out with so much `effort`, or not at all for 0.
    """

    def __init__(self, sheet: Sheet, jokers: int, effort: int = EFFORT) -> None:
        self.table = SheetTable.of(sheet, jokers)
        self.effort = effort
        self._reckoned: OrderedDict[Observation, Advice] = OrderedDict()
        self._tried: OrderedDict[Observation, Advice] = OrderedDict()
        self._passes: OrderedDict[Observation, PassAdvice] = OrderedDict()

    def known(self, observation: Observation) -> Advice | None:
        """The best advice of this moment that has been worked out already."""
        return self._tried.get(observation) or self._reckoned.get(observation)

    def advise(self, observation: Observation) -> Advice:
        """The advice of this moment, at once: reckoned, whatever was tried out already."""
        advice = self._reckoned.get(observation)
        return advice or _kept(self._reckoned, observation, advise(Moment.seen(self.table, observation)))

    def best(self, observation: Observation) -> Advice:
        """What is known of this moment, or else what is reckoned at once."""
        return self.known(observation) or self.advise(observation)

    def may_deepen(self, observation: Observation) -> bool:
        """Whether `deepen` may say more about this moment than is known."""
        return self.effort > 0 and observation not in self._tried

    def deepen(
        self,
        observation: Observation,
        stopped: Callable[[], bool] = lambda: False,
        breathe: Callable[[], None] = lambda: None,
    ) -> Advice:
        """The advice of this moment, the close choices tried out. Raises StoppedError once `stopped` says so."""
        if not self.may_deepen(observation):
            return self.best(observation)
        moment = Moment.seen(self.table, observation)
        advice = deepen(moment, Work(self.effort, stopped, breathe))
        return _kept(self._tried, observation, advice)

    def passes(self, observation: Observation) -> PassAdvice:
        """The best advice for a pass that is known, or else what is reckoned at once."""
        return self._passes.get(observation) or advise_passes(self.table, observation)

    def deepen_passes(
        self,
        observation: Observation,
        stopped: Callable[[], bool] = lambda: False,
        breathe: Callable[[], None] = lambda: None,
    ) -> PassAdvice:
        """The advice for a pass, the close choices tried out. Raises StoppedError once `stopped` says so."""
        advice = self._passes.get(observation)
        if advice is None:
            advice = deepen_passes(self.table, observation, Work(self.effort, stopped, breathe))
            _kept(self._passes, observation, advice)
        return advice


Given = TypeVar("Given")


def _kept(among: OrderedDict[Observation, Given], observation: Observation, advice: Given) -> Given:
    """Remember advice, and forget the oldest."""
    among[observation] = advice
    while len(among) > REMEMBERED:
        among.popitem(last=False)
    return advice
