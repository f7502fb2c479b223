"""Parts under one another: their heights and gaps add up, and what height is left is shared out among them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from game.ui.layout import Rect
from game.ui.widgets import Ui


@dataclass(frozen=True)
class Part:
    """One thing in a column. Heights are pixels."""

    least: int
    paint: Callable[[Rect], object]
    grows: int = 0
    """How much higher than `least` it may become."""
    spring: float = 0
    """Its share of the height that nothing can grow into."""
    before: int = 0
    """The gap over it."""
    hidden: int = 0
    """How much of its content has to be scrolled to at its least height."""


class Stack:
    """Parts that are all as wide as the stack. Each is measured when it is put in, and drawn by `paint`."""

    def __init__(self, ui: Ui, width: int, gap: float = 0) -> None:
        """`width` in pixels; `gap` units lie between each two parts where `Column.gap` says nothing else."""
        self.ui = ui
        self.width = max(width, 1)
        self._between = ui.u(gap)
        self._gap: int | None = None
        self._parts: list[Part] = []

    # Measures.

    @property
    def height(self) -> int:
        """The least height of all parts and gaps, in pixels."""
        return sum(part.before + part.least for part in self._parts)

    @property
    def grows(self) -> int:
        """How many pixels higher it can become and still be filled."""
        return sum(part.grows for part in self._parts)

    @property
    def springs(self) -> float:
        """Above 0 when it can fill any height."""
        return sum(part.spring for part in self._parts)

    @property
    def whole(self) -> int:
        """The height in pixels at which nothing in it has to be scrolled."""
        return self.height + sum(part.hidden for part in self._parts)

    @property
    def empty(self) -> bool:
        """Whether nothing has been put in yet."""
        return not self._parts

    def has(self, units: float) -> bool:
        """Whether the column is at least so many units wide."""
        return self.width >= self.ui.u(units)

    # Drawing.

    def paint(self, at: tuple[int, int], height: int = 0) -> int:
        """Draws every part from a point down, in at least its least height; gives the y under the last."""
        spare = max(height - self.height, 0)
        growing = min(spare, self.grows)
        springing, springs = spare - growing, self.springs
        y = at[1]
        for part in self._parts:
            high = part.least
            high += growing * part.grows // self.grows if part.grows else 0
            high += round(springing * part.spring / springs) if part.spring else 0
            y += part.before
            part.paint(Rect(at[0], y, self.width, high))
            y += high
        return y

    # Putting things in.

    def gap(self, units: float) -> None:
        """The gap before the next part, in place of the usual one."""
        self._gap = self.ui.u(units)

    def forget_gap(self) -> None:
        """The usual gap before the next part, whatever was said."""
        self._gap = None

    def put(
        self, least: int, paint: Callable[[Rect], object], grows: int = 0, spring: float = 0, hidden: int = 0
    ) -> None:
        """A part of so many pixels; `paint` gets the rectangle that it is given."""
        before = self._gap if self._gap is not None else (self._between if self._parts else 0)
        self._gap = None
        self._parts.append(Part(least, paint, grows, spring, before, hidden))

    def add(self, draw: Callable[[tuple[int, int], int], int]) -> None:
        """A widget that draws itself from a point within a width, and gives the y under it."""
        ui, width = self.ui, self.width
        least = ui.measure(lambda: draw((0, 0), width))
        self.put(least, lambda rect: draw(rect.topleft, width))

    def space(self, units: float) -> None:
        """Empty room of so many units, at the end of a column too."""
        self._gap = self._gap or 0
        self.put(self.ui.u(units), lambda _: None)

    def spring(self, share: float = 1) -> None:
        """Empty room that takes its share of the height that is left."""
        self._gap = self._gap or 0
        self.put(0, lambda _: None, spring=share)

    def block(self, units: float, paint: Callable[[Rect], object], grows: float = 0) -> None:
        """Anything of a known height: `paint` draws it into the rectangle. `grows`: units it may be higher."""
        self.put(self.ui.u(units), paint, self.ui.u(grows))
