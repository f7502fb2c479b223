"""A rehearsal's end: which passes cost what, what the line held, and what the best line would have held."""

from __future__ import annotations

from dataclasses import dataclass, replace

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
from game.ui.layout import Rect, columns
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.costs import pass_sentence

TWO_COLUMNS = 1100


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
        ui.scroll("rehearsed", rest, lambda area: self._all(ui, area))

    def _all(self, ui: Ui, area: Rect) -> int:
        presses = [
            Press("Next deal", self.next_deal, "return", main=True),
            Press("Play this deal on", self.play_on, "p"),
            Press("Back to the clock", self.back, "k"),
        ]
        y = ui.buttons(area.topleft, area.width, presses) + ui.u(14)
        if self.said:
            y = ui.notice(self.said, (area.left, y), area.width) + ui.u(10)
        if self.review is None:
            return ui.paragraph("Weighing your passes…", (area.left, y), area.width, BODY, SOFT)
        review = self.review
        place = Rect(area.left, y, area.width, 0)
        if area.width >= ui.u(TWO_COLUMNS):
            left, right = columns(place, [1, 1.25], ui.u(18))
            return max(self._costs(ui, left, review), self._lines(ui, right, review))
        y = self._costs(ui, place, review) + ui.u(14)
        return self._lines(ui, place.move(0, y - place.top), review)

    def _costs(self, ui: Ui, area: Rect, review: _Review) -> int:
        return ui.titled(area.topleft, area.width, "What each pass cost", lambda inner: self._rows(ui, inner, review))

    def _rows(self, ui: Ui, area: Rect, review: _Review) -> int:
        y = area.top
        for cost in review.costs:
            figure = f"+{words.picks_figure(cost.lost)}" if cost.lost else "0"
            wide = ui.u(70)
            ui.fitted(figure, Rect(area.right - wide, y, wide, ui.line(BODY)), BODY_BOLD, across="right")
            y = ui.paragraph(pass_sentence(self.sitting, cost), (area.left, y), area.width - wide, BODY) + ui.u(8)
        if not review.costs:
            y = ui.paragraph("Nothing was passed from the rack.", (area.left, y), area.width, BODY, SOFT)
        note = "Picks that a hand comes later than after the best choice. Blind passes are not weighed."
        if self.work.trying:
            note = f"A first estimate; trying them out… {note}"
        return ui.paragraph(note, (area.left, y), area.width, SMALL, SOFT)

    def _lines(self, ui: Ui, area: Rect, review: _Review) -> int:
        y = ui.titled(area.topleft, area.width, "Your line", lambda inner: held_rows(ui, inner, review.mine))
        return ui.titled(
            (area.left, y + ui.u(12)), area.width, "The advised line", lambda inner: held_rows(ui, inner, review.best)
        )
