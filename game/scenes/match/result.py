"""The result sheet of a match: every deal with what each of the four won or paid, and the totals."""

from __future__ import annotations

from collections.abc import Sequence

from engine import words
from engine.advice.review.full import together
from engine.drills.match import DealResult, Match
from engine.words import clock, points_text
from game.draw.theme import BODY, BODY_BOLD, GREAT, INK, LIT, SMALL, SMALL_BOLD, SOFT, TEAL, Colour, Style
from game.play.jobs import AdviceJob
from game.play.matches import MatchPlay
from game.play.reviewing import Deals, deal_reviews, keep_deals
from game.scenes.routes import Routes
from game.scenes.season.steps_chart import fill_luck
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.layout import Rect, columns
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.match import PLACES, deal_words, seat_sentence, standing
from game.words.season.luck import match_steps

WIDEST = 900
FIGURE = 78
"""Units of a column of points."""
BESIDE = 620
"""Units of width from which a deal and its points stand in one row."""


class ResultSheet(Scene):
    """The deals so far, or all of them."""

    def __init__(self, routes: Routes, play: MatchPlay) -> None:
        super().__init__(routes.look)
        self.routes, self.desk = routes, routes.desk
        self.play = play
        self.work: AdviceJob[Deals] | None = None
        """What luck and choices did, deal by deal, once the match is over."""
        self.enter()

    def enter(self) -> None:
        """Go on with what luck and choices did, where another screen has stopped it."""
        if not self.match.over or not self.desk.effort:
            return
        if self.work is None:
            steps = deal_reviews(self.desk, self.match)
            self.work = AdviceJob(self.desk.worker, tuple, steps, changed=self._changed)
            self.work.begin(())
        else:
            self.work.go_on()

    def _changed(self, found: Deals) -> None:
        keep_deals(self.desk.store, self.match, found)
        self.dirty = True

    @property
    def match(self) -> Match:
        """What is shown."""
        return self.play.match

    def back(self) -> Scene | None:
        """To the match's own screen."""
        return self.routes.match(self.routes.home())

    def go_on(self) -> Scene | None:
        """The next deal, or another match."""
        if self.match.over:
            return self.back()
        return self.routes.match_deal(self.play)

    def paint(self, ui: Ui) -> None:
        """A table in a scrolled panel."""
        rest = ui.header("Result sheet", "" if self.match.over else "so far", self.back, "Match")
        scrolled(ui, "results", rest, self._fill, widest=WIDEST, roomy=True)

    def _fill(self, page: Column) -> None:
        page.rest("table", self._results)
        page.gap(16)
        if self.match.over:
            page.buttons([
                Press("Another match", self.go_on, "return", main=True),
                Press("Home", self.routes.home, "h"),
            ])  # fmt: skip
        else:
            page.text(seat_sentence(self.match))
            page.gap(8)
            page.buttons([Press("Next deal", self.go_on, "return", main=True)])
        page.space(10)

    def _results(self, page: Column) -> None:
        if self.match.over:
            page.text(self._headline(), GREAT, TEAL)
        page.text(standing(self.match))
        page.gap(12)
        with page.panel() as inside:
            self._table(inside)
        if self.work is not None:
            page.gap(12)
            with page.panel("Luck and choices in the whole match") as inside:
                self._luck(inside)

    def _luck(self, page: Column) -> None:
        """All deals together, once all were looked through."""
        done = self.work.answer if self.work is not None else None
        if self.work is None or done is None or not self.work.settled:
            number = len(done or ())
            page.text(f"Weighing luck and choices: {number} of {len(self.match.results)} deals done.", BODY, SOFT)
        elif None in done:
            page.text("Some deals of this match can’t be opened, so luck and choices can’t be weighed.", BODY, SOFT)
        else:
            deals = [one for one in done if one is not None]
            fill_luck(page, match_steps(together(deals), self.match.totals[0]))

    def _headline(self) -> str:
        totals = self.match.totals
        if self.match.rank == 1:
            shared = sum(points == totals[0] for points in totals) > 1
            return "You share the first place" if shared else "You win the match"
        first = [PLACES[place].lower() for place in range(1, 4) if totals[place] == max(totals)]
        return f"The match goes to {words.listed([f'the player {_where(one)}' for one in first])}"

    def _table(self, page: Column) -> None:
        beside = page.has(BESIDE)
        self._row(page, "" if beside else "Points", PLACES, SMALL_BOLD, SOFT)
        for number, result in enumerate(self.match.results, 1):
            page.rule()
            page.gap(3)
            self._row(page, self._deal(number, result), [points_text(points) for points in result.points], BODY)
        page.rule(SOFT)
        page.gap(3)
        self._row(page, "In all", [points_text(points) for points in self.match.totals], BODY_BOLD)
        page.gap(6)
        note = "Right, across and left are the three others as you see them; the seats move on after each deal."
        page.text(note, SMALL, SOFT)

    def _deal(self, number: int, result: DealResult) -> str:
        time = f", {clock(result.seconds)}" if self.match.rules.minutes is not None else ""
        return f"Deal {number}. {deal_words(result)}{time}"

    def _row(self, page: Column, says: str, figures: Sequence[str], style: Style, colour: Colour = INK) -> None:
        """Words at the left and four figures at the right, or under them where it is narrow."""
        ui, narrow = page.ui, not page.has(BESIDE)
        wide = page.width if narrow else 4 * ui.u(FIGURE)
        with page.aside(wide, gap=12, right=True, stacked=narrow, apart=0) as (words_at, points):
            if says:
                words_at.text(says, style, colour)
            points.put(ui.line(style), lambda rect: _points(ui, rect, figures, style, colour))
        page.gap(5)


def _points(ui: Ui, rect: Rect, figures: Sequence[str], style: Style, colour: Colour) -> None:
    """Four figures side by side, the player's own on a ground."""
    cells = columns(rect, [1] * len(figures))
    ui.panel(cells[0].inflate(0, ui.u(2)), LIT, None, 4)
    for figure, cell in zip(figures, cells, strict=True):
        ui.fitted(figure, Rect(cell.left, cell.top, cell.width - ui.u(6), cell.height), style, colour, "right")


def _where(place: str) -> str:
    return "across" if place == "across" else f"to your {place}"
