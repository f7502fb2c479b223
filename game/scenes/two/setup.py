"""Where a two-hand game is begun: its rules, what it is played with, and the deal."""

from __future__ import annotations

from game.draw.theme import BODY, SOFT
from game.play.desk import Desk
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.deal.twists import twist_clause
from game.words.deal.two_hands import RULES

WIDEST = 900
PICKS = ((40, "40"), (60, "60"), (80, "80"), (0, "All of the wall"))
KEPT = "two hands picks"
USUAL = 60


def kept_picks(desk: Desk) -> int:
    """How many picks the player has chosen; the usual number where nothing sound is kept."""
    kept = desk.store.get(KEPT)
    return kept if isinstance(kept, int) and kept in dict(PICKS) else USUAL


class TwoHandsSetup(Scene):
    """Rules, picks and a button that deals."""

    def __init__(self, routes: Routes, back: Scene) -> None:
        super().__init__(routes.look)
        self.routes, self.desk = routes, routes.desk
        self._back = back

    def back(self) -> Scene | None:
        """Where the player came from."""
        return self._back

    def deal(self) -> Scene | None:
        """A new game."""
        return self.routes.new_two_hands(kept_picks(self.desk))

    def choose(self, picks: int) -> None:
        """Keep the number of picks."""
        self.desk.store.set(KEPT, picks)

    def paint(self, ui: Ui) -> None:
        """One page."""
        rest = ui.header("Two hands", "", self.back)
        scrolled(ui, "two hands", rest, self._fill, widest=WIDEST, gap=14, roomy=True)

    def _fill(self, page: Column) -> None:
        sheet = self.desk.current_sheet
        with page.panel("How it goes") as inside:
            inside.points(RULES)
        with page.panel("Your next deal") as inside:
            inside.text(f"{sheet.name} {sheet.season}{twist_clause(self.desk)}", BODY, SOFT)
            inside.setting(
                "Picks", "how many tiles you may draw",
                lambda at, width: inside.ui.choice(at, width, "picks", PICKS, kept_picks(self.desk), self.choose),
            )  # fmt: skip
            inside.gap(14)
            inside.buttons([
                Press("Deal", self.deal, "d", main=True),
                Press("Sheet and sections", lambda: self.routes.choosing(self), "c"),
                Press("Twists", lambda: self.routes.twists(self), "t"),
            ])  # fmt: skip
