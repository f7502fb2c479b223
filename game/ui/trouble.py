"""A popup for work in the background that went wrong: the game goes on without it."""

from __future__ import annotations

from game.draw.theme import BODY, HEADING, SOFT
from game.ui.help import pane
from game.ui.layout import Rect
from game.ui.scene import Popup, Scene
from game.ui.widgets import Press, Ui

MOST = 300
"""Letters of what went wrong that are shown."""


class TroublePopup(Popup):
    """What went wrong, and that nothing is lost."""

    def __init__(self, parent: Scene, error: BaseException) -> None:
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
