"""Small popups over the table: reasons, discards, notes, ways to call, jokers, another seat, a slip explained.

A popup is given what it shows and what its buttons do. It knows nothing of the scene under it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from engine import words
from engine.advice.advise.defence import OtherSeat, Risk
from engine.rules.actions import Call, Exchange
from engine.rules.house import QUIET, seat_name
from engine.rules.state import Exposure, State
from engine.sheet.model import Sheet
from engine.store.store import Store
from engine.store.values import StoreError
from engine.tiles import Kind, name
from game.draw.theme import BODY, BODY_BOLD, HEADING, SMALL, SMALL_BOLD, SOFT, TOUCH
from game.draw.tiles import Face, height_for
from game.play.sitting import Sitting
from game.scenes.hand import draw_groups
from game.scenes.table.seats import laid_tiles, lay
from game.ui.buttons import Press
from game.ui.layout import Rect, columns, flow
from game.ui.popups import pane
from game.ui.scene import Popup, Scene
from game.ui.screen import Screen
from game.ui.widgets import Ui
from game.words.actions import say_seat
from game.words.sheet import hold_words, shown_rows
from game.words.situation import place_words
from game.words.slips import Slip

MOST_HANDS = 5
MOST_RISKS = 5


class WhyPopup(Popup):
    """The reasons for one tile, with room to read."""

    def __init__(self, parent: Scene, reasons: Callable[[Ui, Rect, Kind | None], int], tile: Kind | None) -> None:
        super().__init__(parent)
        self.reasons, self.tile = reasons, tile

    def paint(self, ui: Ui) -> None:
        """The reasons and a way back."""

        def content(area: Rect) -> int:
            y = self.reasons(ui, area, self.tile) + ui.u(16)
            return _back(ui, area, y, self)

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
            return _back(ui, area, y + ui.u(16), self)

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

        def content(area: Rect) -> int:
            y = ui.paragraph(f"Call the {name(self.kind)}", area.topleft, area.width, HEADING) + ui.u(10)
            for place, (says, action) in enumerate(self.ways):
                press = Press(says, lambda action=action: self.choose(action), str(place + 1))  # type: ignore[misc]
                y = ui.buttons((area.left, y), area.width, [press]) + ui.u(4)
                because = self.why(action)
                y = ui.paragraph(because, (area.left, y), area.width, BODY, SOFT) if because else y
                y += ui.u(10)
            return _back(ui, area, y, self)

        pane(ui, 620, "calls", content)


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

        def content(area: Rect) -> int:
            y = ui.paragraph("Exchange a joker", area.topleft, area.width, HEADING)
            text = "Your tile goes into the exposure, and the joker comes to your rack."
            y = ui.paragraph(text, (area.left, y), area.width, BODY, SOFT) + ui.u(10)
            for place, (says, action) in enumerate(self.ways):
                laid = [self.exposures[action.seat][action.exposure]]
                tile = min(ui.u(40), int(area.width / (laid_tiles(laid) + 1)))
                lay(ui, laid, (area.left, y), tile)
                y += height_for(tile) + ui.u(6)
                press = Press(says, lambda action=action: self.choose(action), str(place + 1))  # type: ignore[misc]
                y = ui.buttons((area.left, y), area.width, [press]) + ui.u(4)
                because = self.why(action)
                y = ui.paragraph(because, (area.left, y), area.width, BODY, SOFT) if because else y
                y += ui.u(12)
            return _back(ui, area, y, self)

        pane(ui, 620, "exchanges", content)


def _back(ui: Ui, area: Rect, y: int, popup: Popup) -> int:
    """The way back alone; gives the y under it."""
    return ui.buttons((area.left, y), area.width, [Press("Back", popup.back, "escape", main=True)])


class SlipPopup(Popup):
    """Why something can't be done: one sentence each, with the line of the sheet that it breaks."""

    def __init__(
        self,
        parent: Scene,
        sheet: Sheet,
        title: str,
        slips: Sequence[Slip],
        anyway: tuple[str, Callable[[], Scene | None]] | None = None,
    ) -> None:
        super().__init__(parent)
        self.sheet, self.title, self.slips, self.anyway = sheet, title, tuple(slips), anyway

    def paint(self, ui: Ui) -> None:
        """The sentences, the lines of the sheet, and the way back."""

        def content(area: Rect) -> int:
            y = ui.paragraph(self.title, area.topleft, area.width, HEADING) + ui.u(8)
            for slip in self.slips:
                y = slip_text(ui, area, y, slip, self.sheet) + ui.u(10)
            presses = [Press("Back", self.back, "escape", main=True)]
            if self.anyway is not None:
                presses.append(Press(self.anyway[0], self.anyway[1], "g"))
            return ui.buttons((area.left, y + ui.u(4)), area.width, presses)

        pane(ui, 680, "slip", content)


def slip_text(ui: Ui, area: Rect, y: int, slip: Slip, sheet: Sheet) -> int:
    """One sentence, and the line of the sheet under it."""
    y = ui.paragraph(slip.sentence, (area.left, y), area.width, BODY)
    hand = slip.hand
    if hand is None:
        return y
    if all(one.name != hand.name for one in sheet.hands):  # a hand of another sheet: its words must do
        return ui.paragraph(f"{hand.name}: {hand.wording}", (area.left, y), area.width, SMALL, SOFT)
    title = f"{hand.name}, {hold_words(hand)}, {hand.points} points"
    y = ui.paragraph(title, (area.left, y + ui.u(6)), area.width, BODY_BOLD) + ui.u(2)
    for place, row in enumerate(shown_rows(sheet, hand)):
        y = ui.paragraph("or", (area.left, y), area.width, SMALL, SOFT) if place else y
        y = draw_groups(ui, row, Rect(area.left, y, area.width, 0))
    return ui.paragraph(hand.wording, (area.left, y + ui.u(2)), area.width, SMALL, SOFT)


class SeatPopup(Popup):
    """Another seat: what it shows, what it has let go, and, where advice may be shown, what that tells."""

    def __init__(
        self, parent: Scene, state: State, seat: int, player: int, tells: Callable[[], OtherSeat | None]
    ) -> None:
        super().__init__(parent)
        self.state, self.seat, self.player, self.tells = state, seat, player, tells

    def paint(self, ui: Ui) -> None:
        """Exposures, discards, hands and risks."""
        state, seat, shown = self.state, self.seat, self.tells()

        def content(area: Rect) -> int:
            title = f"{say_seat(seat)}, {place_words(seat, self.player)}"
            y = ui.paragraph(title, area.topleft, area.width, HEADING)
            said = f"{words.sentence(words.count(len(state.racks[seat]), 'tile'))} in the rack"
            said += "; the hand is dead." if state.dead[seat] else "."
            y = ui.paragraph(said, (area.left, y), area.width, BODY, SOFT) + ui.u(8)
            laid = state.exposures[seat]
            if laid:
                tile = min(ui.u(48), int(area.width / (laid_tiles(laid) + 0.5)))
                lay(ui, laid, (area.left, y), tile)
                y += height_for(tile) + ui.u(10)
            else:
                y = ui.paragraph("Nothing is exposed.", (area.left, y), area.width, BODY) + ui.u(6)
            if shown is not None:
                y = _tells(ui, area, y, shown)
            y = _gone(ui, area, y, state, seat)
            return _back(ui, area, y, self)

        pane(ui, 680, "seat", content)


def _tells(ui: Ui, area: Rect, y: int, shown: OtherSeat) -> int:
    y = ui.paragraph(shown.sentence, (area.left, y), area.width, BODY) + ui.u(6)
    for one in shown.hands[:MOST_HANDS]:
        ways = words.count(one.variants, "way")
        said = f"{one.hand.name}: {words.odds(one.share)} of what can still be made, {ways} left"
        y = ui.paragraph(said, (area.left, y), area.width, BODY)
    if shown.risks:
        y = ui.paragraph("Of your tiles, it could use most", (area.left, y + ui.u(8)), area.width, SMALL_BOLD, SOFT)
        y += ui.u(2)
        for risk in shown.risks[:MOST_RISKS]:
            y = _risk(ui, area, y, risk, len(shown.hands)) + ui.u(4)
    return y + ui.u(8)


def _risk(ui: Ui, area: Rect, y: int, risk: Risk, hands: int) -> int:
    tile = ui.u(26)
    ui.tile(Face(risk.kind), Rect(area.left, y, tile, height_for(tile)))
    group = "may be called for a group" if risk.as_group > 0 else "may be called only to win"
    said = f"{words.odds(risk.share)}: {words.in_words(risk.hands)} of "
    said += f"{words.count(hands, 'hand')}; {group}"
    room = area.width - tile - ui.u(10)
    high = max(height_for(tile), ui.tall(said, room, BODY))
    top = y + (high - ui.tall(said, room, BODY)) // 2
    ui.paragraph(said, (area.left + tile + ui.u(10), top), room, BODY)
    return y + high


def _gone(ui: Ui, area: Rect, y: int, state: State, seat: int) -> int:
    gone = [one.kind for one in state.discards if one.seat == seat and not one.called]
    title = f"Let go: {words.count(len(gone), 'tile')}"
    y = ui.paragraph(title, (area.left, y), area.width, SMALL_BOLD, SOFT) + ui.u(2)
    width = ui.u(34)
    sizes = [(width, height_for(width))] * len(gone)
    bottom = y
    for kind, place in zip(gone, flow(sizes, (area.left, y), area.width, (ui.u(4), ui.u(4))), strict=True):
        ui.tile(Face(kind), place)
        bottom = place.bottom
    return bottom + ui.u(14)
