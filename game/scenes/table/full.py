"""The full table: the player's own turns, the calls they are asked about, and the end of the game.

How it looks is painted in `full_view`. What the rules refuse is explained with the line of the sheet that it breaks;
where the house lets slips happen, they happen and are explained at the end.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from engine import words
from engine.advice.advise.answers import Advice
from engine.advice.advise.calls import CallAdvice, ExchangeAdvice, advise_call, advise_exchange
from engine.advice.advise.defence import Defence, advise_defence
from engine.rules.actions import Action, Call, Exchange, LetGo, Mahjong
from engine.rules.house import FULL
from engine.rules.matching import hand_of
from engine.rules.observation import Observation
from engine.rules.state import Phase, State
from game.play.advisor import Advisor
from game.play.costs import Cost, costs_of, costs_tried, dearest, left_open
from game.play.settings import ALWAYS
from game.play.sitting import Sitting
from game.scenes.routes import Routes
from game.scenes.table.full_ending import usual_presses
from game.scenes.table.full_popups import CallPopup, ExchangePopup, SeatPopup, SlipPopup
from game.scenes.table.full_view import more_presses, paint_full
from game.scenes.table.popups import MorePopup
from game.scenes.table.scene import TableScene
from game.ui.buttons import Press
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.happened import Told, happened
from game.words.situation import prompt
from game.words.slips import Slip, concealed_warning, slips_of, why_no_call, why_no_mahjong

PHASES = (Phase.TURN, Phase.CALLING, Phase.OVER)
ANSWER_FIRST = "First say what to do about the discard: call it, or let it go."


@dataclass(frozen=True)
class FullAdvice:
    """Everything that is advised at one moment."""

    rack: Advice
    defence: Defence
    call: CallAdvice | None = None
    exchange: ExchangeAdvice | None = None


def advise_full(advisor: Advisor, observation: Observation) -> FullAdvice:
    """What is advised at a moment of the full table."""
    calling = observation.phase is Phase.CALLING
    swaps = any(isinstance(action, Exchange) for action in observation.legal)
    return FullAdvice(
        advisor.best(observation),
        advise_defence(observation),
        advise_call(advisor.table, observation) if calling else None,
        advise_exchange(advisor.table, observation) if swaps else None,
    )


class FullScene(TableScene):
    """One choice of the player's at a table of four, or the end of the game."""

    shows_costs = True
    """Whether the end lists the costliest choices."""
    steps = True
    """Whether there is a button to step back."""

    def __init__(self, routes: Routes, sitting: Sitting) -> None:
        self.full: FullAdvice | None = None
        self.told: tuple[Told, ...] = ()
        self.slips: list[Slip] = []
        self.waited = 0.0
        super().__init__(routes, sitting)

    def fits(self) -> bool:
        """Everything after the passes at a full table."""
        state = self.sitting.state
        return state.house.table == FULL and state.phase in PHASES

    # What is to be seen.

    @property
    def state(self) -> State:
        """The table at the cursor."""
        return self.sitting.state

    @property
    def calling(self) -> bool:
        """Whether the player is asked about a discard."""
        return self.state.phase is Phase.CALLING

    @property
    def wins(self) -> bool:
        """Whether mahjong would be a hand of the sheet; by the house rules a wrong one may be shown too."""
        return Mahjong() in self.sitting.legal() and hand_of(self.state, self.sitting.player) is not None

    @property
    def calls(self) -> tuple[Call, ...]:
        """The calls for an exposure that are open."""
        return tuple(action for action in self.sitting.legal() if isinstance(action, Call)) if self.calling else ()

    @property
    def exchanges(self) -> tuple[Exchange, ...]:
        """The joker exchanges that are open."""
        return tuple(action for action in self.sitting.legal() if isinstance(action, Exchange))

    @property
    def full_shown(self) -> FullAdvice | None:
        """All advice, if it is known, wanted and of use now."""
        return self.full if self.advice_shown is not None else None

    @property
    def prompt(self) -> str:
        """What is asked of the player."""
        return prompt(self.sitting)

    @property
    def title(self) -> str:
        """What stands in the header."""
        return "Full table"

    @property
    def home_says(self) -> str:
        """Where the way back leads."""
        return "Home"

    @property
    def clock_text(self) -> str:
        """Time left for the deal, where it is played against a clock."""
        return ""

    def ending_words(self) -> str:
        """Something more to say at the end; nothing here."""
        return ""

    def ending_presses(self) -> list[Press]:
        """What can be done after the game, the obvious thing first."""
        return usual_presses(self)

    @property
    def seconds_left(self) -> float | None:
        """How long the call window stays open; None when it waits for the player."""
        limit = self.desk.settings.call_seconds
        if not limit or not self.calling or self.looking_back:
            return None
        return max(limit - self.waited, 0.0)

    # Advice.

    def arrive(self) -> None:
        """Begin the advice of this moment; at the end, what the choices have cost."""
        self.desk.worker.cancel()
        self.advice, self.full, self.hand, self.waited, self.trying = None, None, None, 0.0, False
        self.told = happened(self.sitting)
        self.slips = slips_of(self.sitting) if self.finished else []
        self.shown = self.desk.settings.advice == ALWAYS or self.looking_back
        sitting, advisor = self.sitting, self.advisor
        if self.finished:
            if self.costly is None:
                self.desk.worker.submit(lambda _: dearest(costs_of(sitting, advisor)), self._costs_known)
            else:
                self._look_at_luck()
            return
        observation = sitting.observation
        self.desk.worker.submit(lambda _: advise_full(advisor, observation), self._full_known)

    def _full_known(self, full: FullAdvice) -> None:
        self.full, self.advice = full, full.rack
        self.dirty = True
        self._try_out()

    def _tried_out(self, advice: Advice) -> None:
        if self.full is not None:
            self.full = replace(self.full, rack=advice)
        super()._tried_out(advice)

    def _try_costs(self) -> None:
        """Games of four players are not reviewed; their costs are tried out all the same."""
        costly, sitting, advisor = self.costly, self.sitting, self.advisor
        if not costly:
            self.settled = True
            return
        self.trying = True
        self.desk.worker.submit(
            lambda job: costs_tried(sitting, advisor, costly, lambda: job.stopped, job.breathe), self._full_tried
        )

    def _full_tried(self, tried: tuple[Cost, ...]) -> None:
        self.costly, self.unsure = dearest(tried), left_open(tried)
        self.trying, self.settled = False, True
        self.dirty = True

    # Time.

    def update(self, seconds: float) -> None:
        """The call window closes by itself where the player has set so; a second at a time is drawn."""
        super().update(seconds)
        before = self.seconds_left
        if before is None:
            return
        self.waited += seconds
        after = self.seconds_left or 0.0
        if int(before + 0.999) != int(after + 0.999):
            self.dirty = True
        if after <= 0:
            self.let_it_go()
            self.dirty = True

    # Choices about a discard.

    def let_it_go(self) -> Scene | None:
        """The discard is not called."""
        return self._act(LetGo()) if self.calling else None

    def let_all_go(self) -> Scene | None:
        """Let every discard go until the player's own turn, or until one would finish the hand."""
        following = self.let_it_go()
        while following is None and self.calling and not self.wins and self.sitting.at_end and not self.trouble:
            following = self.let_it_go()
        return following

    def call(self) -> Scene | None:
        """Call the discard: at once where there is one way to do it, else by choosing; or hear why not."""
        calls = self.calls
        if len(calls) == 1:
            return self.call_for(calls[0])
        if calls:
            return CallPopup(self)
        if self.calling and self.wins:
            return self.mahjong()
        return SlipPopup(self, "No call for this one", [why_no_call(self.sitting)])

    def call_for(self, action: Call) -> Scene | None:
        """Call for one exposure; asks first when the nearest hand is concealed and would be given up."""
        if not self.state.house.slips and self.may_advise and self.full is not None:
            call = self.full.call
            warning = concealed_warning(call, action) if call is not None else None
            if warning is not None:
                return SlipPopup(
                    self, "Your nearest hand is concealed", [warning], ("Call all the same", lambda: self._go(action))
                )
        return self._go(action)

    def _go(self, action: Action) -> Scene | None:
        return self._act(action) or self

    def mahjong(self) -> Scene | None:
        """Show the hand, or hear everything that is wrong with it."""
        if self.finished:
            return None
        if self.wins or self.state.house.slips:
            return self._act(Mahjong())
        slips = why_no_mahjong(self.sitting, tuple(self.desk.sheets()))
        if self.full is not None and self.may_advise and self.full.rack.hands and not any(one.hand for one in slips):
            near = self.full.rack.hands[0]
            slips.append(Slip(f"Nearest is this hand, with {words.count(near.missing, 'tile')} to come:", near.hand))
        return SlipPopup(self, "This is no mahjong yet", slips)

    def exchange(self) -> Scene | None:
        """Exchange a joker: choose which, or hear that there is none."""
        if self.exchanges:
            return ExchangePopup(self)
        if self.calling:
            said = "Jokers are exchanged in your own turn only, when you have drawn or called."
        else:
            said = "No joker on the table stands for a tile that you hold."
        return SlipPopup(self, "No joker to exchange", [Slip(said)])

    def exchange_for(self, action: Exchange) -> Scene | None:
        """Exchange that joker."""
        return self._go(action)

    def let_go(self) -> Scene | None:
        """Let the chosen tile go, once a discard that may be called is answered."""
        if self.calling:
            self.trouble = ANSWER_FIRST
            return None
        return super().let_go()

    def press_tile(self, place: int) -> Scene | None:
        """A first press chooses a tile, a second one lets it go in the player's own turn."""
        if self.calling:
            self.chosen = None if self.chosen == place else place
            return None
        return super().press_tile(place)

    def seat_panel(self, seat: int) -> Scene | None:
        """What one of the others shows and has let go."""
        return SeatPopup(self, seat)

    def more(self) -> Scene | None:
        """Everything else that can be done here."""
        return MorePopup(self, lambda: more_presses(self))

    def paint(self, ui: Ui) -> None:
        """One frame."""
        paint_full(self, ui)
