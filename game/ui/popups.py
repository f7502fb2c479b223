"""A popup that lists every key of the screen under it, and one that asks a question."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from game.draw.theme import BODY, SOFT
from game.ui.buttons import Press
from game.ui.column import Column
from game.ui.layout import Rect, flow, inset
from game.ui.scene import Popup
from game.ui.screen import Screen
from game.ui.scrolling import GUTTER
from game.ui.widgets import Ui

EVERYWHERE = (
    (("tab",), "go to the next thing to press"),
    (("arrows",), "go to what lies there, or scroll"),
    (("return",), "press it; if nothing has the focus, the main button"),
    (("escape",), "back"),
    (("page up", "page down"), "scroll by a page"),
    (("ctrl++",), "larger"),
    (("ctrl+-",), "smaller"),
    (("f11",), "fill the screen, or stop doing so"),
    (("f1",), "this list"),
)


LEAST = 60
"""Units of height that a popup's column keeps above its buttons."""


def box(ui: Ui, wide: float, high: float) -> Rect:
    """Draws a popup's panel in the middle of the window, at most so many units; gives its inside."""
    page = ui.page()
    rect = Rect(0, 0, min(ui.u(wide), page.width), min(ui.u(high), page.height))
    rect.center = ui.window.center
    ui.look.shapes.shadow(ui.surface, rect, ui.u(16), ui.u(18))
    ui.panel(rect, radius=16)
    return inset(rect, ui.u(24), ui.u(20))


def pane_of(ui: Ui, wide: float, name: str, fill: Callable[[Column], object], foot: Sequence[Press] = ()) -> None:
    """A popup's panel, at most so many units wide and as high as the column in it, which scrolls if it is too high.

    `foot`: buttons that stand under the column and never scroll away.
    """
    column = Column(ui, min(ui.u(wide), ui.page().width) - 2 * ui.u(24) - ui.u(GUTTER))
    column.rest(name, fill, LEAST)
    if foot:
        column.gap(16)
        column.buttons(foot)
    inside = box(ui, wide, (column.whole + 2 * ui.u(20)) / ui.unit + 1)
    with ui.within(inside):
        column.paint(inside.topleft, inside.height)


class Question(Popup):
    """Says something and offers a few buttons; Esc goes back without doing any of it."""

    def __init__(self, parent: Screen, title: str, text: str, presses: Sequence[Press]) -> None:
        super().__init__(parent)
        self._title, self._text = title, text
        self._presses = tuple(presses)

    def paint(self, ui: Ui) -> None:
        """The panel, as high as its text needs."""
        presses = [*self._presses, Press("Back", lambda: self.parent, "escape")]

        def fill(column: Column) -> None:
            column.heading(self._title)
            column.gap(8)
            column.text(self._text)
            column.gap(4)

        pane_of(ui, 560, "question", fill, presses)


class KeyHelp(Popup):
    """Every key that means something on the screen under it."""

    def paint(self, ui: Ui) -> None:
        """Two groups: this screen's keys, then those that mean the same everywhere."""
        here = self.parent.keys()

        def fill(column: Column) -> None:
            for title, rows in (("On this screen", here), ("Everywhere", EVERYWHERE)):
                if not rows:
                    continue
                column.heading(title)
                column.gap(6)
                widest = max(sum(ui.cap_width(key) + ui.u(6) for key in keys) for keys, _ in rows)
                indent = min(widest + ui.u(8), column.width // 2)
                for keys, says in rows:
                    self._row(column, keys, says, indent)
                column.gap(16)

        pane_of(ui, 640, "keys", fill, [Press("Back", lambda: self.parent, "escape", main=True)])

    @staticmethod
    def _row(column: Column, keys: Sequence[str], says: str, indent: int) -> None:
        ui = column.ui
        step = ui.u(34)
        with column.aside(indent, gap=6) as (caps, words):
            places = list(flow([(ui.cap_width(key), step) for key in keys], (0, 0), indent, (ui.u(6), 0)))

            def paint(rect: Rect) -> None:
                for key, place in zip(keys, places, strict=True):
                    ui.cap_at((rect.left + place.left, rect.top + place.centery), key)

            caps.put(places[-1].bottom, paint)
            words.space((step - ui.line(BODY)) / 2 / ui.unit)
            words.text(says, BODY, SOFT)
            words.space(6)


MOST = 300
"""Letters of what went wrong that are shown."""


class TroublePopup(Popup):
    """What went wrong, and that nothing is lost."""

    def __init__(self, parent: Screen, error: BaseException) -> None:
        super().__init__(parent)
        said = f"{type(error).__name__}: {error}".replace("\0", " ")
        self.said = said if len(said) <= MOST else f"{said[:MOST]}…"

    def paint(self, ui: Ui) -> None:
        """Three sentences and a way back."""

        def fill(column: Column) -> None:
            column.heading("Something could not be worked out")
            column.gap(6)
            column.text("That is a mistake of the program's. Your game is kept, and you can go on without this answer.")
            column.gap(8)
            column.text(self.said, BODY, SOFT)

        pane_of(ui, 620, "trouble", fill, [Press("Go on", self.back, "return", main=True)])
