"""How often the hands of a sheet come off, played in the background and kept while the sheet is open."""

from __future__ import annotations

import numpy as np

from engine.advice.simulation.simulate import Ended, numbered
from engine.advice.simulation.tally import SheetTally, tally
from engine.advice.table import SheetTable
from engine.sheet.model import Sheet
from game.play.defaults import USUAL_GAME
from game.play.worker import Job, Worker

DEALS = 640
BATCH = 32
"""Deals played between two breaths."""
SEED = 1


class Made:
    """The tally of one sheet, of as many deals as have been played so far: up to DEALS, always the same ones."""

    def __init__(self, sheet: Sheet, worker: Worker | None) -> None:
        self.sheet = sheet
        self._worker = worker
        self.tally: SheetTally | None = None
        """What has been counted; None before the first deals are played."""
        self.running = False

    @property
    def done(self) -> bool:
        """Whether all deals are played."""
        return self.tally is not None and self.tally.whole.deals >= DEALS

    def start(self) -> None:
        """Begin to play, or go on after other work came between."""
        if self._worker is not None and not self.done:
            self.running = True
            self._worker.submit(self._play, self._told)

    def _told(self, counted: SheetTally) -> None:
        self.tally = counted
        self.running = not self.done

    def _play(self, job: Job[SheetTally]) -> SheetTally:
        table = SheetTable.of(self.sheet)
        hands: list[int] = []
        picks: list[int] = []
        while True:
            first = len(hands)
            ended = numbered(table, SEED, first, min(BATCH, DEALS - first), USUAL_GAME.picks)
            hands += ended.hand.tolist()
            picks += ended.picks.tolist()
            counted = tally(self.sheet, Ended(np.array(hands), np.array(picks)))
            if len(hands) >= DEALS or job.stopped:
                return counted
            job.tell(counted)
            job.breathe()
