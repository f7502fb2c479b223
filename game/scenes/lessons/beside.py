"""Several players' results of one lesson side by side, step by step."""

from __future__ import annotations

from pathlib import Path

from engine.drills.lesson.model import Lesson, LessonResults
from engine.drills.lesson.results import MOST_BYTES, read_results, read_results_file, side_by_side
from engine.drills.lesson.writer import fingerprint, write_results
from engine.words import count
from game.draw.theme import BODY, BODY_BOLD, SMALL, SMALL_BOLD, SOFT, TEAL
from game.scenes.deal_popups import FilePopup
from game.scenes.paths import last_folder, offered, remember
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.scene import Scene
from game.ui.screen import Screen
from game.ui.widgets import Ui
from game.words.practice.lessons import answered_words, others_words, result_words, step_title

WIDEST = 1240
CELL = 210
"""Units of width of one player's cell at least."""
MOST_PLAYERS = 200
MOST_FILES = 300
"""Files of a folder that are read."""


class BesideScene(Scene):
    """The results that were brought in."""

    def __init__(self, routes: Routes, lesson: Lesson, back: Scene) -> None:
        super().__init__(routes.look)
        self.routes, self.lesson = routes, lesson
        self.said = ""
        self._back = back
        self._key = f"results {fingerprint(lesson)}"
        kept = routes.desk.store.get(self._key)
        texts = kept if isinstance(kept, list) else []
        found = [read_results(text).results for text in texts if isinstance(text, str) and len(text) < MOST_BYTES]
        self.results: list[LessonResults] = [one for one in found if one is not None]

    def back(self) -> Screen | None:
        """To the lesson."""
        return self._back

    def bring_in(self) -> Screen | None:
        """Ask for a results file, or a folder of them."""
        store = self.routes.desk.store
        title = "Read results from a file, or from all files of a folder"
        return FilePopup(self, title, "Read them", self._read, last_folder(store), offered(store, [".yaml"]))

    def _read(self, path: Path) -> str:
        """Read one file or a folder; what could not be read is said."""
        paths = sorted(path.glob("*.yaml"))[:MOST_FILES] if path.is_dir() else [path]
        readings = [(one, read_results_file(one)) for one in paths]
        fresh = [reading.results for _, reading in readings if reading.results is not None]
        bad = [str(reading.faults[0]) for _, reading in readings if reading.results is None]
        if not fresh:
            return bad[0] if bad else "There is no results file in this folder; give another one."
        self.results = [*self.results, *fresh][-MOST_PLAYERS:]
        self.routes.desk.store.set(self._key, [write_results(one) for one in self.results])
        if not path.is_dir():
            remember(self.routes.desk.store, path)
        self.said = f"{count(len(fresh), 'file').capitalize()} read."
        if bad:
            self.said += f" {count(len(bad), 'other').capitalize()} could not be read; the first: {bad[0]}."
        return ""

    def paint(self, ui: Ui) -> None:
        """Each step with every player's result."""
        rest = ui.header("Side by side", self.lesson.name, self.back)
        scrolled(ui, "beside", rest, self._fill, widest=WIDEST)

    def _fill(self, page: Column) -> None:
        table = side_by_side(self.lesson, self.results)
        if not table.players:
            page.text("No results yet. Players write them to a file from the lesson's page and give it to you.", BODY)
            page.gap(12)
        page.buttons([Press("Bring in results", self.bring_in, "return", main=True)])
        for said in (self.said, *others_words(table)):
            if said:
                page.gap(10)
                page.notice(said)
        if table.players:
            page.gap(12)
            with page.panel("The whole lesson") as inside, inside.grid(CELL, 8) as cell:
                for one in table.players:
                    part = cell()
                    part.text(one.player, SMALL_BOLD)
                    part.text(answered_words(one.steps, self.lesson), BODY)
        for at, step in enumerate(self.lesson.steps, 1) if table.players else ():
            page.gap(12)
            with page.panel() as inside:
                inside.text(f"{at}. {step_title(step)}", BODY_BOLD)
                right, of = table.right(at)
                if of:
                    inside.text(f"All together: {right} right of {of}.", SMALL, SOFT)
                inside.gap(6)
                with inside.grid(CELL, 8) as cell:
                    for one in table.players:
                        made = one.of(at)
                        part = cell()
                        part.text(one.player, SMALL_BOLD)
                        part.text(result_words(step, made), BODY, TEAL if made is not None and made.right else SOFT)
