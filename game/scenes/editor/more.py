"""Over the editor: playing with what is whole, everything else, the list of faults."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Protocol

from engine.sheet.writing.document import Place
from engine.words import counted
from game.draw.theme import BODY, BODY_BOLD, SOFT, TEAL
from game.play.desk import Desk
from game.play.writing.sheet_writing import SheetWriting
from game.scenes.deal_popups import FilePopup
from game.scenes.editor.notation import NotationHelp
from game.scenes.paths import last_folder, remember
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column
from game.ui.popups import Question, pane_of
from game.ui.scene import Popup, Scene
from game.ui.widgets import Ui
from game.words.writing import NO_NAME, fault_words

MOST_FAULTS = 60
"""Faults that are listed at a time."""


class Editor(Protocol):
    """What the popups ask of the editor under them."""

    routes: Routes
    desk: Desk
    writing: SheetWriting

    def go(self, place: Place) -> Scene | None:
        """Work on something."""

    def new_section(self) -> Scene | None:
        """A section after this one."""

    def shift(self, step: int) -> Scene | None:
        """Move it up or down."""

    def remove(self) -> Scene | None:
        """Take it out."""

    def take_good(self) -> Scene | None:
        """Back to the last copy without a fault."""

    def back(self) -> Scene | None:
        """Where the writer came from."""


class EditorPopup(Popup):
    """A popup over the editor."""

    def __init__(self, parent: Scene) -> None:
        super().__init__(parent)
        self.editor: Editor = parent  # type: ignore[assignment]

    def then(self, do: Callable[[], object]) -> Callable[[], Scene | None]:
        """Do something and go back to the editor."""

        def done() -> Scene | None:
            do()
            assert isinstance(self.parent, Scene)
            return self.parent

        return done


class PlayPopup(EditorPopup):
    """The hands that are whole become a sheet to play with."""

    def __init__(self, parent: Scene) -> None:
        super().__init__(parent)
        self.found = self.editor.writing.playable()

    @property
    def complete(self) -> bool:
        """Whether no hand is left out."""
        return self.found.whole == self.found.hands

    def choose(self, done: bool) -> bool:
        """Put the sheet among the sheets and choose it; True if that could be done."""
        sheet = self.found.reading.sheet
        if sheet is None:
            return False
        self.editor.desk.add_sheet(sheet)
        self.editor.desk.choose_sheet(sheet, None)
        self.editor.writing.say_done(done)
        return True

    def deal(self) -> Scene | None:
        """A deal with it."""
        if not self.choose(self.complete):
            return None
        self.editor.writing.leave()
        return self.editor.routes.new_deal()

    def home(self) -> Scene | None:
        """The home screen, where it is the sheet of the next deal."""
        if not self.choose(self.complete):
            return None
        self.editor.writing.leave()
        return self.editor.routes.home()

    def paint(self, ui: Ui) -> None:
        """What is whole, what is left out, and what to do with it."""
        sheet, name = self.found.reading.sheet, self.editor.writing.name or "this sheet"

        def fill(column: Column) -> None:
            column.heading(f"Play with {name}" if sheet is not None else f"{name} can’t be played yet")
            column.gap(8)
            if sheet is None:
                for fault in self.found.reading.faults[:6]:
                    column.text(f"{fault.said[:1].upper()}{fault.said[1:].rstrip('.')}.")
                    column.gap(6)
                return
            left_out = self.found.hands - self.found.whole
            column.text(
                f"{counted(self.found.whole, 'hand')} of it can be played. It becomes the sheet of your next deal, in "
                "place of an earlier state of it."
            )
            if left_out:
                column.gap(6)
                are = "is" if left_out == 1 else "are"
                column.text(
                    f"{counted(left_out, 'hand')} not whole yet {are} left out. Go on writing whenever you like."
                )

        foot = [
            Press("Deal now", self.deal, "d", main=True),
            Press("To the home screen", self.home, "h"),
            Press("Go on writing", self.back, "escape"),
        ]
        pane_of(ui, 720, "play", fill, foot if sheet is not None else [Press("Back", self.back, "escape", main=True)])


class EditorMore(EditorPopup):
    """What is seldom needed: moving, taking out, files, faults."""

    def paint(self, ui: Ui) -> None:
        """Groups of buttons."""
        editor, writing = self.editor, self.editor.writing
        place = writing.place
        what = "hand" if place.hand >= 0 else "section"

        def fill(column: Column) -> None:
            column.heading("Everything else")
            column.gap(10)
            if place.section >= 0:
                column.caption(f"This {what}")
                column.buttons([
                    Press("Move it up", partial(editor.shift, -1), "u", enabled=writing.can_shift(-1)),
                    Press("Move it down", partial(editor.shift, 1), "j", enabled=writing.can_shift(1)),
                    Press(f"Take this {what} out", self.remove, "t"),
                ])  # fmt: skip
                column.gap(14)
            column.caption("The sheet")
            faults = len(writing.all_faults())
            column.buttons([
                Press("How a hand is written", lambda: NotationHelp(self.parent), "h"),
                Press("New section", editor.new_section, "n"),
                Press(f"All {counted(faults, 'fault')}" if faults else "No fault", lambda: FaultList(self.parent_scene),
                      "f", enabled=faults > 0),
                Press("Write it to a file", self.file, "w"),
                Press("Take the last copy without a fault", self.then(editor.take_good), "c",
                      enabled=bool(writing.good)),
                Press("Delete this sheet", self.ask_to_remove, "x"),
            ])  # fmt: skip
            if writing.about.file:
                column.gap(10)
                column.text(f"It was read from, or written to, {writing.about.file}.", BODY, SOFT)

        pane_of(ui, 720, "more", fill, [Press("Back", self.back, "escape", main=True)])

    @property
    def parent_scene(self) -> Scene:
        """The editor as a scene."""
        assert isinstance(self.parent, Scene)
        return self.parent

    def remove(self) -> Scene | None:
        """A hand goes at once, since it can be undone; a section with hands is asked about."""
        place = self.editor.writing.place
        hands = len(self.editor.writing.document.sections[place.section].hands)
        if place.hand >= 0 or not hands:
            return self.editor.remove()
        text = f"Its {counted(hands, 'hand')} go with it. Undo brings all of it back."
        return Question(
            self.parent, "Take this section out?", text, [Press("Take it out", self.editor.remove, "t", main=True)]
        )

    def ask_to_remove(self) -> Scene | None:
        """The draft goes for good, so it is asked."""
        text = "What you wrote is deleted. A sheet that you already play with stays among the sheets."
        press = Press("Delete it", self.delete, "d", main=True)
        return Question(self.parent, f"Delete {self.editor.writing.name or 'this sheet'}?", text, [press])

    def delete(self) -> Scene | None:
        """The draft is deleted."""
        following = self.editor.back()
        self.editor.writing.drafts.remove(self.editor.writing.draft)
        return following

    def file(self) -> Scene | None:
        """Ask for the file's name."""
        writing, store = self.editor.writing, self.editor.desk.store
        stem = "".join(char if char.isalnum() else "-" for char in writing.name.lower()).strip("-") or "sheet"
        known = writing.about.file or f"{last_folder(store)}{stem}.yaml"
        asked: set[Path] = set()

        def write(path: Path) -> str:
            path = path if path.suffix else path.with_suffix(".yaml")
            if path not in asked and writing.changed_elsewhere(path):
                asked.add(path)
                return "There is another text in that file. Press again to write over it, or choose another name."
            writing.write_to(path)
            remember(store, path)
            return ""

        return FilePopup(self.parent_scene, "Write the sheet to a file", "Write it", write, known)


class FaultList(EditorPopup):
    """Every fault of the sheet, each leading to its hand."""

    def paint(self, ui: Ui) -> None:
        """Hand by hand."""
        writing = self.editor.writing
        faults = writing.all_faults()[:MOST_FAULTS]

        def fill(column: Column) -> None:
            column.heading("What is not right yet")
            column.gap(10)
            if not faults:
                column.text("No hand has a fault.")
                column.gap(10)
            for number, one in enumerate(faults):
                form = writing.looks.form(writing.document.piece(one.place))
                go = partial(self.editor.go, one.place)
                with column.card(f"fault {number + 1}", go, says=f"go to {one.name or NO_NAME}") as card:
                    card.text(one.name or NO_NAME, BODY_BOLD, TEAL)
                    card.text(fault_words(one.fault, form), BODY)
                column.gap(8)

        pane_of(ui, 720, "faults", fill, [Press("Back", self.back, "escape", main=True)])
