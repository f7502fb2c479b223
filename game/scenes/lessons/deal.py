"""A deal of a lesson at the table: a game like any other, whose way back leads to the lesson."""

from __future__ import annotations

from game.play.sitting import Sitting
from game.scenes.routes import Routes
from game.scenes.table.policy import TablePolicy
from game.scenes.table.scene import table_scene
from game.ui.buttons import Press
from game.ui.scene import Scene


class LessonPolicy(TablePolicy):
    """What a lesson's deal does otherwise than a game: it leads back to the lesson."""

    back_says = "Lesson"

    def __init__(self, routes: Routes, lesson: Scene) -> None:
        super().__init__(routes)
        self.lesson = lesson

    def back(self) -> Scene:
        """The lesson; the game is kept."""
        return self.lesson

    def elsewhere(self, sitting: Sitting) -> Scene:
        """The same deal's next kind of moment."""
        return table_scene(self.routes, sitting, self)

    def ending_presses(self, sitting: Sitting) -> list[Press]:  # noqa: ARG002
        """On with the lesson."""
        return [Press("On with the lesson", self.back, "return", main=True)]
