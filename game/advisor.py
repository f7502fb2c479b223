"""Advice for the player's seat, worked out once per moment and remembered while the game is open."""

from __future__ import annotations

from collections import OrderedDict

from engine.advice.keeps import Advice, advise
from engine.advice.table import SheetTable
from engine.rules.observation import Observation
from engine.sheet.model import Sheet

HORIZON = 40
"""Draws that advice looks ahead at most. With a whole wall to come nearly every hand would stand at 99%."""

REMEMBERED = 200
"""Moments whose advice is kept: more than one game has."""


class Advisor:
    """Gives advice against one sheet (cut to the chosen sections, if any) and one number of jokers."""

    def __init__(self, sheet: Sheet, jokers: int) -> None:
        self.table = SheetTable.of(sheet, jokers)
        self._given: OrderedDict[Observation, Advice] = OrderedDict()

    def known(self, observation: Observation) -> Advice | None:
        """The advice of this moment if it has been worked out already."""
        return self._given.get(observation)

    def advise(self, observation: Observation) -> Advice:
        """The advice of this moment."""
        advice = self._given.get(observation)
        if advice is None:
            draws = min(observation.picks_left, HORIZON)
            exposures = observation.exposures[observation.seat]
            advice = advise(self.table, observation.counts, observation.unseen, draws, exposures)
            self._given[observation] = advice
            while len(self._given) > REMEMBERED:
                self._given.popitem(last=False)
        return advice
