"""Whole tiles at any size: body, corner mark and picture, built once per size and kept.

The corner mark (number and suit, or a name) is part of the picture. The lettering recorded while it was built is
replayed whenever it is drawn.
"""

from __future__ import annotations

import time
from collections import deque
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import TypeAlias

import pygame

from engine.tiles import JOKER, WIND_NAMES, WINDS, Kind
from game.draw.cache import Cache
from game.draw.canvas import Canvas
from game.draw.letters import Lettering, Letters, Recorder, Room
from game.draw.theme import CARD, EDGE, IVORY, PAPER, SOFT, TEAL, Colour, mix
from game.draw.tile_shapes import (
    BODY,
    HIGH,
    THICK,
    WIDE,
    draw_back,
    draw_body,
    draw_face,
    mark_colour,
    mark_of,
)

SMALL_UNDER = 52
"""Width under which a tile has a larger mark (in units) and a plainer picture (in pixels)."""
CACHE_BYTES = 24_000_000

SOLID = "solid"
SLOT = "slot"
"""An outline for a tile that is still to come."""
TURNED = "turned"
"""The back."""


@dataclass(frozen=True)
class Face:
    """What to draw: a kind (None for the back or an empty slot), and as what."""

    kind: Kind | None
    look: str = SOLID
    joker: bool = False
    """A joker that stands for `kind`: the joker's picture under the kind's mark."""


Key: TypeAlias = tuple[Face, int, bool]


@dataclass(frozen=True)
class Picture:
    """A finished tile and the lettering on it, placed from its own corner."""

    surface: pygame.Surface
    _written: Callable[[], tuple[Lettering, ...]]

    @cached_property
    def lettering(self) -> tuple[Lettering, ...]:
        """What is written on the tile, found out only where somebody asks."""
        return self._written()


def height_for(width: int) -> int:
    """Pixels of height of a tile so many pixels wide."""
    return round(width * HIGH / WIDE)


def width_for(height: int) -> int:
    """Pixels of width of the widest tile at most so many pixels high."""
    width = int(height * WIDE / HIGH)
    return width + 1 if height_for(width + 1) <= height else width


class Tiles:
    """Every tile picture asked for so far, the least used dropped first."""

    def __init__(self, letters: Letters) -> None:
        self._letters = letters
        self._cached: Cache[Key, Picture] = Cache(CACHE_BYTES)
        self._foreseen: deque[Key] = deque()

    def picture(self, face: Face, width: int, unit: float = 1.0) -> Picture:
        """The tile at a width in pixels, where a unit is so many pixels."""
        return self._picture(_key(face, width, unit))

    def _picture(self, key: Key) -> Picture:
        found = self._cached.get(key)
        if found is None:
            recorder = Recorder() if self._letters.recorder is not None else None
            surface = self._build(*key, Letters(self._letters.fonts, recorder))
            found = Picture(surface, lambda: self._lettering(key) if recorder is None else tuple(recorder.taken))
            self._cached.put(key, found, surface.get_width() * surface.get_height() * 4)
        return found

    def foresee(self, wanted: Iterable[tuple[Face, int, float]]) -> None:
        """These faces, at these widths and units, will be asked for soon; what was foreseen before no longer counts."""
        self._foreseen = deque(_key(*one) for one in wanted)

    def prepare(self, seconds: float) -> None:
        """Builds of what was foreseen as much as is done in so many seconds, at least one picture."""
        end = time.monotonic() + seconds
        while self._foreseen:
            key = self._foreseen.popleft()
            if key not in self._cached:
                self._picture(key)
                if time.monotonic() >= end:
                    return

    @property
    def ready(self) -> bool:
        """Whether all that was foreseen is there."""
        return not self._foreseen

    def draw(self, surface: pygame.Surface, face: Face, rect: pygame.Rect, room: Room) -> None:
        """The tile with its upper left corner at the rectangle's, as wide as the rectangle."""
        picture = self.picture(face, rect.width, room.unit)
        surface.blit(picture.surface, rect.topleft)
        inside = Room(picture.surface.get_rect(topleft=rect.topleft), room.unit, room.scrolled)
        if self._letters.recorder is not None:
            self._letters.replay(picture.lettering, rect.topleft, inside, surface.get_clip())

    def _lettering(self, key: Key) -> tuple[Lettering, ...]:
        recorder = Recorder()
        self._build(*key, Letters(self._letters.fonts, recorder))
        return tuple(recorder.taken)

    def _build(self, face: Face, width: int, small: bool, letters: Letters) -> pygame.Surface:
        pixels = (width, height_for(width))
        canvas = Canvas(pixels, WIDE, BODY)
        plain = width < SMALL_UNDER
        if face.look == TURNED:
            draw_body(canvas, plain)
            draw_back(canvas)
            return canvas.done()
        if face.look == SLOT:
            canvas.panel(2, 2, WIDE - 4, HIGH - THICK - 2, 11, mix(EDGE, IVORY, 0.1), 0)
            line = max(2.4, WIDE / width * 1.1)
            canvas.panel(2 + line, 2 + line, WIDE - 4 - line * 2, HIGH - THICK - 2 - line * 2, 9, mix(CARD, PAPER, 0.6))
        else:
            draw_body(canvas, plain)
            if face.kind is not None:
                draw_face(canvas, JOKER if face.joker else face.kind, small, plain)
        surface = canvas.done()
        if face.kind is not None:
            marker = _slot_mark if face.look == SLOT else _mark
            marker(letters, surface, face.kind, width, small)
            if face.look == SOLID and face.kind in WINDS and not face.joker:
                _wind_letter(letters, surface, face.kind, width, small, plain)
        return surface


def _key(face: Face, width: int, unit: float) -> Key:
    return face, max(width, 8), width < SMALL_UNDER * unit


def _room(width: int) -> Room:
    return Room(pygame.Rect(0, 0, width, height_for(width)), 1.0)


def _mark(letters: Letters, surface: pygame.Surface, kind: Kind, width: int, small: bool) -> None:
    """Number at the left, suit at the right, on one base line; a name alone stands at the left."""
    k = width / WIDE
    number, word = mark_of(kind)
    left, right = round((5 if small else 9) * k), width - round((5 if small else 9) * k)
    fonts = letters.fonts
    line = round((38 if small else 29) * k)
    if number:
        size = round((48 if small else 31) * k)
        _put_on_line(letters, surface, number, left, line, size, True, mark_colour(kind), width)
        text = word[0] if small else word
        size = round((40 if small else 20) * k)
        start = right - fonts.width(text, size, small)
        _put_on_line(letters, surface, text, start, line, size, small, SOFT if not small else mark_colour(kind), width)
        return
    size = fonts.fit(word, round((34 if small else 20) * k), small, right - left, 8)
    start = left if not small else (width - fonts.width(word, size, small)) // 2
    _put_on_line(letters, surface, word, start, line, size, small, SOFT if not small else mark_colour(kind), width)


def _put_on_line(
    letters: Letters,
    surface: pygame.Surface,
    text: str,
    x: int,
    line: int,
    size: int,
    bold: bool,
    colour: Colour,
    width: int,
) -> None:
    ascent = letters.fonts.font(size, bold).get_ascent()
    letters.put(surface, text, (x, line - ascent), size, bold, colour, _room(width))


def _slot_mark(letters: Letters, surface: pygame.Surface, kind: Kind, width: int, small: bool) -> None:
    """Number above suit in the middle of an outlined slot; a name alone in the middle."""
    k = width / WIDE
    number, word = mark_of(kind)
    fonts = letters.fonts
    middle = (HIGH - THICK) / 2 * k
    size = fonts.fit(word, max(round((30 if small else 23) * k), 9), False, round(width * 0.9), 8)
    start = round((width - fonts.width(word, size)) / 2)
    if not number:
        _put_on_line(letters, surface, word, start, round(middle + size * 0.3), size, False, SOFT, width)
        return
    great = round((44 if small else 40) * k)
    at = round((width - fonts.width(number, great, True)) / 2)
    _put_on_line(letters, surface, number, at, round(middle), great, True, SOFT, width)
    _put_on_line(letters, surface, word, start, round(middle + size * 0.98), size, False, SOFT, width)


def _wind_letter(letters: Letters, surface: pygame.Surface, kind: Kind, width: int, small: bool, plain: bool) -> None:
    k = width / WIDE
    letter = WIND_NAMES[kind - WINDS[0]][0].upper()
    size = round((54 if plain else 23 if small else 27) * k)
    picture = letters.fonts.render(letter, size, True, TEAL).get_bounding_rect()
    centre_x, centre_y = 50 * k, (86 if small else 78.5) * k
    at = (round(centre_x - picture.centerx), round(centre_y - picture.centery))
    letters.put(surface, letter, at, size, True, TEAL, _room(width))
