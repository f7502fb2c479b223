"""Panels, bars and marks drawn as shapes: the font has no arrows, ticks or stars.

Corners and marks are drawn larger and smoothed down like everything else; the pictures are kept by `Shapes`.
"""

from __future__ import annotations

from typing import Literal

import pygame

from game.draw.board import around
from game.draw.cache import Cache
from game.draw.canvas import Canvas
from game.draw.theme import Colour, mix

Mark = Literal["tick", "cross", "star", "left", "right", "up", "down", "dot", "plus", "bang"]
CACHE_BYTES = 12_000_000
SOFTER = 4
"""A shadow is drawn this many times too small and smoothed up."""


class Shapes:
    """Smooth panels and marks, each built once per size and colour."""

    def __init__(self) -> None:
        self._cached: Cache[tuple[object, ...], pygame.Surface] = Cache(CACHE_BYTES)

    def _keep(self, key: tuple[object, ...], surface: pygame.Surface) -> pygame.Surface:
        return self._cached.put(key, surface, surface.get_width() * surface.get_height() * 4)

    def panel(
        self,
        surface: pygame.Surface,
        rect: pygame.Rect,
        fill: Colour | None,
        radius: int,
        edge: Colour | None = None,
        line: int = 1,
    ) -> None:
        """A rounded rectangle; `fill` None leaves what is inside as it is, `edge` draws a border `line` pixels wide."""
        if rect.width <= 0 or rect.height <= 0:
            return
        radius = min(radius, rect.width // 2, rect.height // 2)
        if fill is not None and radius <= 1:
            pygame.draw.rect(surface, fill, rect)
        elif fill is not None:
            pygame.draw.rect(surface, fill, rect.inflate(0, -2 * radius))
            pygame.draw.rect(surface, fill, rect.inflate(-2 * radius, 0))
        if radius > 1:
            corners = self._corners(radius, fill, edge, line)
            for index, place in enumerate(
                (rect.topleft, (rect.right - radius, rect.top), (rect.left, rect.bottom - radius),
                 (rect.right - radius, rect.bottom - radius))
            ):  # fmt: skip
                surface.blit(corners, place, ((index % 2) * radius, (index // 2) * radius, radius, radius))
        if edge is not None:
            inner_w, inner_h = rect.width - 2 * radius, rect.height - 2 * radius
            for side in (
                (rect.left + radius, rect.top, inner_w, line),
                (rect.left + radius, rect.bottom - line, inner_w, line),
                (rect.left, rect.top + radius, line, inner_h),
                (rect.right - line, rect.top + radius, line, inner_h),
            ):
                pygame.draw.rect(surface, edge, side)

    def _corners(self, radius: int, fill: Colour | None, edge: Colour | None, line: int) -> pygame.Surface:
        """A disc of that radius, whose four quarters are the corners."""
        key = ("corners", radius, fill, edge, line)
        found = self._cached.get(key)
        if found is not None:
            return found
        canvas = Canvas((radius * 2, radius * 2), radius * 2, edge or fill or (0, 0, 0))
        middle = (float(radius), float(radius))
        if edge is not None and fill is None:
            canvas.ring(middle, radius, line, edge)
        elif edge is not None and fill is not None:
            canvas.disc(middle, radius, edge)
            canvas.disc(middle, radius - line, fill)
        elif fill is not None:
            canvas.disc(middle, radius, fill)
        return self._keep(key, canvas.done())

    def bar(self, surface: pygame.Surface, rect: pygame.Rect, share: float, colour: Colour, trough: Colour) -> None:
        """A rounded bar filled to a share (0 to 1)."""
        self.panel(surface, rect, trough, rect.height // 2)
        wide = round(rect.width * min(max(share, 0.0), 1.0))
        if wide:
            self.panel(
                surface, pygame.Rect(rect.topleft, (max(wide, rect.height), rect.height)), colour, rect.height // 2
            )

    def ledge(self, surface: pygame.Surface, rect: pygame.Rect, light: Colour, wood: Colour, deep: Colour) -> None:
        """A wooden ledge: a light top, a face with a faint grain, a dark lower edge."""
        radius = max(2, rect.height // 4)
        self.panel(surface, rect, deep, radius)
        self.panel(
            surface, pygame.Rect(rect.left, rect.top, rect.width, rect.height - max(1, rect.height // 9)), wood, radius
        )
        top = pygame.Rect(rect.left, rect.top, rect.width, max(2, rect.height * 3 // 10))
        self.panel(surface, top, light, min(radius, top.height // 2))
        step = max(3, rect.height // 5)
        for index, y in enumerate(range(top.bottom + step, rect.bottom - step, step)):
            inset = rect.height // 2 + index * rect.height
            pygame.draw.line(surface, mix(wood, deep, 0.35), (rect.left + inset, y), (rect.right - inset * 2, y))

    def shadow(self, surface: pygame.Surface, rect: pygame.Rect, radius: int, depth: int) -> None:
        """A soft shade around a panel that lies above the rest."""
        key = ("shadow", rect.size, radius, depth)
        picture = self._cached.get(key)
        if picture is None:
            whole = (rect.width + 2 * depth, rect.height + 2 * depth)
            small = pygame.Surface((whole[0] // SOFTER, whole[1] // SOFTER), pygame.SRCALPHA)
            steps = max(depth // SOFTER, 1)
            for step in range(steps):
                shade = (40, 30, 20, round(60 * ((step + 1) / steps) ** 2))
                inner = small.get_rect().inflate(-2 * step, -2 * step)
                pygame.draw.rect(small, shade, inner, border_radius=(radius + depth) // SOFTER - step)
            picture = pygame.transform.smoothscale(small, whole)
            self._keep(key, picture)
        surface.blit(picture, (rect.left - depth, rect.top - depth + depth // 3))

    def mark(
        self, surface: pygame.Surface, mark: Mark, centre: tuple[int, int], size: int, colour: Colour
    ) -> pygame.Rect:
        """A mark so many pixels wide and high, about a centre."""
        key = (mark, size, colour)
        picture = self._cached.get(key)
        if picture is None:
            picture = self._keep(key, _mark(mark, max(size, 4), colour))
        return surface.blit(picture, picture.get_rect(center=centre))


def _mark(mark: Mark, size: int, colour: Colour) -> pygame.Surface:
    canvas = Canvas((size, size), 100, colour)
    middle = (50.0, 50.0)
    if mark == "tick":
        canvas.stroke([(14, 54), (40, 80)], [17], colour)
        canvas.stroke([(40, 80), (86, 22)], [17], colour)
    elif mark == "cross":
        canvas.stroke([(20, 20), (80, 80)], [16], colour)
        canvas.stroke([(80, 20), (20, 80)], [16], colour)
    elif mark == "plus":
        canvas.stroke([(50, 14), (50, 86)], [16], colour)
        canvas.stroke([(14, 50), (86, 50)], [16], colour)
    elif mark == "star":
        canvas.shape([around(middle, 48 if step % 2 == 0 else 20, step * 36) for step in range(10)], colour)
    elif mark == "dot":
        canvas.disc(middle, 34, colour)
    elif mark == "bang":
        canvas.stroke([(50, 12), (50, 60)], [20, 12], colour)
        canvas.disc((50, 84), 11, colour)
    else:
        turn = {"up": 0, "right": 90, "down": 180, "left": 270}[mark]
        shift = around(middle, -14, turn)
        tip, left, right = (around(shift, 44, turn), around(around(shift, 4, turn), 44, turn - 90),
                            around(around(shift, 4, turn), 44, turn + 90))  # fmt: skip
        canvas.stroke([left, tip], [15], colour)
        canvas.stroke([right, tip], [15], colour)
    return canvas.done()
