"""The scenes of the table: what may be done at a moment, joined with how it looks."""

from __future__ import annotations

from engine.rules.passing import BEFORE_PLAY
from game.play.sitting import Sitting
from game.scenes.routes import Routes
from game.scenes.table import passes_view, view
from game.scenes.table.moment import SeatMoment
from game.scenes.table.passes import PassMoment
from game.scenes.table.policy import TablePolicy
from game.scenes.table.popups import MorePopup
from game.scenes.table.turn import TurnMoment
from game.ui.scene import Scene
from game.ui.widgets import Ui


class TableScene(TurnMoment):
    """A turn, a discard that may be called, or the end; at the quiet and at the full table."""

    def more(self) -> Scene | None:
        """Everything else that can be done here."""
        return MorePopup(self, lambda: view.more_presses(self))

    def paint(self, ui: Ui) -> None:
        """One frame."""
        view.paint_turn(self, ui)


class PassScene(PassMoment):
    """A choice before play."""

    def more(self) -> Scene | None:
        """Everything else that can be done here."""
        return MorePopup(self, lambda: passes_view.more_presses(self))

    def paint(self, ui: Ui) -> None:
        """One frame."""
        passes_view.paint_passes(self, ui)


def table_scene(routes: Routes, sitting: Sitting, policy: TablePolicy | None = None) -> SeatMoment:
    """The scene for the kind of moment at which a sitting stands."""
    kind = PassScene if sitting.state.phase in BEFORE_PLAY else TableScene
    return kind(routes, sitting, policy)
