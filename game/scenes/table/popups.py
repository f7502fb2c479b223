"""Small popups over the table: reasons, discards, notes, ways to call, jokers, another seat, a slip explained.

A popup is given what it shows and what its buttons do. It knows nothing of the scene under it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from engine import words
from engine.advice.advise.defence import OtherSeat, Risk
from engine.rules.actions import Call, Exchange
from engine.rules.house import FULL, seat_name
from engine.rules.state import Exposure, State
from engine.sheet.model import Sheet
from engine.store.store import Store
from engine.store.values import Note, StoreError
from engine.tiles import Kind, name
from game.draw.theme import BODY, BODY_BOLD, SMALL, SMALL_BOLD, SOFT, TOUCH
from game.draw.tiles import Face, height_for
from game.play.sitting import Sitting
from game.scenes.hand import draw_groups
from game.scenes.table.seats import laid_tiles, lay
from game.ui.buttons import Press
from game.ui.column import Column
from game.ui.layout import Rect
from game.ui.popups import pane_of
from game.ui.scene import Popup, Scene
from game.ui.screen import Screen
from game.ui.widgets import Ui
from game.words.actions import say_seat
from game.words.odds import how_likely
from game.words.sheet import hold_words, shown_rows
from game.words.situation import place_words
from game.words.slips import Explained

TILE = 44
"""Units of width of a discard."""
MOST_HANDS = 5
MOST_RISKS = 5


class WhyPopup(Popup):
    """The reasons for one tile, with room to read."""

    def __init__(self, parent: Scene, reasons: Callable[[Column, Kind | None], object], tile: Kind | None) -> None:
        super().__init__(parent)
        self.reasons, self.tile = reasons, tile

    def paint(self, ui: Ui) -> None:
        """The reasons and a way back."""

        pane_of(ui, 620, "why", lambda page: self.reasons(page, self.tile), _back(self))


class DiscardsPopup(Popup):
    """Every tile that has gone, in order."""

    def __init__(self, parent: Scene, sitting: Sitting) -> None:
        super().__init__(parent)
        self.sitting = sitting

    def paint(self, ui: Ui) -> None:
        """All discards, large enough to tell apart."""
        pane_of(ui, 760, "discards", self._fill, _back(self))

    def _fill(self, page: Column) -> None:
        state = self.sitting.state
        gone = [discard for discard in state.discards if not discard.called]
        page.heading("Discards")
        page.gap(4)
        page.text(f"{words.sentence(words.count(len(gone), 'tile'))} let go, the latest last.", BODY, SOFT)
        page.gap(10)
        if state.house.table != FULL:
            page.tiles([Face(one.kind) for one in gone], TILE, gap=7)
        else:
            with page.grid(TILE + 6, gap=6, most=40) as cell:
                for one in gone:
                    place = cell()
                    place.tiles([Face(one.kind)], TILE)
                    place.text(seat_name(one.seat), SMALL, SOFT)


class NotePopup(Popup):
    """A few words on one moment of a deal."""

    def __init__(self, parent: Scene, store: Store, line: int, moment: int) -> None:
        super().__init__(parent)
        self.store, self.line, self.moment = store, line, moment
        self.text, self.trouble = "", ""
        self.changing: int | None = None
        """The note whose words are in the field, to be changed."""
        self.ui.to("note")

    def _write(self, text: str) -> Scene | None:
        self.text = text
        return None

    def keep(self) -> Screen | None:
        """Keep the note and go back. A note that is changed to nothing is taken away."""
        try:
            if self.changing is None:
                self.store.note(self.line, self.text, self.moment)
            elif self.text.strip():
                self.store.change_note(self.changing, self.text)
            else:
                self.store.remove_note(self.changing)
        except StoreError as error:
            self.trouble = words.sentence(f"{error}.")
            return None
        return self.parent

    def change(self, note: Note) -> Scene | None:
        """Take a note's words into the field."""
        self.text, self.changing = note.text, note.id
        self.ui.to("note")
        return None

    def paint(self, ui: Ui) -> None:
        """A line to write in, and the notes of the deal so far, the latest first."""
        pane_of(ui, 680, "notes", self._fill)

    def _fill(self, page: Column) -> None:
        notes = self.store.notes(self.line)
        page.heading("Notes on this deal")
        page.gap(8)
        page.block(TOUCH, partial(self._field, page.ui))
        page.gap(8)
        if self.trouble:
            page.notice(self.trouble)
            page.gap(8)
        page.buttons([Press("Keep the note", self.keep, main=True), Press("Back", self.back, "escape")])
        page.gap(16)
        for note in reversed(notes):
            here = ", about this moment" if note.moment == self.moment else ""
            wide = page.ui.button_size("Change")[0]
            with page.aside(wide, gap=16, right=True) as (said, button):
                said.text(f"{words.when(note.at)}{here}", SMALL, SOFT)
                said.text(note.text)
                button.block(TOUCH, partial(self._change, page.ui, note))
            page.gap(10)
        if not notes:
            page.text("No notes yet.", BODY, SOFT)

    def _change(self, ui: Ui, note: Note, rect: Rect) -> None:
        ui.button(rect, "Change", lambda: self.change(note), name=f"change note {note.id}")

    def _field(self, ui: Ui, rect: Rect) -> None:
        ui.field(rect, "note", self.text, self._write, hint="Write about this moment", enter=self.keep, longest=400)


class MorePopup(Popup):
    """Everything that can be done at the table besides the choice itself."""

    def __init__(self, parent: Scene, presses: Callable[[], Sequence[Press]]) -> None:
        super().__init__(parent)
        self._presses = presses

    def paint(self, ui: Ui) -> None:
        """Two buttons a line, or one where the window is narrow."""
        pane_of(ui, 720, "more", self._fill, [Press("Back to the table", self.back, "escape", main=True)])

    def _fill(self, page: Column) -> None:
        page.heading("At the table")
        page.gap(8)
        with page.grid(275, gap=8, most=2) as cell:
            for press in self._presses():
                cell().block(TOUCH, partial(self._button, page.ui, press))

    def _button(self, ui: Ui, press: Press, rect: Rect) -> None:
        ui.button(
            rect,
            press.says,
            lambda: press.do() or self.parent,
            key=press.key,
            main=press.main,
            enabled=press.enabled,
            show_key=True,
        )


class CallPopup(Popup):
    """Every way to call the discard, with what each is worth where advice is shown."""

    def __init__(
        self,
        parent: Scene,
        kind: Kind,
        ways: Sequence[tuple[str, Call]],
        choose: Callable[[Call], Scene | None],
        why: Callable[[Call], str],
    ) -> None:
        super().__init__(parent)
        self.kind, self.ways, self.choose, self.why = kind, tuple(ways), choose, why

    def paint(self, ui: Ui) -> None:
        """A button for each, and its reason under it."""

        def fill(page: Column) -> None:
            page.heading(f"Call the {name(self.kind)}")
            page.gap(10)
            for place, (says, action) in enumerate(self.ways, 1):
                _way(page, Press(says, partial(self.choose, action), str(place)), self.why(action))

        pane_of(ui, 620, "calls", fill, _back(self))


class ExchangePopup(Popup):
    """Every joker that can be had."""

    def __init__(
        self,
        parent: Scene,
        exposures: Sequence[Sequence[Exposure]],
        ways: Sequence[tuple[str, Exchange]],
        choose: Callable[[Exchange], Scene | None],
        why: Callable[[Exchange], str],
    ) -> None:
        super().__init__(parent)
        self.exposures, self.ways, self.choose, self.why = exposures, tuple(ways), choose, why

    def paint(self, ui: Ui) -> None:
        """A button for each, and what it gains where advice is shown."""

        def fill(page: Column) -> None:
            page.heading("Exchange a joker")
            page.text("Your tile goes into the exposure, and the joker comes to your rack.", BODY, SOFT)
            page.gap(10)
            for place, (says, action) in enumerate(self.ways, 1):
                laid_row(page, [self.exposures[action.seat][action.exposure]], 40)
                page.gap(6)
                _way(page, Press(says, partial(self.choose, action), str(place)), self.why(action))

        pane_of(ui, 620, "exchanges", fill, _back(self))


def _way(page: Column, press: Press, because: str) -> None:
    """One way to do it, and what it is worth where that is known."""
    page.buttons([press])
    page.gap(4)
    if because:
        page.text(because, BODY, SOFT)
    page.space(12)


def _back(popup: Popup) -> list[Press]:
    """The way back alone."""
    return [Press("Back", popup.back, "escape", main=True)]


class SlipPopup(Popup):
    """Why something can't be done: one sentence each, with the line of the sheet that it breaks."""

    def __init__(
        self,
        parent: Scene,
        sheet: Sheet,
        title: str,
        slips: Sequence[Explained],
        anyway: tuple[str, Callable[[], Scene | None]] | None = None,
    ) -> None:
        super().__init__(parent)
        self.sheet, self.title, self.slips, self.anyway = sheet, title, tuple(slips), anyway

    def paint(self, ui: Ui) -> None:
        """The sentences, the lines of the sheet, and the way back."""

        def fill(page: Column) -> None:
            page.heading(self.title)
            page.gap(8)
            for slip in self.slips:
                slip_text(page, slip, self.sheet)
                page.gap(10)

        presses = _back(self)
        if self.anyway is not None:
            presses.append(Press(self.anyway[0], self.anyway[1], "g"))
        pane_of(ui, 680, "slip", fill, presses)


def slip_text(page: Column, slip: Explained, sheet: Sheet) -> None:
    """One sentence, and the line of the sheet under it."""
    page.text(slip.sentence)
    hand = slip.hand
    if hand is None:
        return
    if all(one.name != hand.name for one in sheet.hands):  # a hand of another sheet: its words must do
        page.text(f"{hand.name}: {hand.wording}", SMALL, SOFT)
        return
    page.gap(6)
    page.text(f"{hand.name}, {hold_words(hand)}, {hand.points} points", BODY_BOLD)
    page.gap(2)
    for place, row in enumerate(shown_rows(sheet, hand)):
        if place:
            page.text("or", SMALL, SOFT)
        page.add(lambda at, width, row=row: draw_groups(page.ui, row, Rect(at, (width, 0))))  # type: ignore[misc]
    page.gap(2)
    page.text(hand.wording, SMALL, SOFT)


class SeatPopup(Popup):
    """Another seat: what it shows, what it has let go, and, where advice may be shown, what that tells."""

    def __init__(
        self, parent: Scene, state: State, seat: int, player: int, tells: Callable[[], OtherSeat | None]
    ) -> None:
        super().__init__(parent)
        self.state, self.seat, self.player, self.tells = state, seat, player, tells

    def paint(self, ui: Ui) -> None:
        """Exposures, discards, hands and risks."""
        pane_of(ui, 680, "seat", self._fill, _back(self))

    def _fill(self, page: Column) -> None:
        state, seat, shown = self.state, self.seat, self.tells()
        page.heading(f"{say_seat(seat)}, {place_words(seat, self.player)}")
        said = f"{words.sentence(words.count(len(state.racks[seat]), 'tile'))} in the rack"
        page.text(said + ("; the hand is dead." if state.dead[seat] else "."), BODY, SOFT)
        page.gap(8)
        if state.exposures[seat]:
            laid_row(page, state.exposures[seat], 48)
        else:
            page.text("Nothing is exposed.")
        page.gap(10)
        if shown is not None:
            _tells(page, shown)
        gone = [one.kind for one in state.discards if one.seat == seat and not one.called]
        page.text(f"Let go: {words.count(len(gone), 'tile')}", SMALL_BOLD, SOFT)
        page.gap(2)
        page.tiles([Face(kind) for kind in gone], 34)


def laid_row(page: Column, exposures: Sequence[Exposure], most: float) -> None:
    """Exposures side by side across a column, their tiles at most so many units wide."""
    tile = min(page.ui.u(most), int(page.width / (laid_tiles(exposures) + 0.5)))
    page.put(height_for(tile), lambda rect: lay(page.ui, exposures, rect.topleft, tile))


def _tells(page: Column, shown: OtherSeat) -> None:
    page.text(shown.sentence)
    page.gap(6)
    for one in shown.hands[:MOST_HANDS]:
        ways = words.count(one.variants, "way")
        page.text(f"{one.hand.name}: {how_likely(one.share)}, {ways} left")
    if shown.risks:
        page.gap(8)
        page.text("Of your tiles, it could use most", SMALL_BOLD, SOFT)
        page.gap(2)
        for risk in shown.risks[:MOST_RISKS]:
            _risk(page, risk, len(shown.hands))
            page.gap(4)
    page.gap(8)


def _risk(page: Column, risk: Risk, hands: int) -> None:
    group = "may be called for a group" if risk.as_group > 0 else "may be called only to win"
    said = f"{words.sentence(words.in_words(risk.hands))} of {words.count(hands, 'hand')} can use it; {group}"
    tile = page.ui.u(26)
    with page.aside(tile, gap=10, down="middle") as (picture, text):
        picture.tile(Face(risk.kind), tile)
        text.text(said)
