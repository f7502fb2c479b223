"""The one way text gets onto a surface, and the record of it that tests walk.

While a recorder is set, every text drawn leaves a `Lettering`: what it says, its colour, the colours that really lay
under it when it was drawn, its size, its place, and the room it was given.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np
import pygame

from game.draw.fonts import Fonts
from game.draw.theme import Colour

SEEN_SHARE = 0.03
"""A colour under less of a text than this is an edge, not a ground."""


@dataclass(frozen=True)
class Room:
    """Where a text has to stay."""

    rect: pygame.Rect
    """Its panel, control or window, in pixels."""
    unit: float
    """Pixels of one unit."""
    scrolled: bool = False
    """In a scrolled area: cut at its upper or lower edge is no fault."""


@dataclass(frozen=True)
class Lettering:
    """One text as drawn."""

    text: str
    colour: Colour
    grounds: tuple[Colour, ...]
    """Every colour under at least 3% of the letters' rectangle just before they were drawn."""
    size: float
    """Pixels divided by the unit: the size at scale 1."""
    bold: bool
    rect: pygame.Rect
    """The ink, in pixels of the window; cut to the visible part where it scrolls."""
    room: Room


@dataclass
class Recorder:
    """Collects lettering while a screen is drawn."""

    taken: list[Lettering] = field(default_factory=list)

    def cover(self) -> None:
        """A popup lies over what was drawn so far: that no longer counts."""
        self.taken.clear()


@dataclass
class Letters:
    """Draws text with one set of fonts. `recorder` is set by tests and while a tile picture is built."""

    fonts: Fonts
    recorder: Recorder | None = None

    def put(
        self,
        surface: pygame.Surface,
        text: str,
        at: tuple[int, int],
        size: int,
        bold: bool,
        colour: Colour,
        room: Room,
    ) -> pygame.Rect:
        """One line with its upper left corner at `at`; gives the rectangle of the whole line."""
        picture = self.fonts.render(text, size, bold, colour)
        if self.recorder is not None:
            ink = picture.get_bounding_rect().move(at)
            seen = ink.clip(surface.get_clip()) if room.scrolled else ink
            if seen.width and seen.height:
                rect = pygame.Rect(ink.left, seen.top, ink.width, seen.height)
                ground = grounds_under(surface, seen)
                self.recorder.taken.append(Lettering(text, colour, ground, size / room.unit, bold, rect, room))
        surface.blit(picture, at)
        return picture.get_rect(topleft=at)

    def replay(self, kept: tuple[Lettering, ...], by: tuple[int, int], room: Room, clip: pygame.Rect) -> None:
        """Records the lettering of a picture that was built earlier and is now drawn at `by`."""
        if self.recorder is None:
            return
        for one in kept:
            rect = one.rect.move(by)
            seen = rect.clip(clip) if room.scrolled else rect
            if seen.width and seen.height:
                rect = pygame.Rect(rect.left, seen.top, rect.width, seen.height)
                self.recorder.taken.append(replace(one, rect=rect, size=one.size / room.unit, room=room))


def grounds_under(surface: pygame.Surface, rect: pygame.Rect) -> tuple[Colour, ...]:
    """The colours that make up at least `SEEN_SHARE` of a rectangle of the surface, commonest first.

    Near-equal shades are one ground, whose colour is the middle one of its pixels, channel by channel.
    """
    inside = rect.clip(surface.get_rect())
    if not inside.width or not inside.height:
        return ()
    pixels = pygame.surfarray.array2d(surface.subsurface(inside)).ravel()
    shifts = surface.get_shifts()[:3]
    if (pixels == pixels[0]).all():  # most texts stand on one colour
        alone = int(pixels[0])
        return ((alone >> shifts[0] & 255, alone >> shifts[1] & 255, alone >> shifts[2] & 255),)
    values, counts = np.unique(pixels, return_counts=True)
    red, green, blue = ((values >> shift) & 255 for shift in shifts)
    coarse = (red >> 2) * 4096 + (green >> 2) * 64 + (blue >> 2)
    shade_of = np.unique(coarse, return_inverse=True)[1]
    shares = np.bincount(shade_of, counts)
    found = []
    for shade in np.argsort(-shares, kind="stable"):
        if shares[shade] < SEEN_SHARE * len(pixels):
            break
        same = shade_of == shade
        red_here, green_here, blue_here = (_middle(np.repeat(one[same], counts[same])) for one in (red, green, blue))
        found.append((red_here, green_here, blue_here))
    return tuple(found)


def _middle(values: np.ndarray) -> int:
    """The median of whole numbers, rounded down."""
    values = np.sort(values)
    return int(values[(len(values) - 1) // 2] + values[len(values) // 2]) // 2
