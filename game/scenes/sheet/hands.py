"""The hands of a sheet in a scrolled list: to be placed in any rectangle, beside a rack too."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from functools import partial

from engine.sheet.model import Hand, Section, Sheet
from engine.sheet.study.finding import Finding, nearest_to
from engine.tiles import Kind
from engine.words import counted
from game.draw.theme import (
    BODY_BOLD,
    CLOTH,
    GREEN_TEXT,
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
from game.ui.column import Column, scrolled
from game.ui.layout import Rect, Space, inset
from game.ui.screen import Screen
from game.ui.widgets import Ui
from game.words.sheet import hold_words, shown_rows

WIDE_ROW = 900
"""Units of width from which a hand's words stand beside its tiles; below, over and under them."""
RACK_TILE = 54
"""Units of width of a tile of the player's rack under the sheet."""
LEGEND = (
    "Each hand is shown once, as one of the ways to make it; the words say what may vary. Tabs a, b and c stand for "
    "any suits, but different ones; a tab 0 marks a white dragon that stands for zero. Open hands may be exposed, "
    "concealed ones may not. Press a hand to turn over all the ways to make it."
)
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

    def paint(self, ui: Ui, rect: Rect, above: Callable[[Column], object] | None = None) -> None:
        """The list on a panel, in any rectangle. `above(page)` puts something over the hands that scrolls with them."""
        ui.panel(rect)
        scrolled(ui, LIST, inset(rect, ui.u(18), ui.u(2)), partial(self._fill, above))

    def _fill(self, above: Callable[[Column], object] | None, page: Column) -> None:
        self._tops = {}
        page.space(12)
        if above is not None:
            above(page)
            page.gap(12)
        page.text(LEGEND, SMALL, SOFT, most=860)
        page.gap(6)
        shown = self.found
        if not shown:
            page.gap(14)
            page.text("No hand of this sheet is like that. Change what you look for, or show all hands.")
        elif self.by_rack:
            self._nearest(page, shown)
        else:
            for section in self.sheet.sections:
                hands = [hand for hand in section.hands if hand in shown]
                if hands:
                    self._tops[section.name] = page.height
                    self._section(page, section, hands)
        page.space(8)

    def _nearest(self, page: Column, shown: tuple[Hand, ...]) -> None:
        page.gap(22)
        page.heading("By your rack, nearest first")
        page.gap(4)
        for hand, tiles in nearest_to(self.rack, shown):
            self._row(page, hand, f"{counted(tiles, 'tile')} of your rack · {hand.section}")

    def _section(self, page: Column, section: Section, hands: Sequence[Hand]) -> None:
        page.gap(22)
        page.heading(section.name)
        if self.chosen is not None and section.name not in self.chosen:
            page.text("left out of your deals", SMALL_BOLD, PURPLE_TEXT)
        page.gap(4)
        for hand in hands:
            self._row(page, hand)

    def _row(self, page: Column, hand: Hand, note: str = "") -> None:
        """One hand, to press; out of sight it is a target alone."""
        ui = page.ui
        inside = Column(ui, page.width)
        fill = self._wide if page.has(WIDE_ROW) else self._narrow
        fill(inside, hand, note)
        name = f"hand {hand.name}"

        def paint(rect: Rect) -> None:
            around = Rect(rect.left - ui.u(8), rect.top, rect.width + ui.u(8), rect.height)
            if ui.lit(name):
                ui.panel(around, LIT, None, 8)
            ui.target(name, around, partial(self._press, hand), f"all ways to make {hand.name}", radius=8)
            if ui.shows(around):
                inside.paint(rect.topleft)

        page.rule()
        page.put(max(inside.height, ui.u(TOUCH)), paint)

    def _wide(self, page: Column, hand: Hand, note: str) -> None:
        """Words at the left, tiles in the middle, points and exposures at the right."""
        page.space(12)
        with page.aside(round(page.width * 0.25), gap=20) as (words, rest):
            words.text(hand.name, BODY_BOLD)
            words.text(hand.wording, SMALL, SOFT)
            if note:
                words.text(note, SMALL_BOLD, TEAL)
            with rest.aside(page.ui.u(118), gap=20, right=True) as (tiles, side):
                self._tiles(tiles, hand)
                side.text(f"{hand.points} points", BODY_BOLD)
                _hold(side, hand)
        page.space(12)

    def _narrow(self, page: Column, hand: Hand, note: str) -> None:
        """Name and points, then tiles, then the words."""
        points = f"{hand.points} points"
        page.space(10)
        with page.aside(page.ui.width(points, BODY_BOLD) + page.ui.u(2), gap=14, right=True) as (name, side):
            name.text(hand.name, BODY_BOLD)
            side.text(points, BODY_BOLD, across="right")
        page.gap(4)
        self._tiles(page, hand)
        page.gap(6)
        page.text(hand.wording, SMALL, SOFT)
        if note:
            page.text(note, SMALL_BOLD, TEAL)
        _hold(page, hand)
        page.space(10)

    def _tiles(self, page: Column, hand: Hand) -> None:
        """The hand's rows of groups."""
        for index, groups in enumerate(self._rows[hand.name]):
            if index:
                page.text("or", SMALL, SOFT)
            page.add(lambda at, width, groups=groups: draw_groups(page.ui, groups, Rect(at, (width, 0))))  # type: ignore[misc]


def _hold(page: Column, hand: Hand) -> None:
    page.text(hold_words(hand), SMALL_BOLD, PURPLE_TEXT if hand.concealed else GREEN_TEXT)


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
