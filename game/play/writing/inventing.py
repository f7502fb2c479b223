"""A sheet that is being invented in the background, and what has come of it. Whatever stops it leaves nothing."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import BrokenExecutor
from dataclasses import dataclass

from engine.advice.moment import StoppedError
from engine.invent.balance import UnbalancedError, work_done
from engine.invent.making import Invented, Wish, invent
from game.play.worker import Job, Worker


@dataclass(frozen=True)
class BalanceLook:
    """How far the play has come that balances a sheet."""

    number: int
    """Of this look, from 1."""
    done: int
    """Deals played in it."""
    deals: int
    """Deals of a look that nothing ends early."""


@dataclass(frozen=True)
class Failed:
    """Why there is no sheet, for the player to read."""

    why: str


Told = BalanceLook | Invented | Failed
Invent = Callable[..., Invented]
"""`engine.invent.making.invent`, or what stands for it in a test."""


class Inventing:
    """One sheet on its way; `told` is what has been heard of it last."""

    def __init__(self, wish: Wish, worker: Worker, changed: Callable[[], None], make: Invent = invent) -> None:
        self.wish = wish
        self.told: Told | None = None
        """None until the first deals are played."""
        self.share = 0.0
        """How far the bar has come: it never goes back."""
        self._changed = changed
        self._make = make
        self._job: Job[Told] = worker.submit(self._work, self._hear)

    @property
    def made(self) -> Invented | None:
        """The sheet, once it is there."""
        return self.told if isinstance(self.told, Invented) else None

    @property
    def under_way(self) -> bool:
        """Whether more may still be heard."""
        return not self._job.stopped and not isinstance(self.told, Invented | Failed)

    def stop(self) -> None:
        """Nothing comes of it any more."""
        self._job.stop()

    def _hear(self, told: Told) -> None:
        self.told = told
        if isinstance(told, BalanceLook):
            self.share = max(self.share, work_done(told.number, told.done, told.deals))
        self._changed()

    def _work(self, job: Job[Told]) -> Told:
        def look(done: int, deals: int, number: int) -> None:
            job.tell(BalanceLook(number, done, deals))
            job.breathe()

        try:
            return self._make(self.wish, told=look, stopped=lambda: job.stopped, breathe=job.breathe)
        except UnbalancedError as error:
            return Failed(f"From seed {self.wish.seed} {error}.")
        except BrokenExecutor:
            return Failed("A part of the play was ended from outside; start it again.")
        except StoppedError:
            return Failed("It was stopped. No sheet was made.")
