"""The start screen: the next useful ten minutes and why, the season at a glance; all else is one press away."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime
from enum import IntEnum
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
    Style,
)
from game.play.matches import LeftOff, MatchPlay, left_off
from game.play.practice.filling import LedgerFilling
from game.play.practice.standing import WhatNext, standing_of
from game.play.writing.drafts import DraftNote, Drafts
from game.scenes.home.another import AnotherDeal
from game.scenes.home.glance import fill_glance, winds_on_ledge, written_card
from game.scenes.home.places import fill_places
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.popups import Question
from game.ui.scene import Scene
from game.ui.scrolling import GUTTER
from game.ui.targets import Do
from game.ui.widgets import Ui
from game.words.house import house_words
from game.words.match import seat_sentence, standing
from game.words.season.home import next_reason, next_title
from game.words.settings import lost_setting

TWO_COLUMNS = 820
WIDEST = 1240
LEAST_SEEN = 40
"""Units of height that what is scrolled keeps at least."""
LEAST_SEASON = 130
"""The same of the season, where another deal stands under it in full."""
BANNER, BANNER_WIDE = 100, 400
MOST_NEXT = 3
"""Things to do next that are offered at once."""


class HomeRoom(IntEnum):
    """How much of home has room at once. What is needed most (go on, a new deal, its code) is never scrolled away."""

    ALL = 0
    """Everything, under a banner as wide as the window."""
    DEAL = 1
    """Another deal in full; the rest is scrolled."""
    SHORT = 2
    """Another deal in a line or two, and the name without what it says of itself."""
    PLAIN = 3
    """Buttons without their keys."""
    LEAST = 4
    """No name and no titles, and what comes next in small letters."""


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
        self._another = AnotherDeal(routes)
        self._room = HomeRoom.ALL
        self._wide = True
        """Whether the places stand beside the rest."""
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
        """Esc asks whether to leave, and says what would be lost."""
        text, trouble = "Every deal is kept as it stands, and is here when you come back.", self.desk.store.trouble
        if trouble is not None and self.desk.store.unsaved:
            text = f"{sentence(trouble)}. If you leave before that, what is not saved is lost."
        return Question(self, "Leave the game?", text, [Press("Leave", self._leave, "l", main=True)])

    def _ask_or_leave(self) -> Scene | None:
        """The way out is asked about only while something would be lost by it."""
        return self.back() if self.desk.store.unsaved else self._leave()

    def _leave(self) -> Scene | None:
        return Farewell(self.look)

    # What is on it.

    def paint(self, ui: Ui) -> None:
        """A banner, what comes next, another deal, and what else there is; only the last is ever scrolled."""
        high = ui.page().height
        for room in HomeRoom:
            self._room = room
            page = self._filled(ui)
            if (page.whole if room is HomeRoom.ALL else page.height) <= high:
                break
        scrolled(ui, "home", ui.page(), self._fill, widest=WIDEST, roomy=True)

    def _filled(self, ui: Ui) -> Column:
        page = Column(ui, min(ui.page().width - ui.u(GUTTER), ui.u(WIDEST)))
        self._fill(page)
        return page

    def _fill(self, page: Column) -> None:
        wide, low = page.has(TWO_COLUMNS), self._low
        self._wide = wide
        page.spring(1)
        if not low:
            self._banner(page, winds=wide)
            self._told(page)
        with page.beside([1.75, 1], least=TWO_COLUMNS, gap=GUTTER) as (left, right):
            if low:
                self._banner(left, winds=False)
                self._told(left)
            self._lead(left)
            if low:
                self._deal(left)
                left.rest("deals", self._useful if wide else self._everything,
                          LEAST_SEASON if self._room is HomeRoom.DEAL else LEAST_SEEN)  # fmt: skip
            else:
                left.rest("deals", self._deals if wide else self._everything_else, LEAST_SEEN)
            if wide:
                right.rest("places", self._places, LEAST_SEEN)
        page.spring(2)

    def _deals(self, page: Column) -> None:
        """What else is useful, the season, and another deal."""
        self._useful(page)
        self._deal(page)

    def _everything(self, page: Column) -> None:
        """What else there is but another deal, under one another."""
        self._useful(page)
        self._places(page)

    def _everything_else(self, page: Column) -> None:
        """All that is not what comes next, under one another."""
        self._deals(page)
        self._places(page)

    @property
    def _low(self) -> bool:
        """Whether not all of it can be seen at once."""
        return self._room is not HomeRoom.ALL

    @property
    def _plain(self) -> bool:
        """Whether buttons go without their keys."""
        return self._room >= HomeRoom.PLAIN

    def _banner(self, page: Column, winds: bool) -> None:
        """The name, and the winds on a ledge where there is room for them."""
        if self._room is HomeRoom.LEAST:
            return
        with page.aside(page.ui.u(BANNER_WIDE), right=True, stacked=not winds, down="middle") as (words, band):
            short = self._room >= HomeRoom.SHORT
            words.text("Lone East", TITLE if short else GREAT, TEAL)
            if not short:
                words.text("American-style mahjong, to practise on your own", BODY, SOFT)
            if winds:
                band.block(BANNER, partial(winds_on_ledge, band.ui))
        page.gap(8 if self._room >= HomeRoom.SHORT else 18)

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
        if offers:
            with page.panel(self._titled("Your next ten minutes"), pad=self._pad) as inside:
                self._offer(inside, offers[0])
            page.gap(self._apart)

    def _titled(self, title: str) -> str:
        """The title of a panel, where there is room for it."""
        return "" if self._room is HomeRoom.LEAST else title

    def _useful(self, page: Column) -> None:
        """What else is useful, and the season."""
        sheet = self.desk.current_sheet
        for one in self._offers()[1:]:
            self._other(page, one)
        if self._draft is not None:
            draft = self._draft
            written_card(page, draft, self._try_left(lambda: self.routes.write_on(draft.id, self)))
            page.gap(self._apart)
        standing = self._standing
        if standing is not None and standing.glance.begun:
            with page.panel(f"Your season on {sheet.name} {sheet.season}", pad=self._pad) as inside:
                fill_glance(inside, standing.glance)
            page.gap(self._apart)

    def _deal(self, page: Column) -> None:
        """Another deal, by chance or by its code."""
        wide = self._wide
        first = not self._offers()
        title = "Your deal" if first or self._left.nothing else "Another deal"
        if self._room >= HomeRoom.SHORT:
            with page.panel(pad=self._pad) as inside:
                self._another.fill_short(inside, self, title, main=first, keys=not self._plain, lines=2 if wide else 1)
        else:
            with page.panel(title, pad=self._pad) as inside:
                self._another.fill(inside, self, main=first, apart=18 - 8 * self._low)
        page.gap(self._apart)

    @property
    def _pad(self) -> float:
        """Units of the margin in a panel."""
        return (20, 14, 14, 14, 10)[self._room]

    @property
    def _apart(self) -> float:
        """Units between two panels."""
        return (16, 12, 12, 12, 8)[self._room]

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
        inside.text(self._reason(one), self._says)
        says = {Next.READ_SHEET: "Read it", Next.WIN_HAND: "Deal me a game for it"}.get(one.next, "Practise")
        self._button(inside, Press(says, self._begin(one), "return", main=True))

    def _button(self, inside: Column, press: Press) -> None:
        """A button under what is said of it."""
        inside.gap(6 if self._room is HomeRoom.LEAST else 12)
        inside.buttons([press], show_keys=not self._plain)

    @property
    def _says(self) -> Style:
        """The letters in which things to do next are told."""
        return SMALL if self._room is HomeRoom.LEAST else BODY

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
        page.gap(self._apart)

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
                              seat_sentence(play.match)]), self._says)  # fmt: skip
        go = self._try_left(lambda: self.routes.match_deal(play))
        self._button(inside, _go_on("Go on with the match", go, main=self._left.match_last))

    def _game(self, inside: Column, line: LineSummary) -> None:
        words = f"{line.sheet_name} {line.season}, {house_words(line.house)}"
        if line.chosen is not None:
            words += f", only {listed(list(line.chosen))}"
        inside.text(f"{words}.", self._says)
        if self._room is not HomeRoom.LEAST:
            inside.text(f"{f'Deal {line.deal}, left' if line.deal else 'Left'} {when(line.touched)}.", SMALL, SOFT)
        go = self._try_left(lambda: self.routes.resume(line.id))
        self._button(inside, _go_on("Go on with this deal", go, main=not self._left.match_last))

    def _try_left(self, go: Callable[[], Scene]) -> Callable[[], Scene]:
        """Go on, or say why that can't be: the deal may be damaged, or another window may have it."""

        def do() -> Scene:
            try:
                return go()
            except (OSError, ValueError) as error:
                self._trouble = sentence(f"{str(error).rstrip('.')}.")
                return self

        return do

    def _heard(self) -> Scene | None:
        self.desk.heard()
        return None

    def _places(self, page: Column) -> None:
        fill_places(
            page,
            self.routes,
            self,
            self._ask_or_leave,
            low=self._low,
            deals=self._room >= HomeRoom.SHORT and not self._wide,
        )


def _go_on(says: str, do: Do, main: bool) -> Press:
    """The button of what was left; Enter presses the main one."""
    return Press(says, do, "return" if main else "", main=main)
