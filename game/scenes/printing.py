"""Putting a sheet or a lesson on paper: what to print, how, and into which file. It is made in the background."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from functools import partial
from pathlib import Path

from engine import words
from engine.drills.lesson.model import Lesson
from engine.sheet.model import Sheet
from engine.store.files import write_safely
from game.draw.theme import TOUCH
from game.paper.printing import PAPERS, PrintParts, make_pdf
from game.play.practice.ledgers import Ledgers
from game.play.worker import Job
from game.scenes.paths import last_folder, remember, written_path
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column
from game.ui.layout import Rect
from game.ui.popups import pane_of
from game.ui.scene import Popup, Scene
from game.ui.screen import Screen
from game.ui.widgets import Ui

PAPER_NAMES = {"a4": "A4", "letter": "Letter"}
RACKS = 12
"""Racks to practise on."""


class PrintPopup(Popup):
    """Asks what of a sheet is wanted on paper, and writes it."""

    def __init__(self, parent: Scene, routes: Routes, sheet: Sheet, lesson: Lesson | None = None) -> None:
        """`lesson` is printed alone at first; the sheet it is for can be added."""
        super().__init__(parent)
        self.desk = routes.desk
        self.parts = PrintParts(sheet, hands=lesson is None, lesson=lesson)
        self.lesson = lesson
        others = [one for one in routes.desk.sheets() if one.fingerprint != sheet.fingerprint]
        self.other = next((one for one in others if one.name == sheet.name), others[0] if others else None)
        """The sheet to compare with: an older one of that name, if there is one."""
        name = f"{sheet.name} {sheet.season}" if lesson is None else lesson.name
        self.text = last_folder(routes.desk.store) + pdf_name(name)
        self.said = ""
        self.busy = False

    def set(self, **changes: object) -> Screen | None:
        """Wants other parts."""
        self.parts = replace(self.parts, **changes)  # type: ignore[arg-type]
        self.said = ""
        return None

    def go(self) -> Screen | None:
        """Make the file; what goes wrong is said, and the name stays."""
        if self.busy:
            return None
        try:
            path = written_path(self.text)
        except ValueError as error:
            return self._say(f"{words.sentence(str(error))}.")
        if not path.suffix:
            path = path.with_suffix(".pdf")
        if self._empty:
            return self._say("Tick what you want on paper.")
        parts = self.parts
        if parts.ledger:
            parts = replace(parts, kept=Ledgers(self.desk.store, parts.sheet).ledger(date.today()))
        self._say("It is being made…")
        worker = self.desk.worker
        if worker is None:
            self._made(path, make_pdf(parts))
        else:
            self.busy = True
            worker.submit(lambda job: _make(parts, job), partial(self._made, path))
        return None

    @property
    def _empty(self) -> bool:
        parts = self.parts
        return not (parts.hands or parts.study or parts.old or parts.practice or parts.ledger or parts.lesson)

    def _made(self, path: Path, content: bytes) -> None:
        self.busy = False
        try:
            write_safely(path, content)
            remember(self.desk.store, path)
        except (OSError, ValueError) as error:
            reason = getattr(error, "strerror", None) or str(error)
            self._say(f"{words.sentence(reason.rstrip('.'))}. Choose another folder or name.")
        else:
            self._say(f"Written to {path}. Open it to print it.")

    def _say(self, said: str) -> Screen | None:
        self.said = said
        self.dirty = True
        return None

    def _write(self, text: str) -> Screen | None:
        self.text = text
        return None

    def paint(self, ui: Ui) -> None:
        """What to print, on which paper, the file's name."""
        foot = [Press("Make the PDF", self.go, main=True, enabled=not self.busy), Press("Back", self.back, "escape")]
        pane_of(ui, 720, "paper", self._fill, foot)

    def _fill(self, column: Column) -> None:
        parts, sheet = self.parts, self.parts.sheet
        column.heading(f"{sheet.name if self.lesson is None else self.lesson.name} on paper")
        column.gap(6)
        if self.said:  # at the top, where it is seen in a low window too
            column.notice(self.said)
            column.gap(10)
        if self.lesson is not None:
            column.add(
                lambda at, width: column.ui.check(at, width, "The lesson", parts.lesson is not None, self._teach)
            )
        self._tick(column, "The hands of the sheet", parts.hands, "hands")
        if parts.hands:
            self._tick(column, "In large tiles", parts.large, "large")
        self._tick(column, "What the sheet leans on", parts.study, "study")
        if self.other is not None:
            name = f"What changed since {self.other.name} {self.other.season}"
            column.add(lambda at, width: column.ui.check(at, width, name, parts.old is not None, self._compare))
        racks = f"{RACKS} racks to practise on, answers behind"
        column.add(lambda at, width: column.ui.check(at, width, racks, parts.practice > 0, self._practise))
        self._tick(column, "The season’s ledger, to tick by hand", parts.ledger, "ledger")
        column.gap(8)
        column.caption("Paper")
        sizes = [(one, PAPER_NAMES[one]) for one in PAPERS]
        column.add(
            lambda at, width: column.ui.choice(at, width, "paper", sizes, parts.paper, lambda one: self.set(paper=one))
        )
        column.gap(8)
        column.caption("The file’s name, with its folder:")
        column.block(TOUCH, self._field)

    def _field(self, rect: Rect) -> None:
        self.ui.field(rect, "file", self.text, self._write, enter=self.go, longest=400)

    def _tick(self, column: Column, says: str, value: bool, part: str) -> None:
        column.add(lambda at, width: column.ui.check(at, width, says, value, lambda on: self.set(**{part: on})))

    def _compare(self, on: bool) -> Screen | None:
        return self.set(old=self.other if on else None)

    def _practise(self, on: bool) -> Screen | None:
        return self.set(practice=RACKS if on else 0)

    def _teach(self, on: bool) -> Screen | None:
        return self.set(lesson=self.lesson if on else None)


def pdf_name(name: str) -> str:
    """A file's name for what is printed: `lantern-street-2026.pdf`."""
    plain = re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")
    return f"{plain or 'sheet'}.pdf"


def _make(parts: PrintParts, job: Job[bytes]) -> bytes:
    return make_pdf(parts, lambda _: job.breathe())
