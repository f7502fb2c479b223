"""Choosing the sheet and the sections that the next deal is played with, and loading a sheet from a file."""

from __future__ import annotations

import contextlib
from functools import partial
from pathlib import Path

import pygame

from engine import words
from engine.sheet.model import Section, Sheet
from engine.sheet.reader import SheetFaults
from game.draw.theme import BODY, BODY_BOLD, SMALL, SOFT, TEAL, TOUCH
from game.play.writing.drafts import Drafts, read_text
from game.scenes.deal_popups import offer_files
from game.scenes.paths import offered, remember, written_path
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.layout import Rect
from game.ui.popups import Question, pane_of
from game.ui.scene import Popup, Scene
from game.ui.screen import Screen
from game.ui.targets import Do
from game.ui.widgets import Ui

TWO_COLUMNS = 820
WIDEST = 1240
LONGEST_PATH = 1000


class ChooseScene(Scene):
    """Sheets at the left, the chosen one's sections at the right; every change is kept for the next deal."""

    def __init__(self, routes: Routes, back: Scene) -> None:
        super().__init__(routes.look)
        self.routes, self.desk = routes, routes.desk
        self._back = back
        self._path = ""
        self._offers: list[Path] = []
        self.enter()

    def enter(self) -> None:
        """Look again which files there are."""
        self._offers = offered(self.desk.store, [".yaml", ".yml"])

    def back(self) -> Scene | None:
        """Where the player came from."""
        return self._back

    def handle(self, event: pygame.event.Event) -> Screen:
        """A file dropped on the window is loaded; all else is as in every scene."""
        if event.type == pygame.DROPFILE:
            self.dirty = True
            return self.load(event.file) or self
        return super().handle(event)

    def load(self, path: str) -> Scene | None:
        """Reads a sheet's file and chooses it; shows the faults if there are any."""
        if not path.strip():
            return None
        try:
            file = written_path(path)
            sheet = self.desk.load_sheet(file)
            remember(self.desk.store, file)
        except SheetFaults as error:
            mend = (lambda: self._mend(file)) if file.is_file() else None
            return Faults(self, [str(fault) for fault in error.faults], mend)
        except ValueError as error:
            return Faults(self, [f"{words.sentence(str(error))}."])
        self._path = ""
        self._remember_good(file)
        self.desk.choose_sheet(sheet, None)
        self.enter()
        return None

    def _remember_good(self, file: Path) -> None:
        """Keep the file's text, in case it is broken one day."""
        with contextlib.suppress(OSError, ValueError):
            Drafts.beside(self.desk.store.path).remember_good(file, read_text(file))

    def _mend(self, file: Path) -> Scene | None:
        """Open the file where its faults are."""
        try:
            return self.routes.write_file(file, self)
        except (OSError, ValueError) as error:
            return Faults(self, [f"{words.sentence(str(error)).rstrip('.')}."])

    def take(self, path: Path) -> Scene | None:
        """One of the files offered."""
        return self.load(str(path))

    # What is on it.

    def paint(self, ui: Ui) -> None:
        """Two columns, or one under the other."""
        rest = ui.header("Sheet and sections", "", self.back)
        scrolled(ui, "choose", rest, self._fill, widest=WIDEST, roomy=True)

    def _fill(self, page: Column) -> None:
        with page.beside([1, 1.3], least=TWO_COLUMNS) as (left, right):
            self._sheets(left)
            with right.panel(self.desk.current_sheet.name) as inside:
                self._sections(inside)

    def _sheets(self, page: Column) -> None:
        now = self.desk.current_sheet.fingerprint
        for sheet in self.desk.sheets():
            self._sheet(page, sheet, sheet.fingerprint == now)
            page.gap(10)
        with page.panel("Write a sheet") as inside:
            inside.text("An empty one, or a copy of one of these, hand by hand.", BODY, SOFT)
            inside.gap(10)
            inside.buttons([Press("Write a sheet", lambda: self.routes.writing(self), "w")])
        page.gap(10)
        with page.panel("Invent a sheet") as inside:
            inside.text("A fresh one, or the next season of a sheet that you know, balanced by play.", BODY, SOFT)
            inside.gap(8)
            inside.buttons([Press("Invent a sheet", lambda: self.routes.invent(self), "i")])
        page.gap(10)
        with page.panel("Load a sheet") as inside:
            inside.text("Drop a sheet’s file on this window, or write where it is.", BODY, SOFT)
            inside.gap(8)
            inside.block(TOUCH, partial(self._field, inside.ui))
            inside.gap(10)
            inside.buttons([Press("Load it", lambda: self.load(self._path), enabled=bool(self._path.strip()))])
            offer_files(inside, self._offers, self.take)

    def _sheet(self, page: Column, sheet: Sheet, here: bool) -> None:
        title = f"{sheet.name} {sheet.season}"
        note = f"{words.counted(len(sheet.hands), 'hand')} in {words.counted(len(sheet.sections), 'section')}"
        note += f", {sheet.maker}" if sheet.maker else ""
        choose = partial(self._choose, sheet)
        with page.card(f"sheet {sheet.fingerprint}", choose, says=f"choose {title}", here=here) as card:
            card.text(title, BODY_BOLD, TEAL)
            card.text(note, SMALL, SOFT)

    def _choose(self, sheet: Sheet) -> Scene | None:
        if sheet.fingerprint != self.desk.current_sheet.fingerprint:
            self.desk.choose_sheet(sheet, None)
        return None

    def _field(self, ui: Ui, rect: Rect) -> None:
        ui.field(
            rect, "file", self._path, self._write, hint="folder and name of the file",
            enter=lambda: self.load(self._path), longest=LONGEST_PATH,
        )  # fmt: skip

    def _write(self, text: str) -> Scene | None:
        self._path = text
        return None

    def ask_to_remove(self) -> Scene | None:
        """A loaded sheet leaves the list if the player says so."""
        sheet = self.desk.current_sheet
        text = "Its deals stay among the past deals. Load its file again to bring it back."
        remove = Press("Remove it", partial(self._remove, sheet), "m", main=True)
        return Question(self, f"Remove {sheet.name} from the list?", text, [remove])

    def _remove(self, sheet: Sheet) -> Scene | None:
        self.desk.put_away(sheet)
        return self

    # Sections.

    def _sections(self, inside: Column) -> None:
        sheet, chosen = self.desk.current_sheet, self.desk.chosen
        inside.text(
            "Untick a section to practise without it: hands, advice and review then keep to the rest.", BODY, SOFT
        )
        inside.gap(10)
        presses = [
            Press("Read this sheet", lambda: self.routes.sheet(sheet, self, self.desk.chosen), "h"),
            Press("Tick all", lambda: self._keep(None), "t", enabled=chosen is not None),
        ]
        if not self.desk.is_shipped(sheet):
            presses.append(Press("Remove from the list", self.ask_to_remove, "m"))
        inside.buttons(presses)
        inside.gap(10)
        with inside.grid(230, gap=12, most=2) as cell:
            for section in sheet.sections:
                cell().add(partial(self._check, inside.ui, section))

    def _check(self, ui: Ui, section: Section, at: tuple[int, int], width: int) -> int:
        chosen = self.desk.chosen
        ticked = chosen is None or section.name in chosen
        last = ticked and chosen is not None and len(chosen) == 1
        note = words.counted(len(section.hands), "hand") + ("; one section has to stay" if last else "")
        return ui.check(at, width, section.name, ticked, partial(self._tick, section.name), note, enabled=not last)

    def _tick(self, name: str, ticked: bool) -> Scene | None:
        names = [section.name for section in self.desk.current_sheet.sections]
        chosen = set(self.desk.chosen or names)
        chosen = chosen | {name} if ticked else chosen - {name}
        return self._keep(tuple(one for one in names if one in chosen))

    def _keep(self, chosen: tuple[str, ...] | None) -> Scene | None:
        sheet = self.desk.current_sheet
        every = chosen is not None and len(chosen) == len(sheet.sections)
        self.desk.choose_sheet(sheet, None if every else chosen)
        return None


class Faults(Popup):
    """Everything that is wrong with a file, so that it can be mended in one go."""

    def __init__(self, parent: Scene, faults: list[str], mend: Do | None = None) -> None:
        """`mend` opens the file where its faults are."""
        super().__init__(parent)
        self._faults = faults
        self._mend = mend

    def paint(self, ui: Ui) -> None:
        """A list to scroll."""
        count = len(self._faults)
        title = "This file can’t be used yet" if count == 1 else f"This file can’t be used yet: {count} faults"

        def fill(column: Column) -> None:
            column.heading(title)
            column.gap(4)
            column.text("Each line names the file, the line and the column. Mend them and load it again.", BODY, SOFT)
            column.gap(12)
            for fault in self._faults:
                column.text(fault)
                column.gap(8)

        mend = [Press("Mend it here", self._mend, "m", main=True)] if self._mend is not None else []
        pane_of(ui, 820, "faults", fill, [*mend, Press("Back", self.back, "escape", main=not mend)])
