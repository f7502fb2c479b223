"""The passes of a rehearsal, against the clock or without one."""

from __future__ import annotations

from engine.words import clock
from game.play.sitting import Sitting
from game.scenes.routes import Routes
from game.scenes.table.passes import PassScene
from game.ui.scene import Scene


class RehearsalScene(PassScene):
    """A pass of a rehearsal: the same as in a game, with the clock in the header."""

    def __init__(self, routes: Routes, sitting: Sitting, setup: Scene, allowance: float | None) -> None:
        self.setup = setup
        self.allowance = allowance
        self.spent = 0.0
        super().__init__(routes, sitting)

    def update(self, seconds: float) -> None:
        """The clock runs; it is drawn anew once a second."""
        super().update(seconds)
        before = int(self.spent)
        self.spent += seconds
        if self.allowance is not None and int(self.spent) != before:
            self.dirty = True

    @property
    def clock_text(self) -> str:
        """The time left, or nothing without a clock."""
        return "" if self.allowance is None else f"{clock(self.allowance - self.spent)} left"

    def back(self) -> Scene | None:
        """Back to the setup; the deal is kept, but not counted."""
        return self.setup

    def settled_elsewhere(self) -> Scene:
        """The passes are done: what they cost."""
        return self.routes.rehearsed(self.sitting, self.setup, self.allowance, self.spent)
