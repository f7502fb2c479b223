"""Drawing in units: texts, panels, bars, marks and tiles on the surface of one frame.

Every text stays in the room it was given: a line that is too wide is set smaller, then wrapped; nothing is cut.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import Literal

import pygame

from game.draw.letters import Recorder, Room
from game.draw.shapes import Mark
from game.draw.theme import BLUE, CARD, INK, LEAST_TEXT, RULE, Colour, Style
from game.draw.tiles import Face, height_for
from game.ui.look import Look

Rect = pygame.Rect
Across = Literal["left", "middle", "right"]
Down = Literal["top", "middle", "bottom"]

SHRINKS = 0.8
"""A line may be set this much smaller to fit before it is wrapped, but not under `LEAST_TEXT` units."""


class Pen:
    """One frame's surface and how things are put on it. Rectangles are in pixels, sizes of text in units."""

    def __init__(self, look: Look) -> None:
        self.look = look
        self.surface = pygame.Surface((1, 1))
        self.unit = 1.0
        self._rooms: list[Room] = [Room(self.surface.get_rect(), 1.0)]

    def begin(self, surface: pygame.Surface) -> None:
        """Starts a frame."""
        self.surface = surface
        self.unit = self.look.unit(surface.get_size())
        self._rooms = [Room(surface.get_rect(), self.unit)]

    # Sizes and rooms.

    def u(self, units: float) -> int:
        """Pixels of so many units."""
        return round(units * self.unit)

    @property
    def window(self) -> Rect:
        """The whole surface."""
        return self.surface.get_rect()

    @property
    def room(self) -> Room:
        """Where text has to stay just now."""
        return self._rooms[-1]

    @property
    def recorder(self) -> Recorder | None:
        """The recorder of a test, if one listens."""
        return self.look.letters.recorder

    @contextmanager
    def within(self, rect: Rect, scrolled: bool | None = None) -> Iterator[None]:
        """What is written inside has to stay in this rectangle."""
        keep = self.room.scrolled if scrolled is None else scrolled
        self._rooms.append(Room(rect, self.unit, keep))
        try:
            yield
        finally:
            self._rooms.pop()

    @contextmanager
    def enlarged(self, times: float) -> Iterator[None]:
        """All that is measured and drawn inside is so many times as large."""
        unit = self.unit
        self.unit = unit * times
        try:
            yield
        finally:
            self.unit = unit

    def shows(self, rect: Rect) -> bool:
        """Whether anything of a rectangle can be seen: a long list skips what can't."""
        return bool(rect.colliderect(self.surface.get_clip()))

    def px(self, style: Style) -> int:
        """The pixel size of a style."""
        return max(self.u(style.size), 1)

    # Text.

    def width(self, text: str, style: Style) -> int:
        """Pixels of a line of text."""
        return self.look.letters.fonts.width(text, self.px(style), style.bold)

    def line(self, style: Style) -> int:
        """Pixels from one line to the next, with a little air."""
        return round(self.look.letters.fonts.height(self.px(style), style.bold) * 1.12)

    def lines(self, text: str, width: int, style: Style) -> tuple[str, ...]:
        """The text broken to a width in pixels."""
        return self.look.letters.fonts.wrap(text, self.px(style), style.bold, width)

    def tall(self, text: str, width: int, style: Style) -> int:
        """Pixels of height that `paragraph` would use."""
        return self.line(style) * len(self.lines(text, width, style))

    def text(self, text: str, at: tuple[int, int], style: Style, colour: Colour = INK, across: Across = "left") -> Rect:
        """One line as it is, `at` its upper left, upper middle or upper right."""
        wide = self.width(text, style)
        x = at[0] - {"left": 0, "middle": wide // 2, "right": wide}[across]
        return self._put(text, (x, at[1]), self.px(style), style.bold, colour)

    def _put(self, text: str, at: tuple[int, int], size: int, bold: bool, colour: Colour) -> Rect:
        return self.look.letters.put(self.surface, text, at, size, bold, colour, self.room)

    def fitted(
        self,
        text: str,
        rect: Rect,
        style: Style,
        colour: Colour = INK,
        across: Across = "left",
        down: Down = "middle",
        least: float = LEAST_TEXT,
    ) -> Rect:
        """The text inside a rectangle: whole if it fits, else smaller, else wrapped between words, else both."""
        size, lines = self._fit(text, rect, style, least)
        fonts = self.look.letters.fonts
        high = fonts.height(size, style.bold)
        total = high * len(lines)
        y = {"top": rect.top, "middle": rect.centery - total // 2, "bottom": rect.bottom - total}[down]
        drawn = Rect(rect.left, y, 0, 0)
        for index, line in enumerate(lines):
            wide = fonts.width(line, size, style.bold)
            x = {"left": rect.left, "middle": rect.centerx - wide // 2, "right": rect.right - wide}[across]
            place = self._put(line, (x, y + index * high), size, style.bold, colour)
            drawn = place if index == 0 else drawn.union(place)
        return drawn

    def _fit(self, text: str, rect: Rect, style: Style, least: float) -> tuple[int, tuple[str, ...]]:
        fonts = self.look.letters.fonts
        size = self.px(style)
        floor = min(max(round(size * SHRINKS), self.u(least)), size)
        fit = fonts.fit(text, size, style.bold, rect.width, floor)
        if fonts.width(text, fit, style.bold) <= rect.width and "\n" not in text:
            return fit, (text,)
        while size > 1:
            lines = fonts.wrap(text, size, style.bold, rect.width)
            high = fonts.height(size, style.bold) * len(lines)
            whole = size <= floor or not fonts.broken(text, size, style.bold, rect.width)
            if high <= rect.height and whole:
                return size, lines
            size -= 1
        return size, (text,)

    def paragraph(
        self, text: str, at: tuple[int, int], width: int, style: Style, colour: Colour = INK, across: Across = "left"
    ) -> int:
        """Wrapped text from a point down; gives the y under it."""
        x, y = at
        step = self.line(style)
        for line in self.lines(text, width, style):
            if self.shows(Rect(x, y, width, step)) or not self.room.scrolled:
                start = {"left": x, "middle": x + width // 2, "right": x + width}[across]
                self.text(line, (start, y), style, colour, across)
            y += step
        return y

    # Shapes.

    def panel(
        self, rect: Rect, fill: Colour | None = CARD, edge: Colour | None = RULE, radius: float = 14, line: float = 1
    ) -> None:
        """A rounded panel."""
        self.look.shapes.panel(self.surface, rect, fill, self.u(radius), edge, max(1, self.u(line)))

    def rule(self, at: tuple[int, int], width: int, colour: Colour = RULE) -> None:
        """A thin line across."""
        pygame.draw.rect(self.surface, colour, Rect(at, (width, max(1, self.u(1)))))

    def bar(self, rect: Rect, share: float, colour: Colour = BLUE, trough: Colour = RULE) -> None:
        """A bar filled to a share, 0 to 1."""
        self.look.shapes.bar(self.surface, rect, share, colour, trough)

    def mark(self, mark: Mark, centre: tuple[int, int], size: float, colour: Colour = INK) -> None:
        """A mark so many units wide about a centre."""
        self.look.shapes.mark(self.surface, mark, centre, max(self.u(size), 4), colour)

    def tile(self, face: Face, rect: Rect) -> None:
        """A tile as wide as the rectangle, from its upper left corner; nothing is done for one out of sight."""
        if self.shows(Rect(rect.left, rect.top, rect.width, height_for(rect.width))):
            self.look.tiles.draw(self.surface, face, rect, self.room)

    def tiles(self, faces: Sequence[Face], at: tuple[int, int], width: int, gap: int) -> Rect:
        """Tiles side by side; gives the rectangle they take up."""
        x, y = at
        high = 0
        for face in faces:
            rect = Rect(x, y, width, height_for(width))
            self.tile(face, rect)
            x, high = x + width + gap, rect.height
        return Rect(at[0], y, max(x - gap - at[0], 0), high)
