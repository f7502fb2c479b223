"""Popups of the full table: ways to call, jokers to exchange, another seat looked at, and a slip explained."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from engine import words
from engine.advice.advise.defence import OtherSeat, Risk
from engine.rules.house import seat_name
from engine.tiles import name
from game.draw.theme import BODY, BODY_BOLD, HEADING, SMALL, SMALL_BOLD, SOFT
from game.draw.tiles import Face, height_for
from game.scenes.hand import draw_groups
from game.scenes.table.seats import laid_tiles, lay
from game.ui.buttons import Press
from game.ui.layout import Rect, flow
from game.ui.popups import pane
from game.ui.scene import Popup, Scene
from game.ui.widgets import Ui
from game.words.sheet import hold_words, shown_rows
from game.words.situation import call_words, exchange_words, place_words
from game.words.slips import Slip

if TYPE_CHECKING:
    from game.scenes.table.full import FullScene

MOST_HANDS = 5
MOST_RISKS = 5


class CallPopup(Popup):
    """Every way to call the discard, with what each is worth where advice is shown."""

    def __init__(self, parent: FullScene) -> None:
        super().__init__(parent)
        self.scene = parent

    def paint(self, ui: Ui) -> None:
        """A button for each, and its reason under it."""
        scene = self.scene
        last = scene.state.discards[-1]
        advice = scene.full_shown.call if scene.full_shown is not None else None

        def content(area: Rect) -> int:
            y = ui.paragraph(f"Call the {name(last.kind)}", area.topleft, area.width, HEADING) + ui.u(10)
            for place, action in enumerate(scene.calls):
                press = Press(call_words(action), lambda action=action: scene.call_for(action), str(place + 1))  # type: ignore[misc]
                y = ui.buttons((area.left, y), area.width, [press]) + ui.u(4)
                choice = advice.of(action) if advice is not None else None
                if choice is not None:
                    y = ui.paragraph(choice.because, (area.left, y), area.width, BODY, SOFT)
                y += ui.u(10)
            presses = [Press("Back", self.back, "escape", main=True)]
            return ui.buttons((area.left, y), area.width, presses)

        pane(ui, 620, "calls", content)


class ExchangePopup(Popup):
    """Every joker that can be had."""

    def __init__(self, parent: FullScene) -> None:
        super().__init__(parent)
        self.scene = parent

    def paint(self, ui: Ui) -> None:
        """A button for each, and what it gains where advice is shown."""
        scene = self.scene
        player = scene.sitting.player
        advice = scene.full_shown.exchange if scene.full_shown is not None else None
        because = {one.action: one.because for one in advice.choices} if advice is not None else {}

        def content(area: Rect) -> int:
            y = ui.paragraph("Exchange a joker", area.topleft, area.width, HEADING)
            text = "Your tile goes into the exposure, and the joker comes to your rack."
            y = ui.paragraph(text, (area.left, y), area.width, BODY, SOFT) + ui.u(10)
            for place, action in enumerate(scene.exchanges):
                laid = [scene.state.exposures[action.seat][action.exposure]]
                tile = min(ui.u(40), int(area.width / (laid_tiles(laid) + 1)))
                lay(ui, laid, (area.left, y), tile)
                y += height_for(tile) + ui.u(6)
                says = exchange_words(action, player)
                press = Press(says, lambda action=action: scene.exchange_for(action), str(place + 1))  # type: ignore[misc]
                y = ui.buttons((area.left, y), area.width, [press]) + ui.u(4)
                if action in because:
                    y = ui.paragraph(because[action], (area.left, y), area.width, BODY, SOFT)
                y += ui.u(12)
            return ui.buttons((area.left, y), area.width, [Press("Back", self.back, "escape", main=True)])

        pane(ui, 620, "exchanges", content)


class SlipPopup(Popup):
    """Why something can't be done: one sentence each, with the line of the sheet that it breaks."""

    def __init__(
        self,
        parent: FullScene,
        title: str,
        slips: Sequence[Slip],
        anyway: tuple[str, Callable[[], Scene | None]] | None = None,
    ) -> None:
        super().__init__(parent)
        self.scene, self.title, self.slips, self.anyway = parent, title, tuple(slips), anyway

    def paint(self, ui: Ui) -> None:
        """The sentences, the lines of the sheet, and the way back."""

        def content(area: Rect) -> int:
            y = ui.paragraph(self.title, area.topleft, area.width, HEADING) + ui.u(8)
            for slip in self.slips:
                y = slip_text(ui, area, y, slip, self.scene) + ui.u(10)
            presses = [Press("Back", self.back, "escape", main=True)]
            if self.anyway is not None:
                presses.append(Press(self.anyway[0], self.anyway[1], "g"))
            return ui.buttons((area.left, y + ui.u(4)), area.width, presses)

        pane(ui, 680, "slip", content)


def slip_text(ui: Ui, area: Rect, y: int, slip: Slip, scene: FullScene) -> int:
    """One sentence, and the line of the sheet under it."""
    y = ui.paragraph(slip.sentence, (area.left, y), area.width, BODY)
    hand = slip.hand
    if hand is None:
        return y
    sheet = scene.state.sheet
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

    def __init__(self, parent: FullScene, seat: int) -> None:
        super().__init__(parent)
        self.scene, self.seat = parent, seat

    def paint(self, ui: Ui) -> None:
        """Exposures, discards, hands and risks."""
        scene, seat = self.scene, self.seat
        state = scene.state
        shown = None
        if scene.full is not None and scene.may_advise:
            shown = next(one for one in scene.full.defence.seats if one.seat == seat)

        def content(area: Rect) -> int:
            title = f"{seat_name(seat).capitalize()}, {place_words(seat, scene.sitting.player)}"
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
            y = _gone(ui, area, y, scene, seat)
            return ui.buttons((area.left, y), area.width, [Press("Back", self.back, "escape", main=True)])

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


def _gone(ui: Ui, area: Rect, y: int, scene: FullScene, seat: int) -> int:
    gone = [one.kind for one in scene.state.discards if one.seat == seat and not one.called]
    title = f"Let go: {words.count(len(gone), 'tile')}"
    y = ui.paragraph(title, (area.left, y), area.width, SMALL_BOLD, SOFT) + ui.u(2)
    width = ui.u(34)
    sizes = [(width, height_for(width))] * len(gone)
    bottom = y
    for kind, place in zip(gone, flow(sizes, (area.left, y), area.width, (ui.u(4), ui.u(4))), strict=True):
        ui.tile(Face(kind), place)
        bottom = place.bottom
    return bottom + ui.u(14)
