"""The sheet to read: every hand in small tiles with tabs for what may vary, its wording, its hold and its points."""

from __future__ import annotations

from collections.abc import Callable, Collection
from functools import partial

from engine.sheet.model import Hand, Section, Sheet
from game.draw.theme import (
    BODY_BOLD,
    CARD,
    GREEN_TEXT,
    HEADING,
    INK,
    LIT,
    PURPLE_TEXT,
    RULE,
    SMALL,
    SMALL_BOLD,
    SOFT,
    TEAL,
    TOUCH,
)
from game.scenes.hand import draw_groups
from game.ui.buttons import Press
from game.ui.layout import Rect, Space, inset
from game.ui.look import Look
from game.ui.popups import pane
from game.ui.scene import Popup, Scene
from game.ui.widgets import Ui
from game.words.sheet import hold_words, shown_rows

SIDE = 250
"""Units of the list of sections beside the hands."""
ROOM_FOR_SIDE = 860
"""Units of width from which the list stands beside the hands; below, a button opens it."""
WIDE_ROW = 900
"""Units of width from which a hand's words stand beside its tiles; below, over and under them."""
LIST = "hands"


class SheetScene(Scene):
    """A whole sheet, section after section. `chosen` names the sections that are played with, None for all."""

    def __init__(self, look: Look, sheet: Sheet, back: Scene, chosen: Collection[str] | None = None) -> None:
        super().__init__(look)
        self.sheet = sheet
        self.chosen = frozenset(chosen) if chosen is not None else None
        self._back = back
        self._rows = {hand.name: shown_rows(sheet, hand) for hand in sheet.hands}
        self._tops: dict[str, int] = {}
        """Where each section begins in the list, in pixels, as last drawn."""

    def back(self) -> Scene | None:
        """Where the reader came from."""
        return self._back

    def paint(self, ui: Ui) -> None:
        """Sections at the side, hands in a scrolled list."""
        note = f"season {self.sheet.season} · {len(self.sheet.hands)} hands"
        if ui.page().width >= ui.u(ROOM_FOR_SIDE):
            rest = Space(ui.header(self.sheet.name, note, self.back))
            self._side(ui, rest.left(ui.u(SIDE), ui.u(20)))
        else:
            press = Press("Sections", lambda: SectionList(self), "s")
            rest = Space(ui.header(self.sheet.name, "", self.back, action=press))
        ui.panel(rest.rect)
        ui.scroll(LIST, inset(rest.rect, ui.u(18), ui.u(2)), lambda area: self._hands(ui, area))

    def now(self, ui: Ui) -> str:
        """The section at the top of what can be seen."""
        passed = [name for name, top in self._tops.items() if top <= ui.offset(LIST) + ui.u(40)]
        return passed[-1] if passed else self.sheet.sections[0].name

    def go_to(self, name: str) -> Scene | None:
        """Scrolls to a section."""
        self.ui.scroll_to(LIST, self._tops.get(name, 0))
        return self

    def key(self, name: str) -> Scene | None:
        """The digits go to the sections, 0 to the tenth."""
        if len(name) == 1 and name.isdigit():
            index = (int(name) - 1) % 10
            if index < len(self.sheet.sections):
                return self.go_to(self.sheet.sections[index].name)
        return None

    # The list of sections.

    def _side(self, ui: Ui, rect: Rect) -> None:
        ui.scroll("sections", rect, lambda area: self.section_buttons(ui, area, self.go_to, self.now(ui)))

    def section_buttons(self, ui: Ui, area: Rect, go: Callable[[str], Scene | None], now: str) -> int:
        """One button a section, under one another; gives the y under them."""
        y = area.top
        for index, section in enumerate(self.sheet.sections):
            name = f"section {section.name}"
            left_out = self.chosen is not None and section.name not in self.chosen
            words = f"{len(section.hands)} hands" + (" · left out" if left_out else "")
            room = area.width - ui.u(44)
            high = max(ui.tall(section.name, room, BODY_BOLD) + ui.line(SMALL) + ui.u(14), ui.u(TOUCH))
            rect = Rect(area.left, y, area.width, high)
            here = section.name == now
            if here or ui.lit(name):
                ui.panel(rect, LIT if ui.lit(name) else CARD, TEAL if here else RULE, 10)
            if here:
                ui.panel(Rect(rect.left, rect.top + ui.u(8), ui.u(5), rect.height - ui.u(16)), TEAL, None, 2)
            with ui.within(rect):
                ground_ink = TEAL if here else INK
                x = rect.left + ui.u(18)
                low = ui.paragraph(section.name, (x, y + ui.u(7)), room, BODY_BOLD, ground_ink)
                ui.text(words, (x, low), SMALL, SOFT)
            key = str((index + 1) % 10) if index < 10 else ""
            ui.target(
                name,
                rect,
                partial(go, section.name),
                f"go to {section.name}",
                keys=(key,) if key else (),
            )
            y = rect.bottom + ui.u(4)
        return y

    # Hands.

    def _hands(self, ui: Ui, area: Rect) -> int:
        self._tops = {}
        y = self._legend(ui, area, area.top + ui.u(12))
        for section in self.sheet.sections:
            self._tops[section.name] = y - area.top
            y = self._section(ui, area, section, y)
        return y

    def _legend(self, ui: Ui, area: Rect, y: int) -> int:
        return ui.paragraph(
            "Each hand is shown once, as one of the ways to make it; the words say what may vary. Tabs a, b and c "
            "stand for any suits, but different ones; a tab 0 marks a white dragon that stands for zero. "
            "Open hands may be exposed, concealed ones may not.",
            (area.left, y),
            min(area.width, ui.u(860)),
            SMALL,
            SOFT,
        ) + ui.u(6)

    def _section(self, ui: Ui, area: Rect, section: Section, y: int) -> int:
        y += ui.u(16)
        left_out = self.chosen is not None and section.name not in self.chosen
        end = ui.paragraph(section.name, (area.left, y), area.width, HEADING)
        if left_out:
            end = ui.paragraph("left out of your deals", (area.left, end), area.width, SMALL_BOLD, PURPLE_TEXT)
        y = end + ui.u(4)
        for hand in section.hands:
            ui.rule((area.left, y), area.width)
            y = self._hand(ui, area, hand, y + ui.u(1))
        return y + ui.u(8)

    def _hand(self, ui: Ui, area: Rect, hand: Hand, y: int) -> int:
        if area.width >= ui.u(WIDE_ROW):
            return self._wide(ui, area, hand, y)
        return self._narrow(ui, area, hand, y)

    def _wide(self, ui: Ui, area: Rect, hand: Hand, y: int) -> int:
        """Words at the left, tiles in the middle, points and exposures at the right."""
        pad = ui.u(12)
        words, side = round(area.width * 0.25), ui.u(118)
        tiles = Rect(area.left + words + ui.u(20), y + pad, area.width - words - side - ui.u(40), 0)
        low = self._tiles(ui, hand, tiles)
        left = y + pad + self._words_high(ui, hand, words)
        right = y + pad + ui.line(BODY_BOLD) + ui.line(SMALL)
        if not ui.shows(Rect(area.left, y, area.width, max(low, left, right) - y)):
            return max(low, left, right) + pad
        name_end = ui.paragraph(hand.name, (area.left, y + pad), words, BODY_BOLD)
        ui.paragraph(hand.wording, (area.left, name_end), words, SMALL, SOFT)
        x = area.right - side
        end = ui.paragraph(f"{hand.points} points", (x, y + pad), side, BODY_BOLD)
        self._hold(ui, hand, (x, end), side)
        return max(low, left, right) + pad

    def _words_high(self, ui: Ui, hand: Hand, width: int) -> int:
        return ui.tall(hand.name, width, BODY_BOLD) + ui.tall(hand.wording, width, SMALL)

    def _narrow(self, ui: Ui, area: Rect, hand: Hand, y: int) -> int:
        """Name and points, then tiles, then the words."""
        pad = ui.u(10)
        points = f"{hand.points} points"
        room = area.width - ui.width(points, BODY_BOLD) - ui.u(16)
        y += pad
        end = ui.paragraph(hand.name, (area.left, y), room, BODY_BOLD)
        ui.text(points, (area.right, y), BODY_BOLD, INK, "right")
        end = self._tiles(ui, hand, Rect(area.left, end + ui.u(4), area.width, 0)) + ui.u(6)
        end = ui.paragraph(hand.wording, (area.left, end), area.width, SMALL, SOFT)
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


class SectionList(Popup):
    """The sections to go to, where there is no room for them beside the hands."""

    def __init__(self, parent: SheetScene) -> None:
        super().__init__(parent)
        self._sheet = parent

    def paint(self, ui: Ui) -> None:
        """The list in a panel."""
        now = self._sheet.now(self._sheet.ui)

        def content(area: Rect) -> int:
            y = self._sheet.section_buttons(ui, area, self._sheet.go_to, now) + ui.u(8)
            return ui.buttons((area.left, y), area.width, [Press("Back", self.back, "escape", main=True)])

        pane(ui, 420, "list", content)
