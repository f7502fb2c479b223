"""The result sheet of a match: every deal with what each of the four won or paid, and the totals."""

from __future__ import annotations

from engine import words
from engine.drills.match import DealResult, Match
from engine.words import clock, points_text
from game.draw.theme import BODY, BODY_BOLD, GREAT, INK, LIT, SMALL, SMALL_BOLD, SOFT, TEAL, Style
from game.play.matches import MatchPlay
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.layout import Rect
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.match import PLACES, deal_words, seat_sentence, standing

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
        ui.scroll("results", rest, lambda area: self._all(ui, area))

    def _all(self, ui: Ui, area: Rect) -> int:
        width = min(area.width, ui.u(WIDEST))
        left = area.centerx - width // 2
        y = area.top
        if self.match.over:
            y = ui.paragraph(self._headline(), (left, y), width, GREAT, TEAL)
        y = ui.paragraph(standing(self.match), (left, y), width, BODY) + ui.u(12)
        y = ui.titled((left, y), width, "", lambda inner: self._table(ui, inner))
        if self.match.over:
            presses = [
                Press("Another match", self.go_on, "return", main=True),
                Press("Home", self.routes.home, "h"),
            ]
        else:
            y = ui.paragraph(seat_sentence(self.match), (left, y), width, BODY) + ui.u(8)
            presses = [Press("Next deal", self.go_on, "return", main=True)]
        return ui.buttons((left, y), width, presses) + ui.u(10)

    def _headline(self) -> str:
        totals = self.match.totals
        if self.match.rank == 1:
            shared = sum(points == totals[0] for points in totals) > 1
            return "You share the first place" if shared else "You win the match"
        first = [PLACES[place].lower() for place in range(1, 4) if totals[place] == max(totals)]
        return f"The match goes to {words.listed([f'the player {_where(one)}' for one in first])}"

    def _table(self, ui: Ui, area: Rect) -> int:
        beside = area.width >= ui.u(BESIDE)
        y = self._row(ui, area, area.top, "" if beside else "Points", PLACES, SMALL_BOLD, beside, head=True)
        for number, result in enumerate(self.match.results, 1):
            ui.rule((area.left, y), area.width)
            figures = [points_text(points) for points in result.points]
            y = self._row(ui, area, y + ui.u(3), self._deal(number, result), figures, BODY, beside)
        ui.rule((area.left, y), area.width, SOFT)
        figures = [points_text(points) for points in self.match.totals]
        y = self._row(ui, area, y + ui.u(3), "In all", figures, BODY_BOLD, beside)
        note = "Right, across and left are the three others as you see them; the seats move on after each deal."
        return ui.paragraph(note, (area.left, y + ui.u(6)), area.width, SMALL, SOFT)

    def _deal(self, number: int, result: DealResult) -> str:
        time = f", {clock(result.seconds)}" if self.match.rules.minutes is not None else ""
        return f"Deal {number}. {deal_words(result)}{time}"

    def _row(
        self,
        ui: Ui,
        area: Rect,
        y: int,
        says: str,
        figures: tuple[str, ...] | list[str],
        style: Style,
        beside: bool,
        head: bool = False,
    ) -> int:
        """Words at the left and four figures at the right, or under them where it is narrow; gives the y under them."""
        wide = ui.u(FIGURE) if beside else area.width // 4
        room = area.width - 4 * wide - ui.u(12) if beside else area.width
        words_high = ui.tall(says, room, style) if says else 0
        line = ui.line(style)
        high = max(words_high, line) if beside else words_high + line
        top = y + (0 if beside else words_high)
        mine = Rect(area.right - 4 * wide, top - ui.u(1), wide, line + ui.u(2))
        ui.panel(mine, LIT, None, 4)
        if says:
            ui.paragraph(says, (area.left, y), room, style, SOFT if head else INK)
        for place, figure in enumerate(figures):
            cell = Rect(area.right - (4 - place) * wide, top, wide - ui.u(6), line)
            ui.fitted(figure, cell, style, SOFT if head else INK, "right")
        return y + high + ui.u(5)


def _where(place: str) -> str:
    return "across" if place == "across" else f"to your {place}"
