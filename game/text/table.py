"""The text table: one deal played in a terminal, in whole sentences that a screen reader can speak.

It is one table for every game: alone or with four, passes and play. Where four play, there are discards of others to
call and jokers to exchange, and so more that can be typed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from engine import words
from engine.advice.advise.calls import advise_call
from engine.advice.review.review import Review
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
from engine.rules.house import QUIET, SEATS
from engine.rules.passing import BEFORE_PLAY
from engine.rules.state import Phase
from engine.sheet.model import Sheet
from engine.store.values import StoreError
from engine.tiles import Kind, TileError, code, name
from game.play.advisor import Advisor
from game.play.sitting import Sitting
from game.text import advised, heard
from game.text.helping import help_sentences
from game.text.passes import advised_before, asked, tried_before
from game.text.spoken import OVER, SpokenTable
from game.text.typed import (
    NotUnderstoodError,
    calls_meant,
    choice_before_play,
    echo,
    names_a_size,
    one_of,
    tidy,
    tile_of,
)
from game.words.happened import told
from game.words.refusals import say_refused
from game.words.situation import exchange_words, outcome_sentences, payments, prompt, situation
from game.words.slips import Explained, concealed_warning, explain_no_call, explain_no_mahjong, explain_slips

WARNED = "Type the same again to do it all the same."
NO_CALLS = "You play alone here: nobody else lets a tile go, and there is nothing to call."


@dataclass
class TextTable(SpokenTable):
    """Reads what the player types, line by line, and says what happens."""

    sitting: Sitting
    advisor: Advisor
    lines: Iterable[str]
    say: Callable[[str], None]
    keep_note: Callable[[str], None] | None = None
    always_advise: bool = False
    hide_advice: bool = False
    """Advice is refused until the player looks back."""
    advice_given: Callable[[], None] | None = None
    """Told whenever advice is said about a choice that is still to be made."""
    trouble: Callable[[], str | None] | None = None
    """What is wrong with keeping the game just now, if anything: said once."""
    reviewed: Callable[[Review], Iterable[str]] | None = None
    """Told of the review of a finished game; what it says of all games so far is said."""
    other_sheets: Callable[[], tuple[Sheet, ...]] = tuple
    """Sheets that a mistaken mahjong may have been meant for."""
    _told: str | None = None
    _warned: Call | None = None
    """A call that the player was warned of just before."""

    def play(self) -> bool:
        """Play until the player quits or the input ends; whether the game is over."""
        self._say_all(heard.opening(self.sitting))
        self.say("Type “help” to hear what you can type.")
        self._warn()
        self._look()
        for line in self.lines:
            word, _, rest = line.strip().partition(" ")
            if word.lower() in ("quit", "exit", "q"):
                break
            self._obey(word.lower().rstrip(".!"), rest.strip())
        return self.sitting.over

    # What may be typed.

    @property
    def four(self) -> bool:
        """Whether four play."""
        return self.sitting.state.house.table != QUIET

    def _obey(self, word: str, rest: str) -> None:
        warned, self._warned = self._warned, None
        typed = f"{word} {rest}".strip()
        commands: dict[str, Callable[[], object]] = {
            "": self._look,
            "help": lambda: self._say_all(help_sentences(self.four, self.sitting.state.house.slips)),
            "rack": lambda: self.say(heard.rack(self.sitting)),
            "table": lambda: self._say_all(heard.table(self.sitting)),
            "discards": lambda: self._say_all(heard.discards(self.sitting)),
            "happened": lambda: self._say_all(heard.since_last_discard(self.sitting)),
            "sheet": lambda: self._say_all(heard.sheet_sentences(self.sitting.state.sheet)),
            "seat": lambda: self._seat(tidy(rest)),
            "hands": lambda: self._advise(lambda: advised.hands(self.advisor, self.sitting)),
            "advice": lambda: self._advise(self._what_to_do),
            "odds": lambda: self._advise(self._odds),
            "why": lambda: self._why(rest),
            "costs": self._costs,
            "back": lambda: self._step(self.sitting.back, "This is your first choice of the deal."),
            "forward": lambda: self._step(self.sitting.forward, "This is the latest moment; choose what to do."),
            "note": lambda: self._note(rest),
        }
        if word in commands:
            commands[word]()
        elif self.sitting.state.phase in BEFORE_PLAY:
            self._before(typed)
        elif not self._play(word, rest, warned):
            self._let_go(typed, rest if word in ("let", "discard", "go") else typed)

    def _play(self, word: str, rest: str, warned: Call | None) -> bool:
        """A choice in play that is no discard; whether it was one."""
        match word:
            case "mahjong" | "show":
                self._mahjong()
            case "call" if tidy(rest).endswith("mahjong"):
                self._mahjong()
            case "give" if self.four and tidy(rest).endswith("joker"):
                self._give_for_joker(rest)
            case "call" if self.four:
                self._call(rest, warned)
            case "no" | "all" | "pass" if self.four:
                self._no_call(until_turn=word == "all")
            case "let" | "go" if self.four and tidy(rest) in ("", "it", "go", "it go"):
                self._no_call(until_turn=False)
            case "exchange" if self.four:
                self._exchange(rest)
            case "call" | "no" | "all" | "pass" | "exchange":
                self.say(NO_CALLS)
            case _:
                return False
        return True

    # Choices.

    @property
    def _calling(self) -> bool:
        return self.sitting.state.phase is Phase.CALLING

    def _before(self, typed: str) -> None:
        try:
            action = choice_before_play(typed)
        except NotUnderstoodError as error:
            self.say(str(error))
            return
        if action is None:
            self.say(asked(self.sitting.observation))
        else:
            self._act(action)

    def _let_go(self, typed: str, tile: str) -> None:
        try:
            kind = tile_of(tidy(tile).removeprefix("go ").removesuffix(" go"))
        except TileError:
            self.say(f"“{echo(typed)}” is no tile and no command; type a tile such as 5d, or “help”.")
            return
        if self._holds(kind):
            self._act(Discard(kind))

    def _holds(self, kind: Kind) -> bool:
        """Whether the player holds the tile; else says that they don't. At the end it makes no difference."""
        if (self.sitting.over and self.sitting.at_end) or kind in self.sitting.observation.rack:
            return True
        self.say(f"You hold no {name(kind)}; type “rack” to hear your tiles.")
        return False

    def _act(self, action: Action) -> None:
        if self.sitting.over and self.sitting.at_end:
            self.say(OVER)
            return
        if self._calling and isinstance(action, Discard):
            self.say("First say what to do about the discard: type “call”, “no” or “mahjong”.")
            return
        sitting, before = self.sitting, self.sitting.cursor
        try:
            sitting.act(action)
        except (IllegalActionError, MalformedActionError, StoreError) as error:
            self.say(say_refused(error, sitting.player))
            return
        if isinstance(action, LetGo):
            self.say("You let it go.")
        done = told(sitting.entries, sitting.states, sitting.player, before, sitting.cursor, draws=False)
        self._say_all(one.sentence for one in done)
        self._warn()
        self._look()

    def _no_call(self, until_turn: bool) -> None:
        if not self._calling:
            self.say("No discard waits for you; type a tile to let it go, or “help”.")
            return
        self._act(LetGo())
        before = -1
        while until_turn and self._calling and not self.sitting.wins and self.sitting.at_end:
            if before == self.sitting.cursor:  # refused
                return
            before = self.sitting.cursor
            self._act(LetGo())

    def _call(self, rest: str, warned: Call | None) -> None:
        calls = [action for action in self.sitting.legal() if isinstance(action, Call)] if self._calling else []
        fit = calls_meant(rest, calls)
        if not calls and self._calling and self.sitting.wins:
            self.say("It can be called only for mahjong: type “mahjong”.")
        elif not calls:
            self._slip(explain_no_call(self.sitting))
        elif not fit:
            self.say(f"It can’t be called so. {advised.ways_to_call(calls)}")
        elif len(fit) > 1 and not names_a_size(rest):
            self.say(advised.ways_to_call(fit))
        else:
            self._call_for(min(fit, key=lambda call: call.jokers), warned)

    def _call_for(self, call: Call, warned: Call | None) -> None:
        """Call, unless the nearest hand is concealed and the player has not been warned of that."""
        if warned != call and not self.sitting.state.house.slips and not self.hide_advice:
            warning = concealed_warning(advise_call(self.advisor.table, self.sitting.observation), call)
            if warning is not None:
                self._slip(Explained(f"Your nearest hand is concealed. {warning.sentence}", warning.hand))
                self.say(WARNED)
                self._warned = call
                return
        self._act(call)

    def _mahjong(self) -> None:
        if (self.sitting.over and self.sitting.at_end) or self.sitting.wins or self.sitting.state.house.slips:
            self._act(Mahjong())
            return
        for slip in explain_no_mahjong(self.sitting, self.other_sheets()):
            self._slip(slip)

    def _exchange(self, rest: str) -> None:
        open_now = [action for action in self.sitting.legal() if isinstance(action, Exchange)]
        place = one_of(rest, len(open_now))
        if not open_now:
            self.say("No joker can be had now: it takes your own turn and a tile that an exposed joker stands for.")
        elif place is not None:
            self._act(open_now[place])
        else:
            for number, action in enumerate(open_now, 1):
                what = advised.lowered(exchange_words(action, self.sitting.player))
                self.say(f"Type “exchange {number}” to {what}.")

    def _give_for_joker(self, rest: str) -> None:
        """`give the 5 dot for a joker`."""
        tile = tidy(rest).partition(" for ")[0]
        open_now = [action for action in self.sitting.legal() if isinstance(action, Exchange)]
        fit = [one for one in open_now if tile.removeprefix("the ") in (name(one.kind), code(one.kind))]
        if fit:
            self._act(fit[0])
        else:
            self._exchange("")

    # What is said.

    def _look(self) -> None:
        """Where the player stands, what is asked of them, and the rack; at the end, how the game ended."""
        sitting = self.sitting
        now = prompt(sitting)
        if sitting.state.phase in BEFORE_PLAY:
            now = asked(sitting.observation)
        elif sitting.at_end and sitting.state.phase is Phase.TURN:
            now = situation(sitting)
        self.say(now if sitting.at_end else f"You are looking back. {now}")
        if sitting.state.phase is Phase.OVER:
            self._over()
            return
        self.say(heard.rack(sitting))
        self._say_all(heard.own_exposures(sitting))
        if self._calling:
            self.say(self._answers())
        elif sitting.wins:
            self.say(advised.complete(sitting))
        if self.always_advise and not self.hide_advice and not (sitting.wins and not self._calling):
            self._advise(self._what_to_do)

    def _answers(self) -> str:
        said = ["“mahjong” to win with it"] if self.sitting.wins else []
        if any(isinstance(action, Call) for action in self.sitting.legal()):
            said.append("“call” to expose it")
        return f"Type {words.listed([*said, '“no” to let it go'], 'or')}."

    def _over(self) -> None:
        state = self.sitting.state
        self._say_all(outcome_sentences(state))
        if any(one.points for one in payments(state)):
            self._say_all(one.sentence for one in payments(state))
        for slip in explain_slips(self.sitting):
            self._slip(slip)
        self.say("Type “costs” for your costliest choices, “back” to try another way, or “quit”.")

    def _slip(self, slip: Explained) -> None:
        self.say(slip.sentence)
        if slip.hand is not None:
            self.say("The sheet has: " + heard.hand_sentence(self.sitting.state.sheet, slip.hand))

    def _seat(self, asked_for: str) -> None:
        others = [seat for place, seat in enumerate(SEATS) if place != self.sitting.player]
        if not self.four:
            self.say("You play alone here: no other seat shows anything.")
        elif asked_for not in others:
            self.say(f"Type “seat” and one of {words.listed(others, 'or')}.")
        else:
            seat = SEATS.index(asked_for)
            self.say(heard.gone_from(self.sitting, seat))
            self._advise(lambda: advised.seat(self.sitting.observation, seat))

    # Advice.

    def _what_to_do(self) -> list[str]:
        if self.sitting.state.phase in BEFORE_PLAY:
            return [advised_before(self.advisor, self.sitting)]
        return advised.what_to_do(self.advisor, self.sitting)

    def _odds(self) -> list[str]:
        if self.sitting.state.phase in BEFORE_PLAY:
            return tried_before(self.advisor, self.sitting)
        return advised.odds(self.advisor, self.sitting)

    def _why(self, rest: str) -> None:
        if not rest:
            self.say("Type a tile or a hand behind the word, as in “why 5d”.")
            return
        hand = next((one for one in self.sitting.state.sheet.hands if tidy(one.name) == tidy(rest)), None)
        if hand is not None:
            self._advise(lambda: advised.why_hand(self.advisor, self.sitting, hand))
            return
        try:
            kind = tile_of(rest)
        except TileError:
            self.say(f"“{echo(rest)}” is no tile and no hand of this sheet; type one such as 5d or 5 dot.")
            return
        if self._holds(kind):
            self._advise(lambda: advised.why(self.advisor, self.sitting, kind))

    def _costs(self) -> None:
        if self.sitting.state.phase is Phase.OVER:
            self._say_all(advised.costs(self.advisor, self.sitting, self.reviewed))
        else:
            self._advise(lambda: advised.costs(self.advisor, self.sitting))

    # Elsewhere.

    def _warn(self) -> None:
        now = self.trouble() if self.trouble is not None else None
        if now is not None and now != self._told:
            self.say(words.sentence(f"{now.rstrip('.')}."))
        self._told = now
