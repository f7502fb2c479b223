"""A popup that lists every key of the screen under it, and one that asks a question."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from game.draw.theme import BODY, HEADING, SOFT
from game.ui.buttons import Press
from game.ui.layout import Rect, inset
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


def box(ui: Ui, wide: float, high: float) -> Rect:
    """Draws a popup's panel in the middle of the window, at most so many units; gives its inside."""
    page = ui.page()
    rect = Rect(0, 0, min(ui.u(wide), page.width), min(ui.u(high), page.height))
    rect.center = ui.window.center
    ui.look.shapes.shadow(ui.surface, rect, ui.u(16), ui.u(18))
    ui.panel(rect, radius=16)
    return inset(rect, ui.u(24), ui.u(20))


def pane(ui: Ui, wide: float, name: str, content: Callable[[Rect], int]) -> None:
    """A popup's panel, at most so many units wide and as high as its content, which scrolls if that is too high.

    `content(area)` draws from `area.top` within `area.width` and gives the y under it.
    """
    pad = ui.u(20)
    room = min(ui.u(wide), ui.page().width) - 2 * ui.u(24) - ui.u(GUTTER)
    high = ui.measure(lambda: content(Rect(0, 0, room, 0)))
    inside = box(ui, wide, (high + 2 * pad) / ui.unit + 1)
    with ui.within(inside):
        ui.scroll(name, inside, content)


class Question(Popup):
    """Says something and offers a few buttons; Esc goes back without doing any of it."""

    def __init__(self, parent: Screen, title: str, text: str, presses: Sequence[Press]) -> None:
        super().__init__(parent)
        self._title, self._text = title, text
        self._presses = tuple(presses)

    def paint(self, ui: Ui) -> None:
        """The panel, as high as its text needs."""
        presses = [*self._presses, Press("Back", lambda: self.parent, "escape")]

        def content(area: Rect) -> int:
            y = ui.paragraph(self._title, area.topleft, area.width, HEADING) + ui.u(8)
            y = ui.paragraph(self._text, (area.left, y), area.width, BODY) + ui.u(20)
            return ui.buttons((area.left, y), area.width, presses)

        pane(ui, 560, "question", content)


class KeyHelp(Popup):
    """Every key that means something on the screen under it."""

    def paint(self, ui: Ui) -> None:
        """Two groups: this screen's keys, then those that mean the same everywhere."""
        here = self.parent.keys()

        def content(area: Rect) -> int:
            y = area.top
            for title, rows in (("On this screen", here), ("Everywhere", EVERYWHERE)):
                if not rows:
                    continue
                y = ui.paragraph(title, (area.left, y), area.width, HEADING) + ui.u(6)
                widest = max(sum(ui.cap_width(key) + ui.u(6) for key in keys) for keys, _ in rows)
                indent = min(widest + ui.u(14), area.width // 2)
                for keys, says in rows:
                    y = self._row(ui, Rect(area.left, y, area.width, 0), keys, says, indent)
                y += ui.u(16)
            return ui.buttons((area.left, y), area.width, [Press("Back", lambda: self.parent, "escape", main=True)])

        pane(ui, 640, "keys", content)

    @staticmethod
    def _row(ui: Ui, rect: Rect, keys: Sequence[str], says: str, indent: int) -> int:
        x, y, step = rect.left, rect.top, ui.u(34)
        for key in keys:
            if x > rect.left and x + ui.cap_width(key) > rect.left + indent:
                x, y = rect.left, y + step
            x = ui.cap_at((x, y + step // 2), key).right + ui.u(6)
        room = rect.width - indent
        high = max(ui.tall(says, room, BODY) + ui.u(6), step)
        ui.paragraph(says, (rect.left + indent, rect.top + (step - ui.line(BODY)) // 2), room, BODY, SOFT)
        return max(y + step, rect.top + high)


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

        def content(area: Rect) -> int:
            y = ui.paragraph("Something could not be worked out", area.topleft, area.width, HEADING) + ui.u(6)
            says = "That is a mistake of the program's. Your game is kept, and you can go on without this answer."
            y = ui.paragraph(says, (area.left, y), area.width, BODY) + ui.u(8)
            y = ui.paragraph(self.said, (area.left, y), area.width, BODY, SOFT) + ui.u(16)
            return ui.buttons((area.left, y), area.width, [Press("Go on", self.back, "return", main=True)])

        pane(ui, 620, "trouble", content)
