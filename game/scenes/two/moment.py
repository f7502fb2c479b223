"""A moment of the two-hand game: what may be done, step by step, and the advice for it."""

from __future__ import annotations

from collections.abc import Sequence

from engine.advice.advise.two_hands import TwoAdvice, advise_two
from engine.rules.actions import Action, ChangeRacks, Discard, IllegalActionError, Mahjong, MalformedActionError, PutOn
from engine.rules.observation import Observation
from engine.rules.state import Phase, State
from engine.rules.two_hands import open_racks, racks_of
from engine.store.values import StoreError
from engine.tiles import Kind
from game.play.lines import line_of
from game.play.rack_order import BY_SUIT, arranged
from game.play.settings import ALWAYS, HIDDEN
from game.play.sitting import Sitting
from game.scenes.routes import Routes
from game.scenes.table.popups import DiscardsPopup, NotePopup
from game.ui.popups import Question
from game.ui.scene import Scene
from game.words.deal.two_hands import RULES
from game.words.refusals import say_refused

CHOOSE_ONE = "Choose a tile of rack {rack} first: press it."
CHOOSE_TWO = "Choose a tile of each rack first: press both."


class TwoHandsMoment(Scene):
    """Two racks of one player, from the first draw to the end; looked back at like any other game."""

    def __init__(self, routes: Routes, sitting: Sitting) -> None:
        super().__init__(routes.look)
        self.routes, self.desk = routes, routes.desk
        self.sitting = sitting
        self.table = self.desk.advisor(sitting.state.sheet, sitting.state.house.jokers).table
        self.code = self.desk.code_of(sitting)
        self.chosen: list[int | None] = [None, None]
        """Per rack the place, from the left, of the tile that is chosen."""
        self.shown = False
        """Whether advice is wanted at this moment."""
        self.trouble = ""
        self._known: tuple[Observation, TwoAdvice] | None = None
        self._settle()

    # Where the game stands.

    @property
    def state(self) -> State:
        """The table at the cursor."""
        return self.sitting.state

    @property
    def finished(self) -> bool:
        """Whether the cursor stands at the end of a finished game."""
        return self.state.phase is Phase.OVER

    @property
    def placing(self) -> bool:
        """Whether the tile drawn waits to be put on a rack."""
        return self.state.phase is Phase.PLACING

    @property
    def looking_back(self) -> bool:
        """Whether the cursor stands before the end of what was played."""
        return not self.sitting.at_end

    @property
    def wins(self) -> bool:
        """Whether the rack of fourteen is a hand that may be shown."""
        return Mahjong() in self.sitting.legal()

    @property
    def may_change(self) -> bool:
        """Whether two tiles may change racks now."""
        in_turn = self.state.phase is Phase.TURN
        return in_turn and not racks_of(self.state).changed and len(open_racks(self.state)) == 2

    @property
    def may_advise(self) -> bool:
        """Whether advice may be shown here."""
        over = self.looking_back and self.sitting.over
        return not self.finished and (over or self.desk.settings.advice != HIDDEN)

    def rack(self, rack: int) -> tuple[Kind, ...]:
        """The tiles of a rack, by suit."""
        return arranged(self.state.racks[rack], BY_SUIT)

    @property
    def advice(self) -> TwoAdvice | None:
        """The advice, where it is on the screen and worked out."""
        if not (self.shown and self.may_advise) or self._known is None:
            return None
        seen, advice = self._known
        return advice if seen == self.sitting.observation else None

    def _settle(self) -> None:
        """At another moment: nothing is chosen, and its advice begins if it is wanted."""
        self.chosen = [None, None]
        self.shown = self.desk.settings.advice == ALWAYS or self.looking_back
        self._begin_advice()

    def _begin_advice(self) -> None:
        if not (self.shown and self.may_advise) or not self.sitting.legal():
            return
        line = line_of(self.sitting)
        if line is not None and not self.sitting.over and not self.looking_back:
            self.desk.store.advice_seen(line)
        seen = self.sitting.observation
        if self._known is not None and self._known[0] == seen:
            return
        table = self.table

        def done(advice: TwoAdvice) -> None:
            self._known, self.dirty = (seen, advice), True

        self.desk.worker.submit(lambda _: advise_two(table, seen), done)

    def toggle_advice(self) -> Scene | None:
        """Show or hide the advice of this moment."""
        self.shown = not self.shown
        self._begin_advice()
        return None

    # Choices.

    def act(self, action: Action) -> Scene | None:
        """Make a choice; what the rules refuse is said."""
        self.trouble = ""
        try:
            self.sitting.act(action)
        except (IllegalActionError, MalformedActionError, StoreError) as error:
            self.trouble = say_refused(error, self.sitting.player)
            return None
        self._settle()
        return None

    def place(self, rack: int) -> Scene | None:
        """Put the tile that waits on a rack."""
        return self.act(PutOn(rack))

    def press_tile(self, rack: int, place: int) -> Scene | None:
        """A first press chooses a tile; a second one lets it go, where it is of the rack of fourteen."""
        if self.finished or self.placing:
            return None
        if self.chosen[rack] == place and rack == self.state.turn and self.chosen[1 - rack] is None:
            return self.let_go()
        self.chosen[rack] = None if self.chosen[rack] == place else place
        return None

    def _kind(self, rack: int) -> Kind | None:
        place, tiles = self.chosen[rack], self.rack(rack)
        return tiles[place] if place is not None and place < len(tiles) else None

    def let_go(self) -> Scene | None:
        """Let the chosen tile of the rack of fourteen go."""
        kind = self._kind(self.state.turn)
        if kind is None:
            self.trouble = CHOOSE_ONE.format(rack=self.state.turn + 1)
            return None
        return self.act(Discard(kind))

    def change(self) -> Scene | None:
        """The two chosen tiles change racks."""
        first, second = self._kind(0), self._kind(1)
        if first is None or second is None:
            self.trouble = CHOOSE_TWO
            return None
        return self.act(ChangeRacks(first, second))

    def mahjong(self) -> Scene | None:
        """Show the hand of the rack of fourteen, or hear why not."""
        return self.act(Mahjong())

    # Moments.

    def step(self, forward: bool) -> Scene | None:
        """Step back to an earlier choice, or forward again."""
        self.trouble = ""
        if self.sitting.forward() if forward else self.sitting.back():
            self._settle()
        else:
            self.trouble = "This is the latest moment." if forward else "This is your first choice of the deal."
        return None

    # Elsewhere.

    def rules(self) -> Scene | None:
        """How the two-hand game goes."""
        return Question(self, "The two-hand game", " ".join(RULES), [])

    def discards(self) -> Scene | None:
        """Everything that has gone, in order."""
        return DiscardsPopup(self, self.sitting)

    def sheet(self) -> Scene | None:
        """The sheet, to read."""
        held: Sequence[Kind] = self.rack(self.state.turn if len(self.rack(self.state.turn)) else 0)
        return self.routes.sheet(self.state.sheet, self, rack=tuple(held))

    def note(self) -> Scene | None:
        """Write a note on this moment."""
        line = line_of(self.sitting)
        return NotePopup(self, self.desk.store, line, self.sitting.cursor) if line is not None else None

    def new_deal(self) -> Scene | None:
        """Another two-hand game."""
        return self.routes.deal_like(self.sitting)

    def back(self) -> Scene | None:
        """Home; the game is kept."""
        return self.routes.home()
