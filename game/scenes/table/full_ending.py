"""The end of a game at the full table: who won with what, what each seat pays, slips, the costliest choices."""

from __future__ import annotations

from typing import TYPE_CHECKING

from engine.rules.house import seat_name
from game.draw.theme import BODY, BODY_BOLD, GREAT, HEADING, INK, RULE, SOFT, TEAL, VERMILION_TEXT
from game.scenes.table.ending import costliest, made_hand
from game.scenes.table.full_popups import slip_text
from game.ui.buttons import Press
from game.ui.layout import Rect, grid
from game.ui.widgets import Ui
from game.words.situation import headline, outcome_sentences, payments, seat_words

if TYPE_CHECKING:
    from game.scenes.table.full import FullScene
from engine.words import points_text

SEAT_WIDE = 190
"""Units of a seat's payment at least."""


def full_ending(ui: Ui, rect: Rect, scene: FullScene) -> None:
    """Paint the panel."""
    ui.panel(rect)
    inner = rect.inflate(-2 * ui.u(22), -2 * ui.u(14))

    def content(area: Rect) -> int:
        state = scene.state
        assert state.outcome is not None
        y = ui.paragraph(headline(state.outcome, scene.sitting.player), area.topleft, area.width, GREAT, TEAL)
        y = ui.paragraph(" ".join(outcome_sentences(state)), (area.left, y), area.width, BODY) + ui.u(10)
        if state.outcome.variant is not None:
            y = made_hand(ui, area, y, scene)
        y = _payments(ui, area, y, scene)
        said = scene.ending_words()
        y = ui.paragraph(said, (area.left, y), area.width, BODY_BOLD) + ui.u(10) if said else y
        y = ui.buttons((area.left, y), area.width, scene.ending_presses()) + ui.u(18)
        if scene.slips:
            y = ui.paragraph("What went wrong", (area.left, y), area.width, HEADING, VERMILION_TEXT) + ui.u(4)
            for slip in scene.slips:
                y = slip_text(ui, area, y, slip, scene) + ui.u(12)
        return costliest(ui, area, y, scene) if scene.shows_costs else y

    with ui.within(rect):
        ui.scroll("ending", inner, content)


def _payments(ui: Ui, area: Rect, y: int, scene: FullScene) -> int:
    """What each seat wins or pays, the player's marked."""
    paid = payments(scene.state)
    if not any(one.points for one in paid):
        return y
    high = ui.line(BODY_BOLD) + ui.line(HEADING) + ui.u(14)
    bottom = y
    for one, cell in zip(paid, grid(4, Rect(area.left, y, area.width, high), ui.u(SEAT_WIDE), ui.u(10)), strict=True):
        mine = one.seat == scene.sitting.player
        ui.panel(cell, None, TEAL if mine else RULE, 10, 2 if mine else 1)
        who = f"You, {seat_name(one.seat).capitalize()}" if mine else seat_words(one.seat, scene.sitting.player)
        with ui.within(cell):
            left, room = cell.left + ui.u(12), cell.width - ui.u(24)
            ui.fitted(who, Rect(left, cell.top + ui.u(5), room, ui.line(BODY_BOLD)), BODY_BOLD)
            row = Rect(left, cell.top + ui.u(7) + ui.line(BODY_BOLD), room, ui.line(HEADING))
            ui.fitted(points_text(one.points), row, HEADING, INK if one.points else SOFT)
        bottom = max(bottom, cell.bottom)
    y = bottom + ui.u(6)
    discarder = scene.state.outcome.discarder if scene.state.outcome is not None else None
    if discarder is not None:
        who = seat_words(discarder, scene.sitting.player)
        said = f"{who} let the last tile go and {'pay' if who == 'You' else 'pays'} double."
    else:
        said = "The last tile was self-drawn, so all three pay double."
    return ui.paragraph(said, (area.left, y), area.width, BODY, SOFT) + ui.u(12)


def usual_presses(scene: FullScene) -> list[Press]:
    """What can be done after a game."""
    return [
        Press("New deal", scene.new_deal, "return", main=True),
        Press("Same deal again", scene.again, "g"),
        Press("Step back", lambda: scene.step(False), scene.desk.settings.key("back")),
        Press("Notes", scene.note, scene.desk.settings.key("note")),
    ]
