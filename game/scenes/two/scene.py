"""The scene of the two-hand game: what may be done at a moment, joined with how it looks."""

from __future__ import annotations

from game.scenes.two.moment import TwoHandsMoment
from game.scenes.two.view import paint_two
from game.ui.widgets import Ui


class TwoHandsScene(TwoHandsMoment):
    """Two racks of one player, from the first draw to the end."""

    def paint(self, ui: Ui) -> None:
        """One frame."""
        paint_two(self, ui)
