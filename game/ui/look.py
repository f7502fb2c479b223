"""What all scenes share to look and sound alike: fonts, tile pictures, shapes, the scale, whether things may move."""

from __future__ import annotations

import time
from collections import deque
from collections.abc import Iterable
from dataclasses import dataclass, field

from game.draw.fonts import Fonts
from game.draw.letters import Letters
from game.draw.shapes import Shapes
from game.draw.theme import STYLES
from game.draw.tiles import Face, Tiles
from game.ui.sound import Sounds

BASE = (1440, 900)
"""At this window and scale 1 a unit is one pixel; a larger window enlarges it, a smaller one does not shrink it."""
LEAST_ROOM = (500, 312)
"""Units that a window always holds: in a small window a large scale is held back to keep it."""
GREATEST_FIT = 3.0
NEEDED = "·×−–—…“”‘’±"
"""Typographic characters that the window's own texts use."""


@dataclass
class Look:
    """Made once, by the program or a test, and handed to every scene."""

    letters: Letters
    tiles: Tiles
    shapes: Shapes = field(default_factory=Shapes)
    scale: float = 1.0
    """1.0 to 3.0, as the player set it."""
    motion: bool = True
    sounds: Sounds = field(default_factory=Sounds)
    _foreseen: deque[tuple[int, bool]] = field(default_factory=deque)
    """Fonts, by size in pixels and weight, that will be needed."""

    @classmethod
    def make(cls, scale: float = 1.0, motion: bool = True) -> Look:
        """Loads the fonts. Raises FontFaultError if the font lacks a character that the window uses."""
        fonts = Fonts()
        fonts.demand(NEEDED)
        letters = Letters(fonts)
        return cls(letters, Tiles(letters), scale=scale, motion=motion)

    def foresee(self, faces: Iterable[tuple[Face, int, float]], window: tuple[int, int]) -> None:
        """A window of that size will need the letters of every style, and these faces at these widths and units."""
        unit = self.unit(window)
        self._foreseen = deque(dict.fromkeys((max(round(style.size * unit), 1), style.bold) for style in STYLES))
        self.tiles.foresee(faces)

    def prepare(self, seconds: float) -> None:
        """Makes of what was foreseen as much as is done in so many seconds, at least one font or picture."""
        end = time.monotonic() + seconds
        while self._foreseen:
            self.letters.fonts.prepare(*self._foreseen.popleft())
            if time.monotonic() >= end:
                return
        self.tiles.prepare(end - time.monotonic())

    @property
    def ready(self) -> bool:
        """Whether all that was foreseen is there."""
        return not self._foreseen and self.tiles.ready

    def unit(self, window: tuple[int, int]) -> float:
        """Pixels of one unit in a window of that size."""
        wide, high = window
        fit = min(max(min(wide / BASE[0], high / BASE[1]), 1.0), GREATEST_FIT)
        return max(min(self.scale * fit, wide / LEAST_ROOM[0], high / LEAST_ROOM[1]), 0.2)
