"""What lies between header and rack: the others, the board with its reasons, or a calm place, and the discards.

Where there is no room for all that side by side, it is one list to scroll, what matters most first. The others stay
above it.
"""

from __future__ import annotations

from collections.abc import Callable

from game.draw.theme import BLUE, BODY, BODY_BOLD, CARD, HEADING, INK, SMALL, SMALL_BOLD, SOFT, TOUCH
from game.draw.tiles import Face, height_for
from game.scenes.table.board import BoardLook, board, rows
from game.scenes.table.seats import STRIP, Others, last_discard, seats_height, seats_row, seats_strip
from game.scenes.table.turn import TurnMoment
from game.ui.buttons import Press
from game.ui.layout import Rect, Space, flow, inset
from game.ui.scrolling import GUTTER
from game.ui.widgets import Ui

SIDE_FROM = 900
"""Units of width from which the reasons stand beside the board."""
OTHERS_FROM = 300
"""Units of height from which the others have a row above that."""
DISCARDS_FROM = 230
"""Units of height from which the discards have a row of their own under the board."""
DISCARD_ROW = 50
"""Units of height of that row."""
LEAST = 60
"""Units of height: less is left only under a long notice in a low window."""
REASONS_LEAST = 200
"""Units of height that the reasons need for themselves, or else they share a panel with what happened."""
BAR = 24
"""Units of width that a scrolled area keeps for its bar."""


def between(moment: TurnMoment, ui: Ui, page: Space) -> None:
    """Paint it into what header, strip and rack have left of the page."""
    rect = page.rect
    if rect.height < ui.u(LEAST):
        return
    others = Others(moment.state, moment.sitting.player, moment.seat_panel) if moment.others else None
    if rect.width < ui.u(SIDE_FROM) or (others is not None and rect.height < ui.u(OTHERS_FROM)):
        _one_list(moment, ui, rect, others)
        return
    if others is not None:
        seats_row(ui, page.top(seats_height(ui, rect.width, others), ui.u(10)), others)
    if moment.advice_shown is not None:
        _advised(moment, ui, page)
    elif moment.others:
        right = page.right(side_width(ui, page.rect.width), ui.u(12))
        _panel(ui, right, "happened", lambda area: _ask(ui, area, _happened(ui, area, area.top, moment), moment))
        _panel(ui, page.rect, "discards", lambda area: _discards(ui, area, area.top, moment, 38))
    else:
        if page.rect.height >= ui.u(DISCARDS_FROM):
            _discard_row(moment, ui, page.bottom(ui.u(DISCARD_ROW), ui.u(10)))
        _calm(moment, ui, page.rect)


def side_width(ui: Ui, width: int) -> int:
    """Pixels of width that the reasons take of so many."""
    return max(round(width * 0.32), ui.u(310))


def _advised(moment: TurnMoment, ui: Ui, page: Space) -> None:
    """Board and reasons side by side, the latest discards under the board."""
    advice = moment.advice_shown
    assert advice is not None
    right = Space(page.right(side_width(ui, page.rect.width), ui.u(12)))
    below = None
    if moment.others:
        room = Rect(0, 0, right.rect.width - ui.u(2 * 18 + GUTTER), 0)
        high = ui.measure(lambda: _happened(ui, room, 0, moment)) + ui.u(22)
        if right.rect.height - high >= ui.u(REASONS_LEAST):
            _panel(ui, right.top(high, ui.u(10)), "happened", lambda area: _happened(ui, area, area.top, moment))
        else:
            below = _happened

    def reasons(area: Rect) -> int:
        y = moment.reasons(ui, area, moment.tile)
        return y if below is None else below(ui, area, y + ui.u(14), moment)

    _panel(ui, right.rect, "reasons", reasons)
    if page.rect.height >= ui.u(DISCARDS_FROM):
        _discard_row(moment, ui, page.bottom(ui.u(DISCARD_ROW), ui.u(8)))
    board(ui, page.rect, advice.rack, BoardLook(moment.tile, moment.hand, turns=advice.rack.turns), moment.press_hand)


def _one_list(moment: TurnMoment, ui: Ui, rect: Rect, others: Others | None) -> None:
    """Everything under one another, to scroll."""
    advice = moment.advice_shown
    if advice is None and others is None:
        _calm(moment, ui, rect)
        return

    space = Space(rect)
    if others is not None and rect.height >= ui.u(STRIP + LEAST):
        label = f"Discards ({len(_gone(moment))})"
        seats_strip(ui, space.top(ui.u(STRIP), ui.u(6)), others, Press(label, moment.discards, "d"))
    rect = space.rect

    def content(area: Rect) -> int:
        y = area.top
        if advice is not None:
            y = ui.titled((area.left, y), area.width, "", lambda at: moment.reasons(ui, at, moment.tile)) + ui.u(10)
        if moment.others:
            y = _happened(ui, area, y, moment) + ui.u(10)
        if advice is not None:
            y = ui.paragraph("Within reach", (area.left, y), area.width, SMALL_BOLD, SOFT) + ui.u(4)
            look = BoardLook(moment.tile, moment.hand, turns=advice.rack.turns)
            y = rows(ui, Rect(area.left, y, area.width, 0), advice.rack, look, moment.press_hand) + ui.u(8)
        y = _discards(ui, area, y + ui.u(4), moment, 34)
        return _ask(ui, area, y, moment) if advice is None else y

    with ui.within(rect):
        ui.scroll("between", rect, content)


def _panel(ui: Ui, rect: Rect, name: str, content: Callable[[Rect], int]) -> None:
    """A panel whose content scrolls if it is too high."""
    ui.panel(rect, CARD)
    with ui.within(rect):
        ui.scroll(name, inset(rect, ui.u(18), ui.u(10)), content)


def _asking(moment: TurnMoment) -> tuple[str, str, list[Press]]:
    """What stands where advice would be: a heading, a sentence, and what can be pressed."""
    key = moment.desk.settings.key
    presses = [Press("Read the sheet", moment.sheet, key("sheet"))]
    if not moment.may_advise:
        said = "Afterwards you can look back at every choice with its odds. The sheet is there to read."
        return "Advice is hidden: this game counts", said, presses
    if moment.shown:
        return "Working out the odds…", "", presses
    presses.insert(0, Press("Show advice", moment.toggle_advice, key("advice")))
    said = "It shows the hands within reach, and what each tile is worth keeping for."
    if moment.others:
        said = "It shows the hands within reach, whether to call, and what the others may be after."
    return "Advice is there when you ask", said, presses


def _ask(ui: Ui, area: Rect, y: int, moment: TurnMoment) -> int:
    """That, in a list of other things."""
    title, said, presses = _asking(moment)
    y = ui.paragraph(title, (area.left, y + ui.u(16)), area.width, BODY_BOLD)
    y = ui.paragraph(said, (area.left, y), area.width, SMALL, SOFT) if said else y
    return ui.buttons((area.left, y + ui.u(8)), area.width, presses)


def _calm(moment: TurnMoment, ui: Ui, rect: Rect) -> None:
    """That, alone in the middle."""
    ui.panel(rect)
    title, said, presses = _asking(moment)
    lines = [(title, HEADING, INK), *([(said, BODY, SOFT)] if said else [])]
    row = sum(ui.button_size(one.says, one.key)[0] for one in presses) + ui.u(12) * (len(presses) - 1)
    natural = max(row, *(ui.width(text, style) for text, style, _ in lines)) + ui.u(BAR)
    inner = inset(rect, (rect.width - min(rect.width - ui.u(40), ui.u(720), natural)) // 2, ui.u(6))

    def content(area: Rect) -> int:
        high = sum(ui.tall(text, area.width, style) + ui.u(8) for text, style, _ in lines) + ui.u(TOUCH + 8)
        y = area.top + max((inner.height - high) // 2, 0)
        for text, style, colour in lines:
            y = ui.paragraph(text, (area.left, y), area.width, style, colour) + ui.u(8)
        return ui.buttons((area.left, y + ui.u(8)), area.width, presses)

    with ui.within(rect):
        ui.scroll("calm", inner, content)


def _happened(ui: Ui, area: Rect, y: int, moment: TurnMoment) -> int:
    """What was done since the player's last discard."""
    y = ui.paragraph("Since your last discard", (area.left, y), area.width, SMALL_BOLD, SOFT) + ui.u(2)
    if not moment.told:
        first = "Nothing yet: the deal begins with you." if not moment.state.discards else "Nothing."
        return ui.paragraph(first, (area.left, y), area.width, BODY)
    for one in moment.told:
        y = ui.paragraph(one.sentence, (area.left, y), area.width, BODY) + ui.u(3)
    return y


def _gone(moment: TurnMoment) -> list[int]:
    """Every discard that nobody called, in order."""
    return [one.kind for one in moment.state.discards if not one.called]


def _discards(ui: Ui, area: Rect, y: int, moment: TurnMoment, tile: float) -> int:
    """Every discard that nobody called, in order, the last one ringed where it may be called."""
    gone = _gone(moment)
    y = ui.paragraph(f"Discards ({len(gone)})", (area.left, y), area.width, HEADING) + ui.u(6)
    if not gone:
        return ui.paragraph("None yet.", (area.left, y), area.width, BODY, SOFT)
    width = ui.u(tile)
    sizes = [(width, height_for(width))] * len(gone)
    bottom = y
    for place, spot in enumerate(flow(sizes, (area.left + ui.u(4), y), area.width - ui.u(8), (ui.u(6), ui.u(7)))):
        ui.tile(Face(gone[place]), spot)
        if place == len(gone) - 1:
            _ring_last(ui, spot, moment)
        bottom = spot.bottom
    return bottom + ui.u(6)


def _discard_row(moment: TurnMoment, ui: Ui, rect: Rect) -> None:
    """The latest discards in one row; all of them are a press away."""
    gone = _gone(moment)
    label = f"Discards ({len(gone)})"
    wide = ui.width(label, BODY_BOLD) + ui.u(28)
    button = Rect(rect.left, rect.top + (rect.height - ui.u(TOUCH)) // 2, wide, ui.u(TOUCH))
    ui.button(button, label, moment.discards, name="discards", key="d")
    tile = row_tile(ui, DISCARD_ROW)
    step = tile + max(ui.u(5), 2)
    x = button.right + ui.u(16)
    fit = max((rect.right - x) // step, 0)
    shown = gone[-fit:] if fit else []
    for place, kind in enumerate(shown):
        spot = Rect(x, rect.top + (rect.height - height_for(tile)) // 2, tile, height_for(tile))
        ui.tile(Face(kind), spot)
        if place == len(shown) - 1:
            _ring_last(ui, spot, moment)
        x += step


def _ring_last(ui: Ui, spot: Rect, moment: TurnMoment) -> None:
    """At a table of four the discard that lies last is ringed."""
    if moment.others and last_discard(moment.state) is not None:
        ui.panel(spot.inflate(ui.u(5), ui.u(5)), None, BLUE, 8, 3)


def row_tile(ui: Ui, high: float) -> int:
    """Pixels of width of a tile in a row of so many units of height."""
    return max(int(ui.u(high) / 1.38), 8)
