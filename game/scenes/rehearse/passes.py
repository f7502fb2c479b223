"""The passes of a rehearsal, against the clock or without one."""

from __future__ import annotations

from engine.rules.state import State
from engine.words import clock
from game.play.sitting import Sitting
from game.scenes.routes import Routes
from game.scenes.table.policy import TablePolicy
from game.ui.scene import Scene

TIME_IS_UP = "The time is up. Finish the passes all the same; this rehearsal counts as over time."


class RehearsalPolicy(TablePolicy):
    """What a rehearsal does otherwise than a game: a clock in the header, and an end once the passes are done."""

    back_says = "Rehearsal"

    def __init__(self, routes: Routes, setup: Scene, allowance: float | None) -> None:
        super().__init__(routes)
        self.setup = setup
        self.allowance = allowance
        """Seconds for all the passes; None without a clock."""
        self.spent = 0.0
        """Seconds so far."""
        self._said = False

    def title(self, state: State) -> str:  # noqa: ARG002 (it is nothing but passes)
        """What is played."""
        return "Rehearsing"

    def clock_text(self, state: State) -> str:  # noqa: ARG002
        """The time left, or nothing without a clock."""
        return "" if self.allowance is None else f"{clock(self.allowance - self.spent)} left"

    def tick(self, seconds: float, state: State) -> bool:  # noqa: ARG002
        """The clock runs; it is drawn anew once a second."""
        before = int(self.spent)
        self.spent += seconds
        return self.allowance is not None and int(self.spent) != before

    def warning(self) -> str:
        """That the time is up, once."""
        if self._said or self.allowance is None or self.spent < self.allowance:
            return ""
        self._said = True
        return TIME_IS_UP

    def back(self) -> Scene:
        """Back to the setup; the deal is kept, but not counted."""
        return self.setup

    def elsewhere(self, sitting: Sitting) -> Scene:
        """The passes are done: what they cost."""
        return self.routes.rehearsed(sitting, self.setup, self.allowance, self.spent)
