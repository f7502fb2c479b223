"""The editor: the list of hands at the side, the form of one hand, and keys to press in place of typing."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

import pygame

from engine.sheet.reader import Fault
from engine.sheet.writing.document import Place
from engine.sheet.writing.hand_text import GROUPS, NAME, POINTS, WHERE
from engine.sheet.writing.look import HandLook, look_at
from engine.words import counted
from game.play.worker import Job
from game.play.writing.sheet_writing import SheetWriting
from game.scenes.editor.form import hand_form, head_form, lines_form
from game.scenes.editor.more import EditorMore, FaultList, PlayPopup
from game.scenes.editor.pads import clause_pad, group_pad, letter_pad, number_pad, suggestion_keys
from game.scenes.editor.pieces import LIST, piece_list, piece_name
from game.scenes.editor.presses import FAR, EditorPresses
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.layout import Rect, Space
from game.ui.popups import pane_of
from game.ui.scene import Popup, Scene
from game.ui.screen import Screen
from game.ui.widgets import Ui
from game.words.writing import counts_words

SIDE = 250
ROOM_FOR_SIDE = 1240
"""Units of width from which the list stands beside the form; below, a button opens it."""
TWO_COLUMNS = 820


class EditorScene(EditorPresses):
    """One sheet being written. What is typed is kept; leaving asks nothing."""

    def __init__(
        self, routes: Routes, writing: SheetWriting, back: Scene, faults: Sequence[Fault] = (), fresh: bool = False
    ) -> None:
        """`fresh`: the draft was made just now, and goes again if nothing is done with it."""
        super().__init__(routes.look, writing)
        self.routes, self.desk = routes, routes.desk
        self.notice = self._opened(faults)
        self._back, self._fresh = back, fresh
        self._trouble = ""
        self.as_lines = False
        """Whether lines are shown in place of a form: until they are read again, even if a form would fit by now."""
        self.writing.begin_work()
        self._go(writing.place)

    def _opened(self, faults: Sequence[Fault]) -> str:
        if faults:
            count = counted(len(faults), "fault")
            return f"This file has {count}; you are at the first one. Nothing of it was changed."
        if self.writing.rewritten:
            return "This file was written in brackets. It is written line by line now; its remarks stand at the top."
        return ""

    # Coming and going.

    def enter(self) -> None:
        """Hands that were not looked at yet are looked at in the background."""
        self._read()

    def back(self) -> Scene | None:
        """Where the writer came from; all of it is on the disk."""
        self.writing.leave(self._fresh)
        return self._back

    def closing(self) -> None:
        """The window is closed: what was typed last is kept, and the next start goes on here."""
        self.writing.keeping.flush()

    def update(self, seconds: float) -> None:
        """Say what hinders keeping, and stop saying it."""
        super().update(seconds)
        if self.writing.keeping.trouble != self._trouble:
            self._trouble = self.writing.keeping.trouble
            self.dirty = True

    def handle(self, event: pygame.event.Event) -> Screen:
        """One event; whatever it changed is looked at in the background."""
        before = self.writing.document
        following = super().handle(event)
        if self.writing.document is not before:
            self._read()
        if self.ui.focus in self.ui.fields.shown:
            self.field = self.ui.focus or ""
        return following

    def _read(self) -> None:
        """Hand the unread hands to the worker, the one that is worked on first."""
        texts, season = self.writing.unread(), self.writing.season
        if self.desk.worker is None or not texts:
            return

        def work(job: Job[tuple[str, HandLook] | None]) -> tuple[str, HandLook] | None:
            for text in texts:
                if job.stopped:
                    return None
                job.breathe()
                job.tell((text, look_at(text, season)))
            return None

        def done(found: tuple[str, HandLook] | None) -> None:
            if found is not None:
                self.writing.learn(found[0], season, found[1])
                self.dirty = True

        self.desk.worker.submit(work, done)

    # Where one works.

    def go(self, place: Place) -> Scene | None:
        """Work on another hand, a section, or the head of the sheet."""
        self.writing.go(place)
        self._go(place)
        return self

    def _go(self, place: Place) -> None:
        """The first field of a place that is still empty gets the caret."""
        self.chosen = None
        self.as_lines = self.writing.form is None and self.writing.keyed is None
        self.field = self._first_field(place)
        for name in (*self.ui.fields.shown, self.field):
            self.ui.fields.put_caret(name, FAR)
        self.ui.to(self.field)
        self.to_be_seen = self.dirty = True

    def _first_field(self, place: Place) -> str:
        form = self.writing.form
        if self.as_lines or (place.hand >= 0 and form is None):
            return "line 0"
        if place.hand < 0 or form is None:
            return "section" if place.section >= 0 else "sheet"
        if not form.name.strip():
            return NAME
        for fault in self.writing.faults(place):
            if fault.field and not (fault.field == POINTS and not form.lines[0].strip()):
                return f"{GROUPS} {fault.line}" if fault.field == GROUPS else fault.field
        return POINTS if form.lines[0].strip() and not form.points.strip() else f"{GROUPS} 0"

    def entered(self, field: str) -> Scene | None:
        """Enter goes on to the next field, and from the last one to a new hand."""
        form = self.writing.form
        if form is None:
            if field in ("sheet", "season", "maker"):
                after = {"sheet": "season", "season": "maker"}.get(field)
                return self.to_field(after) if after else self.next_piece(1)
            return self.new_hand() if field == "section" else None
        order = [NAME, *(f"{GROUPS} {number}" for number in range(len(form.lines))), WHERE, POINTS]
        at = order.index(field) if field in order else 0
        return self.to_field(order[at + 1]) if at + 1 < len(order) else self.new_hand()

    # Hands.

    def new_hand(self) -> Scene | None:
        """An empty hand after this one."""
        self.writing.new_hand()
        return self._moved()

    def copy_hand(self) -> Scene | None:
        """A copy of this hand, to be named and changed."""
        self.writing.copy_hand()
        return self._moved()

    def new_section(self) -> Scene | None:
        """A section after this one."""
        self.writing.new_section()
        return self._moved()

    def shift(self, step: int) -> Scene | None:
        """The hand or section goes up or down."""
        if self.writing.can_shift(step):
            self.writing.shift(step)
        return self._moved()

    def next_piece(self, step: int) -> Scene | None:
        """To the next hand, or the one before."""
        self.writing.go_next(step)
        return self._moved()

    def undo(self) -> Scene | None:
        """As it was before the last step."""
        self.writing.undo()
        return self._moved()

    def redo(self) -> Scene | None:
        """The step that was undone, again."""
        self.writing.redo()
        return self._moved()

    def _moved(self) -> Scene | None:
        return self.go(self.writing.place)

    def remove(self) -> Scene | None:
        """The hand or section goes; undo brings it back."""
        if self.writing.place.section >= 0:
            self.writing.remove()
        return self._moved()

    def afresh(self) -> Scene | None:
        """An empty form in place of lines that can't be read."""
        self.writing.afresh()
        return self._moved()

    def cut_again(self) -> Scene | None:
        """Look at the whole text anew."""
        self.writing.cut_again()
        return self._moved()

    def take_good(self) -> Scene | None:
        """Back to the last copy without a fault."""
        self.writing.take_good()
        self.notice = "This is the last copy without a fault. Undo brings the other one back."
        return self._moved()

    def heard(self) -> Scene | None:
        """The notice was read."""
        self.notice = ""
        return None

    # What becomes of it.

    def use(self) -> Scene | None:
        """Play with the hands that are whole."""
        return PlayPopup(self)

    def more(self) -> Scene | None:
        """Everything else."""
        return EditorMore(self)

    def faults(self) -> Scene | None:
        """All faults in a list."""
        return FaultList(self)

    def key(self, name: str) -> Scene | None:
        """Keys that mean the same whatever has the focus."""
        does: dict[str, Callable[[], Scene | None]] = {
            "ctrl+up": partial(self.next_piece, -1), "ctrl+down": partial(self.next_piece, 1),
            "alt+up": partial(self.shift, -1), "alt+down": partial(self.shift, 1),
            "ctrl+d": self.copy_hand, "ctrl+e": self.new_section, "ctrl+delete": self.remove,
            "ctrl+h": self.turn_hold, "ctrl+o": self.add_line,
        }  # fmt: skip
        return does[name]() if name in does else None

    def keys(self) -> Sequence[tuple[tuple[str, ...], str]]:
        """The keys of the buttons, and those that have none here."""
        return [
            *(one for one in Scene.keys(self) if not one[1].startswith("next: ")),
            (("ctrl+1", "ctrl+9"), "take the first, or the ninth, of what may come next"),
            (("ctrl+up", "ctrl+down"), "go to the hand before, or the next one"),
            (("alt+up", "alt+down"), "move this hand up or down"),
            (("ctrl+d",), "a copy of this hand"),
            (("ctrl+e",), "a new section"),
            (("ctrl+h",), "concealed, or open again"),
            (("ctrl+o",), "one more line of groups, for a hand that can be made with others"),
            (("ctrl+delete",), "take this hand out"),
        ]

    # Painting.

    def paint(self, ui: Ui) -> None:
        """List, form and keys, side by side as far as there is room."""
        whole, hands = self.writing.counts
        play = Press("Play with it", self.use, "ctrl+s", main=whole > 0, enabled=whole > 0)
        note = f"{counts_words(whole, hands)} · kept as you type"
        rest = Space(ui.header(self.writing.name or "A sheet", note, self.back, action=play))
        wide = ui.page().width >= ui.u(ROOM_FOR_SIDE)
        if wide:
            side = Space(rest.left(ui.u(SIDE), ui.u(20)))
            presses = [Press("New hand", self.new_hand, "ctrl+n"), Press("New section", self.new_section)]
            high = ui.measure(lambda: ui.buttons((0, 0), side.rect.width, presses))
            ui.buttons(side.bottom(high, ui.u(10)).topleft, side.rect.width, presses)
            ui.scroll(LIST, side.rect, lambda area: piece_list(ui, area, self.writing, self.go))
        scrolled(ui, "form", rest.rect, partial(self._fill, wide=wide))
        if self.to_be_seen:
            self.to_be_seen, self.dirty = False, True
            for name in (self.field, piece_name(self.writing.place)):
                ui.reveal(name)

    def _fill(self, page: Column, wide: bool) -> None:
        history = self.writing.history
        presses = [] if wide else [Press("Hands", partial(PieceList, self), "ctrl+l")]
        presses += [
            Press("Undo", self.undo, "ctrl+z", enabled=history.can_undo),
            Press("Redo", self.redo, "ctrl+y", enabled=history.can_redo),
        ]
        presses += [] if wide else [Press("New hand", self.new_hand, "ctrl+n")]
        if self.writing.place.hand >= 0:
            presses.append(Press("Copy this hand" if wide else "Copy", self.copy_hand))
        if wide and self.writing.place.section >= 0:
            presses += [
                Press("Up", partial(self.shift, -1), enabled=self.writing.can_shift(-1)),
                Press("Down", partial(self.shift, 1), enabled=self.writing.can_shift(1)),
            ]
        presses.append(Press("Everything else" if wide else "More", self.more, "ctrl+m"))
        page.buttons(presses, show_keys=wide)
        page.gap(12)
        for said in filter(None, (self.notice, self._trouble)):
            page.notice(said)
            page.gap(8)
        if self.notice:
            back = [Press("Take the last copy without a fault", self.take_good)] if self.writing.good else []
            page.buttons([Press("I have read this", self.heard), *back])
            page.gap(12)
        self.stacked = not page.has(TWO_COLUMNS)
        with page.beside([1.2, 1], least=TWO_COLUMNS, gap=16) as (left, right):
            with left.panel(pad=16) as inside:
                self._form(inside)
            if self._has_pad:
                with right.panel(pad=16) as inside:
                    self._pad(inside)

    def _form(self, inside: Column) -> None:
        if not self._has_pad:
            lines_form(inside, self)
        elif self.writing.form is not None:
            hand_form(inside, self)
        else:
            head_form(inside, self)

    @property
    def _has_pad(self) -> bool:
        return not self.as_lines and (self.writing.form is not None or self.writing.keyed is not None)

    def _pad(self, inside: Column) -> None:
        form = self.writing.form
        if self.field in (POINTS, "season"):
            number_pad(inside, self)
        elif form is None or self.field == NAME:
            capital = not self.text_of(self.field).strip()
            letter_pad(inside, self, capital, None if self.field == "maker" else self.free_name)
        elif self.field == WHERE:
            self._next_words(inside)
            clause_pad(inside, self, self.letters(form.lines).all)
        else:
            self._next_words(inside)
            group_pad(inside, self, self.letters(form.lines))

    def _next_words(self, inside: Column) -> None:
        """What may come next; where form and pad stand under one another, the form shows it by the field."""
        if not self.stacked:
            suggestion_keys(inside, self, self.words())
            inside.gap(10)


class PieceList(Popup):
    """The hands to go to, where there is no room for them beside the form."""

    def __init__(self, parent: EditorScene) -> None:
        super().__init__(parent)
        self._editor = parent

    def paint(self, ui: Ui) -> None:
        """The list in a panel."""

        editor = self._editor

        def fill(column: Column) -> None:
            column.add(lambda at, width: piece_list(ui, Rect(*at, width, 0), editor.writing, editor.go))

        foot = [Press("New section", editor.new_section), Press("Back", self.back, "escape", main=True)]
        pane_of(ui, 460, "list", fill, foot)
