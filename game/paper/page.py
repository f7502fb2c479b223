"""A document that is written from top to bottom, in one column or two: text, rows of tiles, boxes and bars."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, BinaryIO

from engine.tiles import Kind
from game.draw.theme import INK, RULE, SOFT, TEAL, Colour
from game.paper.fonts import BOLD, REGULAR, clean, font, width, wrap
from game.paper.tiles import PaperTiles, height_for
from game.words.sheet import ShownGroup, spoken_row

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

POINTS = {"a4": (595.28, 841.89), "letter": (612.0, 792.0)}
"""Width and height of a page in points, 72 to the inch (ISO 216; ANSI Y14.1)."""
MARGIN = 42.0
FOOT = 24.0
BETWEEN = 20.0
"""Points between two columns."""
SIZE, SMALL, HEADING, TITLE = 10.0, 8.5, 13.0, 20.0
LEADING = 1.3
"""From one base line to the next, in sizes of the letters."""
STANDS_ABOVE = (
    "Your group’s own rules and the maker’s printed sheet stand above this page. A sheet that you bought and typed in "
    "is for your own practice."
)
TAB = 9.0
"""Points of a bracket over a group, with its suit letter."""


class Paper:
    """One PDF. `where` is a path or an open file; nothing is written before `close`."""

    def __init__(self, where: Path | BinaryIO, title: str, paper: str = "a4", *, compress: bool = True) -> None:
        """`paper` is a key of POINTS. `compress`: False leaves the text of the pages to be read by tests."""
        from reportlab.pdfgen.canvas import Canvas

        font(REGULAR), font(BOLD)
        self.wide, self.high = POINTS[paper]
        target = str(where) if isinstance(where, Path) else where
        self.canvas: Canvas = Canvas(target, pagesize=(self.wide, self.high), pageCompression=int(compress), lang="en")
        self.canvas.setTitle(clean(title))
        self.canvas.setCreator("Lone East")
        self.canvas.setAuthor("Lone East")
        self.canvas.setSubject("American-style mahjong, for practice")
        self.canvas.setViewerPreference("DisplayDocTitle", "true")
        self.tiles = PaperTiles(self.canvas)
        self.title = clean(title)
        self._columns, self._column, self._number = 1, 0, 0
        self._top = self._lowest = 0.0
        self.y = 0.0
        self._page()

    # Where things stand.

    @property
    def left(self) -> float:
        """The left edge of the column."""
        return MARGIN + self._column * (self.width + BETWEEN)

    @property
    def width(self) -> float:
        """The width of a column."""
        return (self.wide - 2 * MARGIN - (self._columns - 1) * BETWEEN) / self._columns

    def columns(self, number: int) -> None:
        """From here on so many columns, under what stands on the page."""
        self._columns, self._column, self._top = number, 0, self.y

    def end_columns(self) -> None:
        """Back to one column, under the lowest of those before."""
        if self._column:
            self.y = min(self.y, self._lowest)
        self._columns, self._column, self._top = 1, 0, self.y

    def new_page(self) -> None:
        """Goes on at the top of a new page, with one column."""
        if self.y < self.high - MARGIN or self._column:
            self._close_page()
            self._page()
        self._columns, self._column, self._top = 1, 0, self.y

    def need(self, high: float) -> None:
        """Goes on in the next column, or on the next page, where so many points are not left here."""
        if self.y - high >= MARGIN + FOOT:
            return
        if self._column + 1 < self._columns:
            self._lowest = min(self.y, self._lowest) if self._column else self.y
            self._column += 1
            self.y = self._top
        else:
            self._close_page()
            self._page()
            self._column, self._top = 0, self.y

    def gap(self, high: float) -> None:
        """Leaves room, but not at the top of a page."""
        if self.y < self._top:
            self.y -= high

    def _page(self) -> None:
        self._number += 1
        self.y = self.high - MARGIN

    def _close_page(self) -> None:
        self.write(self.title, MARGIN, MARGIN - 4, SMALL, colour=SOFT)
        number = f"page {self._number}"
        self.write(number, self.wide - MARGIN - width(number, REGULAR, SMALL), MARGIN - 4, SMALL, colour=SOFT)
        self.canvas.showPage()

    def close(self) -> None:
        """Ends the last page and writes the file."""
        self._close_page()
        self.canvas.save()

    # Text.

    def write(
        self, text: str, x: float, y: float, size: float = SIZE, bold: bool = False, colour: Colour = INK
    ) -> None:
        """One line with its base line at `y`."""
        self._ink(colour)
        self.canvas.setFont(BOLD if bold else REGULAR, size)
        self.canvas.drawString(x, y, clean(text))

    def text(self, text: str, size: float = SIZE, bold: bool = False, colour: Colour = INK, indent: float = 0) -> None:
        """A paragraph; its lines stay together where there are few."""
        lines = wrap(text, BOLD if bold else REGULAR, size, self.width - indent)
        self.need(min(len(lines), 4) * size * LEADING)
        for line in lines:
            self.need(size * LEADING)
            self.y -= size * LEADING
            self.write(line, self.left + indent, self.y + size * 0.28, size, bold, colour)

    def heading(self, text: str, level: int = 0, keep: float = 60) -> None:
        """A heading with its place in the outline; `keep` points under it must still fit."""
        size = TITLE if level == 0 else HEADING
        self.gap(size * 0.6)
        self.need(size * LEADING + keep)
        key = f"at{self._number}-{self._column}-{self.y:.0f}"
        self.canvas.bookmarkHorizontal(key, 0, self.y + 4)
        self.canvas.addOutlineEntry(clean(text), key, level, closed=False)
        self.text(text, size, bold=True, colour=INK if level == 0 else TEAL)
        self.y -= 3

    def rule(self) -> None:
        """A thin line across the column."""
        self.y -= 4
        self._ink(RULE)
        self.canvas.setLineWidth(0.6)
        self.canvas.line(self.left, self.y, self.left + self.width, self.y)
        self.y -= 3

    def blanks(self, lines: int) -> None:
        """Lines to write on by hand, across the column."""
        for _ in range(lines):
            self.need(20)
            self.y -= 20
            self.line(self.left, self.y, self.width)

    def box(self, x: float, y: float, size: float = 9, ticked: bool = False) -> None:
        """A box to tick, or one that is ticked."""
        self._ink(INK)
        self.canvas.setLineWidth(0.8)
        self.canvas.rect(x, y, size, size)
        if ticked:
            self.canvas.setLineWidth(1.6)
            self.canvas.line(x + size * 0.2, y + size * 0.5, x + size * 0.42, y + size * 0.22)
            self.canvas.line(x + size * 0.42, y + size * 0.22, x + size * 0.85, y + size * 0.85)

    def line(self, x: float, y: float, wide: float) -> None:
        """A line to write on."""
        self._ink(SOFT)
        self.canvas.setLineWidth(0.5)
        self.canvas.line(x, y, x + wide, y)

    def measure(self, label: str, value: int, most: int, said: str) -> None:
        """A bar for a value, as a share of the greatest one, its label before it and the figure behind it."""
        lines = wrap(label, REGULAR, SIZE, self.width * 0.5)
        self.need(len(lines) * SIZE * LEADING + 3)
        start = self.left + self.width * 0.52
        for place, one in enumerate(lines):
            self.y -= SIZE * LEADING
            self.write(one, self.left, self.y + SIZE * 0.28)
            if not place:
                wide = self.width * 0.26 * value / max(most, 1)
                self.bar(start, self.y + 1, wide, SIZE * 0.9)
                self.write(said, start + wide + 6, self.y + SIZE * 0.28, SMALL)
        self.y -= 3

    def lines(self, text: str, size: float, bold: bool = False) -> int:
        """Lines that a text takes."""
        return len(wrap(text, BOLD if bold else REGULAR, size, self.width))

    def bar(self, x: float, y: float, wide: float, high: float) -> None:
        """A filled bar."""
        self._ink(TEAL)
        self.canvas.rect(x, y, wide, high, stroke=0, fill=1)

    def _ink(self, colour: Colour) -> None:
        red, green, blue = (part / 255 for part in colour)
        self.canvas.setFillColorRGB(red, green, blue)
        self.canvas.setStrokeColorRGB(red, green, blue)

    # Tiles.

    def said(self, words: str, draw: Callable[[], float]) -> None:
        """Draws tiles in the line at `y`, and writes over them, unseen, what they are: to be found, copied and read
        aloud. `draw` gives the x behind what it drew.

        The marks on the tiles themselves are no text of the page (an empty ActualText, ISO 32000-1, 14.9.4).
        """
        self.canvas.addLiteral("/Span <</ActualText <FEFF>>> BDC")
        end = draw()
        self.canvas.addLiteral("EMC")
        text = clean(words)
        size = min((end - self.left) / max(width(text, REGULAR, 1), 0.1), SIZE)
        unseen = self.canvas.beginText(self.left, self.y + 3)
        unseen.setFont(REGULAR, size)
        unseen.setTextRenderMode(3)  # neither filled nor stroked
        unseen.textOut(text)
        unseen.setTextRenderMode(0)
        self.canvas.drawText(unseen)

    def rack(self, kinds: Sequence[Kind], words: str, most: float = 26.0) -> None:
        """A row of loose tiles, as wide as the column at most."""
        wide = min(most, (self.width - 2 * (len(kinds) - 1)) / len(kinds))
        self.need(height_for(wide) + 4)
        self.y -= height_for(wide) + 2
        self.said(words, lambda: self._row(kinds, wide))
        self.y -= 3

    def _row(self, kinds: Sequence[Kind], wide: float) -> float:
        return self.tiles.row(kinds, self.left, self.y, wide, 2)

    def groups_height(self, row: Sequence[ShownGroup], most: float) -> float:
        """The points that `groups` takes."""
        return height_for(self._tile(row, most)) + (TAB if any(group.tab for group in row) else 0) + 4

    def _tile(self, row: Sequence[ShownGroup], most: float) -> float:
        tiles = sum(group.size for group in row)
        return min(most, (self.width - 7.0 * (len(row) - 1) - 1.0 * (tiles - len(row))) / tiles)

    def groups(self, row: Sequence[ShownGroup], most: float) -> None:
        """A hand's groups in one line, suit letters on brackets over them."""
        self.need(self.groups_height(row, most))
        wide = self._tile(row, most)
        if any(group.tab for group in row):
            self.y -= TAB
        top = self.y
        self.y -= height_for(wide) + 2

        def draw() -> float:
            x = self.left
            for group in row:
                end = self.tiles.row([group.kind] * group.size, x, self.y, wide, 1)
                if group.tab:
                    self._tab(group.tab, x, end, top + 2)
                x = end + 7
            return x

        self.said(spoken_row(row), draw)
        self.y -= 2

    def _tab(self, letter: str, start: float, end: float, y: float) -> None:
        words = "zero" if letter == "0" else f"suit {letter}"
        if width(words, BOLD, 7) > end - start - 4:
            words = letter
        half = width(words, BOLD, 7) / 2 + 2
        middle = (start + end) / 2
        self._ink(SOFT)
        self.canvas.setLineWidth(0.6)
        if middle - half > start + 1:
            self.canvas.line(start, y + 2, middle - half, y + 2)
            self.canvas.line(middle + half, y + 2, end, y + 2)
        self.write(words, middle - half + 2, y, 7, bold=True)
