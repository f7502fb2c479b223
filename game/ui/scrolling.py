"""A `Pen` whose content may be higher than its rectangle: scrolled areas, their bars, and what moves them."""

from __future__ import annotations

from collections.abc import Callable

import pygame

from game.draw.theme import EDGE, RULE
from game.ui.look import Look
from game.ui.pen import Pen
from game.ui.targets import Area, Rect, Target

GUTTER = 22
"""Units beside a scrolled area for its bar."""
WHEEL = 64
"""Units that one notch of the wheel scrolls."""
PAGES = {"page up": -0.9, "page down": 0.9, "up": -0.12, "down": 0.12, "home": -1e6, "end": 1e6, "space": 0.9}
"""Keys that scroll, and by what share of the area's height."""


class Scrolling(Pen):
    """Scrolled areas by name; how far each is scrolled lasts from frame to frame."""

    def __init__(self, look: Look) -> None:
        super().__init__(look)
        self.areas: list[Area] = []
        self.changed = False
        """Whether something happened that needs a new frame."""
        self._area: str | None = None
        self._again = False
        self._offsets: dict[str, int] = {}
        self._held_area: str | None = None

    def begin(self, surface: pygame.Surface) -> None:
        """Starts a frame."""
        super().begin(surface)
        self.areas = []
        self._again = False

    def scroll(self, name: str, rect: Rect, paint: Callable[[Rect], int]) -> None:
        """A rectangle whose content may be higher than it is.

        `paint(area)` draws the content from `area.top` (which lies above the rectangle when scrolled) within
        `area.width`, and gives the y under it. A bar appears at the right when there is more than fits.
        """
        wide = max(rect.width - self.u(GUTTER), 1)
        outer_clip, outer_area = self.surface.get_clip(), self._area
        offset = self._offsets.get(name, 0)
        self.surface.set_clip(rect.clip(outer_clip))
        self._area = name
        with self.within(Rect(rect.left, -1_000_000, wide, 2_000_000), scrolled=True):
            bottom = paint(Rect(rect.left, rect.top - offset, wide, rect.height))
        self.surface.set_clip(outer_clip)
        self._area = outer_area
        content = bottom + offset - rect.top
        area = Area(name, rect.copy(), content, min(offset, max(0, content - rect.height)))
        self.areas.append(area)
        if area.offset != offset:  # the content got shorter: once more, from where it ends now
            self._offsets[name] = area.offset
            self._again = True
        if area.furthest:
            self._bar(area)

    def _bar(self, area: Area) -> None:
        track, thumb = self._track(area)
        self.panel(track, RULE, None, 5)
        self.panel(thumb, EDGE, None, 5)

    def _track(self, area: Area) -> tuple[Rect, Rect]:
        wide = max(self.u(10), 4)
        track = Rect(area.rect.right - wide - self.u(3), area.rect.top, wide, area.rect.height)
        high = max(round(track.height * area.rect.height / area.content), self.u(28))
        y = track.top + round((track.height - high) * area.offset / max(area.furthest, 1))
        return track, Rect(track.left, y, wide, high)

    def scroll_to(self, name: str, offset: int) -> None:
        """Moves a scrolled area so that `offset` pixels of its content lie above it."""
        area = next((area for area in self.areas if area.name == name), None)
        kept = max(0, offset if area is None else min(offset, area.furthest))
        if kept != self._offsets.get(name, 0):
            self._offsets[name] = kept
            self.changed = True

    def offset(self, name: str) -> int:
        """Pixels of a scrolled area's content that lie above it."""
        return self._offsets.get(name, 0)

    def _scroll_by(self, area: Area, pixels: int) -> None:
        self.scroll_to(area.name, self._offsets.get(area.name, 0) + pixels)

    def _reveal(self, target: Target) -> None:
        """Scrolls so that all of a target can be seen."""
        for area in self.areas:
            if area.name == target.area:
                margin = self.u(12)
                if target.whole.top < area.rect.top + margin:
                    self._scroll_by(area, target.whole.top - area.rect.top - margin)
                elif target.whole.bottom > area.rect.bottom - margin:
                    self._scroll_by(area, target.whole.bottom - area.rect.bottom + margin)

    def _drag_bar(self, at: tuple[int, int]) -> None:
        for area in self.areas:
            if area.name == self._held_area:
                track, thumb = self._track(area)
                share = (at[1] - track.top - thumb.height / 2) / max(track.height - thumb.height, 1)
                self.scroll_to(area.name, round(min(max(share, 0), 1) * area.furthest))

    def _wheel(self, event: pygame.event.Event) -> None:
        at = pygame.mouse.get_pos()
        under = [area for area in self.areas if area.furthest and area.rect.collidepoint(at)]
        for area in under[-1:] or [area for area in self.areas if area.furthest][:1]:
            self._scroll_by(area, round(-getattr(event, "precise_y", event.y) * self.u(WHEEL)))

    def _can_scroll(self, name: str, arrow: str) -> bool:
        for area in self.areas:
            if area.name == name:
                return area.offset > 0 if arrow == "up" else area.offset < area.furthest and arrow == "down"
        return False

    def _page(self, name: str, focused: Target | None) -> bool:
        """Keys that scroll the focused target's area, or the first; True if one did."""
        areas = [area for area in self.areas if area.furthest]
        area = next((area for area in areas if focused and area.name == focused.area), areas[0] if areas else None)
        if area is None or name not in PAGES:
            return False
        before = self.offset(area.name)
        self._scroll_by(area, round(min(max(PAGES[name] * area.rect.height, -area.content), area.content)))
        return self.offset(area.name) != before
