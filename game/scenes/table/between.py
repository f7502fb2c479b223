"""What lies between header and rack: the others, the board with its reasons, or a calm place, and the discards.

Where there is no room for all that side by side, the verdict comes first, and the rest is scrolled under it. The
others stay above it.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from engine.rules.twists.known import twist_of
from engine.store.values import StoreError
from engine.tiles import Kind
from game.draw.theme import BLUE, BODY, BODY_BOLD, CARD, HEADING, SMALL, SMALL_BOLD, SOFT, TOUCH
from game.draw.tiles import Face, height_for
from game.play.lines import line_of
from game.scenes.table.board import BoardLook, board, rows
from game.scenes.table.reasons import figures_text, row_tile, verdict_text
from game.scenes.table.seats import STRIP, Others, last_discard, seats_height, seats_row, seats_strip
from game.scenes.table.turn import TurnMoment
from game.ui.buttons import Press
from game.ui.column import Column, led, scrolled
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
LEAST = 48
"""Units of height: less is left only under a long notice in a low window."""
REASONS_LEAST = 260
"""Units of height that the reasons need for themselves, or else they share a panel with what happened."""
ROOMY_FROM = 180
"""Units of height from which a panel has air about its content."""
TILE, SMALL_TILE = 38, 34
"""Units of width of a discard, and of one in a list of other things."""
CALM_WIDE, SPARE = 720, 16
"""Units of width at most of what stands where advice would be, and over what its longest line needs."""


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
        _panel(ui, right, lambda inner: scrolled(ui, "happened", inner, partial(_happened_and_asking, moment)))
        _panel(ui, page.rect, lambda inner: scrolled(ui, "discards", inner, partial(_discards, moment, TILE)))
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
    below = moment.others
    if moment.others:
        told = Column(ui, right.rect.width - ui.u(2 * 18 + GUTTER))
        _happened(moment, told)
        high = told.height + ui.u(24)
        if right.rect.height - high >= ui.u(REASONS_LEAST):
            below = False
            top = right.top(high, ui.u(10))
            _panel(ui, top, lambda inner: scrolled(ui, "happened", inner, partial(_happened, moment)))

    def figures(column: Column) -> None:
        figures_text(column, advice, moment.trying, alone=not moment.others)
        _unweighed(moment, column)
        if below:
            column.gap(14)
            _happened(moment, column)

    _panel(ui, right.rect, lambda inner: led(ui, "reasons", inner, partial(_verdict, moment), figures))
    if page.rect.height >= ui.u(DISCARDS_FROM):
        _discard_row(moment, ui, page.bottom(ui.u(DISCARD_ROW), ui.u(8)))
    board(ui, page.rect, advice.aimed, BoardLook(moment.tile, moment.hand, turns=advice.rack.turns), moment.press_hand)


def _verdict(moment: TurnMoment, page: Column) -> None:
    """What is to be done now, with answers to what was asked about. It is always seen whole."""
    if moment.advice_shown is not None:
        verdict_text(page, moment.advice_shown, moment.tile, moment.asked)


def _unweighed(moment: TurnMoment, page: Column) -> None:
    """What the advice leaves out of the deal's twist."""
    said = twist_of(moment.state.house).unweighed
    if said:
        page.gap(10)
        page.text(said, SMALL, SOFT)


def _one_list(moment: TurnMoment, ui: Ui, rect: Rect, others: Others | None) -> None:
    """The verdict, then everything else under it, to scroll."""
    advice = moment.advice_shown
    if advice is None and others is None:
        _calm(moment, ui, rect)
        return
    space = Space(rect)
    if others is not None and rect.height >= ui.u(STRIP + LEAST):
        label = f"Discards ({len(_gone(moment))})"
        seats_strip(ui, space.top(ui.u(STRIP), ui.u(6)), others, Press(label, moment.discards, "d"))

    def rest(page: Column) -> None:
        if advice is not None:
            figures_text(page, advice, moment.trying, alone=not moment.others)
            _unweighed(moment, page)
            page.gap(14)
        if moment.others:
            _happened(moment, page)
            page.gap(14)
        if advice is not None:
            page.caption("Within reach")
            rows(page, advice.rack, BoardLook(moment.tile, moment.hand, turns=advice.rack.turns), moment.press_hand)
            page.gap(12)
        _discards(moment, SMALL_TILE, page)
        if advice is None:
            page.gap(16)
            _ask(moment, page)

    if advice is None:
        _panel(ui, space.rect, lambda inner: scrolled(ui, "between", inner, rest))
    else:
        _panel(ui, space.rect, lambda inner: led(ui, "between", inner, partial(_verdict, moment), rest))


def _panel(ui: Ui, rect: Rect, content: Callable[[Rect], object]) -> None:
    """A panel, and what is painted inside its margin."""
    ui.panel(rect, CARD)
    with ui.within(rect):
        content(inset(rect, ui.u(18), ui.u(10) if rect.height >= ui.u(ROOMY_FROM) else ui.u(6)))


def _asking(moment: TurnMoment) -> tuple[str, str, list[Press]]:
    """What stands where advice would be: a heading, a sentence, and what can be pressed."""
    key = moment.desk.settings.key
    presses = [Press("Read the sheet", moment.sheet, key("sheet"))]
    if not moment.may_advise:
        said = "Afterwards you can look back at every choice with its odds. The sheet is there to read."
        if _tried_another_way(moment):
            return "Advice is hidden", f"This deal is tried another way, so it doesn’t count. {said}", presses
        return "Advice is hidden: this game counts", said, presses
    if moment.shown:
        return "Working out the odds…", "", presses
    presses.insert(0, Press("Show advice", moment.toggle_advice, key("advice")))
    said = "It shows the hands within reach, and what each tile is worth keeping for."
    if moment.others:
        said = "It shows the hands within reach, whether to call, and what the others may be after."
    return "Advice is there when you ask", said, presses


def _tried_another_way(moment: TurnMoment) -> bool:
    """Whether this line of play is a fork: a choice was taken back for it."""
    line = line_of(moment.sitting)
    try:
        return line is not None and moment.desk.store.line(line).parent is not None
    except StoreError:
        return False


def _ask(moment: TurnMoment, page: Column) -> None:
    """That, in a list of other things."""
    title, said, presses = _asking(moment)
    page.text(title, BODY_BOLD)
    if said:
        page.text(said, SMALL, SOFT)
    page.gap(8)
    page.buttons(presses)


def _calm(moment: TurnMoment, ui: Ui, rect: Rect) -> None:
    """That, alone in the middle."""
    ui.panel(rect)
    title, said, presses = _asking(moment)
    row = sum(ui.button_size(one.says, one.key)[0] for one in presses) + ui.u(12) * (len(presses) - 1)
    natural = max(row, ui.width(title, HEADING), ui.width(said, BODY)) + ui.u(2)

    def fill(page: Column) -> None:
        page.spring()
        page.heading(title)
        page.gap(8)
        if said:
            page.text(said, BODY, SOFT)
            page.gap(16)
        page.buttons(presses)
        page.spring()

    with ui.within(rect):
        scrolled(
            ui,
            "calm",
            inset(rect, ui.u(20), ui.u(6)),
            fill,
            widest=min(CALM_WIDE, natural / ui.unit + SPARE),
            roomy=True,
        )


def _happened_and_asking(moment: TurnMoment, page: Column) -> None:
    _happened(moment, page)
    page.gap(16)
    _ask(moment, page)


def _happened(moment: TurnMoment, page: Column) -> None:
    """What was done since the player's last discard."""
    page.text("Since your last discard", SMALL_BOLD, SOFT)
    page.gap(2)
    if not moment.told:
        page.text("Nothing yet: the deal begins with you." if not moment.state.discards else "Nothing.")
    for one in moment.told:
        page.text(one.sentence)
        page.gap(3)


def _gone(moment: TurnMoment) -> list[Kind]:
    """Every discard that nobody called, in order."""
    return [one.kind for one in moment.state.discards if not one.called]


def _discards(moment: TurnMoment, tile: float, page: Column) -> None:
    """Every discard that nobody called, in order, the last one ringed where it may be called."""
    gone, ui = _gone(moment), page.ui
    page.heading(f"Discards ({len(gone)})")
    page.gap(6)
    if not gone:
        page.text("None yet.", BODY, SOFT)
        return
    width, edge = ui.u(tile), ui.u(4)
    sizes = [(width, height_for(width))] * len(gone)
    spots = list(flow(sizes, (edge, 0), page.width - 2 * edge, (ui.u(6), ui.u(7))))

    def paint(rect: Rect) -> None:
        for kind, spot in zip(gone, spots, strict=True):
            ui.tile(Face(kind), spot.move(rect.topleft))
        _ring_last(ui, spots[-1].move(rect.topleft), moment)

    page.put(spots[-1].bottom + ui.u(6), paint)


def _discard_row(moment: TurnMoment, ui: Ui, rect: Rect) -> None:
    """The latest discards in one row; all of them are a press away."""
    gone = _gone(moment)
    label = f"Discards ({len(gone)})"
    row = Space(rect)
    button = row.left(ui.width(label, BODY_BOLD) + ui.u(28), ui.u(16))
    ui.button(inset(button, 0, (rect.height - ui.u(TOUCH)) // 2), label, moment.discards, name="discards", key="d")
    tile, gap = row_tile(ui, DISCARD_ROW), max(ui.u(5), 2)
    fit = max(row.rect.width // (tile + gap), 0)
    shown = gone[-fit:] if fit else []
    if shown:
        faces = [Face(kind) for kind in shown]
        drawn = ui.tiles(faces, (row.rect.left, rect.top + (rect.height - height_for(tile)) // 2), tile, gap)
        _ring_last(ui, Rect(drawn.right - tile, drawn.top, tile, drawn.height), moment)


def _ring_last(ui: Ui, spot: Rect, moment: TurnMoment) -> None:
    """At a table of four the discard that lies last is ringed."""
    if moment.others and last_discard(moment.state) is not None:
        ui.panel(spot.inflate(ui.u(5), ui.u(5)), None, BLUE, 8, 3)
