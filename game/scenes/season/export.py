"""Writes everything that is kept as files for a spreadsheet, into a folder that the player names."""

from __future__ import annotations

import os
from collections.abc import Sequence
from datetime import date

from engine.words import count, listed, sentence
from game.draw.theme import SMALL, SOFT, TOUCH
from game.play.desk import Desk
from game.play.practice.tables import CsvTable, FilesThereError, all_tables, write_tables
from game.scenes.paths import usual_folder, written_path
from game.ui.buttons import Press
from game.ui.column import Column
from game.ui.layout import Rect
from game.ui.popups import pane_of
from game.ui.scene import Popup, Scene
from game.ui.widgets import Ui

FOLDER = "lone-east-figures"
"""The folder that is offered."""


class ExportPopup(Popup):
    """Asks for a folder; says what was written, or why it can't be."""

    def __init__(self, parent: Scene, desk: Desk) -> None:
        super().__init__(parent)
        self.desk = desk
        self.text = os.path.join(usual_folder(), FOLDER)  # noqa: PTH118 - as the player would write it
        self.said = ""
        self.there: tuple[str, ...] = ()
        """Files of these names are there already, and the player was told."""
        self.ui.to("folder")

    def _write_name(self, text: str) -> Scene | None:
        self.text, self.said, self.there = text, "", ()
        return None

    def go(self) -> Scene | None:
        """Write the files, or say what is in the way."""
        return self._go(replace=False)

    def replace(self) -> Scene | None:
        """Write over the files that are there."""
        return self._go(replace=True)

    def _go(self, replace: bool) -> Scene | None:
        self.there = ()
        try:
            folder = written_path(self.text)
            tables = all_tables(self.desk.store, self.desk.sheets(), date.today())
            write_tables(tables, folder, replace)
            self.said = _written(tables, str(folder))
        except FilesThereError as error:
            self.there = error.names
            self.said = f"There are files of these names already: {listed(error.names)}. Nothing was written."
        except (OSError, ValueError) as error:
            why = (getattr(error, "strerror", None) or str(error)).rstrip(".")
            self.said = f"{sentence(why)}. Choose another folder."
        return None

    def paint(self, ui: Ui) -> None:
        """What will be written, the folder's name, and what came of it."""
        over = [Press("Write over them", self.replace)] if self.there else []
        presses = [Press("Write", self.go, "return", main=True), *over, Press("Back", self.back, "escape")]
        pane_of(ui, 700, "export", self._fill, presses)

    def _fill(self, page: Column) -> None:
        page.heading("Write everything to files")
        page.gap(6)
        page.text(
            "Games, choices, passes, drills, ledger and cards: one CSV file each, which any spreadsheet opens, and a "
            "text that says what every column holds. Nothing leaves this machine."
        )
        page.gap(12)
        page.caption("Into this folder")
        page.block(TOUCH, lambda rect: self._field(page.ui, rect))
        if self.said:
            page.gap(10)
            page.notice(self.said)
        page.gap(8)
        page.text("A file that is there is never written over unasked.", SMALL, SOFT)

    def _field(self, ui: Ui, rect: Rect) -> None:
        ui.field(rect, "folder", self.text, self._write_name, hint="a folder", enter=self.go)


def _written(tables: Sequence[CsvTable], folder: str) -> str:
    rows = sum(len(table.rows) for table in tables)
    return f"{sentence(count(len(tables), 'file'))} with {rows:,} rows are in {folder}."
