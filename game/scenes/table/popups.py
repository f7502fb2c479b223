"""Small popups over the table: the reasons, the discards, a note, and everything else that can be done."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from engine import words
from engine.advice.advise.answers import Advice
from engine.rules.house import QUIET, seat_name
from engine.store.store import Store
from engine.store.values import StoreError
from engine.tiles import Kind
from game.draw.theme import BODY, HEADING, SMALL, SOFT, TOUCH
from game.draw.tiles import Face, height_for
from game.play.sitting import Sitting
from game.scenes.table.reasons import reasons_text
from game.ui.buttons import Press
from game.ui.layout import Rect, columns, flow
from game.ui.popups import pane
from game.ui.scene import Popup, Scene
from game.ui.screen import Screen
from game.ui.widgets import Ui


class WhyPopup(Popup):
    """The reasons for one tile, with room to read."""

    def __init__(self, parent: Scene, advice: Callable[[], Advice | None], tile: Kind | None) -> None:
        super().__init__(parent)
        self.advice, self.tile = advice, tile

    def paint(self, ui: Ui) -> None:
        """The reasons and a way back."""

        def content(area: Rect) -> int:
            advice = self.advice()
            y = area.top if advice is None else reasons_text(ui, area, advice, self.tile) + ui.u(16)
            return ui.buttons((area.left, y), area.width, [Press("Back", self.back, "escape", main=True)])

        pane(ui, 620, "why", content)


class DiscardsPopup(Popup):
    """Every tile that has gone, in order."""

    def __init__(self, parent: Scene, sitting: Sitting) -> None:
        super().__init__(parent)
        self.sitting = sitting

    def paint(self, ui: Ui) -> None:
        """All discards, large enough to tell apart."""
        state = self.sitting.state

        def content(area: Rect) -> int:
            y = ui.paragraph("Discards", area.topleft, area.width, HEADING) + ui.u(4)
            gone = [discard for discard in state.discards if not discard.called]
            said = f"{words.sentence(words.count(len(gone), 'tile'))} let go, the latest last."
            y = ui.paragraph(said, (area.left, y), area.width, BODY, SOFT) + ui.u(10)
            width = ui.u(44)
            label = 0 if state.house.table == QUIET else ui.line(SMALL)
            size = (width, height_for(width) + label)
            for discard, rect in zip(
                gone, flow([size] * len(gone), (area.left, y), area.width, (ui.u(6), ui.u(8))), strict=True
            ):
                ui.tile(Face(discard.kind), rect)
                if label:
                    below = Rect(rect.left - ui.u(3), rect.bottom - label, rect.width + ui.u(6), label)
                    ui.fitted(seat_name(discard.seat), below, SMALL, SOFT, "middle")
                y = rect.bottom
            return ui.buttons((area.left, y + ui.u(16)), area.width, [Press("Back", self.back, "escape", main=True)])

        pane(ui, 760, "discards", content)


class NotePopup(Popup):
    """A few words on one moment of a deal."""

    def __init__(self, parent: Scene, store: Store, line: int, moment: int) -> None:
        super().__init__(parent)
        self.store, self.line, self.moment = store, line, moment
        self.text, self.trouble = "", ""
        self.ui.to("note")

    def _write(self, text: str) -> Scene | None:
        self.text = text
        return None

    def keep(self) -> Screen | None:
        """Keep the note and go back."""
        try:
            self.store.note(self.line, self.text, self.moment)
        except StoreError as error:
            self.trouble = words.sentence(f"{error}.")
            return None
        return self.parent

    def paint(self, ui: Ui) -> None:
        """A line to write in, and the notes of the deal so far, the latest first."""
        notes = self.store.notes(self.line)

        def content(area: Rect) -> int:
            y = ui.paragraph("Notes on this deal", area.topleft, area.width, HEADING) + ui.u(8)
            field = Rect(area.left, y, area.width, ui.u(TOUCH))
            ui.field(
                field, "note", self.text, self._write, hint="Write about this moment", enter=self.keep, longest=400
            )
            y = field.bottom + ui.u(8)
            if self.trouble:
                y = ui.notice(self.trouble, (area.left, y), area.width) + ui.u(8)
            presses = [Press("Keep the note", self.keep, main=True), Press("Back", self.back, "escape")]
            y = ui.buttons((area.left, y), area.width, presses) + ui.u(16)
            for note in reversed(notes):
                here = ", about this moment" if note.moment == self.moment else ""
                y = ui.paragraph(f"{words.when(note.at)}{here}", (area.left, y), area.width, SMALL, SOFT)
                y = ui.paragraph(note.text, (area.left, y), area.width, BODY) + ui.u(10)
            return y if notes else ui.paragraph("No notes yet.", (area.left, y), area.width, BODY, SOFT)

        pane(ui, 680, "notes", content)


class MorePopup(Popup):
    """Everything that can be done at the table besides the choice itself."""

    def __init__(self, parent: Scene, presses: Callable[[], Sequence[Press]]) -> None:
        super().__init__(parent)
        self._presses = presses

    def paint(self, ui: Ui) -> None:
        """Two buttons a line, or one where the window is narrow."""
        presses = [*self._presses(), Press("Back to the table", self.back, "escape", main=True)]

        def content(area: Rect) -> int:
            y = ui.paragraph("At the table", area.topleft, area.width, HEADING) + ui.u(8)
            across = 2 if area.width >= ui.u(560) else 1
            for start in range(0, len(presses), across):
                row = Rect(area.left, y, area.width, ui.u(TOUCH))
                for press, rect in zip(presses[start:], columns(row, [1] * across, ui.u(10)), strict=False):
                    does = press.do
                    ui.button(
                        rect,
                        press.says,
                        lambda does=does: does() or self.parent,  # type: ignore[misc]
                        key=press.key,
                        main=press.main,
                        enabled=press.enabled,
                        show_key=True,
                    )
                y = row.bottom + ui.u(8)
            return y

        pane(ui, 720, "more", content)
