"""Three columns under one another: the middle one scrolls, and what stands over and under it stays in sight."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from game.ui.column import Column
from game.ui.layout import Rect
from game.ui.scrolling import GUTTER
from game.ui.widgets import Ui

GAP = 12
"""Units between the columns."""


def between(
    ui: Ui,
    name: str,
    rect: Rect,
    fills: Sequence[Callable[[Column], object]],
    *,
    widest: float,
    least: float,
    foot: bool = False,
) -> None:
    """Fill the columns over, between and under, at most `widest` units wide and in the middle, and draw them.

    Where the middle one would get less than `least` units, though it holds more, all three scroll together.
    `foot`: the last one stands at the bottom of the rectangle, and doesn't follow the middle one.
    """
    wide = min(rect.width - ui.u(GUTTER), ui.u(widest))
    left, gap = rect.left + (rect.width - ui.u(GUTTER) - wide) // 2, ui.u(GAP)
    columns = []
    for fill in fills:
        columns.append(Column(ui, wide))
        fill(columns[-1])
    over, middle, under = columns
    top = over.height + gap if not over.empty else 0
    room = rect.height - top - gap - under.height
    if room < min(ui.u(least), middle.height):
        whole = Column(ui, wide, GAP)
        for column in columns:
            if not column.empty:
                whole.put(column.height, partial(_paint, column))
        ui.scroll(name, rect, lambda area: whole.paint((left, area.top)))
        return
    over.paint((left, rect.top))
    place = Rect(rect.left, rect.top + top, rect.width, room if foot else min(room, middle.height))
    ui.scroll(name, place, lambda area: middle.paint((left, area.top)))
    under.paint((left, place.bottom + gap))


def _paint(column: Column, place: Rect) -> None:
    column.paint(place.topleft)
