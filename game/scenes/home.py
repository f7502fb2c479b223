"""The start screen: the next useful ten minutes and why, the season at a glance; all else is one press away."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime
from functools import partial

from engine.drills.calendar import Next, Suggestion
from engine.store.values import LineSummary
from engine.words import listed, sentence, when
from game.draw.theme import (
    BODY,
    BODY_BOLD,
    GREAT,
    SMALL,
    SOFT,
    TEAL,
    TITLE,
    TOUCH,
)
from game.play.matches import LeftOff, MatchPlay, left_off
from game.play.practice.filling import LedgerFilling
from game.play.practice.standing import WhatNext, standing_of
from game.play.writing.drafts import DraftNote, Drafts
from game.scenes.glance import fill_glance, winds_on_ledge, written_card
from game.scenes.places import fill_places
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.layout import Rect
from game.ui.popups import Question
from game.ui.scene import Scene
from game.ui.scrolling import GUTTER
from game.ui.targets import Do
from game.ui.widgets import Ui
from game.words.deal.twists import twist_clause
from game.words.house import house_words
from game.words.match import seat_sentence, standing
from game.words.season.home import next_reason, next_title
from game.words.settings import lost_setting
from game.words.sheet import sheet_words

TWO_COLUMNS = 820
WIDEST = 1240
LEAST_SEEN = 40
"""Units of height that what is scrolled keeps at least."""
LEAST_SEASON = 130
"""The same, where a new deal stays under it."""
TIGHT = 400
"""Units of height of a window in which the name is set small and buttons have no key caps."""
BANNER, BANNER_WIDE = 100, 400
MOST_NEXT = 3
"""Things to do next that are offered at once."""
CODE_LENGTH = 100


class Farewell(Scene):
    """The program ends."""

    over = True

    def paint(self, ui: Ui) -> None:
        """Nothing: it is never shown."""


class HomeScene(Scene):
    """What to do now, and what else there is."""

    def __init__(self, routes: Routes) -> None:
        super().__init__(routes.look)
        self.routes, self.desk = routes, routes.desk
        self._code = ""
        self._fault = ""
        self._low = False
        """Whether not all of it can be seen at once."""
        self._bare = False
        """Whether there is not even room for what the name says of itself."""
        self._deal_stays = False
        """Whether a new deal stays in sight under what scrolls."""
        self._left = LeftOff()
        self._trouble = ""
        """Why what was left can't be gone on with."""
        self._draft: DraftNote | None = None
        """The sheet being written."""
        self._standing: WhatNext | None = None
        """None where the store can't say."""
        self._filling: LedgerFilling | None = None
        self.enter()

    def enter(self) -> None:
        """A deal or a match may have been left or finished meanwhile."""
        self._left = left_off(self.desk)
        self._draft = Drafts.beside(self.desk.store.path).in_writing()
        ledgers = self.desk.ledgers()
        if self._filling is None or self._filling.ledgers.sheet is not ledgers.sheet:
            self._filling = LedgerFilling(ledgers, self.desk.worker, self._read)
        self._read()
        self._filling.begin()

    def _read(self) -> None:
        """What is known now; the figures of the latest games come in from the background."""
        left, self.dirty = self._left, True
        try:
            self._standing = standing_of(
                self.desk, date.today(), deal_left=left.game is not None, match_left=left.match is not None
            )
        except ValueError:
            self._standing = None

    def back(self) -> Scene | None:
        """Esc asks whether to leave."""
        text = "Every deal is kept as it stands, and is here when you come back."
        return Question(self, "Leave the game?", text, [Press("Leave", self._leave, "l", main=True)])

    def _leave(self) -> Scene | None:
        return Farewell(self.look)

    # What is on it.

    def paint(self, ui: Ui) -> None:
        """A banner, the next useful thing, and what else there is; only the last is ever scrolled."""
        high = ui.page().height
        self._low, self._bare, self._deal_stays = False, False, False
        self._low = self._filled(ui).whole > high
        if self._low:
            self._bare = self._filled(ui).whole > high
            self._deal_stays = True
            self._deal_stays = self._filled(ui).height <= high
        scrolled(ui, "home", ui.page(), self._fill, widest=WIDEST, roomy=True)

    def _filled(self, ui: Ui) -> Column:
        page = Column(ui, min(ui.page().width - ui.u(GUTTER), ui.u(WIDEST)))
        self._fill(page)
        return page

    def _fill(self, page: Column) -> None:
        wide = page.has(TWO_COLUMNS)
        page.spring(1)
        if not self._low:
            self._banner(page, winds=wide)
            self._told(page)
        with page.beside([1.75, 1], least=TWO_COLUMNS, gap=GUTTER) as (left, right):
            if self._low:
                self._banner(left, winds=False)
                self._told(left)
            self._lead(left)
            if wide and self._deal_stays:
                left.rest("deals", self._useful, LEAST_SEASON)
                left.gap(12)
                self._another(left)
            else:
                left.rest("deals", self._deals if wide else self._everything, LEAST_SEEN)
            if wide:
                right.rest("places", self._places, LEAST_SEEN)
        page.spring(2)

    def _everything(self, page: Column) -> None:
        """What else there is, under one another."""
        self._deals(page)
        page.gap(16)
        self._places(page)

    def _banner(self, page: Column, winds: bool) -> None:
        """The name, and the winds on a ledge where there is room for them."""
        tight = _tight(page.ui) or self._bare
        with page.aside(page.ui.u(BANNER_WIDE), right=True, stacked=not winds, down="middle") as (words, band):
            words.text("Lone East", TITLE if tight else GREAT, TEAL)
            if not tight:
                words.text("American-style mahjong, to practise on your own", BODY, SOFT)
            if winds:
                band.block(BANNER, partial(winds_on_ledge, band.ui))
        page.gap(8 if tight else 18)

    def _told(self, page: Column) -> None:
        """What the program has to say, until it has been read."""
        told = (*self.desk.told, *map(lost_setting, self.desk.lost_settings))
        for text in told:
            page.notice(f"{text.rstrip('.')}.")
            page.gap(10)
        if told:
            page.buttons([Press("I have read this", self._heard)])
            page.gap(16)

    # What comes next.

    def _lead(self, page: Column) -> None:
        """The next useful thing to do, and why. It is never scrolled away."""
        offers = self._offers()
        with page.panel("Your next ten minutes" if offers else "Your deal", pad=self._pad) as inside:
            if offers:
                self._offer(inside, offers[0])
            else:
                self._new(inside, main=True)
        page.gap(12 if self._low else 16)

    def _deals(self, page: Column) -> None:
        """What else is useful, the season, and another deal."""
        self._useful(page)
        self._another(page)

    def _useful(self, page: Column) -> None:
        """What else is useful, and the season."""
        sheet = self.desk.current_sheet
        for one in self._offers()[1:]:
            self._other(page, one)
        if self._draft is not None:
            draft = self._draft
            written_card(page, draft, self._try_left(lambda: self.routes.write_on(draft.id, self)))
            page.gap(12 if self._low else 16)
        standing = self._standing
        if standing is not None and standing.glance.begun:
            with page.panel(f"Your season on {sheet.name} {sheet.season}", pad=self._pad) as inside:
                fill_glance(inside, standing.glance)
            page.gap(12 if self._low else 16)

    def _another(self, page: Column) -> None:
        """A new deal, by chance or by its code."""
        if self._offers():
            with page.panel("Your deal" if self._left.nothing else "Another deal", pad=self._pad) as inside:
                self._new(inside, main=False)
                inside.gap(10 if self._low else 18)
                self._by_code(inside)
        else:
            with page.panel(pad=self._pad) as inside:
                self._by_code(inside)

    @property
    def _pad(self) -> float:
        """Units of the margin in a panel."""
        return 14 if self._low else 20

    def _offers(self) -> list[Suggestion]:
        """What to do next, the most useful first; a new deal has a panel of its own."""
        if self._standing is None:
            return self._left_over()
        found = [one for one in self._standing.next if one.next not in (Next.PLAY, Next.MATCH, Next.DEAL)]
        return [*self._left_over(), *found][:MOST_NEXT]

    def _left_over(self) -> list[Suggestion]:
        """What was left before its end: what was played to last comes first."""
        left = self._left
        found = [Suggestion(Next.MATCH)] if left.match is not None else []
        game = [Suggestion(Next.DEAL)] if left.game is not None else []
        return [*found, *game] if left.match_last else [*game, *found]

    def _title(self, one: Suggestion) -> str:
        return next_title(one, () if self._standing is None else self._standing.due)

    def _reason(self, one: Suggestion) -> str:
        if self._standing is None:
            return ""
        due, ledger = self._standing.due, self._standing.ledger
        return next_reason(one, self.desk.current_sheet, ledger, due, datetime.now(UTC))

    def _begin(self, one: Suggestion) -> Callable[[], Scene | None]:
        """What a suggestion's button does."""
        sheet = self.desk.current_sheet
        if one.next is Next.READ_SHEET:
            return lambda: self.routes.sheet(sheet, self, self.desk.chosen)
        if one.next is Next.WIN_HAND:
            return lambda: self.routes.wanted_deal(one.hand)
        return lambda: self.routes.practice(self)

    def _offer(self, inside: Column, one: Suggestion) -> None:
        """The most useful thing, in full; its button is the screen's main one."""
        inside.text(self._title(one), BODY_BOLD, TEAL)
        if one.next in (Next.MATCH, Next.DEAL):
            self._left_off(inside, one.next)
            if self._trouble:
                inside.gap(10)
                inside.notice(self._trouble)
            return
        inside.text(self._reason(one))
        inside.gap(12)
        says = {Next.READ_SHEET: "Read it", Next.WIN_HAND: "Deal me a game for it"}.get(one.next, "Practise")
        inside.buttons([Press(says, self._begin(one), "return", main=True)], show_keys=not _tight(inside.ui))

    def _other(self, page: Column, one: Suggestion) -> None:
        """Another useful thing: what was left, with its own button, or a row to press."""
        title = self._title(one)
        if one.next in (Next.MATCH, Next.DEAL):
            with page.panel("Left before that", pad=self._pad) as inside:
                self._left_off(inside, one.next)
        else:
            with page.card(f"next: {title}", self._begin(one), says=title, pad=6) as card:
                card.text(title, BODY_BOLD, TEAL)
                card.text(self._reason(one), SMALL, SOFT)
        page.gap(12 if self._low else 16)

    # Deals.

    def _left_off(self, inside: Column, which: Next) -> None:
        """The deal or the match that was left; the one that was played to last has the main button."""
        left = self._left
        if which is Next.MATCH and left.match is not None:
            self._match(inside, left.match)
        elif left.game is not None:
            self._game(inside, left.game)

    def _match(self, inside: Column, play: MatchPlay) -> None:
        inside.text(" ".join(["A match.", *([standing(play.match)] if play.match.results else []),
                              seat_sentence(play.match)]))  # fmt: skip
        inside.gap(12)
        go = self._try_left(lambda: self.routes.match_deal(play))
        inside.buttons([_go_on("Go on with the match", go, main=self._left.match_last)], not _tight(inside.ui))

    def _game(self, inside: Column, line: LineSummary) -> None:
        words = f"{line.sheet_name} {line.season}, {house_words(line.house)}"
        if line.chosen is not None:
            words += f", only {listed(list(line.chosen))}"
        inside.text(f"{words}.")
        inside.text(f"{f'Deal {line.deal}, left' if line.deal else 'Left'} {when(line.touched)}.", SMALL, SOFT)
        inside.gap(12)
        go = self._try_left(lambda: self.routes.resume(line.id))
        inside.buttons([_go_on("Go on with this deal", go, main=not self._left.match_last)], not _tight(inside.ui))

    def _try_left(self, go: Callable[[], Scene]) -> Callable[[], Scene]:
        """Go on, or say why that can't be: the deal may be damaged, or another window may have it."""

        def do() -> Scene:
            try:
                return go()
            except (OSError, ValueError) as error:
                self._trouble = sentence(f"{str(error).rstrip('.')}.")
                return self

        return do

    def _new(self, inside: Column, main: bool) -> None:
        inside.text(sheet_words(self.desk.current_sheet, self.desk.chosen), BODY_BOLD)
        inside.text(f"{sentence(house_words(self.desk.house))}{twist_clause(self.desk)}.", BODY, SOFT)
        inside.gap(12)
        inside.buttons([
            Press("Deal", self._deal, "d", main=main),
            Press("Sheet and sections", lambda: self.routes.choosing(self), "c"),
            Press("House rules", lambda: self.routes.house_rules(self), "r"),
        ], show_keys=not _tight(inside.ui))  # fmt: skip

    def _by_code(self, inside: Column) -> None:
        """A field for a deal code."""
        inside.caption("A certain deal, by its code")
        ui = inside.ui
        button = ui.button_size("Deal it")[0]
        stacked = inside.width < ui.u(210) + button
        with inside.aside(button, gap=10, right=True, stacked=stacked, apart=8) as (field, press):
            field.block(TOUCH, partial(self._code_field, ui))
            says, able = "Deal it", bool(self._code.strip())
            size = (button, ui.u(TOUCH))
            press.block(TOUCH, lambda rect: ui.button(Rect(rect.topleft, size), says, self._deal_code, enabled=able))
        if self._fault:
            inside.gap(10)
            inside.notice(self._fault)

    def _code_field(self, ui: Ui, rect: Rect) -> None:
        ui.field(
            rect, "deal code", self._code, self._write, hint="such as K7Q2-M4X9-3TRB", enter=self._deal_code,
            longest=CODE_LENGTH,
        )  # fmt: skip

    def _write(self, text: str) -> Scene | None:
        self._code, self._fault = text, ""
        return None

    def _deal(self) -> Scene | None:
        return self._try(None)

    def _deal_code(self) -> Scene | None:
        return self._try(self._code) if self._code.strip() else None

    def _try(self, code: str | None) -> Scene | None:
        try:
            return self.routes.new_deal(code)
        except ValueError as error:
            self._fault = sentence(f"{str(error).rstrip('.')}.")
            return None

    def _heard(self) -> Scene | None:
        self.desk.heard()
        return None

    def _places(self, page: Column) -> None:
        fill_places(page, self.routes, self, self._leave, low=self._low)


def _tight(ui: Ui) -> bool:
    return ui.window.height < ui.u(TIGHT)


def _go_on(says: str, do: Do, main: bool) -> Press:
    """The button of what was left; Enter presses the main one."""
    return Press(says, do, "return" if main else "", main=main)
