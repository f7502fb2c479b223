"""What differs from one occasion to another at the same table: a game of one's own, a match, a rehearsal.

A moment at the table asks its policy and does not care which occasion it is. The policy of a game stands here; the
others say only what they do otherwise.
"""

from __future__ import annotations

from engine.rules.house import QUIET
from engine.rules.passing import BEFORE_PLAY
from engine.rules.scoring import Payments
from engine.rules.state import State
from game.play.sitting import Sitting
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.scene import Scene


class TablePolicy:
    """A game of the player's own."""

    back_says = "Home"
    """Where the way back leads."""
    stands = ""
    """Why choices can't be taken back; empty where they can."""
    advises = True
    """Whether there is advice, if the player's settings want it."""
    shows_costs = True
    """Whether the end lists what the choices have cost, and what luck did."""

    def __init__(self, routes: Routes) -> None:
        self.routes = routes

    # What stands in the header.

    def title(self, state: State) -> str:
        """What is played."""
        if state.phase in BEFORE_PLAY:
            return "The passes"
        return "Quiet table" if state.house.table == QUIET else "Full table"

    def clock_text(self, state: State) -> str:  # noqa: ARG002 (for the others)
        """Time left, where a clock runs."""
        return ""

    # Time.

    def tick(self, seconds: float, state: State) -> bool:  # noqa: ARG002
        """Time has passed; whether the clock is to be drawn anew."""
        return False

    def stopped(self, state: State) -> bool:  # noqa: ARG002
        """Whether the clock has ended the deal before its end."""
        return False

    def warning(self) -> str:
        """A sentence about the clock that is to be said now, once."""
        return ""

    # Where it leads.

    def back(self) -> Scene:
        """The way back; the game is kept."""
        return self.routes.home()

    def elsewhere(self, sitting: Sitting) -> Scene:
        """The scene for a moment of another kind."""
        return self.routes.at_table(sitting)

    def new_deal(self, sitting: Sitting) -> Scene | None:
        """Another deal of the same kind."""
        return self.routes.deal_like(sitting)

    # The end.

    def ended(self, sitting: Sitting) -> None:
        """The deal has come to its end."""

    def paid(self, sitting: Sitting) -> Payments | None:  # noqa: ARG002
        """What each seat really won or lost; None where it is what the deal alone comes to."""
        return None

    def ending_words(self) -> str:
        """Something more to say at the end."""
        return ""

    def ending_presses(self, sitting: Sitting) -> list[Press]:  # noqa: ARG002
        """What can be done after the deal, the obvious thing first; none where the usual can be done."""
        return []
