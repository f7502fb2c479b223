"""Playing a match: how many deals, with or without a clock; the one left unfinished; how past ones went."""

from __future__ import annotations

from dataclasses import replace

from engine import words
from engine.drills.match import KIND, MOST_DEALS, Match, MatchRules, MatchTally, tallies
from engine.store.values import StoreError
from engine.words import clock
from game.draw.theme import BODY, BODY_BOLD, SMALL, SOFT
from game.play.matches import MatchPlay, keep_rules, kept_match, kept_rules, match_house
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.popups import Question
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.house import house_words
from game.words.match import seat_sentence, standing
from game.words.sheet import sheet_words

WIDEST = 1100
TWO_COLUMNS = 820
KEYS_FROM = 540
"""Units of width from which the buttons show their keys."""
MINUTES = (5, 10, 15, 20)


class MatchScene(Scene):
    """Setting up a match, or going on with one."""

    def __init__(self, routes: Routes, back: Scene) -> None:
        super().__init__(routes.look)
        self.routes, self.desk = routes, routes.desk
        self._back = back
        self.left: MatchPlay | None = None
        self.trouble = ""
        self.rules = kept_rules(self.desk)
        self.tallies: tuple[MatchTally, ...] = ()
        self.enter()

    def enter(self) -> None:
        """A match may have been left or finished meanwhile."""
        self.left = kept_match(self.desk)
        self.tallies = tallies(self.desk.store.results(KIND))
        self.dirty = True

    def back(self) -> Scene | None:
        """Where it was opened from."""
        return self._back

    def _set(self, rules: MatchRules) -> Scene | None:
        self.rules = rules
        keep_rules(self.desk, rules)
        return None

    def begin(self) -> Scene | None:
        """A new match; asks first where another one is under way."""
        if self.left is not None:
            text = "The match that you left is given up with this; its deals stay among the past deals."
            return Question(self, "Begin another match?", text, [Press("Begin", self._begin, "b", main=True)])
        return self._begin()

    def _begin(self) -> Scene | None:
        if self.left is not None:
            self.left.give_up()
        return self._deal(MatchPlay(self.desk, Match(self.rules.at(self.desk.house), self.desk.house.seat)))

    def go_on(self) -> Scene | None:
        """The match that was left, at the very choice."""
        if self.left is None:
            return None
        return self._deal(self.left)

    def _deal(self, play: MatchPlay) -> Scene | None:
        """The match's deal, or a sentence on why it can't be opened."""
        try:
            return self.routes.match_deal(play)
        except (StoreError, ValueError) as error:
            self.trouble = words.sentence(f"{str(error).rstrip('.')}.")
            return self

    def paint(self, ui: Ui) -> None:
        """Two columns, or one under the other."""
        rest = ui.header("Play a match", "several deals, points kept across them", self.back)
        scrolled(ui, "match", rest, self._fill, widest=WIDEST, roomy=True)

    def _fill(self, page: Column) -> None:
        """The match that was left, a new one, the figures; what begins or goes on never scrolls away."""
        if self.left is not None:
            with page.panel("Where you left off") as inside:
                self._going_on(inside, self.left)
            page.gap(16)
        page.rest("a new match", self._columns)
        page.gap(14)
        page.buttons([
            Press("Begin", self.begin, "return" if self.left is None else "b", main=self.left is None),
            Press("Sheet and sections", self._choose, "c"),
            Press("House rules", self._house, "r"),
        ], show_keys=page.has(KEYS_FROM))  # fmt: skip

    def _columns(self, page: Column) -> None:
        with page.beside([1.3, 1], least=TWO_COLUMNS) as (left, right):
            with left.panel("A new match") as inside:
                self._new(inside)
            with right.panel("So far") as inside:
                self._figures(inside)

    def _going_on(self, page: Column, play: MatchPlay) -> None:
        if play.match.results:
            page.text(standing(play.match))
        said = seat_sentence(play.match)
        said += f" {clock(play.left)} minutes are left for it." if play.left is not None else ""
        page.text(said)
        page.gap(12)
        page.buttons([Press("Go on with the match", self.go_on, "return", main=True)])
        if self.trouble:
            page.gap(10)
            page.notice(self.trouble)

    def _new(self, page: Column) -> None:
        rules, ui = self.rules, page.ui
        page.text("Deals", BODY_BOLD)
        page.gap(4)
        page.add(lambda at, _: ui.stepper(at, "deals", rules.deals, 1, MOST_DEALS, self._set_deals).bottom)
        page.gap(14)
        page.text("Time for each deal", BODY_BOLD)
        page.gap(4)
        options: list[tuple[int | None, str]] = [(None, "No clock")]
        options += [(minutes, f"{minutes} minutes") for minutes in sorted({*MINUTES, *_also(rules.minutes)})]
        page.add(lambda at, width: ui.choice(at, width, "clock", options, rules.minutes, self._set_minutes))
        page.gap(12)
        text = (
            "Four play, and points are kept by who sits where as you see it. After each deal East passes to the right"
            f"{', unless East has won' if self.desk.house.east_stays else ''}. "
            "When a deal’s time is up, nobody scores in it. Advice stays hidden, and every choice stands."
        )
        page.text(text, BODY, SOFT)
        page.gap(10)
        house = house_words(match_house(self.desk.house, self.desk.house.seat))
        page.text(sheet_words(self.desk.current_sheet, self.desk.chosen), BODY_BOLD)
        page.text(f"{words.sentence(house)}.", BODY, SOFT)

    def _set_deals(self, deals: int) -> Scene | None:
        return self._set(replace(self.rules, deals=deals))

    def _set_minutes(self, minutes: int | None) -> Scene | None:
        return self._set(replace(self.rules, minutes=minutes))

    def _choose(self) -> Scene | None:
        return self.routes.choosing(self)

    def _house(self) -> Scene | None:
        return self.routes.house_rules(self)

    def _figures(self, page: Column) -> None:
        if not self.tallies:
            page.text("No match finished yet.", BODY, SOFT)
            return
        for tally in self.tallies:
            timed = tally.allowance is not None
            page.heading(f"With {clock(tally.allowance or 0)} minutes a deal" if timed else "Without a clock")
            for text in tally_sentences(tally):
                page.text(text)
            page.gap(12)
        page.text("Matches with and without a clock are counted apart.", SMALL, SOFT)


def _also(minutes: int | None) -> tuple[int, ...]:
    return () if minutes is None else (minutes,)


def tally_sentences(tally: MatchTally) -> list[str]:
    """What a tally says, with what was counted; nothing is made of fewer than ten matches."""
    matches = words.count(tally.matches, "match", "matches")
    said = [
        f"{words.sentence(matches)}, {words.count(tally.deals, 'deal')}.",
        f"First, alone or with others: {tally.first} of {tally.matches}. Deals won: {tally.won} of {tally.deals}.",
    ]
    if tally.enough:
        said.append(f"Mean points a match: {tally.points / tally.matches:.0f}.")
    else:
        said.append("Too few to say mean points; ten are needed.")
    return said
