"""The hands of a sheet in a scrolled list: to be placed in any rectangle, beside a rack too."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from functools import partial

from engine.sheet.model import Hand, Section, Sheet
from engine.sheet.study.finding import Finding, nearest_to
from engine.tiles import Kind
from engine.words import counted
from game.draw.theme import (
    BODY,
    BODY_BOLD,
    CLOTH,
    GREEN_TEXT,
    HEADING,
    INK,
    LIT,
    PURPLE_TEXT,
    SMALL,
    SMALL_BOLD,
    SOFT,
    TEAL,
    TOUCH,
)
from game.draw.tiles import Face, height_for
from game.scenes.hand import draw_groups
from game.ui.layout import Rect, Space, inset
from game.ui.screen import Screen
from game.ui.widgets import Ui
from game.words.sheet import hold_words, shown_rows

WIDE_ROW = 900
"""Units of width from which a hand's words stand beside its tiles; below, over and under them."""
RACK_TILE = 54
"""Units of width of a tile of the player's rack under the sheet."""
LIST = "hands"
"""The name of the scrolled list."""


class HandList:
    """Hands to read and to press. `rack` is what the player holds, if there is a rack to compare with."""

    def __init__(
        self,
        sheet: Sheet,
        press: Callable[[Hand], Screen | None],
        chosen: Collection[str] | None = None,
        rack: Sequence[Kind] = (),
    ) -> None:
        self.sheet = sheet
        self.chosen = frozenset(chosen) if chosen is not None else None
        """Names of the sections that are played with, None for all."""
        self.rack = tuple(rack)
        self.finding = Finding()
        self.by_rack = False
        """Whether the hands are shown by how much of them the rack holds."""
        self._press = press
        self._rows = {hand.name: shown_rows(sheet, hand) for hand in sheet.hands}
        self._tops: dict[str, int] = {}
        """Where each section begins in the list, in pixels, as last drawn."""

    @property
    def found(self) -> tuple[Hand, ...]:
        """The hands that are shown."""
        return self.finding.among(self.sheet)

    @property
    def sections(self) -> tuple[Section, ...]:
        """The sections of which a hand is shown."""
        names = {hand.section for hand in self.found}
        return tuple(section for section in self.sheet.sections if section.name in names)

    def now(self, ui: Ui) -> str:
        """The section at the top of what can be seen; empty where the hands are not shown by section."""
        passed = [name for name, top in self._tops.items() if top <= ui.offset(LIST) + ui.u(40)]
        if self.by_rack or not self.sections:
            return ""
        return passed[-1] if passed else self.sections[0].name

    def go_to(self, ui: Ui, name: str) -> None:
        """Scrolls to a section."""
        self.by_rack = False
        ui.scroll_to(LIST, self._tops.get(name, 0))

    def paint(self, ui: Ui, rect: Rect, above: Callable[[Rect], int] | None = None) -> None:
        """The list on a panel, in any rectangle. `above(area)` draws something over the hands that scrolls with them,
        and gives the y under it."""
        ui.panel(rect)
        ui.scroll(LIST, inset(rect, ui.u(18), ui.u(2)), lambda area: self._all(ui, area, above))

    def _all(self, ui: Ui, area: Rect, above: Callable[[Rect], int] | None) -> int:
        self._tops = {}
        y = area.top + ui.u(12)
        if above is not None:
            y = above(Rect(area.left, y, area.width, 0)) + ui.u(12)
        y = self._legend(ui, area, y)
        shown = self.found
        if not shown:
            text = "No hand of this sheet is like that. Change what you look for, or show all hands."
            return ui.paragraph(text, (area.left, y + ui.u(8)), area.width, BODY)
        if self.by_rack:
            return self._nearest(ui, area, y, shown)
        for section in self.sheet.sections:
            hands = [hand for hand in section.hands if hand in shown]
            if hands:
                self._tops[section.name] = y - area.top
                y = self._section(ui, area, section, hands, y)
        return y

    def _nearest(self, ui: Ui, area: Rect, y: int, shown: tuple[Hand, ...]) -> int:
        y = ui.paragraph("By your rack, nearest first", (area.left, y + ui.u(16)), area.width, HEADING) + ui.u(4)
        for hand, tiles in nearest_to(self.rack, shown):
            note = f"{counted(tiles, 'tile')} of your rack · {hand.section}"
            y = self._row(ui, area, hand, y, note)
        return y + ui.u(8)

    def _legend(self, ui: Ui, area: Rect, y: int) -> int:
        return ui.paragraph(
            "Each hand is shown once, as one of the ways to make it; the words say what may vary. Tabs a, b and c "
            "stand for any suits, but different ones; a tab 0 marks a white dragon that stands for zero. "
            "Open hands may be exposed, concealed ones may not. Press a hand to turn over all the ways to make it.",
            (area.left, y),
            min(area.width, ui.u(860)),
            SMALL,
            SOFT,
        ) + ui.u(6)

    def _section(self, ui: Ui, area: Rect, section: Section, hands: Sequence[Hand], y: int) -> int:
        y += ui.u(16)
        end = ui.paragraph(section.name, (area.left, y), area.width, HEADING)
        if self.chosen is not None and section.name not in self.chosen:
            end = ui.paragraph("left out of your deals", (area.left, end), area.width, SMALL_BOLD, PURPLE_TEXT)
        y = end + ui.u(4)
        for hand in hands:
            y = self._row(ui, area, hand, y)
        return y + ui.u(8)

    def _row(self, ui: Ui, area: Rect, hand: Hand, y: int, note: str = "") -> int:
        """One hand, to press."""
        ui.rule((area.left, y), area.width)
        draw = self._wide if area.width >= ui.u(WIDE_ROW) else self._narrow
        name = f"hand {hand.name}"
        top = y + ui.u(1)
        if ui.lit(name):
            bottom = ui.measure(lambda: draw(ui, area, hand, top, note))
            ui.panel(Rect(area.left - ui.u(8), top, area.width + ui.u(8), bottom - top), LIT, None, 8)
        end = max(draw(ui, area, hand, top, note), top + ui.u(TOUCH))
        rect = Rect(area.left - ui.u(8), top, area.width + ui.u(8), end - top)
        ui.target(name, rect, partial(self._press, hand), f"all ways to make {hand.name}", radius=8)
        return end

    def _wide(self, ui: Ui, area: Rect, hand: Hand, y: int, note: str) -> int:
        """Words at the left, tiles in the middle, points and exposures at the right."""
        pad = ui.u(12)
        words, side = round(area.width * 0.25), ui.u(118)
        tiles = Rect(area.left + words + ui.u(20), y + pad, area.width - words - side - ui.u(40), 0)
        low = self._tiles(ui, hand, tiles)
        left = y + pad + ui.tall(hand.name, words, BODY_BOLD) + ui.tall(hand.wording, words, SMALL)
        left += ui.tall(note, words, SMALL_BOLD) if note else 0
        right = y + pad + ui.line(BODY_BOLD) + ui.line(SMALL)
        if not ui.shows(Rect(area.left, y, area.width, max(low, left, right) - y)):
            return max(low, left, right) + pad
        end = ui.paragraph(hand.name, (area.left, y + pad), words, BODY_BOLD)
        end = ui.paragraph(hand.wording, (area.left, end), words, SMALL, SOFT)
        if note:
            ui.paragraph(note, (area.left, end), words, SMALL_BOLD, TEAL)
        x = area.right - side
        end = ui.paragraph(f"{hand.points} points", (x, y + pad), side, BODY_BOLD)
        self._hold(ui, hand, (x, end), side)
        return max(low, left, right) + pad

    def _narrow(self, ui: Ui, area: Rect, hand: Hand, y: int, note: str) -> int:
        """Name and points, then tiles, then the words."""
        pad = ui.u(10)
        points = f"{hand.points} points"
        room = area.width - ui.width(points, BODY_BOLD) - ui.u(16)
        y += pad
        end = ui.paragraph(hand.name, (area.left, y), room, BODY_BOLD)
        ui.text(points, (area.right, y), BODY_BOLD, INK, "right")
        end = self._tiles(ui, hand, Rect(area.left, end + ui.u(4), area.width, 0)) + ui.u(6)
        end = ui.paragraph(hand.wording, (area.left, end), area.width, SMALL, SOFT)
        if note:
            end = ui.paragraph(note, (area.left, end), area.width, SMALL_BOLD, TEAL)
        return self._hold(ui, hand, (area.left, end), area.width) + pad

    @staticmethod
    def _hold(ui: Ui, hand: Hand, at: tuple[int, int], width: int) -> int:
        return ui.paragraph(hold_words(hand), at, width, SMALL_BOLD, PURPLE_TEXT if hand.concealed else GREEN_TEXT)

    def _tiles(self, ui: Ui, hand: Hand, rect: Rect) -> int:
        """The hand's rows of groups; gives the y under them."""
        y = rect.top
        for index, groups in enumerate(self._rows[hand.name]):
            if index:
                y = ui.paragraph("or", (rect.left, y), rect.width, SMALL, SOFT)
            y = draw_groups(ui, groups, Rect(rect.left, y, rect.width, 0))
        return y


def rack_strip(ui: Ui, rest: Space, rack: Sequence[Kind]) -> None:
    """Cuts a strip from the bottom of the page and lays the player's rack on it, so that a sheet that is opened at a
    table never covers the rack. Nothing without a rack."""
    if not rack:
        return
    gap = ui.u(3)
    room = (rest.rect.width - ui.u(28) - gap * (len(rack) - 1)) // len(rack)
    wide = max(min(ui.u(RACK_TILE), room, rest.rect.height // 7), 1)
    strip = rest.bottom(height_for(wide) + ui.u(16), ui.u(10))
    ui.panel(strip, CLOTH, None, 12)
    across = wide * len(rack) + gap * (len(rack) - 1)
    ui.tiles([Face(kind) for kind in rack], (strip.centerx - across // 2, strip.top + ui.u(8)), wide, gap)
