"""The text table: one deal played in a terminal, in whole sentences that a screen reader can speak."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from engine import words
from engine.advice.advise.answers import Advice, HandReach
from engine.advice.review.review import Review
from engine.advice.rollout.race import Outlook
from engine.rules.actions import Action, Discard, IllegalActionError, Mahjong, MalformedActionError
from engine.rules.house import QUIET
from engine.rules.passing import BEFORE_PLAY
from engine.rules.state import Phase
from engine.sheet.groups import size_name
from engine.sheet.model import Hand, Sheet
from engine.store.values import StoreError
from engine.tiles import KINDS, Kind, TileError, kind_of, name, say_tiles
from game.play.advisor import Advisor
from game.play.costs import Cost, costs_of, costs_reviewed, costs_tried, dearest, left_open
from game.play.rack_order import BY_SUIT, arranged
from game.play.reviewing import review_job, tried_job
from game.play.sitting import Sitting
from game.text.passes import NotUnderstoodError, advised_before, asked, chosen, tried_before
from game.words.costs import cost_sentence
from game.words.odds import draws_to_come, outlook_note, outlook_words, tried_words
from game.words.refusals import say_refused
from game.words.sheet import ShownGroup, hold_words, shown_rows
from game.words.situation import outcome_sentences, prompt, situation
from game.words.skill import luck_lines

HELP = (
    "Type a tile, such as 5d or 5 dot, to let it go.",
    "Type “why” and a tile to hear what keeping it is worth, “advice” for what to let go.",
    "Type “odds” for how likely a hand is and which choices are as good, tried out in about a second.",
    "In the passes type “pass” and three tiles, “agree” or “stop”, “ask” and a number, “give” and the tiles.",
    "Type “hands” for the nearest hands, “sheet” for every hand of the sheet.",
    "Type “rack” to hear your tiles, “discards” for what has gone.",
    "Type “mahjong” to show a finished hand.",
    "Type “back” or “forward” to step through your choices; choosing otherwise starts a fork of the deal.",
    "Type “note” and some words to keep a note here.",
    "Type “costs” after the game for your costliest choices, for what luck did, and for how you have played so far.",
    "Type “quit” to stop; the game is kept and goes on from here next time.",
)

NEAREST = 5
LONGEST_ECHO = 40


@dataclass
class TextTable:
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
    _told: str | None = None

    def play(self) -> bool:
        """Play until the player quits or the input ends; whether the game is over."""
        self.say(f"You play {self.sitting.state.sheet.name} at a {self.sitting.state.house.table} table.")
        self.say("Type “help” to hear what you can type.")
        self._warn()
        self._look()
        for line in self.lines:
            word, _, rest = line.strip().partition(" ")
            if word.lower() in ("quit", "exit", "q"):
                break
            self._obey(word.lower(), rest.strip())
        return self.sitting.over

    def _obey(self, word: str, rest: str) -> None:
        commands: dict[str, Callable[[str], None]] = {
            "": lambda _: self._look(),
            "help": lambda _: self._say_all(HELP),
            "rack": lambda _: self.say(self._rack()),
            "hands": lambda _: self._hands(),
            "advice": lambda _: self._advice(),
            "odds": lambda _: self._odds(),
            "why": self._why,
            "sheet": lambda _: self._sheet(),
            "discards": lambda _: self._discards(),
            "mahjong": lambda _: self._act(Mahjong()),
            "back": lambda _: self._step(self.sitting.back, "This is your first choice of the deal."),
            "forward": lambda _: self._step(self.sitting.forward, "This is the latest moment; choose what to do."),
            "note": self._note,
            "costs": lambda _: self._costs(),
        }
        if word in commands:
            commands[word](rest)
            return
        if self.sitting.state.phase in BEFORE_PLAY:
            self._before(f"{word} {rest}".strip())
            return
        typed = f"{word} {rest}".strip()
        tile = rest.removeprefix("go ") if word in ("let", "discard", "go") else typed
        try:
            kind = tile_of(tile)
        except TileError:
            self.say(f"“{_echo(typed)}” is no tile and no command; type a tile such as 5d, or “help”.")
            return
        if not self.sitting.over and kind not in self.sitting.observation.rack:
            self.say(f"You hold no {name(kind)}; type “rack” to hear your tiles.")
            return
        self._act(Discard(kind))

    def _before(self, typed: str) -> None:
        try:
            action = chosen(typed, self.sitting.observation)
        except NotUnderstoodError as error:
            self.say(str(error))
            return
        self._act(action)

    def _act(self, action: Action) -> None:
        if self.sitting.over and self.sitting.at_end:
            self.say("This game is over; type “back” to step back and try another way, or “quit”.")
            return
        try:
            self.sitting.act(action)
        except (IllegalActionError, MalformedActionError, StoreError) as error:
            self.say(say_refused(error, self.sitting.player))
            return
        if isinstance(action, Discard):
            self.say(f"You let the {name(action.kind)} go.")
        self._warn()
        self._look()

    def _warn(self) -> None:
        now = self.trouble() if self.trouble is not None else None
        if now is not None and now != self._told:
            self.say(words.sentence(f"{now.rstrip('.')}."))
        self._told = now

    def _look(self) -> None:
        now = prompt(self.sitting)
        if self.sitting.state.phase in BEFORE_PLAY:
            now = asked(self.sitting.observation)
        elif self.sitting.at_end:
            now = situation(self.sitting)
        self.say(now if self.sitting.at_end else f"You are looking back. {now}")
        if self.sitting.state.phase is Phase.OVER:
            self._say_all(outcome_sentences(self.sitting.state))
            self.say("Type “costs” for your costliest choices, “back” to try another way, or “quit”.")
            return
        self.say(self._rack())
        if Mahjong() in self.sitting.legal():
            self.say("Your hand is complete: type “mahjong” to show it.")
        elif self.always_advise and not self.hide_advice:
            self._advice()

    def _rack(self) -> str:
        rack = arranged(self.sitting.observation.rack, BY_SUIT)
        return f"You hold {words.count(len(rack), 'tile')}: {say_tiles(rack)}."

    def _may_hear(self) -> bool:
        if self.sitting.state.phase is Phase.OVER:
            self.say("There is no more to advise: this game is over.")
            return False
        if self.sitting.at_end:
            if self.hide_advice:
                self.say("Advice is hidden, as the settings have it; it is there when you step back.")
                return False
            if self.advice_given is not None:
                self.advice_given()
        return True

    def _advice_now(self) -> Advice | None:
        return self.advisor.best(self.sitting.observation) if self._may_hear() else None

    def _hands(self) -> None:
        advice = self._advice_now()
        if advice is None:
            return
        if not advice.hands:
            self.say("No hand of this sheet can still be made.")
        for reach in advice.hands[:NEAREST]:
            self.say(
                f"{reach.hand.name}, in {reach.hand.section}: {words.count(reach.missing, 'tile')} to come, "
                f"odds {words.odds(reach.odds)} within {words.count(advice.draws, 'draw')}. {reach_tiles(reach)}"
            )

    def _advice(self) -> None:
        if self.sitting.state.phase in BEFORE_PLAY:
            if self._may_hear():
                self.say(advised_before(self.advisor, self.sitting.observation))
            return
        advice = self._advice_now()
        if advice is None:
            return
        if not advice.keeps:
            self.say("There is nothing to let go now.")
            return
        last = advice.keeps[-1]
        self.say(f"Let go the {name(last.kind)}. {last.because}")

    def _odds(self) -> None:
        """The choices tried out: how likely a hand is, and how the others stand to the best one."""
        if not self._may_hear():
            return
        if self.sitting.state.phase in BEFORE_PLAY:
            self._say_all(tried_before(self.advisor, self.sitting.observation))
            return
        advice = self.advisor.deepen(self.sitting.observation)
        outlook, best = advice.outlook, advice.let_go
        if outlook is None or best is None:
            self.say("There is nothing to try out now.")
            return
        self.say(f"Let go the {name(best)}. {self._outlook(outlook, advice.draws)}.")
        self.say(words.sentence(outlook_note(outlook)))
        tried = [(keep.tried.behind, keep) for keep in advice.keeps if keep.tried and keep.kind != best]
        for _, keep in sorted(tried, key=lambda one: one[0])[:NEAREST]:
            self.say(f"Letting the {name(keep.kind)} go: {tried_words(keep)}.")

    def _outlook(self, outlook: Outlook, draws: int) -> str:
        return outlook_words(outlook, draws_to_come(draws), alone=self.sitting.state.house.table == QUIET)

    def _why(self, rest: str) -> None:
        if not rest:
            self.say("Type the tile behind the word, as in “why 5d”.")
            return
        try:
            kind = tile_of(rest)
        except TileError:
            self.say(f"“{_echo(rest)}” is no tile; type one such as 5d or 5 dot.")
            return
        if kind not in self.sitting.observation.rack:
            self.say(f"You hold no {name(kind)}; type “rack” to hear your tiles.")
            return
        advice = self._advice_now()
        if advice is None:
            return
        for keep in advice.keeps:
            if keep.kind == kind:
                self.say(keep.because)

    def _sheet(self) -> None:
        for section in self.sitting.state.sheet.sections:
            self.say(f"Section {section.name}.")
            for hand in section.hands:
                self.say(hand_sentence(self.sitting.state.sheet, hand))

    def _discards(self) -> None:
        gone = [discard.kind for discard in self.sitting.state.discards if not discard.called]
        self.say(f"Let go so far: {say_tiles(gone)}." if gone else "Nothing has been let go yet.")
        self.say(f"{words.sentence(words.count(len(self.sitting.state.wall), 'tile'))} left in the wall.")

    def _step(self, move: Callable[[], bool], otherwise: str) -> None:
        if move():
            self._look()
        else:
            self.say(otherwise)

    def _note(self, rest: str) -> None:
        if self.keep_note is None:
            self.say("Notes are kept only where games are kept.")
        elif not rest:
            self.say("Type the note behind the word, as in “note I should have kept the flowers”.")
        else:
            try:
                self.keep_note(rest)
            except StoreError as error:
                self.say(words.sentence(f"{str(error).rstrip('.')}."))
            else:
                self.say("The note is kept.")

    def _costs(self) -> None:
        if self.sitting.state.phase is not Phase.OVER:
            if self._may_hear():
                self._say_costs(costs_of(self.sitting, self.advisor))
            return
        costs = costs_of(self.sitting, self.advisor)
        found = review_job(self.sitting, self.advisor)(lambda: False)
        if self.advisor.effort and found is not None:
            found = tried_job(self.sitting, self.advisor, found)(lambda: False, lambda: None)
            costs = costs_reviewed(self.sitting, found)
        elif self.advisor.effort:
            costs = costs_tried(self.sitting, self.advisor, costs)
        self._say_costs(costs)
        self._say_all(luck_lines(found))
        if found is not None and self.reviewed is not None:
            self._say_all(self.reviewed(found))

    def _say_costs(self, costs: Sequence[Cost]) -> None:
        """The three dearest choices, and how many could not be told apart from the best ones."""
        worst, unsure = dearest(costs), left_open(costs)
        if not worst:
            self.say("No choice so far has cost you anything that shows.")
        for cost in worst[:3]:
            self.say(cost_sentence(self.sitting, cost))
        if unsure:
            more = words.sentence(words.count(unsure, "choice"))
            self.say(f"{more} that seemed to cost something can't be told apart from the advised ones.")

    def _say_all(self, sentences: Iterable[str]) -> None:
        for line in sentences:
            self.say(line)


def reach_tiles(reach: HandReach) -> str:
    """What is still to come, as a sentence: `Still to come: 4 dot, 7 dot and 7 dot.`"""
    missing = [slot.kind for group in reach.slots for slot in group if not slot.held]
    return f"Still to come: {say_tiles(missing)}." if missing else "It is complete."


def hand_sentence(sheet: Sheet, hand: Hand) -> str:
    """One hand of the sheet: how it may be held, what it counts, a way to make it, and what may vary."""
    ways = "; or ".join(_groups(row) for row in shown_rows(sheet, hand))
    return f"{hand.name}, {hold_words(hand)}, {hand.points} points. Such as {ways}. What may vary: {hand.wording}."


def _groups(row: Iterable[ShownGroup]) -> str:
    said = []
    for group in row:
        tile = "white dragon for zero" if group.tab == "0" else name(group.kind)
        said.append(f"{size_name(group.size)} of {tile}" if group.size > 1 else tile)
    return words.listed(said)


def tile_of(text: str) -> Kind:
    """The kind that a code, a character or a spoken name means: `5d`, `5 dot`, `east`. Raises TileError."""
    said = " ".join(text.lower().split())
    for kind in range(KINDS):
        if said and said in (name(kind), name(kind).removesuffix(" wind").removesuffix(" dragon")):
            return kind
    return kind_of(text)


def _echo(typed: str) -> str:
    """What was typed, safe to print: not too long, and without what would steer the terminal."""
    short = typed if len(typed) <= LONGEST_ECHO else typed[:LONGEST_ECHO] + "…"
    return "".join(char if char.isprintable() else " " for char in short)
