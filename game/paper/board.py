"""A drawing board whose shapes become lines of a PDF page: sharp at any size."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from game.draw.board import Board, Point
from game.draw.theme import Colour

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

STEPS = 5
"""Pieces between two points of a brush stroke. On screen there are more; on paper these can't be told from a curve."""


class PdfBoard(Board):
    """Draws on a reportlab canvas. PDF counts upwards, so a height of `high` units is turned over."""

    def __init__(self, canvas: Canvas, high: float) -> None:
        self._canvas = canvas
        self._high = high

    def panel(self, x: float, y: float, w: float, h: float, radius: float, colour: Colour, line: float = 0) -> None:
        """A rounded rectangle; filled, or only its border when `line` is its width."""
        self._colour(colour)
        half = line / 2
        self._canvas.setLineWidth(line)
        self._canvas.roundRect(
            x + half, self._high - y - h + half, w - line, h - line, max(radius - half, 0.1),
            stroke=int(line > 0), fill=int(line == 0),
        )  # fmt: skip

    def disc(self, centre: Point, radius: float, colour: Colour) -> None:
        """A filled circle."""
        self._colour(colour)
        self._canvas.circle(centre[0], self._high - centre[1], radius, stroke=0, fill=1)

    def ring(self, centre: Point, radius: float, line: float, colour: Colour) -> None:
        """A circle's border, `radius` to its outer edge."""
        self._colour(colour)
        self._canvas.setLineWidth(line)
        self._canvas.circle(centre[0], self._high - centre[1], radius - line / 2, stroke=1, fill=0)

    def shape(self, points: Sequence[Point], colour: Colour) -> None:
        """A filled polygon."""
        self._colour(colour)
        path = self._canvas.beginPath()
        path.moveTo(points[0][0], self._high - points[0][1])
        for x, y in points[1:]:
            path.lineTo(x, self._high - y)
        path.close()
        self._canvas.drawPath(path, stroke=0, fill=1)

    def stroke(self, points: Sequence[Point], widths: Sequence[float], colour: Colour, steps: int = 14) -> None:
        """A brush stroke through the points, its width changing from one to the next, with round ends."""
        super().stroke(points, widths, colour, min(steps, STEPS))

    def _colour(self, colour: Colour) -> None:
        red, green, blue = (part / 255 for part in colour)
        self._canvas.setFillColorRGB(red, green, blue)
        self._canvas.setStrokeColorRGB(red, green, blue)
