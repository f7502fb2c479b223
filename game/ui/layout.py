"""Cutting rectangles: a scene's layout is its window cut into strips, from proportions and units."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import pygame

Rect = pygame.Rect


class Space:
    """A rectangle that strips are cut from; what is left is `rect`. All in pixels."""

    def __init__(self, rect: Rect) -> None:
        self.rect = rect.copy()

    def top(self, height: float, gap: float = 0) -> Rect:
        """Cuts a strip from the top, and a gap under it."""
        cut = Rect(self.rect.left, self.rect.top, self.rect.width, min(round(height), max(self.rect.height, 0)))
        self._keep(0, cut.height + round(gap), 0, 0)
        return cut

    def bottom(self, height: float, gap: float = 0) -> Rect:
        """Cuts a strip from the bottom, and a gap above it."""
        high = min(round(height), max(self.rect.height, 0))
        cut = Rect(self.rect.left, self.rect.bottom - high, self.rect.width, high)
        self._keep(0, 0, 0, high + round(gap))
        return cut

    def left(self, width: float, gap: float = 0) -> Rect:
        """Cuts a strip from the left, and a gap beside it."""
        cut = Rect(self.rect.left, self.rect.top, min(round(width), max(self.rect.width, 0)), self.rect.height)
        self._keep(cut.width + round(gap), 0, 0, 0)
        return cut

    def right(self, width: float, gap: float = 0) -> Rect:
        """Cuts a strip from the right, and a gap beside it."""
        wide = min(round(width), max(self.rect.width, 0))
        cut = Rect(self.rect.right - wide, self.rect.top, wide, self.rect.height)
        self._keep(0, 0, wide + round(gap), 0)
        return cut

    def _keep(self, left: int, top: int, right: int, bottom: int) -> None:
        self.rect = Rect(
            self.rect.left + left,
            self.rect.top + top,
            max(self.rect.width - left - right, 0),
            max(self.rect.height - top - bottom, 0),
        )


def inset(rect: Rect, across: float, down: float | None = None) -> Rect:
    """The rectangle less a margin on every side."""
    dx, dy = round(across), round(across if down is None else down)
    return Rect(rect.left + dx, rect.top + dy, max(rect.width - 2 * dx, 0), max(rect.height - 2 * dy, 0))


def columns(rect: Rect, shares: Sequence[float], gap: float = 0) -> list[Rect]:
    """The rectangle side by side, by shares of what the gaps leave."""
    room = rect.width - round(gap) * (len(shares) - 1)
    found, left, done = [], rect.left, 0.0
    for share in shares:
        start = round(room * done / sum(shares))
        done += share
        width = round(room * done / sum(shares)) - start
        found.append(Rect(left, rect.top, width, rect.height))
        left += width + round(gap)
    return found


def flow(sizes: Sequence[tuple[int, int]], at: tuple[int, int], width: int, gap: tuple[int, int]) -> Iterator[Rect]:
    """Rectangles of these sizes from left to right, starting a new line when the width is used up."""
    left, y = at
    x, high = left, 0
    for wide, tall in sizes:
        wide = min(wide, width)
        if x > left and x + wide > left + width:
            x, y, high = left, y + high + gap[1], 0
        yield Rect(x, y, wide, tall)
        x += wide + gap[0]
        high = max(high, tall)


def grid(count: int, rect: Rect, least: float, gap: float) -> list[Rect]:
    """`count` equal columns in as many rows as their least width demands; all as high as the rectangle says."""
    across = max(1, min(count, int((rect.width + gap) // (least + gap))))
    found = []
    for index in range(count):
        row, column = divmod(index, across)
        cell = columns(rect, [1.0] * across, gap)[column]
        found.append(cell.move(0, row * (rect.height + round(gap))))
    return found
