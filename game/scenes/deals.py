"""Past deals: every line of play, the latest first; look back at one, go on, write it to a file or read one in."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from engine import words
from engine.store.export import export_file, import_file
from engine.store.values import LineSummary, StoreError
from game.draw.theme import BODY, BODY_BOLD, CARD, HEADING, INK, LIT, SMALL, SMALL_BOLD, SOFT, TEAL, TOUCH
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.layout import Rect
from game.ui.popups import pane
from game.ui.scene import Popup, Scene
from game.ui.screen import Screen
from game.ui.widgets import Ui
from game.words.situation import ending_sentences

MOST = 300
"""Lines shown at most; older ones are kept all the same."""


class PastDeals(Scene):
    """The list."""

    def __init__(self, routes: Routes, back: Scene) -> None:
        super().__init__(routes.look)
        self.routes, self.desk = routes, routes.desk
        self._back = back
        self.said = ""
        self.lines: tuple[LineSummary, ...] = ()
        self.enter()

    def enter(self) -> None:
        """Look again at what is kept."""
        self.lines = tuple(self.desk.lines())
        self.dirty = True

    def back(self) -> Scene | None:
        """Where it was opened from."""
        return self._back

    def open(self, line: LineSummary) -> Scene | None:
        """Look back at a finished deal, go on with an unfinished one."""
        try:
            return self.routes.look_back(line.id) if line.finished else self.routes.resume(line.id)
        except (StoreError, ValueError) as error:
            self.said = words.sentence(f"{str(error).rstrip('.')}.")
            return None

    def export(self, line: LineSummary) -> Scene | None:
        """Ask where to write the deal."""
        return FilePopup(
            self, f"Write deal {line.deal or line.id} to a file", "Write it", lambda path: self._write(line, path)
        )

    def bring_in(self) -> Scene | None:
        """Ask for a deal's file."""
        return FilePopup(self, "Read a deal from a file", "Read it", self._read)

    def _write(self, line: LineSummary, path: Path) -> str:
        if path.is_dir():
            path = path / f"deal-{line.deal.lower() or line.id}.txt"
        export_file(self.desk.store, line.id, path)
        self.said = f"Deal {line.deal or line.id} is written to {path}."
        return ""

    def _read(self, path: Path) -> str:
        brought = import_file(self.desk.store, path)
        self.said = brought.trouble or "The deal is here now, at the top of the list."
        self.enter()
        return ""

    def paint(self, ui: Ui) -> None:
        """A scrolled list, and a way to read a deal in."""
        count = len(self.lines)
        note = words.count(count, "deal") if count else "none yet"
        rest = ui.header("Past deals", note, self.back, action=Press("Read in a deal", self.bring_in, "r"))

        def content(area: Rect) -> int:
            y = area.top
            if self.said:
                y = ui.notice(self.said, (area.left, y), area.width) + ui.u(10)
            if not self.lines:
                text = "No deal has been played yet. Every deal you play is kept here, move by move."
                y = ui.paragraph(text, (area.left, y), area.width, BODY) + ui.u(12)
                return ui.buttons((area.left, y), area.width, [Press("Back", self.back, main=True)])
            for place, line in enumerate(self.lines[:MOST]):
                y = self._row(ui, Rect(area.left, y, area.width, 0), line, latest=place == 0) + ui.u(8)
            if count > MOST:
                y = ui.paragraph(f"{count - MOST} older ones are kept too.", (area.left, y), area.width, SMALL, SOFT)
            return y

        ui.scroll("deals", rest, content)

    def _row(self, ui: Ui, at: Rect, line: LineSummary, latest: bool) -> int:
        pad = ui.u(14)
        title = f"{line.sheet_name} {line.season}"
        parts = [words.when(line.touched), *([f"deal {line.deal}"] if line.deal else [])]
        if line.chosen:
            parts.append(words.count(len(line.chosen), "section"))
        if line.parent is not None:
            parts.append("a fork")
        if line.notes:
            parts.append(words.count(line.notes, "note"))
        if line.imported:
            parts.append("read from a file")
        if line.advice_hidden:
            parts.append("without advice")
        under = "  ·  ".join(parts)
        says = "Not finished." if line.ending is None else " ".join(ending_sentences(line.ending, line.house))
        opens = "Look back" if line.finished else "Go on"
        buttons = [
            Press(opens, lambda: self.open(line), main=latest),
            Press("Write to a file", lambda: self.export(line)),
        ]
        wide = sum(ui.button_size(one.says)[0] for one in buttons) + ui.u(8)
        beside = at.width > wide + ui.u(420)
        room = at.width - 2 * pad - (wide + ui.u(16) if beside else 0)
        high = ui.tall(title, room, BODY_BOLD) + ui.tall(says, room, BODY) + ui.tall(under, room, SMALL)
        full = max(high, ui.u(TOUCH)) + 2 * ui.u(10) + (0 if beside else ui.u(TOUCH + 8))
        row = Rect(at.left, at.top, at.width, full)
        if not ui.shows(row):
            self._targets(ui, row, line, buttons, beside)
            return row.bottom
        ui.panel(row, LIT if ui.lit(f"{opens} {line.id}") else CARD, radius=10)
        with ui.within(row):
            y = row.top + ui.u(10)
            y = ui.paragraph(title, (row.left + pad, y), room, BODY_BOLD, TEAL if not line.finished else INK)
            y = ui.paragraph(says, (row.left + pad, y), room, BODY)
            ui.paragraph(under, (row.left + pad, y), room, SMALL, SOFT)
        self._targets(ui, row, line, buttons, beside)
        return row.bottom

    @staticmethod
    def _targets(ui: Ui, row: Rect, line: LineSummary, buttons: list[Press], beside: bool) -> None:
        x, y = row.right - ui.u(14), row.bottom - ui.u(10 + TOUCH)
        if beside:
            y = row.top + (row.height - ui.u(TOUCH)) // 2
        for one in reversed(buttons):
            wide = ui.button_size(one.says)[0]
            x -= wide
            ui.button(Rect(x, y, wide, ui.u(TOUCH)), one.says, one.do, name=f"{one.says} {line.id}", main=one.main)
            x -= ui.u(8)


class FilePopup(Popup):
    """Asks for a file's name and does something with it; what goes wrong is said and the name stays."""

    def __init__(self, parent: PastDeals, title: str, says: str, does: Callable[[Path], str]) -> None:
        super().__init__(parent)
        self.title, self.says, self.does = title, says, does
        self.text = str(Path.home()) + "/"
        self.trouble = ""
        self.ui.to("file")

    def _write(self, text: str) -> Scene | None:
        self.text = text
        return None

    def go(self) -> Screen | None:
        """Do it; stay if it can't be done."""
        try:
            self.trouble = self.does(Path(self.text.strip()).expanduser())
        except (OSError, ValueError, RuntimeError) as error:  # the last for a user's folder that there is not
            reason = getattr(error, "strerror", None) or str(error)
            self.trouble = words.sentence(f"{reason.rstrip('.')}.")
        return None if self.trouble else self.parent

    def paint(self, ui: Ui) -> None:
        """A line for the name, and a button."""

        def content(area: Rect) -> int:
            y = ui.paragraph(self.title, area.topleft, area.width, HEADING) + ui.u(8)
            y = ui.paragraph("The file’s name, with its folder:", (area.left, y), area.width, SMALL_BOLD, SOFT) + ui.u(
                4
            )
            field = Rect(area.left, y, area.width, ui.u(TOUCH))
            ui.field(field, "file", self.text, self._write, enter=self.go, longest=400)
            y = field.bottom + ui.u(10)
            if self.trouble:
                y = ui.notice(self.trouble, (area.left, y), area.width) + ui.u(10)
            presses = [Press(self.says, self.go, main=True), Press("Back", self.back, "escape")]
            return ui.buttons((area.left, y), area.width, presses)

        pane(ui, 680, "file", content)
