"""Works the ledger's figures out in the background, one finished game after another."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from engine.drills.ledger import HandFigures
from engine.store.values import LineSummary
from game.play.practice.ledgers import Ledgers, PlayedGame
from game.play.worker import Job, Worker


class LedgerFilling:
    """What is still to be worked out of a ledger. `changed` is called on the window's thread after each game."""

    def __init__(self, ledgers: Ledgers, worker: Worker, changed: Callable[[], None]) -> None:
        self.ledgers = ledgers
        self._worker = worker
        self._changed = changed
        self.waiting: list[LineSummary] = []
        """Games whose figures are still to be worked out, the present one left out."""
        self._line: int | None = None
        """The game that is looked through."""
        self._job: Job[HandFigures] | None = None

    @property
    def working(self) -> bool:
        """Whether a game is looked through now."""
        return self._job is not None and not self._job.stopped

    def begin(self) -> None:
        """Look for games that wait, and begin with the first. Nothing while one is looked through."""
        if not self.working:
            self.waiting = self.ledgers.waiting()
            self._next()

    def _next(self) -> None:
        self._line = self._job = None
        while self.waiting:
            line = self.waiting.pop(0)
            game = self.ledgers.open(line)
            if game is not None:
                self._line = line.id
                job = self._worker.submit(partial(self._figures, game), partial(self._done, line.id))
                if self._line == line.id:  # a worker that answers at once is done with it by now
                    self._job = job
                return

    def _figures(self, game: PlayedGame, _: Job[HandFigures]) -> HandFigures:
        return self.ledgers.figures(game)

    def _done(self, line: int, figures: HandFigures) -> None:
        self.ledgers.keep(line, figures)
        self._next()
        self._changed()
