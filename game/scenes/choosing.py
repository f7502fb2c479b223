"""Choosing the sheet and the sections that the next deal is played with, and loading a sheet from a file."""

from __future__ import annotations

from functools import partial

import pygame

from engine import words
from engine.sheet.model import Section, Sheet
from engine.sheet.reader import SheetFaults
from game.draw.theme import BODY, BODY_BOLD, HEADING, SMALL, SOFT, TEAL, TOUCH
from game.scenes.paths import written_path
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.layout import Rect, columns
from game.ui.popups import pane
from game.ui.scene import Popup, Scene
from game.ui.screen import Screen
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
            sheet = self.desk.load_sheet(written_path(path))
        except SheetFaults as error:
            return Faults(self, [str(fault) for fault in error.faults])
        except ValueError as error:
            return Faults(self, [f"{words.sentence(str(error))}."])
        self._path = ""
        self.desk.choose_sheet(sheet, None)
        return None

    # Painting.

    def paint(self, ui: Ui) -> None:
        """Two columns, or one under the other."""
        rest = ui.header("Sheet and sections", "", self.back)
        ui.scroll("choose", rest, lambda area: self._all(ui, area))

    def _all(self, ui: Ui, area: Rect) -> int:
        width = min(area.width, ui.u(WIDEST))
        place = Rect(area.centerx - width // 2, area.top, width, 0)
        if width >= ui.u(TWO_COLUMNS):
            left, right = columns(place, [1, 1.3], ui.u(20))
            return max(self._sheets(ui, left), self._sections(ui, right))
        y = self._sheets(ui, place) + ui.u(16)
        return self._sections(ui, Rect(place.left, y, place.width, 0))

    def _sheets(self, ui: Ui, area: Rect) -> int:
        y = area.top
        now = self.desk.current_sheet.fingerprint
        for sheet in self.desk.sheets():
            y = self._sheet(ui, Rect(area.left, y, area.width, 0), sheet, sheet.fingerprint == now) + ui.u(10)
        return ui.titled((area.left, y + ui.u(6)), area.width, "Load a sheet", partial(self._loading, ui), gap=4)

    def _sheet(self, ui: Ui, area: Rect, sheet: Sheet, here: bool) -> int:
        left, room = area.left + ui.u(20), area.width - ui.u(40)
        title = f"{sheet.name} {sheet.season}"
        note = f"{len(sheet.hands)} hands in {len(sheet.sections)} sections"
        note += f", {sheet.maker}" if sheet.maker else ""
        high = ui.tall(title, room, BODY_BOLD) + ui.tall(note, room, SMALL) + ui.u(20)
        rect = Rect(area.left, area.top, area.width, max(high, ui.u(TOUCH)))
        ui.row(f"sheet {sheet.fingerprint}", rect, partial(self._choose, sheet), says=f"choose {title}", here=here)
        with ui.within(rect):
            y = ui.paragraph(title, (left, rect.top + ui.u(9)), room, BODY_BOLD, TEAL)
            ui.paragraph(note, (left, y), room, SMALL, SOFT)
        return rect.bottom

    def _choose(self, sheet: Sheet) -> Scene | None:
        if sheet.fingerprint != self.desk.current_sheet.fingerprint:
            self.desk.choose_sheet(sheet, None)
        return None

    def _loading(self, ui: Ui, area: Rect) -> int:
        text = "Drop a sheet’s file on this window, or write where it is."
        y = ui.paragraph(text, area.topleft, area.width, BODY, SOFT) + ui.u(8)
        ui.field(
            Rect(area.left, y, area.width, ui.u(TOUCH)), "file", self._path, self._write,
            hint="folder and name of the file", enter=lambda: self.load(self._path), longest=LONGEST_PATH,
        )  # fmt: skip
        y += ui.u(TOUCH + 10)
        press = Press("Load it", lambda: self.load(self._path), enabled=bool(self._path.strip()))
        return ui.buttons((area.left, y), area.width, [press])

    def _write(self, text: str) -> Scene | None:
        self._path = text
        return None

    # Sections.

    def _sections(self, ui: Ui, area: Rect) -> int:
        return ui.titled(area.topleft, area.width, self.desk.current_sheet.name, partial(self._ticks, ui), gap=4)

    def _ticks(self, ui: Ui, area: Rect) -> int:
        sheet, chosen = self.desk.current_sheet, self.desk.chosen
        text = "Untick a section to practise without it: hands, advice and review then keep to the rest."
        y = ui.paragraph(text, area.topleft, area.width, BODY, SOFT) + ui.u(10)
        read = Press("Read this sheet", lambda: self.routes.sheet(sheet, self, self.desk.chosen), "h")
        every = Press("Tick all", lambda: self._keep(None), "t", enabled=chosen is not None)
        y = ui.buttons((area.left, y), area.width, [read, every]) + ui.u(10)
        across = 2 if area.width >= ui.u(480) else 1
        gap = ui.u(12)
        width = (area.width - gap * (across - 1)) // across
        for start in range(0, len(sheet.sections), across):
            row = sheet.sections[start : start + across]
            y = max(
                self._check(ui, (area.left + i * (width + gap), y), width, one) for i, one in enumerate(row)
            ) + ui.u(2)
        return y

    def _check(self, ui: Ui, at: tuple[int, int], width: int, section: Section) -> int:
        chosen = self.desk.chosen
        ticked = chosen is None or section.name in chosen
        last = ticked and chosen is not None and len(chosen) == 1
        note = f"{len(section.hands)} hands" + ("; one section has to stay" if last else "")
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

    def __init__(self, parent: Scene, faults: list[str]) -> None:
        super().__init__(parent)
        self._faults = faults

    def paint(self, ui: Ui) -> None:
        """A list to scroll."""
        count = len(self._faults)
        title = "This file can’t be used yet" if count == 1 else f"This file can’t be used yet: {count} faults"

        def content(area: Rect) -> int:
            y = ui.paragraph(title, area.topleft, area.width, HEADING) + ui.u(4)
            text = "Each line names the file, the line and the column. Mend them and load it again."
            y = ui.paragraph(text, (area.left, y), area.width, BODY, SOFT) + ui.u(12)
            for fault in self._faults:
                y = ui.paragraph(fault, (area.left, y), area.width, BODY) + ui.u(8)
            return ui.buttons((area.left, y + ui.u(6)), area.width, [Press("Back", self.back, "escape", main=True)])

        pane(ui, 820, "faults", content)
