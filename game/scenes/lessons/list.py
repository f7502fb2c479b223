"""The lessons that are here: go through one, make one, bring one in; and a position to lay out."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import pygame

from engine.drills.lesson.reader import read_lesson_file
from game.draw.theme import BODY, BODY_BOLD, SMALL, SOFT, TEAL
from game.play.practice.lessons import KeptLesson, Lessons
from game.scenes.deal_popups import FilePopup
from game.scenes.lessons.position import PositionScene
from game.scenes.lessons.run import LessonScene
from game.scenes.paths import last_folder, offered, remember
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.scene import Scene
from game.ui.screen import Screen
from game.ui.widgets import Ui
from game.words.practice.lessons import answered_words, lesson_words

WIDEST = 1000


class LessonsScene(Scene):
    """Every lesson."""

    def __init__(self, routes: Routes, back: Scene) -> None:
        super().__init__(routes.look)
        self.routes = routes
        self.lessons = Lessons(routes.desk.store, routes.desk.sheets)
        self.kept: tuple[KeptLesson, ...] = ()
        self.closed: tuple[tuple[str, str], ...] = ()
        self.said = ""
        self._back = back
        self.enter()

    def back(self) -> Screen | None:
        """Where the player came from."""
        return self._back

    def enter(self) -> None:
        """A lesson may have been made or removed meanwhile."""
        self.kept, self.closed = self.lessons.all(), self.lessons.closed()
        self.dirty = True

    def open(self, one: KeptLesson) -> Screen | None:
        """Go through a lesson."""
        if one.sheet is None:
            return None
        return LessonScene(self.routes, self.lessons, one.lesson, one.sheet, self)

    def make(self) -> Screen | None:
        """Make a lesson."""
        return self.routes.make_lesson(self)

    def position(self) -> Screen | None:
        """Lay out a position and ask about it."""
        return PositionScene(self.routes, self.routes.desk.current_sheet, self)

    def bring_in(self) -> Screen | None:
        """Ask for a lesson's file."""
        store = self.routes.desk.store
        offers = offered(store, [".yaml"])
        return FilePopup(self, "Bring in a lesson", "Bring it in", self._read, last_folder(store), offers)

    def _read(self, path: Path) -> str:
        reading = read_lesson_file(path, self.routes.desk.sheets())
        if reading.lesson is None:
            more = f" There are {len(reading.faults)} faults in all." if len(reading.faults) > 1 else ""
            return f"{reading.faults[0]}.{more}"
        self.lessons.keep(reading.lesson)
        remember(self.routes.desk.store, path)
        self.enter()
        self.said = f"{reading.lesson.name} is here now."
        return ""

    def handle(self, event: pygame.event.Event) -> Screen:
        """A lesson's file dropped on the window is brought in."""
        if event.type == pygame.DROPFILE:
            popup = FilePopup(self, "Bring in a lesson", "Bring it in", self._read)
            return popup.take(Path(event.file)) or popup
        return super().handle(event)

    def paint(self, ui: Ui) -> None:
        """The list, then what else there is."""
        rest = ui.header("Lessons", "made by you, or given to you", self.back)
        scrolled(ui, "lessons", rest, self._fill, widest=WIDEST)

    def _fill(self, page: Column) -> None:
        page.text(
            "A lesson is a few steps in one order: words, drills, positions with a question, deals. "
            "A teacher makes it, gives its file to others, and gets their results back.", BODY, SOFT,
        )  # fmt: skip
        page.gap(12)
        if self.said:
            page.notice(self.said)
            page.gap(12)
        for place, one in enumerate(self.kept):
            with page.card(f"lesson {place}", partial(self.open, one), says=one.lesson.name) as card:
                card.text(one.lesson.name, BODY_BOLD, TEAL)
                card.text(lesson_words(one.lesson), BODY)
                card.text(answered_words(self.lessons.results(one.lesson), one.lesson), SMALL, SOFT)
            page.gap(8)
        for name, why in self.closed:
            page.notice(f"{name} can’t be opened now: {why}.")
            page.gap(8)
        if not self.kept and not self.closed:
            page.text("There is no lesson here yet.", BODY_BOLD)
            page.gap(8)
        page.gap(8)
        page.buttons([
            Press("Make a lesson", self.make, "m", main=not self.kept),
            Press("Bring one in from a file", self.bring_in, "b"),
            Press("Lay out a position", self.position, "p"),
        ])  # fmt: skip
