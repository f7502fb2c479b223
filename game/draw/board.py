"""What tiles are drawn on: shapes in units, whatever they become, pixels of a window or lines of a printed page."""

from __future__ import annotations

import itertools
import math
from abc import ABC, abstractmethod
from collections.abc import Sequence

from game.draw.theme import Colour

Point = tuple[float, float]


class Board(ABC):
    """A drawing board in units of its own; x goes right, y goes down."""

    @abstractmethod
    def panel(self, x: float, y: float, w: float, h: float, radius: float, colour: Colour, line: float = 0) -> None:
        """A rounded rectangle; filled, or only its border when `line` is its width."""

    @abstractmethod
    def disc(self, centre: Point, radius: float, colour: Colour) -> None:
        """A filled circle."""

    @abstractmethod
    def ring(self, centre: Point, radius: float, line: float, colour: Colour) -> None:
        """A circle's border, `radius` to its outer edge."""

    @abstractmethod
    def shape(self, points: Sequence[Point], colour: Colour) -> None:
        """A filled polygon."""

    def oval(self, centre: Point, across: float, along: float, degrees: float, colour: Colour) -> None:
        """A filled ellipse of half axes `across` and `along`, turned clockwise; at 0 `along` points up."""
        turn = math.radians(degrees)
        points = []
        for step in range(40):
            angle = step * math.tau / 40
            x, y = across * math.sin(angle), -along * math.cos(angle)
            points.append(
                (
                    centre[0] + x * math.cos(turn) - y * math.sin(turn),
                    centre[1] + x * math.sin(turn) + y * math.cos(turn),
                )
            )
        self.shape(points, colour)

    def stroke(self, points: Sequence[Point], widths: Sequence[float], colour: Colour, steps: int = 14) -> None:
        """A brush stroke through the points, its width changing from one to the next, with round ends.

        A straight one whose width changes evenly looks the same in one piece.
        """
        if len(points) == 2 and len(widths) <= 2:
            steps = 1
        path = list(zip(curve(points, steps), spread(widths, len(points), steps), strict=True))
        for (point, width), (following, next_width) in itertools.pairwise(path):
            self._segment(point, following, width / 2, next_width / 2, colour)
        for point, width in path:
            self.disc(point, width / 2, colour)

    def _segment(self, a: Point, b: Point, ra: float, rb: float, colour: Colour) -> None:
        length = math.hypot(b[0] - a[0], b[1] - a[1])
        if length == 0:
            return
        nx, ny = -(b[1] - a[1]) / length, (b[0] - a[0]) / length
        self.shape(
            [
                (a[0] + nx * ra, a[1] + ny * ra),
                (b[0] + nx * rb, b[1] + ny * rb),
                (b[0] - nx * rb, b[1] - ny * rb),
                (a[0] - nx * ra, a[1] - ny * ra),
            ],
            colour,
        )


def curve(points: Sequence[Point], steps: int) -> list[Point]:
    """A smooth line through the points (Catmull-Rom), `steps` pieces between each two. Two points: straight."""
    if len(points) == 2:
        (ax, ay), (bx, by) = points
        return [(ax + (bx - ax) * i / steps, ay + (by - ay) * i / steps) for i in range(steps + 1)]
    padded = [points[0], *points, points[-1]]
    found: list[Point] = []
    for before, a, b, after in zip(padded, padded[1:], padded[2:], padded[3:], strict=False):
        for step in range(steps):
            t = step / steps
            found.append((_blend(before[0], a[0], b[0], after[0], t), _blend(before[1], a[1], b[1], after[1], t)))
    found.append(points[-1])
    return found


def _blend(p: float, a: float, b: float, q: float, t: float) -> float:
    return 0.5 * (2 * a + (b - p) * t + (2 * p - 5 * a + 4 * b - q) * t**2 + (3 * a - p - 3 * b + q) * t**3)


def spread(widths: Sequence[float], points: int, steps: int) -> list[float]:
    """Widths spread evenly over the points of a `curve`."""
    count = (points - 1) * steps
    if len(widths) == 1:
        return [widths[0]] * (count + 1)
    found = []
    for index in range(count + 1):
        place = index / count * (len(widths) - 1)
        low = min(int(place), len(widths) - 2)
        found.append(widths[low] + (widths[low + 1] - widths[low]) * (place - low))
    return found


def around(centre: Point, radius: float, degrees: float) -> Point:
    """The point at a distance and a clockwise angle from straight up."""
    turn = math.radians(degrees)
    return centre[0] + radius * math.sin(turn), centre[1] - radius * math.cos(turn)
