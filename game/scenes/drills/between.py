"""Three columns under one another: the middle one scrolls, and what stands over and under it stays in sight."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from game.ui.column import SIZES, Column
from game.ui.layout import Rect
from game.ui.scrolling import GUTTER
from game.ui.widgets import Ui

GAP = 12
"""Units between the columns."""
OVER = 0.3
"""The share of a height that nothing needs which is left over the columns; the rest is under them."""

Fill = Callable[[Column], object]


def between(
    ui: Ui, name: str, rect: Rect, fills: Sequence[Fill], *, widest: float, least: float, foot: bool = False
) -> None:
    """Fill the columns over, between and under, at most `widest` units wide and in the middle, and draw them.

    They are set larger, as far as all of them can then still be seen at once. Where the middle one would get less than
    `least` units, though it holds more, it scrolls together with the one over it; the last one never scrolls.
    `foot`: the last one stands at the bottom of the rectangle, and doesn't follow the middle one.
    """
    for times in SIZES:
        with ui.enlarged(times):
            laid = _Laid(ui, rect, fills, widest)
            if laid.height <= rect.height:
                laid.paint(name, rect, ui.u(least), foot)
                return
    _Laid(ui, rect, fills, widest).paint(name, rect, ui.u(least), foot)


class _Laid:
    """The three columns at one size."""

    def __init__(self, ui: Ui, rect: Rect, fills: Sequence[Fill], widest: float) -> None:
        self.ui = ui
        self.width = min(rect.width - ui.u(GUTTER), ui.u(widest))
        self.left = rect.left + (rect.width - ui.u(GUTTER) - self.width) // 2
        self.gap = ui.u(GAP)
        self.over, self.middle, self.under = (self._filled(fill) for fill in fills)

    def _filled(self, fill: Fill) -> Column:
        column = Column(self.ui, self.width)
        fill(column)
        return column

    def _with_gap(self, column: Column) -> int:
        """Pixels of a column and the gap under it."""
        return 0 if column.empty else column.height + self.gap

    @property
    def height(self) -> int:
        """Pixels at which nothing has to be scrolled."""
        return self._with_gap(self.over) + self._with_gap(self.middle) + self.under.height

    def paint(self, name: str, rect: Rect, least: int, foot: bool) -> None:
        """Draw them; the middle one has at least so many pixels, if it needs them."""
        room = rect.height - self._with_gap(self.over) - self.gap - self.under.height
        if room < min(least, self.middle.height) or rect.height < self.over.height + self.gap + self.under.height:
            whole = Column(self.ui, self.width, GAP)
            for column in (self.over, self.middle):
                if not column.empty:
                    whole.put(column.height, partial(_paint, column))
            self._below(name, Rect(rect.left, rect.top, rect.width, rect.height - self.gap - self.under.height), whole)
            return
        spare = 0 if foot else max(room - self.middle.height, 0)
        top = rect.top + round(spare * OVER)
        self.over.paint((self.left, top))
        self._below(name, Rect(rect.left, top + self._with_gap(self.over), rect.width, room - spare), self.middle)

    def _below(self, name: str, place: Rect, column: Column) -> None:
        """A column that scrolls in this place, and the last one under it."""
        self.ui.scroll(name, place, lambda area: column.paint((self.left, area.top)))
        self.under.paint((self.left, place.bottom + self.gap))


def _paint(column: Column, place: Rect) -> None:
    column.paint(place.topleft)
