"""A drawing board in units of its own: everything is drawn several times too large and smoothed down at the end."""

from __future__ import annotations

from collections.abc import Sequence

import pygame

from game.draw.board import Board, Point
from game.draw.theme import Colour

OVERSIZE = 4
"""How many times too large a small picture is drawn; large ones are drawn three times too large."""


class Canvas(Board):
    """`width` by `height` units drawn to a picture of `pixels` (wide, high)."""

    def __init__(self, pixels: tuple[int, int], width: float, margin: Colour) -> None:
        """`margin`: the colour that transparent parts are smoothed with, so that edges get no dark fringe."""
        self.pixels = pixels
        self.oversize = OVERSIZE if pixels[0] < 120 else 3
        self.k = pixels[0] * self.oversize / width
        self.surface = pygame.Surface((pixels[0] * self.oversize, pixels[1] * self.oversize), pygame.SRCALPHA)
        self.surface.fill((*margin, 0))

    def done(self) -> pygame.Surface:
        """The picture at its real size."""
        return pygame.transform.smoothscale(self.surface, self.pixels)

    def _at(self, point: Point) -> Point:
        return point[0] * self.k, point[1] * self.k

    def panel(self, x: float, y: float, w: float, h: float, radius: float, colour: Colour, line: float = 0) -> None:
        """A rounded rectangle; filled, or only its border when `line` is its width."""
        k = self.k
        rect = pygame.Rect(round(x * k), round(y * k), round(w * k), round(h * k))
        width = max(1, round(line * k)) if line else 0
        pygame.draw.rect(self.surface, colour, rect, width, border_radius=round(radius * k))

    def disc(self, centre: Point, radius: float, colour: Colour) -> None:
        """A filled circle."""
        pygame.draw.circle(self.surface, colour, self._at(centre), max(1.0, radius * self.k))

    def ring(self, centre: Point, radius: float, line: float, colour: Colour) -> None:
        """A circle's border, `radius` to its outer edge."""
        width = max(1, round(line * self.k))
        pygame.draw.circle(self.surface, colour, self._at(centre), max(1.0, radius * self.k), width)

    def shape(self, points: Sequence[Point], colour: Colour) -> None:
        """A filled polygon."""
        pygame.draw.polygon(self.surface, colour, [self._at(point) for point in points])
