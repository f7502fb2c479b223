"""Where a sheet to write comes from: one that was begun, an empty one, a copy, an invented one, a file."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from functools import partial
from pathlib import Path

import pygame

from engine.advice.moment import StoppedError
from engine.invent.balance import UnbalancedError
from engine.invent.making import Invented, Wish, invent
from engine.sheet.model import Sheet
from engine.sheet.writer import write
from engine.sheet.writing.hand_text import new_section, new_sheet
from engine.words import counted, sentence
from game.draw.theme import BODY, BODY_BOLD, SMALL, SOFT, TEAL, TOUCH
from game.play.worker import Job
from game.play.writing.drafts import DraftNote, Drafts
from game.play.writing.inventing import BalanceLook
from game.play.writing.sheet_writing import SheetWriting
from game.play.writing.starting import begin, go_on, open_file
from game.scenes.editor.scene import EditorScene
from game.scenes.paths import offered, remember, written_path
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.layout import Rect
from game.ui.scene import Scene
from game.ui.screen import Screen
from game.ui.widgets import Ui
from game.words.invent import look_words
from game.words.writing import draft_title, draft_words

TWO_COLUMNS = 820
WIDEST = 1240
LONGEST_PATH = 1000
MOST_DRAFTS = 30
INVENTED_HANDS = 24
DEALS = 2000
"""Deals by which an invented sheet is balanced here: fewer than on the command line, so that it takes less long."""
SEEDS = 1_000_000


class WriteScene(Scene):
    """Sheets that were begun at the left, ways to begin another at the right."""

    def __init__(self, routes: Routes, back: Scene) -> None:
        super().__init__(routes.look)
        self.routes, self.desk = routes, routes.desk
        self.drafts = Drafts.beside(routes.desk.store.path)
        self._back = back
        self._notes: tuple[DraftNote, ...] = ()
        self._offers: list[Path] = []
        self._path = ""
        self.trouble = ""
        self.inventing: Job[Invented | str] | None = None
        self.invented: Invented | None = None
        self.progress = ""
        """How far the inventing is."""
        self._progress_shown = ""
        self.enter()

    def enter(self) -> None:
        """Look again what was begun, and which files there are. Inventing may have been ended by other work."""
        if self.inventing is not None and self.inventing.stopped:
            self.inventing = None
        self._notes = self.drafts.notes()
        self._offers = offered(self.desk.store, [".yaml", ".yml"])

    def back(self) -> Scene | None:
        """Where the writer came from."""
        self.stop()
        return self._back

    def handle(self, event: pygame.event.Event) -> Screen:
        """A file dropped on the window is opened; all else is as in every scene."""
        if event.type == pygame.DROPFILE:
            self.dirty = True
            return self.open(event.file) or self
        return super().handle(event)

    def update(self, seconds: float) -> None:
        """The inventing goes on."""
        super().update(seconds)
        if self.inventing is not None and self.progress != self._progress_shown:
            self._progress_shown, self.dirty = self.progress, True

    # Beginning.

    def _edit(self, start: Callable[[], SheetWriting], fresh: bool = True) -> Scene | None:
        try:
            return EditorScene(self.routes, start(), self, fresh=fresh)
        except (OSError, ValueError) as error:
            return self._refused(error)

    def _refused(self, error: Exception) -> Scene | None:
        reason = getattr(error, "strerror", None) or str(error)
        self.trouble = sentence(f"{reason.rstrip('.')}.")
        return None

    def go_on(self, draft: str) -> Scene | None:
        """A sheet that was begun."""
        return self._edit(lambda: go_on(self.drafts, draft), fresh=False)

    def empty(self) -> Scene | None:
        """A sheet with a section and nothing in it; its season is this year."""
        text = new_sheet("", str(datetime.now(UTC).year)) + new_section("Hands")
        return self._edit(lambda: begin(self.drafts, text))

    def copy(self, sheet: Sheet) -> Scene | None:
        """A copy of a sheet, under a name of its own."""
        text = write(sheet).split("\n", 1)[1]
        name = f"{sheet.name[:50]}, changed"
        return self._edit(lambda: begin(self.drafts, new_sheet(name, "").split("\n", 1)[0] + "\n" + text))

    def take_invented(self) -> Scene | None:
        """The sheet that was invented just now."""
        made = self.invented
        return self._edit(lambda: begin(self.drafts, made.text)) if made is not None else None

    def invent(self) -> Scene | None:
        """Invent a sheet in the background."""
        if self.desk.worker is None:
            return None
        wish = Wish(self.desk.chance.randrange(SEEDS), hands=INVENTED_HANDS, season=str(datetime.now(UTC).year))
        self.trouble, self.invented, self.progress = "", None, look_words(None)

        def work(job: Job[Invented | str]) -> Invented | str:
            def told(done: int, deals: int, number: int) -> None:
                self.progress = look_words(BalanceLook(number, done, deals))

            def stopped() -> bool:
                job.breathe()
                return job.stopped

            try:
                return invent(wish, workers=1, told=told, stopped=stopped, deals=DEALS)
            except (StoppedError, UnbalancedError) as error:
                return f"{str(error).rstrip('.')}; try again"

        def done(found: Invented | str) -> None:
            self.inventing = None
            if isinstance(found, str):
                self.trouble = sentence(f"{found}.")
            else:
                self.invented = found
            self.dirty = True

        self.inventing = self.desk.worker.submit(work, done)
        if self.invented is not None or self.trouble:  # a worker that does all at once has done it
            self.inventing = None
        return None

    def stop(self) -> Scene | None:
        """No sheet is wanted any more."""
        if self.inventing is not None:
            self.inventing.stop()
            self.inventing = None
        return None

    def open(self, path: str) -> Scene | None:
        """A sheet's file, at its first fault if it has any."""
        if not path.strip():
            return None
        try:
            file = written_path(path)
            writing, faults = open_file(self.drafts, file)
            remember(self.desk.store, file)
        except (OSError, ValueError) as error:
            return self._refused(error)
        self._path, self.trouble = "", ""
        return EditorScene(self.routes, writing, self, faults)

    def take(self, path: Path) -> Scene | None:
        """One of the files offered."""
        return self.open(str(path))

    # What is on it.

    def paint(self, ui: Ui) -> None:
        """Two columns, or one under the other."""
        rest = ui.header("Write a sheet", "", self.back)
        scrolled(ui, "write", rest, self._fill, widest=WIDEST)

    def _fill(self, page: Column) -> None:
        if self.trouble:
            page.notice(self.trouble)
            page.gap(12)
        with page.beside([1, 1], least=TWO_COLUMNS) as (left, right):
            if self._notes:
                with left.panel("Sheets that you write") as inside:
                    for note in self._notes[:MOST_DRAFTS]:
                        self._draft(inside, note)
                left.gap(16)
            with left.panel("An empty sheet") as inside:
                inside.text("Hand by hand, typed or put together by pressing sizes and tiles.", BODY, SOFT)
                inside.gap(10)
                inside.buttons([Press("Begin an empty sheet", self.empty, "n", main=not self._notes)])
            left.gap(16)
            with left.panel("An invented sheet") as inside:
                self._invent(inside)
            with right.panel("A copy of a sheet, to be changed") as inside:
                for sheet in self.desk.sheets():
                    self._sheet(inside, sheet)
            right.gap(16)
            with right.panel("A sheet’s file") as inside:
                self._file(inside)

    def _draft(self, inside: Column, note: DraftNote) -> None:
        title = draft_title(note)
        with inside.card(f"draft {note.id}", partial(self.go_on, note.id), says=f"go on writing {title}") as card:
            card.text(title, BODY_BOLD, TEAL)
            card.text(draft_words(note), SMALL, SOFT)
        inside.gap(8)

    def _sheet(self, inside: Column, sheet: Sheet) -> None:
        title = f"{sheet.name} {sheet.season}"
        with inside.card(f"copy {sheet.fingerprint}", partial(self.copy, sheet), says=f"copy {title}") as card:
            card.text(title, BODY_BOLD, TEAL)
            card.text(counted(len(sheet.hands), "hand"), SMALL, SOFT)
        inside.gap(8)

    def _invent(self, inside: Column) -> None:
        if self.inventing is not None:
            inside.text("A sheet is being invented and balanced by play. That takes some minutes.")
            inside.text(self.progress, BODY, SOFT)
            inside.gap(10)
            inside.buttons([Press("Stop", self.stop)])
        elif self.invented is not None:
            sheet = self.invented.sheet
            inside.text(f"{sheet.name}: {counted(len(sheet.hands), 'hand')}.", BODY_BOLD)
            inside.gap(10)
            inside.buttons([Press("Begin with it", self.take_invented), Press("Another one", self.invent)])
        else:
            said = f"{counted(INVENTED_HANDS, 'hand')} that nobody has seen, balanced by play, for you to change."
            inside.text(said, BODY, SOFT)
            inside.gap(10)
            inside.buttons([Press("Invent one", self.invent, "i", enabled=self.desk.worker is not None)])

    def _file(self, inside: Column) -> None:
        inside.text("Drop a sheet’s file on this window, or write where it is. It may have faults.", BODY, SOFT)
        inside.gap(8)
        inside.block(TOUCH, partial(self._field, inside.ui))
        inside.gap(10)
        inside.buttons([Press("Open it", lambda: self.open(self._path), enabled=bool(self._path.strip()))])
        for path in self._offers:
            inside.gap(8)
            with inside.card(f"offer {path}", partial(self.take, path), says=f"open {path.name}", pad=4) as card:
                card.text(path.name, BODY_BOLD)
                card.text(str(path.parent), SMALL, SOFT)

    def _field(self, ui: Ui, rect: Rect) -> None:
        ui.field(
            rect, "file", self._path, self._write, hint="folder and name of the file",
            enter=lambda: self.open(self._path), longest=LONGEST_PATH,
        )  # fmt: skip

    def _write(self, text: str) -> Scene | None:
        self._path = text
        return None
