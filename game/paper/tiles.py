"""Tiles on paper: each kind drawn once for a document and used again wherever it stands."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from engine.tiles import WIND_NAMES, WINDS, Kind
from game.draw.theme import IVORY, SOFT, TEAL, Colour, mix
from game.draw.tile_shapes import HIGH, THICK, WIDE, draw_face, mark_colour, mark_of
from game.paper.board import PdfBoard
from game.paper.fonts import BOLD, REGULAR, width

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

BORDER: Colour = (96, 88, 74)
FLAT = HIGH - THICK
"""Units of height on paper: a printed tile has no thickness."""
NUMBER, LETTER, NAME, WIND = 46, 38, 30, 52
"""Sizes of the corner marks in units, as on a small tile of the screen."""
LINE = 38
"""Units from the top to the base line of the marks."""


def height_for(wide: float) -> float:
    """The height of a printed tile of that width."""
    return wide * FLAT / WIDE


class PaperTiles:
    """The tiles of one document."""

    def __init__(self, canvas: Canvas) -> None:
        self._canvas = canvas
        self._built: set[str] = set()

    def draw(self, kind: Kind, x: float, y: float, wide: float) -> None:
        """A tile with its lower left corner at a point, so many points wide."""
        name = f"tile{kind}"
        if name not in self._built:
            self._built.add(name)
            self._build(kind, name)
        canvas = self._canvas
        canvas.saveState()
        canvas.translate(x, y)
        canvas.scale(wide / WIDE, wide / WIDE)
        canvas.doForm(name)
        canvas.restoreState()

    def row(self, kinds: Sequence[Kind], x: float, y: float, wide: float, gap: float) -> float:
        """Tiles beside one another; gives the x behind the last."""
        for place, kind in enumerate(kinds):
            self.draw(kind, x + place * (wide + gap), y, wide)
        return x + len(kinds) * (wide + gap) - gap

    def _build(self, kind: Kind, name: str) -> None:
        canvas = self._canvas
        canvas.beginForm(name, 0, 0, WIDE, FLAT)
        board = PdfBoard(canvas, FLAT)
        board.panel(1, 1, WIDE - 2, FLAT - 2, 11, mix(IVORY, (255, 255, 255), 0.6))
        board.panel(1, 1, WIDE - 2, FLAT - 2, 11, BORDER, 3)
        draw_face(board, kind, small=True, plain=True)
        self._mark(kind)
        canvas.endForm()

    def _mark(self, kind: Kind) -> None:
        """Number at the left and the suit's letter at the right; a name alone in the middle."""
        number, word = mark_of(kind)
        if number:
            self._write(number, 9, NUMBER, mark_colour(kind))
            self._write(word[0], WIDE - 9 - width(word[0], BOLD, LETTER), LETTER, mark_colour(kind))
            return
        size = min(NAME, NAME * (WIDE - 12) / width(word, REGULAR, NAME))
        self._write(word, (WIDE - width(word, REGULAR, size)) / 2, size, SOFT, REGULAR)
        if kind in WINDS:
            letter = WIND_NAMES[kind - WINDS[0]][0].upper()
            self._write(letter, (WIDE - width(letter, BOLD, WIND)) / 2, WIND, TEAL, line=104)

    def _write(self, text: str, x: float, size: float, colour: Colour, font: str = BOLD, line: float = LINE) -> None:
        red, green, blue = (part / 255 for part in colour)
        self._canvas.setFillColorRGB(red, green, blue)
        self._canvas.setFont(font, size)
        self._canvas.drawString(x, FLAT - line, text)
