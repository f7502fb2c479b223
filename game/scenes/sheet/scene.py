"""The sheet to read: its sections at the side, every hand in small tiles, and ways to find, study and compare."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from functools import partial

from engine.sheet.model import Hand, Sheet
from engine.tiles import Kind
from engine.words import counted
from game.draw.theme import BODY_BOLD, CARD, INK, LIT, RULE, SMALL, SOFT, TEAL, TOUCH
from game.scenes.printing import PrintPopup
from game.scenes.routes import Routes
from game.scenes.sheet.find import FindPopup
from game.scenes.sheet.hand_page import HandScene
from game.scenes.sheet.hands import HandList, rack_strip
from game.scenes.sheet.made import Made
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.layout import Rect, Space
from game.ui.popups import pane_of
from game.ui.scene import Popup, Scene
from game.ui.screen import Screen
from game.ui.targets import Do
from game.ui.widgets import Ui
from game.words.sheet import finding_words

SIDE = 250
"""Units of the list of sections beside the hands."""
ROOM_FOR_SIDE = 860
"""Units of width from which the list stands beside the hands; below, a button opens it."""


class SheetScene(Scene):
    """A whole sheet, section after section. `chosen` names the sections that are played with, None for all."""

    def __init__(
        self,
        routes: Routes,
        sheet: Sheet,
        back: Scene,
        chosen: Collection[str] | None = None,
        rack: Sequence[Kind] = (),
    ) -> None:
        super().__init__(routes.look)
        self.routes = routes
        self.sheet = sheet
        self.hands = HandList(sheet, self.open, chosen, rack)
        self.made = Made(sheet, routes.desk.worker)
        self._back = back

    def back(self) -> Scene | None:
        """Where the reader came from."""
        return self._back

    def open(self, hand: Hand) -> Screen | None:
        """A hand's own page."""
        return HandScene(self.routes, self.sheet, hand, self, self.made, self.hands.rack)

    # Painting.

    def paint(self, ui: Ui) -> None:
        """Sections at the side, hands in a scrolled list."""
        note = f"season {self.sheet.season} · {counted(len(self.sheet.hands), 'hand')}"
        if ui.page().width >= ui.u(ROOM_FOR_SIDE):
            rest = Space(ui.header(self.sheet.name, note, self.back))
            rack_strip(ui, rest, self.hands.rack)
            self._side(ui, rest.left(ui.u(SIDE), ui.u(20)))
            ways = Column(ui, rest.rect.width)
            self._ways(ways)
            ways.paint(rest.top(ways.height, ui.u(12)).topleft)
            self.hands.paint(ui, rest.rect)
        else:
            press = Press("Sections", lambda: SectionList(self), "s")
            rest = Space(ui.header(self.sheet.name, "", self.back, action=press))
            rack_strip(ui, rest, self.hands.rack)
            self.hands.paint(ui, rest.rect, self._ways)

    def _ways(self, page: Column) -> None:
        """What can be done with the whole sheet, and what is looked for."""
        presses = [Press("Find hands", lambda: FindPopup(self, self.hands), "f")]
        if not self.hands.finding.open or self.hands.by_rack:
            presses.append(Press("Show all hands", self.show_all, "a", main=True))
        else:
            rack = self.hands.rack
            presses.append(Press("Study this sheet", lambda: self.routes.study(self.sheet, self, rack), "u"))
            presses.append(Press("Compare with another", lambda: self.routes.compare(self.sheet, self, rack), "c"))
            presses.append(Press("Print", lambda: PrintPopup(self, self.routes, self.sheet), "p"))
        page.buttons(presses)
        if not self.hands.finding.open:
            said = f"{finding_words(self.hands.finding)}: {len(self.hands.found)} of {len(self.sheet.hands)} hands."
            page.gap(6)
            page.text(said, BODY_BOLD)

    def show_all(self) -> Scene | None:
        """Every hand again."""
        self.hands.finding = type(self.hands.finding)()
        self.hands.by_rack = False
        return None

    # The sections.

    def now(self, ui: Ui) -> str:
        """The section at the top of what can be seen."""
        return self.hands.now(ui)

    def go_to(self, name: str) -> Scene | None:
        """Scrolls to a section."""
        if name not in [section.name for section in self.hands.sections] or self.hands.by_rack:
            self.show_all()
            self.draw(self.ui.surface)
        self.hands.go_to(self.ui, name)
        return self

    def key(self, name: str) -> Scene | None:
        """The digits go to the sections, 0 to the tenth."""
        if len(name) == 1 and name.isdigit():
            index = (int(name) - 1) % 10
            if index < len(self.sheet.sections):
                return self.go_to(self.sheet.sections[index].name)
        return None

    def _side(self, ui: Ui, rect: Rect) -> None:
        scrolled(ui, "sections", rect, lambda page: self.section_buttons(page, self.go_to, self.now(ui)))

    def section_buttons(self, page: Column, go: Callable[[str], Scene | None], now: str) -> None:
        """One button a section, under one another; the first ten have the digits for their keys."""
        for index, section in enumerate(self.sheet.sections):
            left_out = self.hands.chosen is not None and section.name not in self.hands.chosen
            here = section.name == now
            inside = Column(page.ui, page.width - page.ui.u(44))
            inside.text(section.name, BODY_BOLD, TEAL if here else INK)
            inside.text(f"{len(section.hands)} hands" + (" · left out" if left_out else ""), SMALL, SOFT)
            high = max(inside.height + page.ui.u(14), page.ui.u(TOUCH))
            key = str((index + 1) % 10) if index < 10 else ""
            page.put(
                high, partial(_section_button, page.ui, section.name, partial(go, section.name), key, here, inside)
            )
            page.gap(4)


def _section_button(ui: Ui, section: str, go: Do, key: str, here: bool, inside: Column, rect: Rect) -> None:
    """One section to press; a mark stands at the one that is seen."""
    name = f"section {section}"
    if here or ui.lit(name):
        ui.panel(rect, LIT if ui.lit(name) else CARD, TEAL if here else RULE, 10)
    if here:
        ui.panel(Rect(rect.left, rect.top + ui.u(8), ui.u(5), rect.height - ui.u(16)), TEAL, None, 2)
    with ui.within(rect):
        inside.paint((rect.left + ui.u(18), rect.top + ui.u(7)))
    ui.target(name, rect, go, f"go to {section}", keys=(key,) if key else ())


class SectionList(Popup):
    """The sections to go to, where there is no room for them beside the hands."""

    def __init__(self, parent: SheetScene) -> None:
        super().__init__(parent)
        self._sheet = parent

    def paint(self, ui: Ui) -> None:
        """The list in a panel."""
        now = self._sheet.now(self._sheet.ui)

        def fill(page: Column) -> None:
            self._sheet.section_buttons(page, self._sheet.go_to, now)

        pane_of(ui, 420, "list", fill, [Press("Back", self.back, "escape", main=True)])
