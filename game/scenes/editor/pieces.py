"""The list of what a sheet being written holds: its head, its sections, its hands, each with how far it is."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from engine.sheet.writing.document import Place
from engine.words import counted
from game.draw.shapes import Mark
from game.draw.theme import (
    BODY,
    BODY_BOLD,
    CARD,
    EDGE,
    GREEN_TEXT,
    INK,
    LIT,
    SMALL,
    SOFT,
    TEAL,
    TOUCH,
    VERMILION_TEXT,
    Colour,
)
from game.play.writing.sheet_writing import SheetWriting
from game.play.writing.states import HandState
from game.ui.layout import Rect
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.writing import NO_NAME, STATES

MARKS: dict[HandState, tuple[Mark, Colour]] = {
    HandState.WHOLE: ("tick", GREEN_TEXT),
    HandState.FAULTY: ("bang", VERMILION_TEXT),
    HandState.UNREAD: ("dot", SOFT),
    HandState.EMPTY: ("plus", SOFT),
}
LIST = "pieces"


def piece_name(place: Place) -> str:
    """The name of a piece's target."""
    if place.section < 0:
        return "piece sheet"
    return f"piece {place.section + 1}" if place.hand < 0 else f"piece {place.section + 1}.{place.hand + 1}"


def piece_list(ui: Ui, area: Rect, writing: SheetWriting, go: Callable[[Place], Scene | None]) -> int:
    """Row under row; gives the y under them. Rows out of sight are not drawn."""
    y = area.top
    for place, _ in writing.document.pieces():
        rect = Rect(area.left, y, area.width, ui.u(TOUCH))
        _row(ui, rect, writing, place, go)
        y = rect.bottom + ui.u(3)
    return y


def _row(ui: Ui, rect: Rect, writing: SheetWriting, place: Place, go: Callable[[Place], Scene | None]) -> None:
    name, here = piece_name(place), place == writing.place
    shown = ui.shows(rect)
    if shown and (here or ui.lit(name) or place.hand < 0):
        ui.panel(rect, LIT if here or ui.lit(name) else CARD, TEAL if here else EDGE, 8, 1.5 if here else 1)
    title = writing.name_at(place) if shown else ""
    said, note, left = title or NO_NAME, "", rect.left + ui.u(12)
    style, ink = BODY_BOLD if here or place.hand < 0 else BODY, TEAL if here else INK if title else SOFT
    if place.hand >= 0 and shown:
        state = writing.state(place)
        mark, colour = MARKS[state]
        ui.mark(mark, (rect.left + ui.u(22), rect.centery), 15, colour)
        left = rect.left + ui.u(40)
        does = f"go to {said}, {STATES[state]}"
    elif place.section >= 0:
        note = str(len(writing.document.sections[place.section].hands))
        does = f"go to section {said}, {counted(int(note), 'hand')}"
    else:
        said, does = title or "The sheet", "go to the sheet’s name and season"
    ui.target(name, rect, partial(go, place), does, radius=8)
    if not shown:
        return
    with ui.within(rect):
        side = ui.width(note, SMALL) + ui.u(14) if note else 0
        ui.fitted(said, Rect(left, rect.top, rect.right - left - side - ui.u(6), rect.height), style, ink)
        if note:
            ui.text(note, (rect.right - ui.u(10), rect.centery - ui.line(SMALL) // 2), SMALL, SOFT, "right")
