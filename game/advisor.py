"""Advice for the player's seat, worked out once per moment and remembered while the game is open."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Sequence

from engine.advice.keeps import Advice, advise, deepen
from engine.advice.table import Laid, SheetTable
from engine.advice.trial import EFFORT
from engine.rules.observation import Observation
from engine.sheet.model import Sheet
from engine.tiles import Counts

HORIZON = 40
"""Draws that advice looks ahead at most. With a whole wall to come nearly every hand would stand at 99%."""

REMEMBERED = 200
"""Moments whose advice is kept: more than one game has."""


class Advisor:
    """Gives advice against one sheet (cut to the chosen sections, if any) and one number of jokers.

    The first answer comes at once; `deepen` tries the close choices out with so much `effort`, or not at all for 0.
    """

    def __init__(self, sheet: Sheet, jokers: int, effort: int = EFFORT) -> None:
        self.table = SheetTable.of(sheet, jokers)
        self.effort = effort
        self._given: OrderedDict[Observation, Advice] = OrderedDict()
        self._deepened: set[Observation] = set()

    def known(self, observation: Observation) -> Advice | None:
        """The best advice of this moment that has been worked out already."""
        return self._given.get(observation)

    def advise(self, observation: Observation) -> Advice:
        """The advice of this moment, at once."""
        advice = self._given.get(observation)
        if advice is None:
            advice = advise(self.table, *_moment(observation))
            self._keep(observation, advice)
        return advice

    def may_deepen(self, observation: Observation) -> bool:
        """Whether `deepen` may say more about this moment than is known."""
        return self.effort > 0 and observation not in self._deepened

    def deepen(
        self,
        observation: Observation,
        stopped: Callable[[], bool] = lambda: False,
        breathe: Callable[[], None] = lambda: None,
    ) -> Advice:
        """The advice of this moment, the close choices tried out. Raises StoppedError once `stopped` says so."""
        if not self.may_deepen(observation):
            return self.advise(observation)
        advice = deepen(self.table, *_moment(observation), effort=self.effort, stopped=stopped, breathe=breathe)
        self._keep(observation, advice)
        self._deepened.add(observation)
        return advice

    def _keep(self, observation: Observation, advice: Advice) -> None:
        self._given[observation] = advice
        while len(self._given) > REMEMBERED:
            self._deepened.discard(self._given.popitem(last=False)[0])


def _moment(observation: Observation) -> tuple[Counts, Counts, int, Sequence[Laid]]:
    """Rack, unseen tiles, draws to look ahead, and the seat's own exposures."""
    draws = min(observation.picks_left, HORIZON)
    return observation.counts, observation.unseen, draws, observation.exposures[observation.seat]
