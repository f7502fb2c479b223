"""A column: it places what a screen holds, one thing under another, and knows its height before anything is drawn.

A scene says once what is on it; nobody adds up heights by hand:

    def paint(self, ui):
        rest = ui.header("Past deals", "", self.back)
        scrolled(ui, "deals", rest, self.fill, widest=1100)   # with `roomy=True` it is set larger where there is room

    def fill(self, page):
        page.text("Whatever you change is kept at once.", BODY, SOFT)
        page.gap(10)
        with page.panel("How it looks") as inside:         # a card with a title; `inside` is a column again
            inside.text("Large tiles are easier to read.")
            inside.buttons([Press("Larger", self.larger)])
        with page.beside([2, 1], least=820) as (left, right):   # one under the other where the page is narrower
            left.heading("Your deal")
            right.tiles([Face(kind) for kind in kinds], 40)
        page.spring()                                      # takes the room that is left
        page.block(84, self.picture, grows=66)             # a picture of 84 units, up to 150 where there is room
        page.rest("list", self.list)                       # scrolls in the height that is left; what is around it stays
        page.add(lambda at, width: ui.caps(at, width, hints))   # any widget that takes a point and a width

Heights and gaps are given in units, widths of columns are pixels. Every part is measured once, when it is put in, and
drawn when the column is painted. A column that gets more height than it needs gives it first to what `grows`, then to
what has a `spring`. `Column(ui, width)` may be filled and painted anywhere: `column.height` is the least height in
pixels, `column.paint(at, height)` draws it and gives the y under it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import Literal

from game.draw.theme import (
    BODY,
    BODY_BOLD,
    CARD,
    HEADING,
    INK,
    LEAST_TEXT,
    RULE,
    SMALL,
    SMALL_BOLD,
    SOFT,
    TOUCH,
    Colour,
    Style,
)
from game.draw.tiles import Face, height_for
from game.ui.buttons import NAMES, TWO_COLUMNS, Press
from game.ui.layout import Rect, columns, flow
from game.ui.parts import Stack
from game.ui.pen import Across
from game.ui.scrolling import GUTTER
from game.ui.targets import Do
from game.ui.widgets import Ui

Place = Literal["top", "middle", "bottom"]


class Column(Stack):
    """Parts under one another, all as wide as the column. The module's first lines show how it is used."""

    # Text.

    def text(
        self, says: str, style: Style = BODY, colour: Colour = INK, across: Across = "left", most: float = 0
    ) -> None:
        """A paragraph; its lines are at most `most` units long, if that is given."""
        ui = self.ui
        wide = min(self.width, ui.u(most)) if most else self.width
        self.put(ui.tall(says, wide, style), lambda rect: ui.paragraph(says, rect.topleft, wide, style, colour, across))

    def heading(self, says: str) -> None:
        """What stands over a group of things."""
        self.text(says, HEADING)

    def caption(self, says: str) -> None:
        """A small heading, close to what it stands over."""
        self.text(says, SMALL_BOLD, SOFT)
        self.gap(4)

    def points(self, texts: Sequence[str], most: float = 900) -> None:
        """Sentences with a dot before each."""
        for index, says in enumerate(texts):
            if index:
                self.gap(6)
            self._point(says, most)

    def _point(self, says: str, most: float) -> None:
        ui = self.ui
        indent = ui.u(24)
        wide = min(self.width - indent, ui.u(most))

        def paint(rect: Rect) -> None:
            ui.mark("dot", (rect.left + ui.u(7), rect.top + ui.line(BODY) // 2), 10, SOFT)
            ui.paragraph(says, (rect.left + indent, rect.top), wide, BODY)

        self.put(ui.tall(says, wide, BODY), paint)

    def notice(self, says: str) -> None:
        """Something worth noticing, in a box of its own."""
        self.add(lambda at, width: self.ui.notice(says, at, width))

    def rule(self, colour: Colour = RULE) -> None:
        """A thin line across."""
        self.put(max(self.ui.u(1), 1), lambda rect: self.ui.rule(rect.topleft, rect.width, colour))

    # Things to look at and to press.

    def tiles(self, faces: Sequence[Face], units: float, gap: float = 4) -> None:
        """Tiles of that width from left to right, in as many lines as they need."""
        ui = self.ui
        wide = min(ui.u(units), self.width)
        sizes = [(wide, height_for(wide))] * len(faces)
        gaps = (ui.u(gap), ui.u(gap))
        places = list(flow(sizes, (0, 0), self.width, gaps))

        def paint(rect: Rect) -> None:
            for face, place in zip(faces, places, strict=True):
                ui.tile(face, place.move(rect.topleft))

        self.put(places[-1].bottom if places else 0, paint)

    def tile(self, face: Face, pixels: int) -> None:
        """One tile so many pixels wide."""
        self.put(height_for(pixels), lambda rect: self.ui.tile(face, Rect(rect.left, rect.top, pixels, rect.height)))

    def buttons(self, presses: Sequence[Press], show_keys: bool = True) -> None:
        """Buttons from left to right, in as many lines as they need."""
        self.add(lambda at, width: self.ui.buttons(at, width, presses, show_keys))

    def setting(self, name: str, note: str, control: Callable[[tuple[int, int], int], int]) -> None:
        """A setting: its name and a note, with its control beside or under them."""
        self.gap(6 if self.empty else 12)
        narrow = not self.has(TWO_COLUMNS)
        with self.aside(self.ui.u(NAMES), gap=24, stacked=narrow, apart=6) as (words, place):
            words.gap(0 if narrow else 4)
            words.text(name, BODY_BOLD)
            if note:
                words.text(note, SMALL, SOFT)
            place.add(control)

    # Columns in the column.

    @contextmanager
    def panel(
        self, title: str = "", fill: Colour | None = CARD, pad: float = 20, fills: bool = False
    ) -> Iterator[Column]:
        """A card with a title; the column that it gives is its inside. `fills`: as high as its cell."""
        ui = self.ui
        edge = min(ui.u(pad), self.width // 24)
        inside = Column(ui, self.width - 2 * edge)
        if title:
            inside.heading(title)
            inside.gap(4)
        yield inside

        def paint(rect: Rect) -> None:
            ui.panel(rect, fill)
            with ui.within(rect):
                inside.paint((rect.left + edge, rect.top + edge), rect.height - 2 * edge)

        springs = 1.0 if fills else inside.springs
        self.put(inside.height + 2 * edge, paint, inside.grows, springs, inside.whole - inside.height)

    @contextmanager
    def card(
        self,
        name: str,
        do: Do,
        *,
        says: str = "",
        key: str = "",
        here: bool = False,
        pad: float = 9,
        edge: float = 18,
        fills: bool = False,
    ) -> Iterator[Column]:
        """A card to press, its key at the right. `here` marks the chosen one; `fills`: as high as its cell."""
        ui = self.ui
        side = ui.u(edge)
        cap = ui.cap_width(key) + ui.u(12) if key else 0
        inside = Column(ui, self.width - 2 * side - cap)
        yield inside

        def paint(rect: Rect) -> None:
            ui.row(name, rect, do, says=says, key=key, here=here)
            with ui.within(rect):
                inside.paint((rect.left + side, rect.top + (rect.height - inside.height) // 2))
                if key:
                    ui.cap_at((rect.right - ui.cap_width(key) - ui.u(14), rect.centery), key)

        self.put(max(inside.height + 2 * ui.u(pad), ui.u(TOUCH)), paint, spring=1.0 if fills else inside.springs)

    def rest(self, name: str, fill: Callable[[Column], object], least: float = 96) -> None:
        """A column that gets what height is left and is scrolled if that is too little; the parts around it stay.

        It is at least `least` units high, if it holds so much. Its bar stands in the gap beside the column.
        """
        ui = self.ui
        inside = Column(ui, self.width)
        fill(inside)
        low = min(inside.height, ui.u(least))
        more = inside.height - low

        def paint(rect: Rect) -> None:
            if rect.height >= inside.height:
                inside.paint(rect.topleft, rect.height)
                return
            area = Rect(rect.left, rect.top, rect.width + ui.u(GUTTER), rect.height)
            ui.scroll(name, area, lambda place: inside.paint(place.topleft))

        self.put(low, paint, more + inside.grows, inside.springs, more)

    @contextmanager
    def beside(
        self, shares: Sequence[float], gap: float = 20, least: float = 0, down: Place = "top"
    ) -> Iterator[list[Column]]:
        """Columns beside each other by shares of the width; under one another where it is under `least` units.

        `down` says where a column stands that is less high than the row.
        """
        ui = self.ui
        if not self.has(least):
            parts = [Column(ui, self.width) for _ in shares]
            yield parts
            self._stack(parts, gap)
            return
        widths = [cell.width for cell in columns(Rect(0, 0, self.width, 0), shares, ui.u(gap))]
        parts = [Column(ui, wide) for wide in widths]
        yield parts
        self._row(parts, ui.u(gap), down)

    @contextmanager
    def aside(
        self, pixels: int, gap: float = 20, *, right: bool = False, stacked: bool = False, apart: float | None = None,
        down: Place = "top",
    ) -> Iterator[tuple[Column, Column]]:  # fmt: skip
        """Two columns: the left one, or with `right` the right one, is so many pixels wide, the other has the rest.

        With `stacked` they stand under one another, `apart` units from each other.
        """
        ui = self.ui
        rest = self.width - pixels - ui.u(gap)
        widths = [self.width, self.width] if stacked else [rest, pixels] if right else [pixels, rest]
        first, second = Column(ui, widths[0]), Column(ui, widths[1])
        yield first, second
        if stacked:
            self._stack([first, second], gap if apart is None else apart)
        else:
            self._row([first, second], ui.u(gap), down)

    @contextmanager
    def grid(self, least: float, gap: float = 12, most: int = 12) -> Iterator[Callable[[], Column]]:
        """Equal cells, as many side by side (at most `most`) as are at least `least` units wide.

        It gives a function: each call makes the next cell, a column. Cells of a row are all as high as the highest.
        """
        ui = self.ui
        apart = ui.u(gap)
        across = max(1, min(most, (self.width + apart) // (ui.u(least) + apart)))
        wide = (self.width - apart * (across - 1)) // across
        cells: list[Column] = []

        def cell() -> Column:
            cells.append(Column(ui, wide))
            return cells[-1]

        yield cell
        for start in range(0, len(cells), across):
            if start:
                self.gap(gap)
            self._row(cells[start : start + across], apart, "top")

    def _stack(self, parts: Sequence[Column], gap: float) -> None:
        for part in parts:
            if not part.empty:
                self.put(part.height, _painter(part, "top"), part.grows, part.springs, part.whole - part.height)
                self.gap(gap)
        self.forget_gap()

    def _row(self, parts: Sequence[Column], gap: int, down: Place) -> None:
        if not parts:
            return
        least = max(part.height for part in parts)
        reach = max(part.height + part.grows for part in parts)
        draws = [_painter(part, down) for part in parts]

        def paint(rect: Rect) -> None:
            left = rect.left
            for part, draw in zip(parts, draws, strict=True):
                draw(Rect(left, rect.top, part.width, rect.height))
                left += part.width + gap

        hidden = max(max(part.whole for part in parts) - least, 0)
        self.put(least, paint, reach - least, max(part.springs for part in parts), hidden)


def _painter(column: Column, down: Place) -> Callable[[Rect], object]:
    """Draws a column into a rectangle that may be higher than it."""

    def paint(rect: Rect) -> None:
        over = 0 if column.grows or column.springs else max(rect.height - column.height, 0)
        y = rect.top + {"top": 0, "middle": over // 2, "bottom": over}[down]
        column.paint((rect.left, y), rect.height)

    return paint


SIZES = (1.4, 1.3, 1.2, 1.1)
"""How much larger a page is set that would leave much of its window empty."""


def scrolled(
    ui: Ui,
    name: str,
    rect: Rect,
    fill: Callable[[Column], object],
    widest: float = 0,
    gap: float = 0,
    roomy: bool = False,
) -> None:
    """A column in a rectangle, scrolled if it is too high; at most `widest` units wide, and then in the middle.

    A `roomy` page is set larger, as far as all of it can then still be seen at once.
    """

    def filled() -> Column:
        wide = max(rect.width - ui.u(GUTTER), 1)
        column = Column(ui, min(wide, ui.u(widest)) if widest else wide, gap)
        fill(column)
        return column

    for times in SIZES if roomy else ():
        with ui.enlarged(times):
            column = filled()
            if column.whole <= rect.height:
                _in_area(ui, name, rect, column)
                return
    _in_area(ui, name, rect, filled())


SMALLER = (1.0, 0.92, 0.84, LEAST_TEXT / BODY.size)
"""How much smaller a text is set that has to be seen at once: body text no smaller than is easy to read."""


def led(
    ui: Ui, name: str, rect: Rect, first: Callable[[Column], object], then: Callable[[Column], object], gap: float = 16
) -> None:
    """A column in a rectangle that is scrolled if it is too high, set so that all of `first` is seen without that.

    `first` holds nothing smaller than body text: where room is short it is set smaller. `gap` units lie under it.
    """
    wide = max(rect.width - ui.u(GUTTER), 1)
    for times in SMALLER:
        with ui.enlarged(times):
            lead = Column(ui, wide)
            first(lead)
        if lead.height <= rect.height:
            break

    def paint(place: Rect) -> None:
        with ui.enlarged(times):
            lead.paint(place.topleft)

    column = Column(ui, wide)
    column.put(lead.height, paint)
    column.gap(gap)
    then(column)
    _in_area(ui, name, rect, column)


def _in_area(ui: Ui, name: str, rect: Rect, column: Column) -> None:
    ui.scroll(name, rect, lambda area: column.paint((area.centerx - column.width // 2, area.top), area.height))
