"""The quiet table: what may be done at each turn of a deal, played now or looked back at.

How it looks is painted in `table_view`. The cursor of the sitting may stand anywhere in the line, so that the same
scene steps through past deals, and choosing otherwise there starts a fork.
"""

from __future__ import annotations

from engine import words
from engine.advice.advise.answers import Advice
from engine.advice.review.review import Review
from engine.rules.actions import Action, Discard, IllegalActionError, Mahjong, MalformedActionError
from engine.rules.state import Phase
from engine.store.values import StoreError
from engine.tiles import Kind
from game.play.costs import Cost, costs_of, costs_reviewed, dearest, left_open
from game.play.lines import line_of
from game.play.reviewing import keep_figures, review_job, tried_job
from game.play.settings import ALWAYS, HIDDEN
from game.play.sitting import Sitting
from game.scenes.routes import Routes
from game.scenes.table.board import ROW, kinds_of
from game.scenes.table.moment import CHOOSE_FIRST, SeatScene, place_of
from game.scenes.table.popups import MorePopup, WhyPopup
from game.scenes.table.rack import TILE
from game.scenes.table.view import more_presses, paint_table
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.refusals import say_refused
from game.words.skill import luck_lines

PHASES = (Phase.TURN, Phase.OVER)


class TableScene(SeatScene):
    """A turn of a deal, or its end."""

    def __init__(self, routes: Routes, sitting: Sitting) -> None:
        super().__init__(routes, sitting)
        self.hand: int | None = None
        self.shown = False
        self.trying = False
        """Whether the close choices are being tried out."""
        self.advice: Advice | None = None
        self.costly: list[Cost] | None = None
        self.unsure: int | None = None
        """How many choices reckoned to cost something can't be told apart from the best, once they were tried out."""
        self.found: Review | None = None
        self.settled = False
        """Whether nothing is left to work out about the finished game."""
        self.luck: list[str] | None = None
        """What luck and choices did, in lines, once the game is over and reviewed."""
        self._told = self.desk.store.trouble or ""
        """The store's trouble that the player has read, here or when the program started."""
        self._settle()

    def enter(self) -> None:
        """Settings may have changed while another scene was shown, and its work may have ended this scene's."""
        if not self.desk.worker.busy:
            self.trying = False
        if self.advice is None if not self.finished else not self.settled and not self.trying:
            self.arrive()

    def fits(self) -> bool:
        """Turns and the end of the game."""
        return self.sitting.state.phase in PHASES

    # What is to be seen.

    @property
    def finished(self) -> bool:
        """Whether the cursor stands at the end of a finished game."""
        return self.sitting.state.phase is Phase.OVER

    @property
    def picking(self) -> bool:
        """Tiles can be chosen until the game is over."""
        return not self.finished

    @property
    def may_advise(self) -> bool:
        """Whether advice may be shown here: always when looking back, else by the player's setting."""
        return self.looking_back or self.desk.settings.advice != HIDDEN

    @property
    def advice_shown(self) -> Advice | None:
        """The advice, if it is known, wanted and of use now."""
        return self.advice if self.shown and self.may_advise and not self.finished else None

    @property
    def tile(self) -> Kind | None:
        """The kind pointed at, or else the one chosen."""
        here = self.rack
        place = place_of(self.ui.pointed, TILE)
        if place is None or place >= len(here):
            place = self.chosen
        return here[place] if place is not None and place < len(here) else None

    @property
    def lit(self) -> frozenset[Kind]:
        """Kinds of the hand that is pointed at or pressed."""
        if self.advice_shown is None:
            return frozenset()
        place = place_of(self.ui.pointed, ROW)
        return kinds_of(self.advice_shown.hands, self.hand if place is None else place)

    # Advice.

    def arrive(self) -> None:
        """Begin the advice of this moment, or the list of costly choices at the end."""
        self.desk.worker.cancel()
        self.advice, self.hand, self.trying = None, None, False
        self.shown = self.desk.settings.advice == ALWAYS or self.looking_back
        sitting, advisor = self.sitting, self.advisor
        if self.finished:
            if self.costly is None:
                self.desk.worker.submit(lambda _: dearest(costs_of(sitting, advisor)), self._costs_known)
            else:
                self._look_at_luck()
            return
        observation = sitting.observation
        known = advisor.known(observation)
        if known is not None:
            self._advice_known(known)
            return
        self.desk.worker.submit(lambda _: advisor.advise(observation), self._advice_known)

    def _advice_known(self, advice: Advice) -> None:
        self.advice = advice
        self.dirty = True
        self._try_out()

    def _try_out(self) -> None:
        """Have the close choices tried out while their advice is looked at."""
        observation, advisor = self.sitting.observation, self.advisor
        if self.trying or self.advice_shown is None or not advisor.may_deepen(observation):
            return
        self.trying = True
        self.desk.worker.submit(
            lambda job: advisor.deepen(observation, lambda: job.stopped, job.breathe), self._tried_out
        )

    def _tried_out(self, advice: Advice) -> None:
        self.advice, self.trying = advice, False
        self.dirty = True

    def _costs_known(self, costly: list[Cost]) -> None:
        self.costly = costly
        self.dirty = True
        self._look_at_luck()

    def _look_at_luck(self) -> None:
        if self.luck is None:
            work, line = review_job(self.sitting, self.advisor), line_of(self.sitting)
            self.desk.worker.submit(lambda job: work(lambda: job.stopped), lambda found: self._reviewed(line, found))
        elif not self.settled:
            self._try_costs()

    def _reviewed(self, line: int | None, found: Review | None) -> None:
        self.found, self.luck = found, luck_lines(found)
        self.dirty = True
        if not self.advisor.effort:
            keep_figures(self.desk.store, line, found)
            self.settled = True
        else:
            self._try_costs()

    def _try_costs(self) -> None:
        """Try out what the choices of the finished game have cost."""
        if self.found is None:
            self.settled = True
            return
        work, line = tried_job(self.sitting, self.advisor, self.found), line_of(self.sitting)
        self.trying = True
        self.desk.worker.submit(
            lambda job: work(lambda: job.stopped, job.breathe), lambda tried: self._costs_tried(line, tried)
        )

    def _costs_tried(self, line: int | None, tried: Review) -> None:
        keep_figures(self.desk.store, line, tried)
        costs = costs_reviewed(self.sitting, tried)
        self.costly, self.unsure = dearest(costs), left_open(costs)
        self.trying, self.settled = False, True
        self.dirty = True

    def toggle_advice(self) -> Scene | None:
        """Show or hide the advice of this moment."""
        self.shown = not self.shown
        self._try_out()
        return None

    def why(self) -> Scene | None:
        """The reasons for one tile, alone and large."""
        if self.advice is None or self.finished or not self.may_advise:
            return None
        self.shown = True
        self._try_out()
        if self.tile is None and self.advice.let_go in self.rack:
            self.chosen = self.rack.index(self.advice.let_go)
        return WhyPopup(self, lambda: self.advice, self.tile)

    # Choices.

    def press_tile(self, place: int) -> Scene | None:
        """A first press chooses a tile, a second one lets it go."""
        if self.finished:
            return None
        if self.chosen == place:
            return self.let_go()
        self.chosen = place
        return None

    def press_hand(self, place: int) -> Scene | None:
        """A hand stays lit until it is pressed again."""
        self.hand = None if self.hand == place else place
        return None

    def let_go(self) -> Scene | None:
        """Let the chosen tile go."""
        here = self.rack
        if self.chosen is None or self.chosen >= len(here):
            self.trouble = CHOOSE_FIRST
            return None
        return self._act(Discard(here[self.chosen]))

    def mahjong(self) -> Scene | None:
        """Show the hand."""
        return self._act(Mahjong())

    def _act(self, action: Action) -> Scene | None:
        try:
            if self.advice_shown is not None and not self.looking_back:
                self._note_advice_seen()
            self.sitting.act(action)
        except (IllegalActionError, MalformedActionError, StoreError) as error:
            self.trouble = say_refused(error, self.sitting.player)
            return None
        self.costly, self.unsure, self.luck, self.found, self.settled = None, None, None, None, False
        following = self._settle()
        self.trouble = self._new_trouble()
        return following

    def _new_trouble(self) -> str:
        """What is wrong with keeping the game, said when it begins and not with every tile."""
        now = self.desk.store.trouble or ""
        told, self._told = self._told, now
        return words.sentence(f"{now}.") if now != told and now else ""

    def _note_advice_seen(self) -> None:
        line = line_of(self.sitting)
        if line is not None:
            self.desk.store.advice_seen(line)

    def more(self) -> Scene | None:
        """Everything else that can be done here."""
        return MorePopup(self, lambda: more_presses(self))

    def paint(self, ui: Ui) -> None:
        """One frame."""
        paint_table(self, ui)
