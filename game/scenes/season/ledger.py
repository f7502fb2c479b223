"""The season's ledger: every hand of the sheet with its wins, the pace to win them all, and a game for any of them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from functools import partial

from engine.drills.ledger import HandRecord, Ledger
from engine.words import count, listed, odds, sentence
from game.draw.theme import (
    BLUE,
    BODY,
    BODY_BOLD,
    EDGE,
    GREAT,
    HEADING,
    ON_TEAL,
    RULE,
    SMALL,
    SMALL_BOLD,
    SOFT,
    TEAL,
    TOUCH,
)
from game.play.practice.filling import LedgerFilling
from game.play.practice.ledgers import Ledgers
from game.play.practice.standing import most_promising
from game.scenes.hand import draw_groups
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.layout import Rect
from game.ui.popups import pane_of
from game.ui.scene import Popup, Scene
from game.ui.screen import Screen
from game.ui.widgets import Ui
from game.words.season.calendar import read_day
from game.words.season.ledger import pace_words, record_words, short_words, summary_words
from game.words.sheet import ShownGroup, shown_rows

WIDEST = 1500
SECTION = 400
"""Units of width of a section's card at least."""
MARK = 28
"""Units of width of the mark before a hand."""
BAR, THIN = 12, 7
"""Units of height of bars."""
DAY = 260
"""Units of width of the field for a day."""
TWO_COLUMNS = 760
MOST_NAMED = 5
"""Hands that are named in a list."""
ALL, WON, LEFT = "all", "won", "left"
SHOWN = ((ALL, "All hands"), (LEFT, "Still to win"), (WON, "Won"))


class LedgerScene(Scene):
    """All hands of one sheet, section by section."""

    def __init__(self, routes: Routes, ledgers: Ledgers, back: Scene) -> None:
        super().__init__(routes.look)
        self.routes, self.ledgers = routes, ledgers
        self._back = back
        self.filling = LedgerFilling(ledgers, routes.desk.worker, self._read)
        self.shown = ALL
        self.ledger: Ledger = ledgers.ledger(date.today())
        self.enter()

    def enter(self) -> None:
        """Games may have been played meanwhile; their figures are worked out in the background."""
        self.filling.begin()
        self._read()

    def _read(self) -> None:
        self.ledger = self.ledgers.ledger(date.today())
        self.dirty = True

    @property
    def working(self) -> bool:
        """Whether games are looked through."""
        return self.filling.working

    def back(self) -> Screen | None:
        """Where the player came from."""
        return self._back

    # Painting.

    def paint(self, ui: Ui) -> None:
        """What it comes to, then the sections side by side."""
        sheet = self.ledgers.sheet
        rest = ui.header("Season’s ledger", f"{sheet.name} {sheet.season}", self.back)
        scrolled(ui, "ledger", rest, self._fill, widest=WIDEST)

    def show(self, shown: str) -> Screen | None:
        """All hands, or only those that are won or not."""
        self.shown = shown
        return None

    def _fill(self, page: Column) -> None:
        with page.panel() as inside:
            self._whole(inside)
        page.gap(12)
        page.add(lambda at, width: page.ui.choice(at, width, "hands", SHOWN, self.shown, self.show))
        page.gap(12)
        with page.grid(SECTION, 14) as cell:
            for section in self.ledgers.sheet.sections:
                records = [record for record in self.ledger.records if record.section == section.name]
                shown = [record for record in records if self._shows(record)]
                if shown:
                    self._section(cell(), section.name, shown)
        page.gap(10)
        said = "Games count that you played to their end without taking anything back. Press a hand for more."
        page.text(said, SMALL, SOFT)

    def _shows(self, record: HandRecord) -> bool:
        won = record.wins.all > 0
        return self.shown == ALL or won == (self.shown == WON)

    def _whole(self, page: Column) -> None:
        """How far one has come, the pace, and what to try next."""
        ledger = self.ledger
        with page.beside([1, 1.3], least=TWO_COLUMNS, gap=30) as (left, right):
            left.text(f"{ledger.won} of {len(ledger.records)}", GREAT, TEAL)
            left.block(BAR, partial(_bar, left.ui, ledger.won / max(len(ledger.records), 1)))
            left.gap(6)
            left.text(summary_words(ledger), BODY)
            if ledger.pace is not None:
                left.text(pace_words(ledger.pace), BODY, SOFT)
            if self.working:
                left.text(f"Looking through {count(len(self.filling.waiting) + 1, 'more game')}…", SMALL, SOFT)
            for title, names in self._next():
                right.caption(title)
                right.text(names, BODY)
                right.gap(10)

    def _next(self) -> list[tuple[str, str]]:
        """Hands that are worth a try, and why."""
        found = []
        near = [record.hand for record in most_promising(self.ledger) if record.near]
        if near:
            found.append(("Nearest so far", f"{listed(near[:MOST_NAMED])}: one or two tiles short before."))
        avoided = [record.hand for record in self.ledger.avoided]
        if avoided:
            more = f" and {len(avoided) - MOST_NAMED} more" if len(avoided) > MOST_NAMED else ""
            names = ", ".join(avoided[:MOST_NAMED]) if more else listed(avoided)
            found.append(("Within reach at times and never gone for", f"{names}{more}."))
        whole = [name for name, (won, hands) in self.ledger.sections.items() if won == hands]
        if whole:
            found.append(("Sections won whole", f"{listed(whole)}."))
        return found

    def _section(self, page: Column, name: str, records: Sequence[HandRecord]) -> None:
        won, hands = self.ledger.sections[name]
        with page.panel(f"{name}, {won} of {hands}", fills=True) as inside:
            inside.block(THIN, partial(_bar, inside.ui, won / max(hands, 1)))
            for record in records:
                self._row(inside, record)

    def _row(self, page: Column, record: HandRecord) -> None:
        page.gap(6)
        with page.card(f"hand {record.hand}", partial(self.open, record), says=record.hand, pad=5, edge=10) as inside:
            ui = inside.ui
            with inside.aside(ui.u(MARK), gap=8, down="middle") as (mark, words):
                mark.block(MARK, partial(_mark, ui, record.wins.all))
                words.text(record.hand, BODY_BOLD)
                words.text(short_words(record), SMALL, SOFT)
                if not record.wins.all and record.best:
                    _best(words, record.best)

    def open(self, record: HandRecord) -> Screen | None:
        """A hand's own line, and what can be done for it."""
        return HandPopup(self, record)


def _mark(ui: Ui, wins: int, rect: Rect) -> None:
    """A filled ring for a hand that is won, with a tick or the number of wins; an empty ring for one that is not."""
    side = min(rect.width, rect.height)
    ring = Rect(0, 0, side, side)
    ring.center = rect.center
    ui.panel(ring, TEAL if wins else None, TEAL if wins else EDGE, side, 2)
    if wins == 1:
        ui.mark("tick", ring.center, 15, ON_TEAL)
    elif wins:
        with ui.within(ring):
            ui.fitted(str(wins), ring.inflate(-ui.u(4), -ui.u(4)), SMALL_BOLD, ON_TEAL, "middle")


def _bar(ui: Ui, share: float, rect: Rect) -> None:
    """How much is won."""
    ui.bar(rect, share, TEAL, RULE)


def _best(page: Column, best: float) -> None:
    """How likely a hand was at its best moment, as a thin bar and in words."""
    ui = page.ui
    said = f"at best {odds(best)} likely"
    with page.aside(ui.width(said, SMALL) + ui.u(4), gap=8, right=True, down="middle") as (bar, text):
        bar.block(THIN, lambda rect: ui.bar(rect, best, BLUE, RULE))
        text.text(said, SMALL, SOFT)


class HandPopup(Popup):
    """What the ledger says of one hand, its tiles, and a game dealt for it."""

    def __init__(self, parent: LedgerScene, record: HandRecord) -> None:
        super().__init__(parent)
        self._ledger = parent
        self.record = record
        self.day = date.today().isoformat()
        """The day of a win at a real table, as it is written."""
        self.fault = ""

    def deal(self) -> Screen | None:
        """A game in which the hand is within reach."""
        return self._ledger.routes.wanted_deal(self.record.hand)

    def tick(self) -> Screen | None:
        """The hand was won at a real table, on the day that is written."""
        try:
            day = read_day(self.day)
            if day > date.today():
                raise ValueError("that day is still to come; write the day on which you won")
        except ValueError as error:
            self.fault = sentence(f"{str(error).rstrip('.')}.")
            return None
        self._ledger.ledgers.tick(self.record.hand, day)
        self._ledger.enter()
        return self._ledger

    def _write(self, text: str) -> Screen | None:
        self.day, self.fault = text, ""
        return None

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
        page.gap(12)
        page.caption("Won at a real table on")
        page.block(TOUCH, lambda rect: self._field(page.ui, rect))
        if self.fault:
            page.gap(8)
            page.notice(self.fault)

    def _field(self, ui: Ui, rect: Rect) -> None:
        wide = min(rect.width, ui.u(DAY))
        place = Rect(rect.topleft, (wide, rect.height))
        ui.field(place, "day", self.day, self._write, hint="such as 2026-04-01", enter=self.tick, longest=40)

    @staticmethod
    def _tiles(ui: Ui, row: tuple[ShownGroup, ...], at: tuple[int, int], width: int) -> int:
        return draw_groups(ui, row, Rect(at, (width, 0)), 44)
