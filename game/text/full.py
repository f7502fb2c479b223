"""The full table in the terminal: calling, letting go, exchanging jokers, mahjong, and what the others do and show."""

from __future__ import annotations

from collections.abc import Callable

from engine import words
from engine.advice.advise.calls import advise_call, advise_exchange
from engine.advice.advise.defence import advise_defence
from engine.rules.actions import (
    Action,
    Call,
    Discard,
    Exchange,
    IllegalActionError,
    LetGo,
    Mahjong,
    MalformedActionError,
)
from engine.rules.house import SEATS, seat_name
from engine.rules.matching import hand_of
from engine.rules.passing import BEFORE_PLAY
from engine.rules.state import Phase
from engine.sheet.groups import SIZES
from engine.sheet.model import Sheet
from engine.store.values import StoreError
from engine.tiles import say_tiles
from game.text.table import TextTable, hand_sentence
from game.words.actions import say_exposure
from game.words.happened import happened, told
from game.words.refusals import say_refused
from game.words.situation import call_words, exchange_words, full_prompt, outcome_sentences, payments, place_words
from game.words.slips import Slip, concealed_warning, slips_of, why_no_call, why_no_mahjong

HELP = (
    "Type a tile, such as 5d or 5 dot, to let it go in your turn.",
    "When a discard may be called, type “call”, “no” to let it go, or “mahjong” to win with it.",
    "Type “all” to let every discard go until your own turn.",
    "Type “exchange” to hear which jokers can be had, “exchange 1” to take the first of them.",
    "Type “table” to hear what each seat shows, “seat south” for what that can become, “happened” for what was done.",
    "Type “advice” for what to do, “why” and a tile to hear what keeping it is worth.",
    "In the passes type “pass” and three tiles, “agree” or “stop”, “ask” and a number, “give” and the tiles.",
    "Type “hands” for the nearest hands, “sheet” for every hand of the sheet.",
    "Type “rack” to hear your tiles, “discards” for what has gone.",
    "Type “back” or “forward” to step through your choices; choosing otherwise starts a fork of the deal.",
    "Type “note” and some words to keep a note here, “costs” after the game for your costliest choices.",
    "Type “quit” to stop; the game is kept and goes on from here next time.",
)
NUMBERS = {word: number for number in range(6) for word in (str(number), words.in_words(number))}
WARNED = "Type the same again to do it all the same."


class FullTextTable(TextTable):
    """The text table where four play."""

    other_sheets: Callable[[], tuple[Sheet, ...]] = staticmethod(tuple)
    """Sheets that a mistaken mahjong may have been meant for."""
    _sure: Call | None = None
    """A call that the player was warned of."""

    def _obey(self, word: str, rest: str) -> None:
        if self.sitting.state.phase in BEFORE_PLAY:
            super()._obey(word, rest)
            return
        sure, self._sure = self._sure, None
        match word:
            case "help":
                self._say_all(HELP)
            case "call":
                self._call(rest.lower(), sure)
            case "no" | "all" | "pass":
                self._no_call(until_turn=word == "all")
            case "let" | "go" if not rest.removeprefix("it").removeprefix(" go").strip():
                self._no_call(until_turn=False)
            case "mahjong":
                self._mahjong()
            case "exchange":
                self._exchange(rest)
            case "table":
                self._table()
            case "seat":
                self._seat(rest.lower())
            case "happened":
                self._happened()
            case _:
                super()._obey(word, rest)

    # Choices.

    @property
    def _calling(self) -> bool:
        return self.sitting.state.phase is Phase.CALLING

    def _wins(self) -> bool:
        return Mahjong() in self.sitting.legal() and hand_of(self.sitting.state, self.sitting.player) is not None

    def _act(self, action: Action) -> None:
        if self.sitting.over and self.sitting.at_end:
            self.say("This game is over; type “back” to step back and try another way, or “quit”.")
            return
        if self._calling and isinstance(action, Discard):
            self.say("First say what to do about the discard: type “call”, “no” or “mahjong”.")
            return
        before = self.sitting.cursor
        try:
            self.sitting.act(action)
        except (IllegalActionError, MalformedActionError, StoreError) as error:
            self.say(say_refused(error, self.sitting.player))
            return
        sitting = self.sitting
        done = told(sitting.entries, sitting.states, sitting.player, before, sitting.cursor, draws=False)
        if isinstance(action, LetGo):
            self.say("You let it go.")
        self._say_all(one.sentence for one in done)
        self._warn()
        self._look()

    def _no_call(self, until_turn: bool) -> None:
        if not self._calling:
            self.say("No discard waits for you; type a tile to let it go, or “help”.")
            return
        before = -1
        self._act(LetGo())
        while until_turn and self._calling and not self._wins() and self.sitting.at_end:
            if before == self.sitting.cursor:  # refused
                return
            before = self.sitting.cursor
            self._act(LetGo())

    def _call(self, rest: str, sure: Call | None) -> None:
        calls = [action for action in self.sitting.legal() if isinstance(action, Call)] if self._calling else []
        if not calls:
            if self._calling and self._wins():
                self.say("It can be called only for mahjong: type “mahjong”.")
            else:
                self._slip(why_no_call(self.sitting))
            return
        parts = rest.split()
        sizes = [SIZES.index(part) + 1 for part in parts if part in SIZES]
        numbers = [NUMBERS[part] for part in parts if part in NUMBERS]
        fit = [
            call for call in calls
            if (not sizes or call.size == sizes[0]) and (not numbers or call.jokers == numbers[0])
        ]  # fmt: skip
        if not fit:
            self.say("It can’t be called so. " + _ways(calls))
        elif len(fit) > 1 and not sizes:
            self.say(_ways(fit))
        else:
            self._call_for(min(fit, key=lambda call: call.jokers), sure)

    def _call_for(self, call: Call, sure: Call | None) -> None:
        state = self.sitting.state
        if sure != call and not state.house.slips and not self.hide_advice:
            warning = concealed_warning(advise_call(self.advisor.table, self.sitting.observation), call)
            if warning is not None:
                self._slip(Slip(f"Your nearest hand is concealed. {warning.sentence}", warning.hand))
                self.say(WARNED)
                self._sure = call
                return
        self._act(call)

    def _mahjong(self) -> None:
        if (self.sitting.over and self.sitting.at_end) or self._wins() or self.sitting.state.house.slips:
            self._act(Mahjong())
        else:
            for slip in why_no_mahjong(self.sitting, self.other_sheets()):
                self._slip(slip)

    def _exchange(self, rest: str) -> None:
        open_now = [action for action in self.sitting.legal() if isinstance(action, Exchange)]
        if not open_now:
            self.say("No joker can be had now: it takes your own turn and a tile that an exposed joker stands for.")
        elif rest.isdecimal() and 1 <= int(rest) <= len(open_now):
            self._act(open_now[int(rest) - 1])
        else:
            for place, action in enumerate(open_now, 1):
                self.say(f"Type “exchange {place}” to {_lower(exchange_words(action, self.sitting.player))}.")

    def _slip(self, slip: Slip) -> None:
        self.say(slip.sentence)
        if slip.hand is not None:
            self.say("The sheet has: " + hand_sentence(self.sitting.state.sheet, slip.hand))

    # What is to be heard.

    def _look(self) -> None:
        if self.sitting.state.phase in BEFORE_PLAY:
            super()._look()
            return
        now = full_prompt(self.sitting)
        self.say(now if self.sitting.at_end else f"You are looking back. {now}")
        if self.sitting.state.phase is Phase.OVER:
            self._over()
            return
        self.say(self._rack())
        self._own_exposures()
        if self._calling:
            self.say(self._answers())
        elif self._wins():
            self.say("Your hand is complete: type “mahjong” to show it.")
        if self.always_advise and not self.hide_advice:
            self._advice()

    def _own_exposures(self) -> None:
        laid = self.sitting.state.exposures[self.sitting.player]
        if laid:
            self.say(f"You show {words.listed([say_exposure(one) for one in laid])}.")

    def _answers(self) -> str:
        calls = [action for action in self.sitting.legal() if isinstance(action, Call)]
        said = []
        if self._wins():
            said.append("“mahjong” to win with it")
        if calls:
            said.append("“call” to expose it")
        said.append("“no” to let it go")
        return f"Type {words.listed(said, 'or')}."

    def _over(self) -> None:
        state = self.sitting.state
        self._say_all(outcome_sentences(state))
        if any(one.points for one in payments(state)):
            self._say_all(one.sentence for one in payments(state))
        for slip in slips_of(self.sitting):
            self._slip(slip)
        self.say("Type “costs” for your costliest choices, “back” to try another way, or “quit”.")

    def _happened(self) -> None:
        said = happened(self.sitting)
        self._say_all(one.sentence for one in said) if said else self.say("Nothing since your last discard.")

    def _table(self) -> None:
        state, player = self.sitting.state, self.sitting.player
        for step in range(1, len(SEATS)):
            seat = (player + step) % len(SEATS)
            laid = state.exposures[seat]
            shows = words.listed([say_exposure(one) for one in laid]) if laid else "nothing"
            dead = " Its hand is dead." if state.dead[seat] else ""
            self.say(
                f"{seat_name(seat).capitalize()}, {place_words(seat, player)}, holds "
                f"{words.count(len(state.racks[seat]), 'tile')} and shows {shows}.{dead}"
            )
        self._own_exposures()
        self._discards()

    def _seat(self, rest: str) -> None:
        if rest not in SEATS or SEATS.index(rest) == self.sitting.player:
            others = [name for place, name in enumerate(SEATS) if place != self.sitting.player]
            self.say(f"Type “seat” and one of {words.listed(others, 'or')}.")
            return
        seat = SEATS.index(rest)
        gone = [one.kind for one in self.sitting.state.discards if one.seat == seat and not one.called]
        self.say(f"{rest.capitalize()} has let go {say_tiles(gone)}." if gone else f"{rest.capitalize()} let go none.")
        if not self._may_advise():
            return
        shown = next(one for one in advise_defence(self.sitting.observation).seats if one.seat == seat)
        self.say(shown.sentence)
        for hand in shown.hands[:5]:
            self.say(f"{hand.hand.name}: {words.odds(hand.share)} of what can still be made.")
        self._say_all(risk.because for risk in shown.risks[:5])

    def _may_advise(self) -> bool:
        if self.sitting.state.phase is Phase.OVER:
            return False
        if self.sitting.at_end and self.hide_advice:
            self.say("Advice is hidden, as the settings have it; it is there when you step back.")
            return False
        if self.sitting.at_end and self.advice_given is not None:
            self.advice_given()
        return True

    def _advice(self) -> None:
        observation = self.sitting.observation
        if self._calling:
            if self._may_advise():
                advice = advise_call(self.advisor.table, observation)
                self.say(f"{call_words(advice.best.action)}. {advice.best.because}")
                for choice in advice.choices[1:]:
                    self.say(f"{call_words(choice.action)}: {_lower(choice.because)}")
                lost = next((choice.rules_out for choice in advice.choices if choice.rules_out), ())
                self._say_all(one.because for one in lost[:4])
            return
        super()._advice()
        if self.sitting.state.phase is not Phase.TURN or (self.sitting.at_end and self.hide_advice):
            return
        best = self.advisor.best(observation).let_go
        warning = advise_defence(observation).warning(best) if best is not None else None
        if warning is not None:
            self.say(f"Mind the others: {_lower(warning)}")
        for exchange in advise_exchange(self.advisor.table, observation).choices:
            self.say(exchange.because)


def _ways(calls: list[Call]) -> str:
    said = []
    for call in calls:
        said.append(f"“{_lower(call_words(call))}”")
    return f"Type {words.listed(said, 'or')}."


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]
