"""The season's ledger: every hand of the sheet with its wins, the pace to win them all, and a game for any of them."""

from __future__ import annotations

from datetime import date
from functools import partial

from engine.drills.ledger import HandFigures, HandRecord, Ledger
from engine.store.values import LineSummary
from engine.words import count
from game.draw.theme import BODY, BODY_BOLD, EDGE, HEADING, ON_TEAL, SMALL, SOFT, TEAL
from game.play.practice.ledgers import Ledgers, PlayedGame
from game.scenes.hand import draw_groups
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.layout import Rect
from game.ui.popups import pane_of
from game.ui.scene import Popup, Scene
from game.ui.screen import Screen
from game.ui.widgets import Ui
from game.words.season.ledger import pace_words, record_words, short_words, summary_words
from game.words.sheet import ShownGroup, shown_rows

WIDEST = 1500
SECTION = 400
"""Units of width of a section's card at least."""
MARK = 26
"""Units of width of the mark before a hand."""


class LedgerScene(Scene):
    """All hands of one sheet, section by section."""

    def __init__(self, routes: Routes, ledgers: Ledgers, back: Scene) -> None:
        super().__init__(routes.look)
        self.routes, self.ledgers = routes, ledgers
        self._back = back
        self.waiting: list[LineSummary] = []
        """Games whose figures are still to be worked out."""
        self.working = False
        self.ledger: Ledger = ledgers.ledger(date.today())
        self.enter()

    def enter(self) -> None:
        """Games may have been played meanwhile."""
        self.ledger = self.ledgers.ledger(date.today())
        self.dirty = True
        if not self.working:
            self.waiting = self.ledgers.waiting()
            self._work()

    def back(self) -> Screen | None:
        """Where the player came from."""
        return self._back

    # Working out.

    def _work(self) -> None:
        """Work the next game out in the background; the ledger grows with each."""
        while self.waiting:
            line = self.waiting.pop(0)
            game = self.ledgers.open(line)
            if game is not None:
                self.working = True
                self.routes.desk.worker.submit(partial(self._figures, game), partial(self._worked_out, line.id))
                return
        self.working = False

    def _figures(self, game: PlayedGame, _: object) -> HandFigures:
        return self.ledgers.figures(game)

    def _worked_out(self, line: int, figures: HandFigures) -> None:
        self.ledgers.keep(line, figures)
        self.ledger = self.ledgers.ledger(date.today())
        self.dirty = True
        self._work()

    # Painting.

    def paint(self, ui: Ui) -> None:
        """What it comes to, then the sections side by side."""
        sheet = self.ledgers.sheet
        rest = ui.header("Season’s ledger", f"{sheet.name} {sheet.season}", self.back)
        scrolled(ui, "ledger", rest, self._fill, widest=WIDEST)

    def _fill(self, page: Column) -> None:
        page.text(summary_words(self.ledger), HEADING, TEAL)
        if self.ledger.pace is not None:
            page.gap(2)
            page.text(pace_words(self.ledger.pace), BODY, SOFT)
        if self.working:
            page.gap(2)
            page.text(f"Looking through {count(len(self.waiting) + 1, 'more game')}…", SMALL, SOFT)
        page.gap(4)
        said = "Games count that you played to their end without taking anything back. Press a hand for more."
        page.text(said, SMALL, SOFT)
        page.gap(12)
        with page.grid(SECTION, 14) as cell:
            for section in self.ledgers.sheet.sections:
                self._section(cell(), section.name)

    def _section(self, page: Column, name: str) -> None:
        won, hands = self.ledger.sections[name]
        with page.panel(f"{name}, {won} of {hands}", fills=True) as inside:
            for record in self.ledger.records:
                if record.section == name:
                    self._row(inside, record)

    def _row(self, page: Column, record: HandRecord) -> None:
        page.gap(4)
        with page.card(f"hand {record.hand}", partial(self.open, record), says=record.hand, pad=5, edge=10) as inside:
            ui = inside.ui
            with inside.aside(ui.u(MARK), gap=8, down="middle") as (mark, words):
                mark.block(MARK, partial(_mark, ui, record.wins.all > 0))
                words.text(record.hand, BODY_BOLD)
                words.text(short_words(record), SMALL, SOFT)

    def open(self, record: HandRecord) -> Screen | None:
        """A hand's own line, and what can be done for it."""
        return HandPopup(self, record)


def _mark(ui: Ui, won: bool, rect: Rect) -> None:
    """A filled ring with a tick for a hand that is won, an empty ring for one that is not."""
    side = min(rect.width, rect.height)
    ring = Rect(0, 0, side, side)
    ring.center = rect.center
    ui.panel(ring, TEAL if won else None, TEAL if won else EDGE, side, 2)
    if won:
        ui.mark("tick", ring.center, 15, ON_TEAL)


class HandPopup(Popup):
    """What the ledger says of one hand, its tiles, and a game dealt for it."""

    def __init__(self, parent: LedgerScene, record: HandRecord) -> None:
        super().__init__(parent)
        self._ledger = parent
        self.record = record

    def deal(self) -> Screen | None:
        """A game in which the hand is within reach."""
        return self._ledger.routes.wanted_deal(self.record.hand)

    def tick(self) -> Screen | None:
        """The hand was won at a real table today."""
        self._ledger.ledgers.tick(self.record.hand, date.today())
        self._ledger.enter()
        return self._ledger

    def untick(self) -> Screen | None:
        """That tick was a mistake."""
        self._ledger.ledgers.untick(self.record.hand)
        self._ledger.enter()
        return self._ledger

    def paint(self, ui: Ui) -> None:
        """The line, the hand, the buttons."""
        presses = [
            Press("Deal me a game for it", self.deal, "d", main=True),
            Press("I won it at a real table", self.tick, "w"),
        ]
        if self.record.wins.ticked:
            presses.append(Press("Take that back", self.untick, "t"))
        pane_of(ui, 760, "hand", self._fill, [*presses, Press("Back", self.back, "escape")])

    def _fill(self, page: Column) -> None:
        sheet = self._ledger.ledgers.sheet
        hand = sheet.hand(self.record.hand)
        page.text(hand.name, HEADING, TEAL)
        page.text(hand.wording, BODY, SOFT)
        for row in shown_rows(sheet, hand):
            page.gap(6)
            page.add(partial(self._tiles, page.ui, row))
        page.gap(12)
        page.text(record_words(self.record), BODY)
        page.gap(6)
        said = "A game dealt for a hand is a fair shuffle in which the hand is within reach. Its win counts apart."
        page.text(said, SMALL, SOFT)

    @staticmethod
    def _tiles(ui: Ui, row: tuple[ShownGroup, ...], at: tuple[int, int], width: int) -> int:
        return draw_groups(ui, row, Rect(at, (width, 0)), 44)
