"""A deal of a match: the table with the match's clock, and choices that stand."""

from __future__ import annotations

from engine.rules.house import SEATS
from engine.rules.scoring import Payments
from engine.rules.state import Phase, State
from engine.words import clock
from game.play.lines import line_of
from game.play.matches import MatchPlay
from game.play.sitting import Sitting
from game.scenes.routes import Routes
from game.scenes.table.policy import TablePolicy
from game.ui.buttons import Press
from game.ui.scene import Scene
from game.words.match import seat_sentence, standing

NO_WAY_BACK = "In a match every choice stands. The deal is among the past deals afterwards."
KEEP_EVERY = 10
"""Seconds after which the time spent is written down."""


class MatchPolicy(TablePolicy):
    """What a match does otherwise than a game of one's own."""

    back_says = "Match"
    stands = NO_WAY_BACK
    advises = False
    shows_costs = False

    def __init__(self, routes: Routes, play: MatchPlay) -> None:
        super().__init__(routes)
        self.play = play
        self.number = play.match.number

    def title(self, state: State) -> str:  # noqa: ARG002 (alike in the passes and in play)
        """Which deal of the match it is."""
        return f"Deal {self.number} of {self.play.match.rules.deals}"

    # The clock.

    def clock_text(self, state: State) -> str:
        """The time left for the deal."""
        if self.play.left is None or state.phase is Phase.OVER:
            return ""
        return f"{clock(self.play.left)} left"

    def tick(self, seconds: float, state: State) -> bool:  # noqa: ARG002 (it has a clock of its own)
        """The clock runs while the deal does, popups included; it is drawn anew once a second."""
        if state.phase is Phase.OVER:
            return False
        before = int(self.play.spent)
        self.play.tick()
        now = int(self.play.spent)
        if now // KEEP_EVERY != before // KEEP_EVERY:
            self.play.keep()
        return self.play.left is not None and (now != before or self.play.time_is_up)

    def stopped(self, state: State) -> bool:
        """Whether the time is up before the deal's end."""
        return self.play.time_is_up and state.phase is not Phase.OVER

    # Where it leads.

    def back(self) -> Scene:
        """To the match; the clock stands still there."""
        self.play.pause()
        return self.routes.match(self.routes.home())

    def elsewhere(self, sitting: Sitting) -> Scene:
        """From the passes to play."""
        return self.routes.match_moment(self.play, sitting)

    def new_deal(self, sitting: Sitting) -> Scene | None:
        """The next deal of the match, or its result sheet after the last one. Nothing while the deal goes on."""
        if not (sitting.over or self.play.time_is_up):
            return None
        self.play.finish(sitting)
        if self.play.match.over:
            return self.routes.match_result(self.play)
        return self.routes.match_deal(self.play)

    def _results(self, sitting: Sitting) -> Scene:
        """The result sheet so far."""
        self.play.finish(sitting)
        return self.routes.match_result(self.play)

    # The end.

    def ended(self, sitting: Sitting) -> None:
        """The end of a deal counts as soon as it comes."""
        self.play.finish(sitting)

    def paid(self, sitting: Sitting) -> Payments | None:
        """What each seat won or lost within the match's limit of loss."""
        line = line_of(sitting)
        found = [one for one in self.play.match.results if line is not None and one.line == line]
        if not found:
            return None
        result = found[0]
        east, south, west, north = (result.points[(seat - sitting.player) % len(SEATS)] for seat in range(len(SEATS)))
        return east, south, west, north

    def ending_words(self) -> str:
        """Where the player stands in the match."""
        match = self.play.match
        return standing(match) if match.over else f"{standing(match)} {seat_sentence(match)}"

    def ending_presses(self, sitting: Sitting) -> list[Press]:
        """On to the next deal or to the result sheet."""
        results = "Result sheet" if self.play.match.over else "Result sheet so far"
        if self.play.match.over:
            return [Press(results, lambda: self._results(sitting), "return", main=True)]
        return [
            Press("Next deal", lambda: self.new_deal(sitting), "return", main=True),
            Press(results, lambda: self._results(sitting), "r"),
        ]
