"""A turn, a discard that may be called, or the end of the deal: what is known, and what may be done.

The same at the quiet and at the full table. What the rules refuse is explained, with the line of the sheet that it
breaks; where the house lets slips happen, they happen and are explained at the end. How it looks stands in `view`.
"""

from __future__ import annotations

from collections.abc import Callable

from engine import words
from engine.advice.advise.answers import Advice
from engine.advice.advise.defence import OtherSeat
from engine.advice.advise.why_not import why_not_hand
from engine.advice.moment import Moment
from engine.rules.actions import Action, Call, Discard, Exchange, LetGo, Mahjong
from engine.rules.state import Phase
from engine.tiles import Kind
from game.play.advising import TableAdvice, advise_table, choice_before, deepen_table
from game.play.ended import FinishedGame, later_steps, look_through
from game.play.jobs import AdviceJob
from game.play.lines import line_of
from game.play.reviewing import keep_review
from game.play.sitting import Sitting
from game.play.worker import Job
from game.scenes.routes import Routes
from game.scenes.table.board import ROW, kinds_of
from game.scenes.table.moment import CHOOSE_FIRST, SeatMoment, place_of, places_of
from game.scenes.table.policy import TablePolicy
from game.scenes.table.popups import CallPopup, ExchangePopup, SeatPopup, SlipPopup, WhyPopup
from game.scenes.table.rack import TILE
from game.scenes.table.reasons import reasons_text
from game.ui.column import Column
from game.ui.scene import Scene
from game.words.happened import Told, happened
from game.words.situation import call_words, exchange_words
from game.words.slips import Explained, concealed_warning, explain_no_call, explain_no_mahjong, explain_slips

PHASES = (Phase.TURN, Phase.CALLING, Phase.OVER)
ANSWER_FIRST = "First say what to do about the discard: call it, or let it go."


class TurnMoment(SeatMoment):
    """One choice of the player's once play has begun, or the end of the deal."""

    def __init__(self, routes: Routes, sitting: Sitting, policy: TablePolicy | None = None) -> None:
        super().__init__(routes, sitting, policy)
        self.hand: int | None = None
        """The hand of the board that was pressed: it stays lit."""
        self._answers: dict[tuple[int, str], str] = {}
        """What was answered about a hand at a moment."""
        self.told: tuple[Told, ...] = ()
        self.slips: list[Explained] = []
        self.part = ""
        """The part of the end's page that is read, where not all of it can be seen at once; empty for the first."""
        self.waited = 0.0
        """Seconds that a discard has waited for an answer."""
        self.work: AdviceJob[TableAdvice] | None = None
        self.end_work: AdviceJob[FinishedGame] | None = None
        """What is worked out about the finished game; it stays while the player looks back."""
        self.settle()

    def fits(self) -> bool:
        """Everything after the passes."""
        return self.sitting.state.phase in PHASES

    def enter(self) -> None:
        """Settings may have changed while another scene was shown, and its work may have ended this scene's."""
        now = self.end_work if self.finished else self.work
        if now is not None:
            now.go_on()

    # What is to be seen.

    @property
    def finished(self) -> bool:
        """Whether the cursor stands at the end of a finished game."""
        return self.state.phase is Phase.OVER

    @property
    def calling(self) -> bool:
        """Whether the player is asked about a discard."""
        return self.state.phase is Phase.CALLING

    @property
    def picking(self) -> bool:
        """Tiles can be chosen until the game is over."""
        return not self.finished

    @property
    def wins(self) -> bool:
        """Whether mahjong would be a hand of the sheet; by the house rules a wrong one may be shown too."""
        return self.sitting.wins

    @property
    def calls(self) -> tuple[Call, ...]:
        """The calls for an exposure that are open."""
        return tuple(action for action in self.sitting.legal() if isinstance(action, Call)) if self.calling else ()

    @property
    def exchanges(self) -> tuple[Exchange, ...]:
        """The joker exchanges that are open."""
        return tuple(action for action in self.sitting.legal() if isinstance(action, Exchange))

    @property
    def seconds_left(self) -> float | None:
        """How long the call window stays open; None when it waits for the player."""
        limit = self.desk.settings.call_seconds
        if not limit or not self.calling or self.looking_back:
            return None
        return max(limit - self.waited, 0.0)

    @property
    def tile(self) -> Kind | None:
        """The kind pointed at, or else the one chosen."""
        here = self.rack
        place = place_of(self.ui.pointed, TILE)
        if place is None or place >= len(here):
            place = self.chosen
        return here[place] if place is not None and place < len(here) else None

    @property
    def fresh(self) -> frozenset[int]:
        """The tile just drawn; in the first turn also what came in with the last pass."""
        if self.finished or self.calling:
            return frozenset()
        mine = any(one.seat == self.sitting.player for one in self.state.discards)
        came = [] if mine else list(self.sitting.observation.received)
        if self.state.drawn is not None:
            came = [self.state.drawn]
        return places_of(self.rack, came)

    @property
    def lit(self) -> frozenset[Kind]:
        """Kinds of the hand that is pointed at or pressed."""
        if self.advice_shown is None:
            return frozenset()
        place = place_of(self.ui.pointed, ROW)
        return kinds_of(self.advice_shown.rack.hands, self.hand if place is None else place)

    # Advice.

    @property
    def known(self) -> TableAdvice | None:
        """What is advised at this moment, as far as it is known."""
        return self.work.answer if self.work is not None else None

    @property
    def advice(self) -> Advice | None:
        """What is advised about the rack, as far as it is known."""
        return self.known.rack if self.known is not None else None

    @property
    def advice_shown(self) -> TableAdvice | None:
        """The advice, if it is known, wanted and of use now."""
        return self.known if self.shown and self.may_advise and not self.finished else None

    @property
    def advised(self) -> bool:
        """Whether advice is on the screen."""
        return self.advice_shown is not None

    @property
    def ended(self) -> FinishedGame | None:
        """What is known about the finished game."""
        return self.end_work.answer if self.end_work is not None else None

    @property
    def trying(self) -> bool:
        """Whether close choices are being tried out."""
        now = self.end_work if self.finished else self.work
        return now is not None and now.trying

    def arrive(self) -> None:
        """Begin the advice of this moment, or what is to be known about the game at its end."""
        self.desk.worker.cancel()
        self.work, self.hand, self.waited, self.part = None, None, 0.0, ""
        self.told = happened(self.sitting) if self.others else ()
        self.slips = explain_slips(self.sitting) if self.finished else []
        if self.finished:
            self._look_through()
            return
        observation, advisor = self.sitting.observation, self.advisor
        before = choice_before(self.sitting)

        shown = self.shown and self.may_advise

        def ahead() -> None:
            if shown and not self.others:
                advisor.begin(observation)

        def deepen(advice: TableAdvice, job: Job[TableAdvice]) -> TableAdvice:
            return deepen_table(advisor, advice, observation, lambda: job.stopped, job.breathe, before)

        self.work = AdviceJob(
            self.desk.worker,
            lambda: advise_table(advisor, observation, before),
            [deepen],
            ahead=ahead,
            wanted=lambda _: self.advised and advisor.may_deepen(observation),
            changed=self._changed,
        )
        at_once = not self.others and advisor.known(observation) is not None
        self.work.begin(advise_table(advisor, observation, before) if at_once else None)

    def _look_through(self) -> None:
        self.policy.ended(self.sitting)
        if self.end_work is not None:
            self.end_work.go_on()
            return
        sitting, advisor, line = self.sitting, self.advisor, line_of(self.sitting)
        weighed = self.policy.shows_costs
        self.end_work = AdviceJob(
            self.desk.worker,
            lambda: look_through(sitting, advisor, weighed=weighed),
            later_steps(sitting, advisor) if weighed else (),
            changed=self._changed,
            keep=lambda ended: keep_review(self.desk.store, line, ended.review, ended.points),
        )
        self.end_work.begin()

    def _changed(self, _: object) -> None:
        self.dirty = True
        self.note_advice_seen()

    def advice_toggled(self) -> None:
        """The close choices are tried out while their advice is looked at."""
        if self.work is not None:
            self.work.go_on()

    def why(self) -> Scene | None:
        """The reasons for one tile, alone and large."""
        if self.advice is None or self.finished or not self.may_advise:
            return None
        self.shown = True
        self.advice_toggled()
        self.note_advice_seen()
        best = self.known.let_go if self.known is not None else None
        if self.tile is None and best in self.rack:
            self.chosen = self.rack.index(best)
        return WhyPopup(self, self.reasons, self.tile)

    def reasons(self, page: Column, tile: Kind | None) -> None:
        """The reasons for one tile, or the verdict of this moment, with all figures."""
        if self.known is not None:
            reasons_text(page, self.known, tile, self.asked, self.trying, alone=not self.others)

    @property
    def asked(self) -> tuple[str, str]:
        """The question about the hand that was pressed, and its answer; both empty where none was."""
        hands = self.known.rack.hands if self.known is not None else ()
        if self.hand is None or self.hand >= len(hands):
            return "", ""
        hand = hands[self.hand].hand
        asked = self.sitting.cursor, hand.name
        if asked not in self._answers:
            moment = Moment.seen(self.advisor.table, self.sitting.observation)
            self._answers[asked] = why_not_hand(moment, self.known.rack, hand) if self.known is not None else ""
        return f"Why not {hand.name}?", self._answers[asked]

    # Choices.

    def acted(self) -> None:
        """What was known of the line's end no longer holds."""
        self.end_work = None

    def press_tile(self, place: int) -> Scene | None:
        """A first press chooses a tile, a second one lets it go in the player's own turn."""
        if self.finished:
            return None
        if self.calling:
            self.chosen = None if self.chosen == place else place
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
        """Let the chosen tile go, once a discard that may be called is answered."""
        here = self.rack
        if self.calling:
            self.trouble = ANSWER_FIRST
        elif self.chosen is None or self.chosen >= len(here):
            self.trouble = CHOOSE_FIRST
        else:
            return self.act(Discard(here[self.chosen]))
        return None

    def mahjong(self) -> Scene | None:
        """Show the hand, or hear everything that is wrong with it."""
        if self.finished:
            return None
        if self.wins or self.state.house.slips:
            return self.act(Mahjong())
        slips = explain_no_mahjong(self.sitting, tuple(self.desk.sheets()))
        if self.advice is not None and self.may_advise and self.advice.hands and not any(one.hand for one in slips):
            near = self.advice.hands[0]
            slips.append(
                Explained(f"Nearest is this hand, with {words.count(near.missing, 'tile')} to come:", near.hand)
            )
        return self._refused("This is no mahjong yet", slips)

    def _refused(
        self, title: str, slips: list[Explained], anyway: tuple[str, Callable[[], Scene | None]] | None = None
    ) -> Scene:
        return SlipPopup(self, self.state.sheet, title, slips, anyway)

    # Choices about a discard.

    def let_it_go(self) -> Scene | None:
        """The discard is not called."""
        return self.act(LetGo()) if self.calling else None

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
            ways = [(call_words(action), action) for action in calls]
            return CallPopup(self, self.state.discards[-1].kind, ways, self.call_for, self._why_call)
        if self.calling and self.wins:
            return self.mahjong()
        return self._refused("No call for this one", [explain_no_call(self.sitting)])

    def _why_call(self, action: Action) -> str:
        advice = self.advice_shown.call if self.advice_shown is not None else None
        choice = advice.of(action) if advice is not None else None
        return choice.because if choice is not None else ""

    def call_for(self, action: Call) -> Scene | None:
        """Call for one exposure; asks first when the nearest hand is concealed and would be given up."""
        if not self.state.house.slips and self.may_advise and self.known is not None:
            call = self.known.call
            warning = concealed_warning(call, action) if call is not None else None
            if warning is not None:
                anyway = ("Call all the same", lambda: self._go(action))
                return self._refused("Your nearest hand is concealed", [warning], anyway)
        return self._go(action)

    def _go(self, action: Action) -> Scene | None:
        return self.act(action) or self

    def exchange(self) -> Scene | None:
        """Exchange a joker: choose which, or hear that there is none."""
        if self.exchanges:
            ways = [(exchange_words(action, self.sitting.player), action) for action in self.exchanges]
            return ExchangePopup(self, self.state.exposures, ways, self.exchange_for, self._why_exchange)
        if self.calling:
            said = "Jokers are exchanged in your own turn only, when you have drawn or called."
        else:
            said = "No joker on the table stands for a tile that you hold."
        return self._refused("No joker to exchange", [Explained(said)])

    def _why_exchange(self, action: Exchange) -> str:
        advice = self.advice_shown.exchange if self.advice_shown is not None else None
        choices = advice.choices if advice is not None else ()
        return next((one.because for one in choices if one.action == action), "")

    def exchange_for(self, action: Exchange) -> Scene | None:
        """Exchange that joker."""
        return self._go(action)

    def seat_panel(self, seat: int) -> Scene | None:
        """What one of the others shows and has let go."""
        return SeatPopup(self, self.state, seat, self.sitting.player, lambda: self._seat_shown(seat))

    def _seat_shown(self, seat: int) -> OtherSeat | None:
        if self.known is None or not self.may_advise:
            return None
        return next(one for one in self.known.defence.seats if one.seat == seat)

    # Time.

    def update(self, seconds: float) -> None:
        """The call window closes by itself where the player has set so; a second at a time is drawn."""
        super().update(seconds)
        before = self.seconds_left
        if before is None or self.stopped:
            return
        self.waited += seconds
        after = self.seconds_left or 0.0
        if int(before + 0.999) != int(after + 0.999):
            self.dirty = True
        if after <= 0:
            self.let_it_go()
            self.dirty = True
