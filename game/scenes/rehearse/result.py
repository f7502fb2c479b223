"""A rehearsal's end: which passes cost what, what the line held, and what the best line would have held."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial

from engine import words
from engine.drills.rehearsal import KIND, PACE, next_allowance
from engine.rules.actions import Pass
from engine.store.values import StoreError
from engine.words import clock
from game.draw.theme import BODY, BODY_BOLD, SMALL, SOFT
from game.play.costs import Cost, costs_of, costs_tried
from game.play.jobs import AdviceJob
from game.play.lines import line_of
from game.play.rehearsing import Held, advised_line, held
from game.play.sitting import Sitting
from game.play.worker import Job
from game.scenes.routes import Routes
from game.scenes.table.board import held_rows
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.costs import pass_sentence

TWO_COLUMNS = 1100
FIGURE = 62
"""Units of width of a cost."""


@dataclass(frozen=True)
class _Review:
    costs: tuple[Cost, ...]
    mine: Held
    best: Held


class RehearsedScene(Scene):
    """What came of one rehearsal."""

    def __init__(self, routes: Routes, sitting: Sitting, setup: Scene, allowance: float | None, spent: float) -> None:
        super().__init__(routes.look)
        self.routes, self.desk = routes, routes.desk
        self.sitting, self.setup = sitting, setup
        self.allowance, self.spent = allowance, spent
        self.in_time = allowance is None or spent <= allowance
        self.own = allowance is not None and self.desk.rehearsal_clock == PACE
        """Whether the clock came from the player's own pace."""
        self.said = ""
        advisor = self.desk.advisor(sitting.state.sheet, sitting.state.house.jokers)

        def estimate() -> _Review:
            best = advised_line(sitting, advisor, sitting.others)
            return _Review(costs_of(sitting, advisor), held(sitting, advisor), held(best, advisor))

        def tried(review: _Review, job: Job[_Review]) -> _Review:
            return replace(review, costs=costs_tried(sitting, advisor, review.costs, lambda: job.stopped, job.breathe))

        steps = [tried] if advisor.effort else []
        self.work = AdviceJob(self.desk.worker, estimate, steps, changed=self._changed, keep=self._keep)
        self.work.begin()

    def enter(self) -> None:
        """Another scene's work may have ended this one's."""
        self.work.go_on()

    @property
    def review(self) -> _Review | None:
        """What came of it, as far as it is known."""
        return self.work.answer

    def _changed(self, _: object) -> None:
        self.dirty = True

    def _keep(self, review: _Review) -> None:
        passes = [
            e.action for e in self.sitting.entries if e.seat == self.sitting.player and isinstance(e.action, Pass)
        ]
        try:
            self.desk.store.add_result(
                KIND,
                {
                    "seconds": round(self.spent, 1),
                    "passes": len(passes),
                    "best": sum(not cost.lost for cost in review.costs if isinstance(cost.chosen, Pass)),
                    "picks": sum(cost.lost for cost in review.costs),
                    "chance": review.mine.advice.chance.share,
                    "best_chance": review.best.advice.chance.share,
                    **({PACE: True} if self.own else {}),
                },
                self.allowance,
                line_of(self.sitting),
            )
        except StoreError as error:
            self.said = words.sentence(f"{error}.")
        if self.allowance is not None and not self.own:
            self.desk.save_rehearsal_clock(next_allowance(self.allowance, self.in_time))

    def back(self) -> Scene | None:
        """Back to the setup. Whoever leaves before the passes are tried out has the rehearsal counted as estimated."""
        self.work.end_now()
        return self.setup

    def next_deal(self) -> Scene | None:
        """The next rehearsal."""
        self.work.end_now()
        return self.routes.rehearse(self.setup)

    def play_on(self) -> Scene | None:
        """Play the deal on from here."""
        self.work.end_now()
        return self.routes.at_table(self.sitting)

    def paint(self, ui: Ui) -> None:
        """The costs beside what both lines held."""
        time = f"{clock(self.spent)} minutes"
        if self.allowance is not None:
            time += f", {'within' if self.in_time else 'over'} the {clock(self.allowance)} allowed"
        rest = ui.header("Passes done", time, self.back)
        scrolled(ui, "rehearsed", rest, self._fill)

    def _fill(self, page: Column) -> None:
        page.buttons([
            Press("Next deal", self.next_deal, "return", main=True),
            Press("Play this deal on", self.play_on, "p"),
            Press("Back to the clock", self.back, "k"),
        ])  # fmt: skip
        page.gap(14)
        if self.said:
            page.notice(self.said)
            page.gap(10)
        if self.review is None:
            page.text("Weighing your passes…", BODY, SOFT)
            return
        page.rest("costs", partial(self._columns, self.review))

    def _columns(self, review: _Review, page: Column) -> None:
        with page.beside([1, 1.25], gap=18, least=TWO_COLUMNS) as (costs, lines):
            with costs.panel("What each pass cost") as inside:
                self._costs(inside, review)
            for title, held in (("Your line", review.mine), ("The advised line", review.best)):
                with lines.panel(title) as inside:
                    held_rows(inside, held)
                lines.gap(12)

    def _costs(self, page: Column, review: _Review) -> None:
        for cost in review.costs:
            figure = f"+{words.picks_figure(cost.lost)}" if cost.lost else "0"
            with page.aside(page.ui.u(FIGURE), gap=8, right=True) as (said, lost):
                said.text(pass_sentence(self.sitting, cost))
                lost.text(figure, BODY_BOLD, across="right")
            page.gap(8)
        if not review.costs:
            page.text("Nothing was passed from the rack.", BODY, SOFT)
        note = "Picks that a hand comes later than after the best choice. Blind passes are not weighed."
        if self.work.trying:
            note = f"A first estimate; trying them out… {note}"
        page.text(note, SMALL, SOFT)
