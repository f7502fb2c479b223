"""The text table of the two-hand game: two racks, in whole sentences that a screen reader can speak."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from engine import words
from engine.advice.advise.two_hands import UNWEIGHED, advise_two
from engine.advice.table import SheetTable
from engine.rules.actions import Action, ChangeRacks, Discard, IllegalActionError, Mahjong, MalformedActionError, PutOn
from engine.rules.state import Phase
from engine.store.values import StoreError
from engine.tiles import TileError, say_tiles
from game.play.rack_order import BY_SUIT, arranged
from game.play.sitting import Sitting
from game.text.heard import discards, sheet_sentences
from game.text.spoken import OVER, SpokenTable
from game.text.typed import NotUnderstoodError, echo, tidy, tile_of
from game.words.deal.twists import twist_sentences
from game.words.deal.two_hands import NO_REVIEW, RULES, asked, did, shown_sentences
from game.words.refusals import say_refused
from game.words.situation import outcome_sentences

HELP = (
    "Type “1” or “2” to put the tile that you drew on that rack.",
    "Type “change 5d for 3b” to change a tile of rack 1 for one of rack 2, once a turn.",
    "Type a tile, such as 5d or 5 dot, to let it go from the rack that has fourteen.",
    "Type “mahjong” to show the hand of that rack.",
    "Type “advice” for what to do, “racks” to hear your tiles, “discards” for what has gone, “sheet” for every hand.",
    "Type “rules” for how the two-hand game goes.",
    "Type “back” or “forward” to step through your choices; choosing otherwise starts a fork of the deal.",
    "Type “note” and some words to keep a note here.",
    "Type “quit” to stop; the game is kept and goes on from here next time.",
)


@dataclass
class TwoHandsText(SpokenTable):
    """Reads what the player types, line by line, and says what happens."""

    sitting: Sitting
    table: SheetTable
    lines: Iterable[str]
    say: Callable[[str], None]
    keep_note: Callable[[str], None] | None = None
    always_advise: bool = False
    hide_advice: bool = False
    """Advice is refused until the player looks back."""
    advice_given: Callable[[], None] | None = None
    """Told whenever advice is said about a choice that is still to be made."""

    def play(self) -> bool:
        """Play until the player quits or the input ends; whether the game is over."""
        self.say(f"You play the two-hand game with {self.sitting.state.sheet.name}.")
        self._say_all(twist_sentences(self.sitting.state))
        self.say("Type “rules” for how it goes, “help” to hear what you can type.")
        self._look()
        for line in self.lines:
            typed = tidy(line)
            if typed in ("quit", "exit", "q"):
                break
            self._obey(typed, line.strip())
        return self.sitting.over

    def _obey(self, typed: str, line: str) -> None:
        word = typed.partition(" ")[0]
        commands: dict[str, Callable[[], object]] = {
            "": self._look,
            "help": lambda: self._say_all(HELP),
            "rules": lambda: self._say_all(RULES),
            "racks": self._racks,
            "rack": self._racks,
            "discards": lambda: self._say_all(discards(self.sitting)),
            "sheet": lambda: self._say_all(sheet_sentences(self.sitting.state.sheet)),
            "advice": lambda: self._advise(self._advised),
            "back": lambda: self._step(self.sitting.back, "This is your first choice of the deal."),
            "forward": lambda: self._step(self.sitting.forward, "This is the latest moment; choose what to do."),
            "note": lambda: self._note(line.partition(" ")[2].strip()),
        }
        if word in commands:
            commands[word]()
            return
        try:
            self._act(meant(typed))
        except NotUnderstoodError as error:
            self.say(str(error))

    def _act(self, action: Action) -> None:
        sitting, before = self.sitting, self.sitting.cursor
        if sitting.over and sitting.at_end:
            self.say(OVER)
            return
        try:
            sitting.act(action)
        except (IllegalActionError, MalformedActionError, StoreError) as error:
            self.say(say_refused(error, sitting.player))
            return
        self.say(did(sitting.entries[before].action, sitting.states[before]))
        self._look()

    def _look(self) -> None:
        """Where the game stands, both racks, and what is asked; at the end, how it ended."""
        state = self.sitting.state
        if state.phase is Phase.OVER:
            self._say_all([*outcome_sentences(state), NO_REVIEW])
            self.say("Type “back” to try another way, or “quit”.")
            return
        picks = f"Pick {state.picks}, {words.count(len(state.wall), 'tile')} left in the wall."
        self.say(picks if self.sitting.at_end else f"You are looking back. {picks}")
        self._racks()
        self.say(asked(state))
        if any(isinstance(action, Mahjong) for action in self.sitting.legal()):
            self.say(f"Rack {state.turn + 1} is a hand: type “mahjong” to show it.")
        if self.always_advise and not self.hide_advice:
            self._advise(self._advised)

    def _racks(self) -> None:
        state = self.sitting.state
        for rack in (0, 1):
            if state.two is not None and state.two.shown[rack] is None:
                held = arranged(state.racks[rack], BY_SUIT)
                self.say(f"Rack {rack + 1}, {words.count(len(held), 'tile')}: {say_tiles(held)}.")
        self._say_all(shown_sentences(state))

    def _advised(self) -> Iterable[str]:
        return advise_two(self.table, self.sitting.observation).because, UNWEIGHED


def meant(typed: str) -> Action:
    """The action that tidy words name. Raises NotUnderstoodError."""
    rack = typed.removeprefix("put it ").removeprefix("on ").removeprefix("rack ")
    if rack in ("1", "2", "one", "two"):
        return PutOn(0 if rack in ("1", "one") else 1)
    if typed in ("mahjong", "show"):
        return Mahjong()
    word, _, rest = typed.partition(" ")
    try:
        if word == "change":
            first, found, second = rest.partition(" for ")
            if not found:
                raise NotUnderstoodError("Type both tiles, as in “change 5d for 3b”: first the one of rack 1.")
            return ChangeRacks(tile_of(first), tile_of(second))
        return Discard(tile_of(rest if word in ("let", "discard") else typed))
    except TileError:
        raise NotUnderstoodError(
            f"“{echo(typed)}” is no tile and no command; type a tile such as 5d, “1” or “2”, or “help”."
        ) from None
