"""Atkinson Hyperlegible at any size: cached fonts, measuring, wrapping, fitting, and a check for missing glyphs."""

from __future__ import annotations

import unicodedata

import pygame
from fontpkg_atkinson_hyperlegible import ROOT

from game.draw.cache import Cache
from game.draw.theme import Colour

NO_GLYPH = "\ue000"
"""A private-use character: what the font draws for it is what it draws for any character that it lacks."""
STAND_IN = "?"
USUAL = "".join(map(chr, range(33, 127))) + "×−–—…“”‘’±"
"""Letters, figures and marks that any text may hold."""
BREAKS = "-/\\_.,:"
"""Marks after which a word that is too long for a line is broken first."""
CACHE_BYTES = 16_000_000
CACHE_WRAPS = 400_000
"""Letters of texts that were wrapped, and of those that were measured."""


class FontFaultError(RuntimeError):
    """The font package lacks what the window must show."""


class Fonts:
    """The two weights at every size asked for. Sizes are whole pixels."""

    def __init__(self) -> None:
        if not pygame.font.get_init():
            pygame.font.init()
        self._fonts: dict[tuple[int, bool], pygame.font.Font] = {}
        self._heights: dict[tuple[int, bool], int] = {}
        self._widths: Cache[tuple[str, int, bool], int] = Cache(CACHE_WRAPS)
        self._glyphs: dict[str, bool] = {}
        self._surfaces: Cache[tuple[str, int, bool, Colour], pygame.Surface] = Cache(CACHE_BYTES)
        self._wrapped: Cache[tuple[str, int, bool, int], tuple[str, ...]] = Cache(CACHE_WRAPS)

    def font(self, size: int, bold: bool = False) -> pygame.font.Font:
        """The font of that pixel size."""
        key = (max(size, 1), bold)
        found = self._fonts.get(key)
        if found is None:
            name = "AtkinsonHyperlegible-Bold.ttf" if bold else "AtkinsonHyperlegible-Regular.ttf"
            found = self._fonts[key] = pygame.font.Font(str(ROOT / "files" / name), key[0])
        return found

    def prepare(self, size: int, bold: bool) -> None:
        """Loads a font and draws the usual letters once: from then on a text in it takes no longer than the next."""
        self.font(size, bold).render(USUAL, True, (0, 0, 0))

    def has(self, char: str) -> bool:
        """Whether the font really draws this character: its picture differs from that of a missing one."""
        known = self._glyphs.get(char)
        if known is None:
            known = self._glyphs[char] = char.isspace() or self._picture(char) != self._picture(NO_GLYPH)
        return known

    def _picture(self, char: str) -> bytes:
        return pygame.image.tobytes(self.font(32).render(char, True, (0, 0, 0)), "RGBA")

    def missing(self, text: str) -> str:
        """The characters of a text that the font can't draw, each once, in order."""
        return "".join(dict.fromkeys(char for char in text if not char.isspace() and not self.has(char)))

    def demand(self, text: str) -> None:
        """Raises FontFaultError when a character that the window needs is missing."""
        lacking = self.missing(text)
        if lacking:
            raise FontFaultError(
                f"the font lacks {' '.join(lacking)}; reinstall the package fontpkg-atkinson-hyperlegible"
            )

    def clean(self, text: str) -> str:
        """The text with control characters as spaces and characters that the font lacks as question marks."""
        if text.isascii() and text.isprintable():
            return text
        composed = unicodedata.normalize("NFC", text)
        return "".join(
            " " if not char.isprintable() and not self._joins(char) else char if self.has(char) else STAND_IN
            for char in composed
        )

    @staticmethod
    def _joins(char: str) -> bool:
        return char in "\u00a0\u202f"

    def width(self, text: str, size: int, bold: bool = False) -> int:
        """Pixels from the first to the last letter."""
        key = (text, size, bold)
        found = self._widths.get(key)
        if found is None:
            found = self._widths.put(key, self.font(size, bold).size(self.clean(text))[0], len(text) + 1)
        return found

    def height(self, size: int, bold: bool = False) -> int:
        """Pixels from one base line to the next."""
        found = self._heights.get((size, bold))
        if found is None:
            found = self._heights[size, bold] = self.font(size, bold).get_linesize()
        return found

    def render(self, text: str, size: int, bold: bool, colour: Colour) -> pygame.Surface:
        """The text as a surface with transparent ground, kept for the next frame."""
        key = (text, size, bold, colour)
        found = self._surfaces.get(key)
        if found is None:
            found = self.font(size, bold).render(self.clean(text), True, colour)
            self._surfaces.put(key, found, found.get_width() * found.get_height() * 4)
        return found

    def wrap(self, text: str, size: int, bold: bool, width: int) -> tuple[str, ...]:
        """Lines no wider than `width` pixels; line breaks are kept, a word too long for a line is broken."""
        key = (text, size, bold, width)
        found = self._wrapped.get(key)
        if found is None:
            lines: list[str] = []
            for part in text.split("\n"):
                lines += self._wrap_part(part, size, bold, max(width, 1))
            found = self._wrapped.put(key, tuple(lines), len(text) + 1)
        return found

    def _wrap_part(self, text: str, size: int, bold: bool, width: int) -> list[str]:
        lines: list[str] = []
        line = ""
        for word in text.split(" "):
            trial = f"{line} {word}" if line else word
            if self.width(trial, size, bold) <= width:
                line = trial
                continue
            if line:
                lines.append(line)
            while len(word) > 1 and self.width(word, size, bold) > width:
                cut = self._cut(word, size, bold, width)
                lines.append(word[:cut])
                word = word[cut:]
            line = word
        lines.append(line)
        return lines

    def _cut(self, word: str, size: int, bold: bool, width: int) -> int:
        """How many letters of a word fit, at least one; if it can be, up to a mark such as a hyphen or a slash."""
        low, high = 1, len(word) - 1
        while low < high:
            middle = (low + high + 1) // 2
            if self.width(word[:middle], size, bold) <= width:
                low = middle
            else:
                high = middle - 1
        mark = max(word.rfind(mark, 1, low) for mark in BREAKS)
        return mark + 1 if mark > 0 else low

    def broken(self, text: str, size: int, bold: bool, width: int) -> bool:
        """Whether a word of the text is too long for a line of that width."""
        return any(self.width(word, size, bold) > width for word in text.split())

    def fit(self, text: str, size: int, bold: bool, width: int, least: int) -> int:
        """The largest size from `size` down to `least` at which the text is at most `width` wide; `least` if none."""
        while size > least and self.width(text, size, bold) > width:
            size -= 1
        return size
