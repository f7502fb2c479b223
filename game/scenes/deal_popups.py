"""Over the list of past deals: the lines of one deal and what can be done with it, and the name of a file."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Protocol

import pygame

from engine import words
from engine.store.values import LineSummary, PastDeal
from game.draw.theme import BODY, BODY_BOLD, SMALL, SOFT, TOUCH
from game.scenes.paths import usual_folder, written_path
from game.ui.buttons import Press
from game.ui.column import Column
from game.ui.layout import Rect
from game.ui.popups import Question, pane_of
from game.ui.scene import Popup, Scene
from game.ui.screen import Screen
from game.ui.widgets import Ui
from game.words.situation import about_deal, how_it_ended


class DealList(Protocol):
    """What the popups ask of the list under them."""

    def open(self, line: LineSummary) -> Scene | None:
        """Look back at a finished line, go on with an unfinished one."""

    def export(self, line: LineSummary) -> Scene | None:
        """Ask where to write a line."""

    def delete(self, deal: PastDeal) -> Scene | None:
        """Delete a deal with all its lines."""


class DealPopup(Popup):
    """The lines of play of one deal, and what can be done with it."""

    def __init__(self, parent: Scene, deal: PastDeal) -> None:
        super().__init__(parent)
        self.deal = deal

    @property
    def list(self) -> DealList:
        """The list under it."""
        assert isinstance(self.parent, Scene)
        return self.parent  # type: ignore[return-value]

    @property
    def lines(self) -> tuple[LineSummary, ...]:
        """The lines to choose from: those that the player took back before their end are left out."""
        return tuple(line for line in self.deal.lines if not line.set_aside)

    def ask_to_delete(self) -> Scene | None:
        """Deleting is asked once."""
        notes = "its line of play and notes" if len(self.deal.lines) == 1 else "all its lines of play and notes"
        text = f"It goes from the list with {notes}. You can bring it back until you leave the game."
        delete = Press("Delete it", lambda: self.list.delete(self.deal), "d", main=True)
        return Question(self.parent, f"Delete {about_deal(self.deal.latest)}?", text, [delete])

    def paint(self, ui: Ui) -> None:
        """Line after line, then the buttons."""

        def fill(column: Column) -> None:
            latest = self.deal.latest
            column.heading(words.sentence(about_deal(latest)))
            column.text(f"{latest.sheet_name} {latest.season}", BODY, SOFT)
            for number, line in enumerate(self.lines, 1):
                column.gap(14)
                if len(self.lines) > 1:
                    column.text(f"Line {number}", BODY_BOLD)
                column.text(how_it_ended(line))
                column.text(words.when(line.touched), SMALL, SOFT)
                column.gap(6)
                opens = "Look back" if line.finished else "Go on"
                which = f" at line {number}" if line.finished else f" with line {number}"
                column.buttons([Press(opens + (which if len(self.lines) > 1 else ""), _do(self.list.open, line),
                                      main=line is latest)])  # fmt: skip

        presses = [
            Press("Write to a file", lambda: self.list.export(self.deal.latest), "w"),
            Press("Delete this deal", self.ask_to_delete, "d"),
            Press("Back", self.back, "escape"),
        ]
        pane_of(ui, 660, "deal", fill, presses)


class FilePopup(Popup):
    """Asks for a file's name and does something with it; what goes wrong is said and the name stays."""

    def __init__(
        self,
        parent: Scene,
        title: str,
        says: str,
        does: Callable[[Path], str],
        text: str = "",
        offers: Sequence[Path] = (),
    ) -> None:
        """`text` is the name that stands there at first; `offers` are files to choose from by one press."""
        super().__init__(parent)
        self.title, self.says, self.does = title, says, does
        self.text = text or usual_folder()
        self.offers = tuple(offers)
        self.trouble = ""
        self.ui.to("file")

    def _write(self, text: str) -> Scene | None:
        self.text = text
        return None

    def go(self) -> Screen | None:
        """Do it; stay if it can't be done."""
        try:
            self.trouble = self.does(written_path(self.text))
        except (OSError, ValueError) as error:
            reason = getattr(error, "strerror", None) or str(error)
            self.trouble = words.sentence(f"{reason.rstrip('.')}.")
        return None if self.trouble else self.parent

    def take(self, path: Path) -> Screen | None:
        """One of the files offered."""
        self.text = str(path)
        return self.go()

    def handle(self, event: pygame.event.Event) -> Screen:
        """A file dropped on the window is the one that is meant."""
        if event.type == pygame.DROPFILE:
            self.dirty = True
            return self.take(Path(event.file)) or self
        return super().handle(event)

    def paint(self, ui: Ui) -> None:
        """A line for the name, a button, and files to choose from."""

        def field(rect: Rect) -> None:
            ui.field(rect, "file", self.text, self._write, enter=self.go, longest=400)

        def fill(column: Column) -> None:
            column.heading(self.title)
            column.gap(8)
            column.caption("The file’s name, with its folder:")
            column.block(TOUCH, field)
            column.gap(10)
            if self.trouble:
                column.notice(self.trouble)
                column.gap(10)
            offer_files(column, self.offers, self.take)

        presses = [Press(self.says, self.go, main=True), Press("Back", self.back, "escape")]
        pane_of(ui, 680, "file", fill, presses)


def offer_files(column: Column, offers: Sequence[Path], take: Callable[[Path], Screen | None]) -> None:
    """Files to choose from by one press; nothing where there are none."""
    if not offers:
        return
    column.gap(20)
    column.caption("Or one of these, the latest first:")
    for path in offers:
        with column.card(f"offer {path}", lambda path=path: take(path), says=f"take {path.name}", pad=4) as card:  # type: ignore[misc]
            card.text(path.name, BODY_BOLD)
            card.text(str(path.parent), SMALL, SOFT)
        column.gap(6)


def _do(open_line: Callable[[LineSummary], Scene | None], line: LineSummary) -> Callable[[], Scene | None]:
    return lambda: open_line(line)
