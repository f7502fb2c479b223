"""A deal of a match: the full table and its passes, with the match's clock and no way back to earlier choices."""

from __future__ import annotations

from engine.rules.state import Phase
from engine.words import clock
from game.draw.theme import BODY, GREAT, TEAL
from game.play.matches import MatchPlay
from game.play.sitting import Sitting
from game.scenes.routes import Routes
from game.scenes.table.full import FullScene
from game.scenes.table.moment import SeatScene
from game.scenes.table.passes import PassScene
from game.ui.buttons import Press
from game.ui.layout import Rect
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.match import seat_sentence, standing

NO_WAY_BACK = "In a match every choice stands. The deal is among the past deals afterwards."
KEEP_EVERY = 10
"""Seconds after which the time spent is written down."""


class MatchMoment(SeatScene):
    """What both kinds of moment share: the clock, the way back to the match, and that choices stand."""

    play: MatchPlay

    def __init__(self, routes: Routes, sitting: Sitting, play: MatchPlay) -> None:
        self.play = play
        self.number = play.match.number
        super().__init__(routes, sitting)

    @property
    def stopped(self) -> bool:
        """Whether the clock has ended the deal before its end."""
        return self.play.time_is_up and self.sitting.state.phase is not Phase.OVER

    def update(self, seconds: float) -> None:
        """The clock runs while the deal does, popups included; it is drawn anew once a second."""
        if self.stopped:
            return
        super().update(seconds)
        if self.sitting.state.phase is Phase.OVER:
            return
        before = int(self.play.spent)
        self.play.tick()
        now = int(self.play.spent)
        if now // KEEP_EVERY != before // KEEP_EVERY:
            self.play.keep()
        if self.play.left is not None and (now != before or self.play.time_is_up):
            self.dirty = True

    @property
    def clock_text(self) -> str:
        """The time left for the deal."""
        if self.play.left is None or self.sitting.state.phase is Phase.OVER:
            return ""
        return f"{clock(self.play.left)} left"

    def back(self) -> Scene | None:
        """To the match; the clock stands still there."""
        self.play.pause()
        return self.routes.match(self.routes.home())

    def settled_elsewhere(self) -> Scene:
        """From the passes to play."""
        return self.routes.match_moment(self.play, self.sitting)

    def next_deal(self) -> Scene | None:
        """The next deal of the match, or its result sheet after the last one."""
        self.play.finish(self.sitting)
        if self.play.match.over:
            return self.sheet_of_results()
        return self.routes.match_deal(self.play)

    def sheet_of_results(self) -> Scene | None:
        """The result sheet so far."""
        self.play.finish(self.sitting)
        return self.routes.match_result(self.play)

    def paint_stopped(self, ui: Ui) -> None:
        """Time is up: nobody scores, and the match goes on."""
        rest = ui.header(f"Deal {self.number} of {self.play.match.rules.deals}", "", self.back, "Match")

        def content(area: Rect) -> int:
            y = ui.paragraph("Time is up", area.topleft, area.width, GREAT, TEAL)
            text = "The clock has ended this deal, and nobody scores."
            y = ui.paragraph(text, (area.left, y), area.width, BODY) + ui.u(14)
            return ui.buttons((area.left, y), area.width, [Press("Go on", self.next_deal, "return", main=True)])

        ui.scroll("stopped", rest, content)

    # Choices stand.

    @property
    def may_step_back(self) -> bool:
        """Never."""
        return False

    def _stands(self) -> Scene | None:
        self.trouble = NO_WAY_BACK
        return None

    def step(self, forward: bool) -> Scene | None:  # noqa: ARG002 (as in every scene at the table)
        """No stepping through a match."""
        return self._stands()

    def go_to(self, index: int) -> Scene | None:  # noqa: ARG002
        """No looking back while a match is played."""
        return self._stands()

    def again(self) -> Scene | None:
        """No second try."""
        return self._stands()

    def latest(self) -> Scene | None:
        """It is the latest moment already."""
        return None

    def ways(self) -> Scene | None:
        """No lines to compare."""
        return self._stands()

    def other_sections(self) -> Scene | None:
        """No other sections."""
        return self._stands()

    def new_deal(self) -> Scene | None:
        """The match's next deal."""
        return self.next_deal() if self.sitting.over else None

    @property
    def may_advise(self) -> bool:
        """A match is played without advice."""
        return False


class MatchPassScene(MatchMoment, PassScene):
    """The passes of a match's deal."""

    def paint(self, ui: Ui) -> None:
        """The passes, or that time is up."""
        if self.stopped:
            self.paint_stopped(ui)
        else:
            super().paint(ui)


class MatchFullScene(MatchMoment, FullScene):
    """Play in a match's deal, and its end."""

    shows_costs = False
    steps = False

    @property
    def title(self) -> str:
        """Which deal of the match it is."""
        return f"Deal {self.number} of {self.play.match.rules.deals}"

    @property
    def home_says(self) -> str:
        """Back to the match."""
        return "Match"

    def arrive(self) -> None:
        """The end of a deal counts as soon as it comes."""
        self.costly = []
        super().arrive()
        if self.finished:
            self.play.finish(self.sitting)

    def ending_presses(self) -> list[Press]:
        """On to the next deal or to the result sheet."""
        if self.play.match.over:
            return [Press("Result sheet", self.sheet_of_results, "return", main=True)]
        return [
            Press("Next deal", self.next_deal, "return", main=True),
            Press("Result sheet so far", self.sheet_of_results, "r"),
        ]

    def ending_words(self) -> str:
        """Where the player stands in the match."""
        match = self.play.match
        return standing(match) if match.over else f"{standing(match)} {seat_sentence(match)}"

    def paint(self, ui: Ui) -> None:
        """The table, or that time is up."""
        if self.stopped:
            self.paint_stopped(ui)
        else:
            super().paint(ui)
