"""The sheet to read: its sections at the side, every hand in small tiles, and ways to find, study and compare."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from functools import partial

from engine.sheet.model import Hand, Sheet
from engine.tiles import Kind
from engine.words import counted
from game.draw.theme import BODY_BOLD, CARD, INK, LIT, RULE, SMALL, SOFT, TEAL, TOUCH
from game.scenes.routes import Routes
from game.scenes.sheet.find import FindPopup
from game.scenes.sheet.hand_page import HandScene
from game.scenes.sheet.hands import HandList, rack_strip
from game.scenes.sheet.made import Made
from game.scenes.sheet.paper import PrintPopup
from game.ui.buttons import Press
from game.ui.column import Column
from game.ui.layout import Rect, Space
from game.ui.popups import pane_of
from game.ui.scene import Popup, Scene
from game.ui.screen import Screen
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
            high = ui.measure(lambda: self._ways(ui, rest.rect)) - rest.rect.top
            self._ways(ui, rest.top(high, ui.u(12)))
            self.hands.paint(ui, rest.rect)
        else:
            press = Press("Sections", lambda: SectionList(self), "s")
            rest = Space(ui.header(self.sheet.name, "", self.back, action=press))
            rack_strip(ui, rest, self.hands.rack)
            self.hands.paint(ui, rest.rect, lambda area: self._ways(ui, area))

    def _ways(self, ui: Ui, rect: Rect) -> int:
        """What can be done with the whole sheet, and what is looked for; gives the y under it."""
        presses = [Press("Find hands", lambda: FindPopup(self, self.hands), "f")]
        if not self.hands.finding.open or self.hands.by_rack:
            presses.append(Press("Show all hands", self.show_all, "a", main=True))
        else:
            rack = self.hands.rack
            presses.append(Press("Study this sheet", lambda: self.routes.study(self.sheet, self, rack), "u"))
            presses.append(Press("Compare with another", lambda: self.routes.compare(self.sheet, self, rack), "c"))
            presses.append(Press("Print", lambda: PrintPopup(self, self.routes, self.sheet), "p"))
        y = ui.buttons(rect.topleft, rect.width, presses)
        if not self.hands.finding.open:
            said = f"{finding_words(self.hands.finding)}: {len(self.hands.found)} of {len(self.sheet.hands)} hands."
            y = ui.paragraph(said, (rect.left, y + ui.u(6)), rect.width, BODY_BOLD)
        return y

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
        ui.scroll("sections", rect, lambda area: self.section_buttons(ui, area, self.go_to, self.now(ui)))

    def section_buttons(self, ui: Ui, area: Rect, go: Callable[[str], Scene | None], now: str) -> int:
        """One button a section, under one another; gives the y under them."""
        y = area.top
        for index, section in enumerate(self.sheet.sections):
            name = f"section {section.name}"
            left_out = self.hands.chosen is not None and section.name not in self.hands.chosen
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


class SectionList(Popup):
    """The sections to go to, where there is no room for them beside the hands."""

    def __init__(self, parent: SheetScene) -> None:
        super().__init__(parent)
        self._sheet = parent

    def paint(self, ui: Ui) -> None:
        """The list in a panel."""
        now = self._sheet.now(self._sheet.ui)

        def fill(page: Column) -> None:
            def buttons(at: tuple[int, int], width: int) -> int:
                return self._sheet.section_buttons(ui, Rect(at, (width, 0)), self._sheet.go_to, now)

            page.add(buttons)
            page.gap(8)
            page.buttons([Press("Back", self.back, "escape", main=True)])

        pane_of(ui, 420, "list", fill)
