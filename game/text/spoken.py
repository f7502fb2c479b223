"""What every game in a terminal does alike: lines said, advice that may be hidden, steps back, notes."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from engine import words
from engine.rules.state import Phase
from engine.store.values import StoreError
from game.play.sitting import Sitting

OVER = "This game is over; type “back” to step back and try another way, or “quit”."
HIDDEN = "Advice is hidden, as the settings have it; it is there when you step back."


class SpokenTable:
    """A sitting at which the player types and hears sentences. A subclass has these fields and says where it stands."""

    sitting: Sitting
    say: Callable[[str], None]
    keep_note: Callable[[str], None] | None
    hide_advice: bool
    """Advice is refused until the player looks back."""
    advice_given: Callable[[], None] | None
    """Told whenever advice is said about a choice that is still to be made."""

    def _look(self) -> None:
        """Say where the game stands."""
        raise NotImplementedError

    def _say_all(self, sentences: Iterable[str]) -> None:
        for line in sentences:
            self.say(line)

    def _step(self, move: Callable[[], bool], otherwise: str) -> None:
        if move():
            self._look()
        else:
            self.say(otherwise)

    def _advise(self, what: Callable[[], Iterable[str]]) -> None:
        """Say something that is advice, if there may be advice now."""
        if self.sitting.state.phase is Phase.OVER:
            self.say("There is no more to advise: this game is over.")
            return
        if self.sitting.at_end and self.hide_advice:
            self.say(HIDDEN)
            return
        if self.sitting.at_end and self.advice_given is not None:
            self.advice_given()
        self._say_all(what())

    def _note(self, text: str) -> None:
        if self.keep_note is None:
            self.say("Notes are kept only where games are kept.")
        elif not text:
            self.say("Type the note behind the word, as in “note I should have kept the flowers”.")
        else:
            try:
                self.keep_note(text)
            except StoreError as error:
                self.say(words.sentence(f"{str(error).rstrip('.')}."))
            else:
                self.say("The note is kept.")
