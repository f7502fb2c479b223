"""What lies between the others and the rack: the board and its reasons, or the discards and what happened.

Where there is no room for it side by side, it is one list to scroll, what matters most first.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from engine import words
from game.draw.theme import BLUE, BODY, BODY_BOLD, CARD, HEADING, SMALL, SMALL_BOLD, SOFT, TOUCH
from game.draw.tiles import Face, height_for, width_for
from game.scenes.table.board import BoardLook, board
from game.scenes.table.full_reasons import full_reasons, full_reasons_text
from game.scenes.table.seats import last_discard, seats_column, seats_height, seats_row
from game.ui.buttons import Press
from game.ui.layout import Rect, Space, flow, inset
from game.ui.scrolling import GUTTER
from game.ui.widgets import Ui

if TYPE_CHECKING:
    from game.scenes.table.full import FullScene

DISCARDS_HIGH = 56
REASONS_LEAST = 200
"""Units of height that the reasons need for themselves, or else they share a panel with what happened."""
NEAREST = 6


def side_by_side(scene: FullScene, ui: Ui, page: Space) -> None:
    """The others above; under them the board and its reasons, or the discards and what happened."""
    seats_row(ui, page.top(seats_height(ui, page.rect.width, scene), ui.u(10)), scene)
    full = scene.full_shown
    side = max(round(page.rect.width * 0.32), ui.u(310))
    if full is None:
        right = Space(page.right(side, ui.u(12)))
        _happened(ui, right.rect, scene)
        _discards(ui, page.rect, scene)
        return
    right = Space(page.right(side, ui.u(12)))
    room = Rect(0, 0, right.rect.width - ui.u(2 * 18 + GUTTER), 0)
    high = ui.measure(lambda: happened_text(ui, room, 0, scene)) + ui.u(22)
    apart = right.rect.height - high >= ui.u(REASONS_LEAST)
    if apart:
        _happened(ui, right.top(high, ui.u(10)), scene)
    full_reasons(ui, right.rect, scene, full, None if apart else happened_text)
    _discard_line(ui, page.bottom(ui.u(DISCARDS_HIGH), ui.u(8)), scene)
    board(ui, page.rect, full.rack, BoardLook(scene.tile, scene.hand), scene.press_hand)


def one_list(scene: FullScene, ui: Ui, rect: Rect) -> None:
    """Everything under one another, to scroll."""
    full = scene.full_shown

    def content(area: Rect) -> int:
        y = happened_text(ui, area, area.top, scene) + ui.u(10)
        if full is not None:
            y = ui.titled((area.left, y), area.width, "", lambda at: full_reasons_text(ui, at, scene, full))
        y = seats_column(ui, Rect(area.left, y, area.width, 0), scene)
        y = _discard_tiles(ui, area, y + ui.u(4), scene, 34)
        return _ask(ui, area, y, scene) if full is None else _nearest(ui, area, y + ui.u(10), scene)

    with ui.within(rect):
        ui.scroll("between", rect, content)


def _nearest(ui: Ui, area: Rect, y: int, scene: FullScene) -> int:
    """The nearest hands in a line each, where there is no room for the board."""
    advice = scene.advice_shown
    if advice is None:
        return y
    y = ui.paragraph("Within reach", (area.left, y), area.width, SMALL_BOLD, SOFT)
    for reach in advice.hands[:NEAREST]:
        hold = ", concealed" if reach.hand.concealed else ""
        said = f"{reach.hand.name}{hold}: {words.odds(reach.odds)}, {words.count(reach.missing, 'tile')} to come"
        y = ui.paragraph(said, (area.left, y), area.width, BODY)
    return y


def _happened(ui: Ui, rect: Rect, scene: FullScene) -> None:
    ui.panel(rect)
    inner = inset(rect, ui.u(18), ui.u(10))
    with ui.within(rect):
        ui.scroll("happened", inner, lambda area: _happened_or_ask(ui, area, scene))


def _happened_or_ask(ui: Ui, area: Rect, scene: FullScene) -> int:
    """What happened, and where no advice is shown, how to get it."""
    y = happened_text(ui, area, area.top, scene)
    return _ask(ui, area, y, scene) if scene.full_shown is None else y


def _ask(ui: Ui, area: Rect, y: int, scene: FullScene) -> int:
    key = scene.desk.settings.key
    presses = [Press("Read the sheet", scene.sheet, key("sheet"))]
    if not scene.may_advise:
        said = "Advice is hidden: this game counts. Afterwards you can look back at every choice with its odds."
    elif scene.shown:
        said = "Working out the odds…"
    else:
        said = "Advice is there when you ask: the hands within reach, whether to call, what the others may be after."
        presses.insert(0, Press("Show advice", scene.toggle_advice, key("advice")))
    y = ui.paragraph(said, (area.left, y + ui.u(16)), area.width, SMALL, SOFT) + ui.u(8)
    return ui.buttons((area.left, y), area.width, presses)


def happened_text(ui: Ui, area: Rect, y: int, scene: FullScene) -> int:
    """What was done since the player's last discard."""
    y = ui.paragraph("Since your last discard", (area.left, y), area.width, SMALL_BOLD, SOFT) + ui.u(2)
    if not scene.told:
        first = "Nothing yet: the deal begins with you." if not scene.state.discards else "Nothing."
        return ui.paragraph(first, (area.left, y), area.width, BODY)
    for one in scene.told:
        y = ui.paragraph(one.sentence, (area.left, y), area.width, BODY) + ui.u(3)
    return y


def _discards(ui: Ui, rect: Rect, scene: FullScene) -> None:
    ui.panel(rect, CARD)
    inner = inset(rect, ui.u(18), ui.u(10))
    with ui.within(rect):
        ui.scroll("discards", inner, lambda area: _discard_tiles(ui, area, area.top, scene, 38))


def _discard_tiles(ui: Ui, area: Rect, y: int, scene: FullScene, tile: float) -> int:
    """Every discard that nobody called, in order, the last one ringed."""
    gone = [one.kind for one in scene.state.discards if not one.called]
    y = ui.paragraph(f"Discards ({len(gone)})", (area.left, y), area.width, HEADING) + ui.u(6)
    if not gone:
        return ui.paragraph("None yet.", (area.left, y), area.width, BODY, SOFT)
    width = ui.u(tile)
    sizes = [(width, height_for(width))] * len(gone)
    bottom = y
    fresh = last_discard(scene.state) is not None
    for place, spot in enumerate(flow(sizes, (area.left + ui.u(4), y), area.width - ui.u(8), (ui.u(6), ui.u(7)))):
        ui.tile(Face(gone[place]), spot)
        if fresh and place == len(gone) - 1:
            ui.panel(spot.inflate(ui.u(6), ui.u(6)), None, BLUE, 8, 3)
        bottom = spot.bottom
    return bottom + ui.u(6)


def _discard_line(ui: Ui, rect: Rect, scene: FullScene) -> None:
    """The latest discards in one line, the last one ringed; all of them are a press away."""
    gone: Sequence[int] = [one.kind for one in scene.state.discards if not one.called]
    label = f"Discards ({len(gone)})"
    wide = ui.width(label, BODY_BOLD) + ui.u(28)
    button = Rect(rect.left, rect.top + (rect.height - ui.u(TOUCH)) // 2, wide, ui.u(TOUCH))
    ui.button(button, label, scene.discards, name="discards", key="d")
    high = rect.height - ui.u(8)
    tile = width_for(high)
    step = tile + max(ui.u(5), 2)
    x = button.right + ui.u(16)
    fit = max((rect.right - x) // step, 0)
    shown = gone[-fit:] if fit else []
    for place, kind in enumerate(shown):
        spot = Rect(x, rect.top + (rect.height - height_for(tile)) // 2, tile, height_for(tile))
        ui.tile(Face(kind), spot)
        if place == len(shown) - 1 and last_discard(scene.state) is not None:
            ui.panel(spot.inflate(ui.u(5), ui.u(5)), None, BLUE, 8, 3)
        x += step
