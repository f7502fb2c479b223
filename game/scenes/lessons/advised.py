"""What is advised on a position laid out by hand, and why not another tile or another hand."""

from __future__ import annotations

from functools import partial

from engine.advice.advise.answers import Advice
from engine.advice.advise.discard import advise, deepen
from engine.advice.advise.why_not import why_not_hand
from engine.advice.moment import Moment, Work
from engine.sheet.model import Hand, Sheet
from engine.tiles import Kind, name
from game.draw.theme import BODY, BODY_BOLD, SMALL_BOLD, SOFT, TEAL, TITLE
from game.scenes.drills.answers import draw_reach
from game.scenes.drills.play_answers import draw_choice
from game.scenes.routes import Routes
from game.scenes.table.rack import RackLook
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.scene import Scene
from game.ui.screen import Screen
from game.ui.widgets import Ui

WIDEST = 1240


class AdvisedScene(Scene):
    """The advice for one position: at once, then with the close choices tried out."""

    def __init__(self, routes: Routes, sheet: Sheet, rack: tuple[Kind, ...], moment: Moment, back: Scene) -> None:
        super().__init__(routes.look)
        self.routes, self.sheet, self.rack, self.moment = routes, sheet, rack, moment
        self.advice: Advice = advise(moment)
        self.asked: Hand | None = None
        """The hand that is asked about."""
        self.chosen: int | None = None
        """The tile of the rack that is asked about."""
        self._back = back
        effort = routes.desk.effort
        if effort:
            routes.desk.worker.submit(
                lambda job: deepen(moment, Work(effort, lambda: job.stopped, job.breathe)), self._deeper
            )

    def _deeper(self, advice: Advice) -> None:
        self.advice, self.dirty = advice, True

    def back(self) -> Screen | None:
        """To the tiles, as they lie."""
        return self._back

    def ask_tile(self, place: int) -> Screen | None:
        """Why not this tile?"""
        self.chosen = place
        return None

    def ask_hand(self, hand: Hand) -> Screen | None:
        """Why not this hand?"""
        self.asked = hand
        return None

    def paint(self, ui: Ui) -> None:
        """The rack with what each tile costs, the advice, the hands to ask about."""
        rest = ui.header("What is advised", f"{self.sheet.name} {self.sheet.season}", self.back)
        scrolled(ui, "advised", rest, self._fill, widest=WIDEST)

    def _fill(self, page: Column) -> None:
        advice = self.advice
        look = RackLook(chosen=self.chosen, advice=advice if advice.keeps else None, let_go=advice.let_go)
        draw_choice(page, self.rack, look, self.ask_tile)
        page.gap(10)
        if advice.let_go is not None and not advice.finished:
            page.text(f"Let the {name(advice.let_go)} go.", TITLE, TEAL)
        page.text(advice.because, BODY, most=1000)
        if advice.keeps and not advice.finished:
            page.gap(8)
            if self.chosen is None:
                page.text("Press a tile of the rack to ask why not that one.", SMALL_BOLD, SOFT)
            else:
                kind = self.rack[self.chosen]
                page.text(next(keep.because for keep in advice.keeps if keep.kind == kind), BODY_BOLD)
        if self.asked is not None:
            page.gap(12)
            page.notice(why_not_hand(self.moment, advice, self.asked))
            reach = next((one for one in advice.hands if one.hand.name == self.asked.name), None)
            if reach is not None:
                page.gap(8)
                draw_reach(page, reach)
        page.gap(14)
        page.caption("Why not another hand? Press one")
        with page.grid(190, 6) as cell:
            for hand in self.sheet.hands:
                one = cell()
                with one.card(f"hand {hand.name}", partial(self.ask_hand, hand), says=hand.name,
                              here=self.asked is hand) as card:  # fmt: skip
                    card.text(hand.name, BODY_BOLD if self.asked is hand else BODY)
        page.gap(14)
        page.buttons([Press("Change the tiles", self.back, "return", main=True)])
