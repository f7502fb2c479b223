"""The passes: what goes out and where, what came in, whether to go on to a second round, and the courtesy pass.

How it looks is painted in `passes_view`.
"""

from __future__ import annotations

from typing import TypeAlias

from engine import words
from engine.advice.advise.answers import CourtesyAdvice, PassAdvice, RoundAdvice
from engine.advice.advise.passes import advise_courtesy, advise_second_round, hands_after
from engine.rules.actions import (
    PASS_TILES,
    Action,
    Agree,
    Ask,
    Give,
    IllegalActionError,
    MalformedActionError,
    Pass,
    Stop,
)
from engine.rules.passing import BEFORE_PLAY, DIRECTIONS, LAST_OF_A_ROUND
from engine.rules.state import Phase
from engine.store.values import StoreError
from engine.tiles import JOKER, Kind
from game.play.lines import line_of
from game.play.settings import ALWAYS, HIDDEN
from game.play.sitting import Sitting
from game.scenes.routes import Routes
from game.scenes.table.moment import SeatScene
from game.scenes.table.passes_view import more_presses, paint_passes
from game.scenes.table.popups import MorePopup
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.refusals import say_refused

AnyAdvice: TypeAlias = PassAdvice | RoundAdvice | CourtesyAdvice


class PassScene(SeatScene):
    """A choice before play."""

    def __init__(self, routes: Routes, sitting: Sitting) -> None:
        super().__init__(routes, sitting)
        self.picked: list[int] = []
        """Places of the tiles chosen to go, in the order they were chosen."""
        self.blind = 0
        self.shown = False
        self.advice: AnyAdvice | None = None
        self.trying = False
        """Whether the close choices are being tried out."""
        self._after: dict[tuple[Kind, ...], dict[str, float]] = {}
        self._why: dict[tuple[Kind, ...], str] = {}
        self._settle()

    def fits(self) -> bool:
        """All that comes before play."""
        return self.sitting.state.phase in BEFORE_PLAY

    # What is to be seen.

    @property
    def phase(self) -> Phase:
        """What is being chosen."""
        return self.sitting.state.phase

    @property
    def picking(self) -> bool:
        """Tiles are chosen in a pass, not in a vote."""
        return self.phase in (Phase.PASSING, Phase.GIVING)

    @property
    def needed(self) -> int:
        """Tiles of the rack that have to be chosen."""
        if self.phase is Phase.GIVING:
            return self.sitting.observation.settled
        return PASS_TILES - self.blind if self.phase is Phase.PASSING else 0

    @property
    def direction(self) -> str:
        """Where the tiles go."""
        if self.phase is not Phase.PASSING:
            return "across"
        return DIRECTIONS[self.sitting.state.passes_done]

    @property
    def may_be_blind(self) -> bool:
        """Whether tiles coming in may be passed on unseen now."""
        state = self.sitting.state
        return self.phase is Phase.PASSING and state.house.blind and state.passes_done in LAST_OF_A_ROUND

    @property
    def may_advise(self) -> bool:
        """Whether advice may be shown here: always when looking back, else by the player's setting."""
        return self.looking_back or self.desk.settings.advice != HIDDEN

    @property
    def advice_shown(self) -> AnyAdvice | None:
        """The advice, if it is known and wanted."""
        return self.advice if self.shown and self.may_advise else None

    @property
    def clock_text(self) -> str:
        """Time left, where the passes are played against a clock."""
        return ""

    @property
    def out(self) -> tuple[Kind, ...]:
        """The tiles chosen to go."""
        here = self.rack
        return tuple(here[place] for place in self.picked if place < len(here))

    @property
    def came(self) -> tuple[Kind, ...]:
        """What came in with the last pass."""
        return self.sitting.observation.received

    @property
    def came_from(self) -> str:
        """From which neighbour it came."""
        done = self.sitting.state.passes_done
        if not done:
            return ""
        return {"right": "the left", "left": "the right", "across": "across"}[DIRECTIONS[done - 1]]

    def question(self) -> str:
        """What is asked, as a heading."""
        if self.phase is Phase.PASSING:
            return f"Pass three {_to(self.direction)}"
        if self.phase is Phase.AGREEING:
            return "Play the second round?"
        if self.phase is Phase.ASKING:
            return "How many tiles would you exchange across?"
        return f"Give {words.count(self.needed, 'tile')} across"

    def prompt(self) -> str:
        """One sentence for what to do now."""
        if self.picking:
            left = self.needed - len(self.picked)
            if left > 0:
                tiles = words.count(left, "more tile" if self.picked else "tile")
                return f"Choose {tiles} to pass {_to(self.direction)}."
            return "Ready to pass."
        if self.phase is Phase.AGREEING:
            return "The second round is played only if all four agree."
        return "The two players across exchange the smaller of the two numbers asked."

    # Advice.

    def arrive(self) -> None:
        """Begin the advice of this choice."""
        self.advice, self.picked, self.blind, self._after, self._why = None, [], 0, {}, {}
        self.trying = False
        self.shown = self.desk.settings.advice == ALWAYS or self.looking_back
        observation, advisor, phase = self.sitting.observation, self.advisor, self.phase
        table = advisor.table

        def work(_: object) -> AnyAdvice:
            if phase is Phase.PASSING:
                return advisor.passes(observation)
            if phase is Phase.AGREEING:
                return advise_second_round(table, observation)
            return advise_courtesy(table, observation)

        self.desk.worker.submit(work, self._advice_known)

    def _advice_known(self, advice: AnyAdvice) -> None:
        self.advice = advice
        self.dirty = True
        self._try_out()

    def _try_out(self) -> None:
        """Have the close choices of a pass tried out while their advice is looked at."""
        observation, advisor = self.sitting.observation, self.advisor
        shown = self.advice_shown
        if self.trying or not advisor.effort or not isinstance(shown, PassAdvice) or shown.outlook is not None:
            return
        self.trying = True
        self.desk.worker.submit(
            lambda job: advisor.deepen_passes(observation, lambda: job.stopped, job.breathe), self._tried_out
        )

    def _tried_out(self, advice: PassAdvice) -> None:
        self.advice, self.trying = advice, False
        self._why = {}
        self.dirty = True

    def odds_after(self, kinds: tuple[Kind, ...]) -> dict[str, float]:
        """Odds of each hand by its name once these tiles have gone, with those coming in among the draws."""
        if kinds not in self._after:
            reaches = hands_after(self.advisor.table, self.sitting.observation, kinds)
            self._after[kinds] = {reach.hand.name: reach.odds for reach in reaches}
        return self._after[kinds]

    def explained(self, kinds: tuple[Kind, ...]) -> str:
        """Why the advice ranks these three where it does."""
        if not self._why and isinstance(self.advice, PassAdvice):
            self._why = {choice.kinds: choice.because for choice in self.advice.choices}
        return self._why.get(kinds, "")

    def toggle_advice(self) -> Scene | None:
        """Show or hide the advice of this choice."""
        self.shown = not self.shown
        self._try_out()
        return None

    def take_advised(self, kinds: tuple[Kind, ...], blind: int = 0) -> Scene | None:
        """Choose the tiles that the advice names."""
        here = self.rack
        self.blind = blind
        self.picked = []
        for kind in kinds:
            place = next((i for i, held in enumerate(here) if held == kind and i not in self.picked), None)
            if place is not None:
                self.picked.append(place)
        return None

    # Choices.

    def press_tile(self, place: int) -> Scene | None:
        """A press chooses a tile to go, another takes it back."""
        if not self.picking:
            return None
        self.chosen = place
        if place in self.picked:
            self.picked.remove(place)
        elif self.rack[place] == JOKER:
            self.trouble = "Jokers are never passed; choose another tile."
            return None
        elif len(self.picked) < self.needed:
            self.picked.append(place)
        else:
            tiles = words.sentence(words.count(self.needed, "tile"))
            self.trouble = f"{tiles} are chosen; press one of them to take it back."
            return None
        self.trouble = ""
        return None

    def more_blind(self) -> Scene | None:
        """One more tile is to be passed on unseen, or none again after three."""
        if self.may_be_blind:
            self.blind = (self.blind + 1) % (PASS_TILES + 1)
            del self.picked[self.needed :]
        return None

    def pass_them(self) -> Scene | None:
        """Pass the tiles that are chosen."""
        if len(self.picked) != self.needed:
            self.trouble = self.prompt()
            return None
        kinds = tuple(sorted(self.out))
        return self.do(Give(kinds) if self.phase is Phase.GIVING else Pass(kinds, self.blind))

    def agree(self) -> Scene | None:
        """Play the second round."""
        return self.do(Agree())

    def stop(self) -> Scene | None:
        """Stop the passes."""
        return self.do(Stop()) if self.phase is Phase.AGREEING else None

    def ask(self, number: int) -> Scene | None:
        """Ask for so many tiles."""
        return self.do(Ask(number))

    def do(self, action: Action) -> Scene | None:
        """Make a choice; what follows by itself follows."""
        try:
            if self.advice_shown is not None and not self.looking_back:
                line = line_of(self.sitting)
                if line is not None:
                    self.desk.store.advice_seen(line)
            self.sitting.act(action)
        except (IllegalActionError, MalformedActionError, StoreError) as error:
            self.trouble = say_refused(error, self.sitting.player)
            return None
        following = self._settle()
        self.trouble = self.desk.store.trouble or ""
        return following

    def rearranged(self, move: tuple[int, int] | None) -> None:
        """The tiles chosen to go stay chosen wherever they are moved to."""
        super().rearranged(move)
        if move is None:
            self.picked = []
            return
        start, to = move
        order = list(range(len(self.rack)))
        order.insert(to, order.pop(start))
        self.picked = [order.index(place) for place in self.picked]

    def more(self) -> Scene | None:
        """Everything else that can be done here."""
        return MorePopup(self, lambda: more_presses(self))

    def paint(self, ui: Ui) -> None:
        """One frame."""
        paint_passes(self, ui)


def _to(direction: str) -> str:
    return direction if direction == "across" else f"to the {direction}"
