"""The passes: what goes out and where, what came in, whether to go on to a second round, and the courtesy pass.

How it looks stands in `passes_view`.
"""

from __future__ import annotations

from collections.abc import Sequence

from engine import words
from engine.advice.advise.answers import Known, PassAdvice
from engine.advice.advise.hands import HandReach
from engine.advice.advise.passes import hands_after
from engine.rules.actions import PASS_TILES, Action, Agree, Ask, Give, Pass, Stop
from engine.rules.passing import DIRECTIONS
from engine.rules.state import Phase
from engine.tiles import JOKER, Kind, say_tiles
from game.play.advising import choice_before
from game.play.advisor import BeforePlay
from game.play.jobs import AdviceJob
from game.play.sitting import Sitting
from game.play.worker import Job
from game.scenes.routes import Routes
from game.scenes.table.moment import SeatMoment, places_of
from game.scenes.table.policy import TablePolicy
from game.ui.scene import Scene


class PassMoment(SeatMoment):
    """A choice before play."""

    def __init__(self, routes: Routes, sitting: Sitting, policy: TablePolicy | None = None) -> None:
        super().__init__(routes, sitting, policy)
        self.picked: list[int] = []
        """Places of the tiles chosen to go, in the order they were chosen."""
        self.blind = 0
        self.work: AdviceJob[BeforePlay] | None = None
        self._after: dict[tuple[Kind, ...], dict[str, HandReach]] = {}
        self._why: dict[tuple[Kind, ...], str] = {}
        self.settle()

    def fits(self) -> bool:
        """All that comes before play."""
        return self.before_play

    def enter(self) -> None:
        """Another scene's work may have ended this one's."""
        self.advice_toggled()

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
        return self.phase is Phase.PASSING and state.house.may_be_blind(state.passes_done)

    @property
    def advice(self) -> BeforePlay | None:
        """What is advised, as far as it is known."""
        return self.work.answer if self.work is not None else None

    @property
    def advice_shown(self) -> BeforePlay | None:
        """The advice, if it is known and wanted."""
        return self.advice if self.shown and self.may_advise else None

    @property
    def advised(self) -> bool:
        """Whether advice is on the screen."""
        return self.advice_shown is not None

    @property
    def trying(self) -> bool:
        """Whether the close choices are being tried out."""
        return self.work is not None and self.work.trying

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
    def fresh(self) -> frozenset[int]:
        """What came in with the last pass."""
        return places_of(self.rack, self.came)

    @property
    def made(self) -> Action | None:
        """Looking back: what was chosen here."""
        return self.sitting.entries[self.sitting.cursor].action if self.looking_back else None

    @property
    def gone(self) -> frozenset[int]:
        """Looking back: places of the tiles that went from here."""
        made = self.made
        return places_of(self.rack, made.kinds) if isinstance(made, Pass | Give) else frozenset()

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
        """One sentence for what to do now; looking back, for what was chosen."""
        if self.made is not None and not self.picked:
            return f"{_chosen(self.made, self.direction)} Choose otherwise to try another way."
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
        self.picked, self.blind, self._after, self._why = [], 0, {}, {}
        observation, advisor = self.sitting.observation, self.advisor
        before = choice_before(self.sitting)

        def estimate() -> BeforePlay:
            return advisor.before_play(observation, before)

        def deepen(_: BeforePlay, job: Job[BeforePlay]) -> BeforePlay:
            return advisor.deepen_passes(observation, lambda: job.stopped, job.breathe, before)

        def open_to_trying(advice: BeforePlay) -> bool:
            if not self.advised or not advisor.effort or not isinstance(advice, PassAdvice):
                return False
            return advice.chance.known is Known.ESTIMATED

        self.work = AdviceJob(self.desk.worker, estimate, [deepen], wanted=open_to_trying, changed=self._changed)
        self.work.begin()

    def _changed(self, advice: BeforePlay) -> None:
        self._why = {}
        if isinstance(advice, PassAdvice):
            self._after[advice.choices[0].kinds] = _by_name(advice.after)
        self.dirty = True
        self.note_advice_seen()

    def advice_toggled(self) -> None:
        """The close choices are tried out while their advice is looked at."""
        if self.work is not None:
            self.work.go_on()

    def reach_after(self, kinds: tuple[Kind, ...]) -> dict[str, HandReach]:
        """Each hand in reach by its name once these tiles have gone, with those coming in among the draws."""
        if kinds not in self._after:
            self._after[kinds] = _by_name(hands_after(self.advisor.table, self.sitting.observation, kinds))
        return self._after[kinds]

    def explained(self, kinds: tuple[Kind, ...]) -> str:
        """Why the advice ranks these three where it does."""
        if not self._why and isinstance(self.advice, PassAdvice):
            self._why = {choice.kinds: choice.because for choice in self.advice.choices}
        return self._why.get(kinds, "")

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
        return self.act(Give(kinds) if self.phase is Phase.GIVING else Pass(kinds, self.blind))

    def agree(self) -> Scene | None:
        """Play the second round."""
        return self.act(Agree())

    def stop(self) -> Scene | None:
        """Stop the passes."""
        return self.act(Stop()) if self.phase is Phase.AGREEING else None

    def ask(self, number: int) -> Scene | None:
        """Ask for so many tiles."""
        return self.act(Ask(number))

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


def _chosen(made: Action, direction: str) -> str:
    """What was chosen at a moment of the passes."""
    match made:
        case Pass(kinds, blind):
            unseen = f", and {words.count(blind, 'tile')} unseen" if blind else ""
            return f"You passed {say_tiles(kinds) if kinds else 'none of your own'} {_to(direction)}{unseen}."
        case Give(kinds):
            return f"You gave {say_tiles(kinds)} across."
        case Ask(number):
            return f"You asked for {words.count(number, 'tile') if number else 'none'}."
    return "You played the second round." if isinstance(made, Agree) else "You stopped the passes."


def _to(direction: str) -> str:
    return direction if direction == "across" else f"to the {direction}"


def _by_name(reaches: Sequence[HandReach]) -> dict[str, HandReach]:
    return {reach.hand.name: reach for reach in reaches}
