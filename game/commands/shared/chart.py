"""The chart of a simulation: a bar for every section and hand, how sure each is, and which hands were never made."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pygame

from engine.advice.simulation.tally import Count, SheetTally
from game.draw.fonts import Fonts
from game.draw.theme import BLUE, CARD, EDGE, INK, PAPER, RULE, SOFT, TEAL, VERMILION_TEXT, Colour
from game.words.simulation import percent

WIDE = 1400
MARGIN = 40
NAMES = 300
FIGURES = 330
"""Pixels for names at the left and figures at the right."""
COLUMNS = (85, 190, 320)
"""Where the columns of figures end, in pixels from their left."""
ROW = 28
BAR = 14
GAP = 34
TEXT = 17
LEAST = 12
HEAD = 20
TITLE = 30
STEPS = (0.0005, 0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0)
"""Shares that the lines of a scale may be apart."""
LINES = 6


class Chart:
    """Draws one tally; `surface` is the finished picture, as high as the sheet needs."""

    def __init__(self, tally: SheetTally, heading: str, explained: Sequence[str]) -> None:
        self._fonts = Fonts()
        parts: list[tuple[str, Sequence[Count], Colour]] = [("Sections", tally.sections, TEAL)]
        parts += [
            (section.name, [hand for hand in tally.hands if hand.section == section.name], BLUE)
            for section in tally.sections
        ]
        lines = [line for text in explained for line in self._fonts.wrap(text, TEXT, False, WIDE - 2 * MARGIN)]
        high = 2 * MARGIN + TITLE + 20 + len(lines) * (TEXT + 7)
        high += sum(GAP + ROW + ROW * len(counts) for _, counts, _ in parts)
        self.surface = pygame.Surface((WIDE, high))
        self.surface.fill(PAPER)
        y = MARGIN
        self._text(heading, (MARGIN, y), TITLE, bold=True)
        y += TITLE + 20
        for line in lines:
            self._text(line, (MARGIN, y), TEXT, colour=SOFT)
            y += TEXT + 7
        greatest = max((hand.share_within[1] for hand in tally.hands), default=1.0)
        for place, (title, counts, colour) in enumerate(parts):
            top = greatest if place else max(count.share_within[1] for count in tally.sections)
            y = self._part(y + GAP, title, counts, colour, top)

    def save(self, path: Path) -> None:
        """Writes the picture as PNG. Raises OSError where the file can't be written."""
        try:
            pygame.image.save(self.surface, path)
        except pygame.error as error:
            raise OSError(str(error)) from error

    def _part(self, y: int, title: str, counts: Sequence[Count], colour: Colour, top: float) -> int:
        """A heading and a bar for every count, on a scale that ends at `top` or just beyond; where it ends."""
        left, right = MARGIN + NAMES, WIDE - MARGIN - FIGURES
        step = next(step for step in STEPS if top / step <= LINES or step == STEPS[-1])
        end = max(top, step)
        self._text(title, (MARGIN, y), HEAD, bold=True, room=NAMES - 10)
        ground = pygame.Rect(left, y + ROW, right - left, ROW * len(counts))
        pygame.draw.rect(self.surface, CARD, ground)
        for number in range(int(end / step + 1e-9) + 1):
            x = left + round((right - left) * number * step / end)
            pygame.draw.line(self.surface, RULE, (x, ground.top), (x, ground.bottom - 1))
            self._text(f"{100 * number * step:g}%", (x, y + 6), 14, colour=SOFT, across=0.5)
        for head, place in zip(("deals", "share", "median picks"), COLUMNS, strict=True):
            self._text(head, (WIDE - MARGIN - FIGURES + place, y + 6), 14, colour=SOFT, across=1.0)
        y += ROW
        for count in counts:
            self._row(count, y, left, (right - left) / end, colour)
            y += ROW
        pygame.draw.line(self.surface, EDGE, (left, ground.top), (left, ground.bottom - 1), 2)
        return y

    def _row(self, count: Count, y: int, left: int, scale: float, colour: Colour) -> None:
        middle = y + ROW // 2
        self._text(count.name, (left - 12, middle), TEXT, across=1.0, down=0.5, room=NAMES - 12)
        if count.made:
            wide = max(round(scale * count.share), 1)
            pygame.draw.rect(self.surface, colour, (left, middle - BAR // 2, wide, BAR), border_radius=2)
        low, high = (left + round(scale * end) for end in count.share_within)
        for line, colour in ((6, CARD), (2, INK)):  # a light rim, so that it shows on the bar as well
            pygame.draw.line(self.surface, colour, (low, middle), (high, middle), line)
            for x in (low, high):
                half = 3 + line // 2
                pygame.draw.line(self.surface, colour, (x, middle - half), (x, middle + half), line)
        deals, share, picks = (WIDE - MARGIN - FIGURES + place for place in COLUMNS)
        if not count.made:
            self._text("never made", (share, middle), TEXT, bold=True, colour=VERMILION_TEXT, across=1.0, down=0.5)
            return
        self._text(f"{count.made:,}", (deals, middle), TEXT, across=1.0, down=0.5)
        self._text(f"{percent(count.share)}%", (share, middle), TEXT, across=1.0, down=0.5)
        if count.median is not None and count.median_within is not None:
            self._text(f"{count.median:g}", (picks, middle), TEXT, across=1.0, down=0.5)

    def _text(
        self,
        text: str,
        at: tuple[int, int],
        size: int,
        *,
        bold: bool = False,
        colour: Colour = INK,
        across: float = 0.0,
        down: float = 0.0,
        room: int = WIDE - 2 * MARGIN,
    ) -> None:
        """A line of text, `across` and `down` telling which point of it lies at `at`; smaller, then cut, to fit."""
        size = self._fonts.fit(text, size, bold, room, LEAST)
        while len(text) > 1 and self._fonts.width(text, size, bold) > room:
            text = text.rstrip("…")[:-1] + "…"
        drawn = self._fonts.render(text, size, bold, colour)
        self.surface.blit(drawn, (at[0] - round(across * drawn.get_width()), at[1] - round(down * drawn.get_height())))
