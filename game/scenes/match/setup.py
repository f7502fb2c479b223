"""Playing a match: how many deals, with or without a clock; the one left unfinished; how past ones went."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from engine import words
from engine.drills.match import KIND, MOST_DEALS, Match, MatchRules, MatchTally, tallies
from engine.store.values import StoreError
from engine.words import clock
from game.draw.theme import BODY, BODY_BOLD, HEADING, SMALL, SOFT
from game.play.matches import MatchPlay, keep_rules, kept_match, kept_rules, match_house
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.layout import Rect, columns
from game.ui.popups import Question
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.house import house_words
from game.words.match import seat_sentence, standing

WIDEST = 1100
TWO_COLUMNS = 820
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
        ui.scroll("match", rest, lambda area: self._all(ui, area))

    def _all(self, ui: Ui, area: Rect) -> int:
        width = min(area.width, ui.u(WIDEST))
        place = Rect(area.centerx - width // 2, area.top, width, 0)
        if width >= ui.u(TWO_COLUMNS):
            left, right = columns(place, [1.3, 1], ui.u(20))
            return max(self._setup(ui, left), self._figures(ui, right))
        return self._figures(ui, place.move(0, self._setup(ui, place) - place.top))

    def _setup(self, ui: Ui, area: Rect) -> int:
        y = area.top
        if self.left is not None:
            y = ui.titled((area.left, y), area.width, "Where you left off", partial(self._going_on, ui, self.left))
        return ui.titled((area.left, y), area.width, "A new match", partial(self._new, ui))

    def _going_on(self, ui: Ui, play: MatchPlay, area: Rect) -> int:
        y = area.top
        if play.match.results:
            y = ui.paragraph(standing(play.match), (area.left, y), area.width, BODY)
        said = seat_sentence(play.match)
        said += f" {clock(play.left)} minutes are left for it." if play.left is not None else ""
        y = ui.paragraph(said, (area.left, y), area.width, BODY) + ui.u(12)
        y = ui.buttons((area.left, y), area.width, [Press("Go on with the match", self.go_on, "return", main=True)])
        return ui.notice(self.trouble, (area.left, y + ui.u(10)), area.width) if self.trouble else y

    def _new(self, ui: Ui, area: Rect) -> int:
        rules = self.rules
        y = ui.paragraph("Deals", area.topleft, area.width, BODY_BOLD) + ui.u(4)
        y = ui.stepper(
            (area.left, y), "deals", rules.deals, 1, MOST_DEALS, lambda to: self._set(replace(rules, deals=to))
        ).bottom + ui.u(14)  # fmt: skip
        y = ui.paragraph("Time for each deal", (area.left, y), area.width, BODY_BOLD) + ui.u(4)
        options: list[tuple[int | None, str]] = [(None, "No clock")]
        options += [(minutes, f"{minutes} minutes") for minutes in sorted({*MINUTES, *_also(rules.minutes)})]
        y = ui.choice(
            (area.left, y), area.width, "clock", options, rules.minutes,
            lambda to: self._set(replace(rules, minutes=to)),
        ) + ui.u(12)  # fmt: skip
        text = (
            "Four play, and points are kept by who sits where as you see it. After each deal East passes to the right"
            f"{', unless East has won' if self.desk.house.east_stays else ''}. "
            "When a deal’s time is up, nobody scores in it. Advice stays hidden, and every choice stands."
        )
        y = ui.paragraph(text, (area.left, y), area.width, BODY, SOFT) + ui.u(10)
        sheet, chosen = self.desk.current_sheet, self.desk.chosen
        cut = f"{len(chosen)} of {len(sheet.sections)} sections" if chosen else "all sections"
        house = house_words(match_house(self.desk.house, self.desk.house.seat))
        y = ui.paragraph(f"{sheet.name} {sheet.season}, {cut}", (area.left, y), area.width, BODY_BOLD)
        y = ui.paragraph(f"{words.sentence(house)}.", (area.left, y), area.width, BODY, SOFT) + ui.u(12)
        presses = [
            Press("Begin", self.begin, "return" if self.left is None else "b", main=self.left is None),
            Press("Sheet and sections", self._choose, "c"),
            Press("House rules", self._house, "r"),
        ]
        return ui.buttons((area.left, y), area.width, presses)

    def _choose(self) -> Scene | None:
        return self.routes.choosing(self)

    def _house(self) -> Scene | None:
        return self.routes.house_rules(self)

    def _figures(self, ui: Ui, area: Rect) -> int:
        return ui.titled(area.topleft, area.width, "So far", partial(self._tally_rows, ui))

    def _tally_rows(self, ui: Ui, area: Rect) -> int:
        if not self.tallies:
            return ui.paragraph("No match finished yet.", area.topleft, area.width, BODY, SOFT)
        y = area.top
        for tally in self.tallies:
            title = "Without a clock" if tally.allowance is None else f"With {clock(tally.allowance)} minutes a deal"
            y = ui.paragraph(title, (area.left, y), area.width, HEADING)
            for text in tally_sentences(tally):
                y = ui.paragraph(text, (area.left, y), area.width, BODY)
            y += ui.u(12)
        note = "Matches with and without a clock are counted apart."
        return ui.paragraph(note, (area.left, y), area.width, SMALL, SOFT)


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
