"""Twists: choosing one for the next deals, and a popup that says what the twist of a deal changes."""

from __future__ import annotations

from functools import partial

from engine.rules.house import FULL
from engine.rules.twists.known import twists_for
from engine.rules.twists.twist import Twist
from game.draw.theme import BODY, BODY_BOLD, SMALL, SOFT, TEAL
from game.draw.tiles import Face
from game.play.sitting import Sitting
from game.play.twisting import SURPRISE, keep_twist, kept_twist
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.popups import pane_of
from game.ui.scene import Popup, Scene
from game.ui.screen import Screen
from game.ui.widgets import Ui
from game.words.deal.twists import advice_sentence, twist_sentences

WIDEST = 1240
CARD = 380
"""Units that a card of a twist is wide at least."""
TILE = 40
ABOUT = (
    "A twist is a small rule that changes one deal. The other players and the advice go by it too. "
    "Deals with a twist are not counted in your progress and in the season’s ledger."
)


class TwistScene(Scene):
    """No twist, a surprise, or one of all there are; the choice is kept for the next deals."""

    def __init__(self, routes: Routes, back: Scene) -> None:
        super().__init__(routes.look)
        self.desk = routes.desk
        self._back = back

    def back(self) -> Scene | None:
        """Where the player came from."""
        return self._back

    @property
    def choice(self) -> str:
        """What is chosen now."""
        return kept_twist(self.desk.store)

    def choose(self, choice: str) -> Scene | None:
        """Keep a choice."""
        keep_twist(self.desk.store, choice)
        return None

    def paint(self, ui: Ui) -> None:
        """One scrolled page of cards."""
        rest = ui.header("Twists", "", self.back)
        scrolled(ui, "twists", rest, self._fill, widest=WIDEST, gap=12, roomy=True)

    def _fill(self, page: Column) -> None:
        page.text(ABOUT, BODY, SOFT)
        with page.grid(CARD, gap=10, most=3) as cell:
            self._card(cell(), "", "No twist", "Every deal goes by the sheet and your house rules.", "")
            self._card(cell(), SURPRISE, "Surprise me", "Each deal has another twist, drawn at random.", "")
        here = {twist.name for twist in twists_for(self.desk.house.table)}
        both = [twist for twist in twists_for(FULL) if not twist.full_only]
        with page.panel("At any table") as inside, inside.grid(CARD, gap=10, most=3) as cell:
            for twist in both:
                self._twist(cell(), twist)
        four = [twist for twist in twists_for(FULL) if twist.full_only]
        with page.panel("Where four play") as inside:
            if not here.issuperset(twist.name for twist in four):
                said = "Your table is a quiet one: there these change nothing, so the deal has no twist."
                inside.text(said, BODY, SOFT)
                inside.gap(8)
            with inside.grid(CARD, gap=10, most=3) as cell:
                for twist in four:
                    self._twist(cell(), twist)

    def _twist(self, cell: Column, twist: Twist) -> None:
        self._card(cell, twist.name, twist.title, twist.says, advice_sentence(twist))

    def _card(self, cell: Column, choice: str, title: str, says: str, note: str) -> None:
        here = choice == self.choice
        name = f"twist {choice or 'none'}"
        with cell.card(name, partial(self.choose, choice), says=f"choose {title}", here=here, fills=True) as card:
            card.text(title, BODY_BOLD, TEAL)
            card.text(says)
            if note:
                card.text(note, SMALL, SOFT)


class TwistPopup(Popup):
    """What the twist of this deal changes; shown when it is dealt, and whenever it is asked for."""

    def __init__(self, parent: Screen, sitting: Sitting) -> None:
        super().__init__(parent)
        self.sitting = sitting

    def paint(self, ui: Ui) -> None:
        """Its sentences, the tiles that are out of play, and the way to the table."""
        state = self.sitting.state
        first, *rest = twist_sentences(state)

        def fill(column: Column) -> None:
            column.heading("The twist of this deal")
            column.gap(8)
            column.text(first, BODY_BOLD)
            for said in rest:
                column.gap(6)
                column.text(said, BODY, SOFT)
            if state.aside:
                column.gap(10)
                column.tiles([Face(kind) for kind in sorted(state.aside)], TILE)
            column.gap(18)
            column.buttons([Press("To the table", self.back, "return", main=True)])

        pane_of(ui, 620, "twist", fill)


def announced(scene: Scene, sitting: Sitting) -> Scene:
    """The scene of a deal that begins, under a popup that says its twist if it has one."""
    return TwistPopup(scene, sitting) if sitting.state.house.twist else scene
