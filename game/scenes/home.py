"""The start screen: go on with the deal that was left, or begin another; everything else is one press away."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from engine.store.values import LineSummary, StoreError
from engine.tiles import parse_tiles
from engine.words import listed, sentence, when
from game.draw.theme import BODY, BODY_BOLD, GREAT, SMALL, SOFT, TEAL, TOUCH, WOOD, WOOD_DEEP, WOOD_LIT
from game.draw.tiles import Face, height_for
from game.play.matches import LeftOff, MatchPlay, left_off
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.keys import cap
from game.ui.layout import Rect, columns, inset
from game.ui.popups import Question
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.house import house_words
from game.words.match import seat_sentence, standing

TWO_COLUMNS = 820
WIDEST = 1240
ROOMY = 700
"""Units of height under which the list stands closer, so that all of it is seen."""
BANNER = 100
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
        self._left = LeftOff()
        self._trouble = ""
        """Why what was left can't be gone on with."""
        self.enter()

    def enter(self) -> None:
        """A deal or a match may have been left meanwhile."""
        self._left = left_off(self.desk)

    def back(self) -> Scene | None:
        """Esc asks whether to leave."""
        text = "Every deal is kept as it stands, and is here when you come back."
        return Question(self, "Leave the game?", text, [Press("Leave", self._leave, "l", main=True)])

    def _leave(self) -> Scene | None:
        return Farewell(self.look)

    # Painting.

    def paint(self, ui: Ui) -> None:
        """A banner, what to do now, and a list of what else there is."""
        page = ui.page()
        ui.scroll("home", page, lambda area: self._all(ui, area))

    def _all(self, ui: Ui, area: Rect) -> int:
        width = min(area.width, ui.u(WIDEST))
        place = Rect(area.centerx - width // 2, area.top, width, area.height)
        spare = area.height - (ui.measure(lambda: self._page(ui, place)) - area.top)
        return max(self._page(ui, place.move(0, max(spare, 0) // 3)), area.top)

    def _page(self, ui: Ui, place: Rect) -> int:
        y = self._banner(ui, place)
        for text in self.desk.told:
            y = ui.notice(text, (place.left, y), place.width) + ui.u(10)
        if self.desk.told:
            presses = [Press("I have read this", self._heard)]
            y = ui.buttons((place.left, y), place.width, presses) + ui.u(16)
        if place.width >= ui.u(TWO_COLUMNS):
            left, right = columns(Rect(place.left, y, place.width, 0), [1.75, 1], ui.u(20))
            return max(self._deals(ui, left), self._places(ui, right))
        y = self._deals(ui, Rect(place.left, y, place.width, 0))
        return self._places(ui, Rect(place.left, y, place.width, 0))

    def _banner(self, ui: Ui, place: Rect) -> int:
        """The name, and the winds on a ledge where there is room for them."""
        words = Rect(place.left, place.top, place.width, 0)
        high = ui.line(GREAT) + ui.line(BODY)
        wide = ui.u(400)
        if place.width >= ui.u(TWO_COLUMNS):
            words.width -= wide + ui.u(20)
            band = Rect(place.right - wide, place.top, wide, ui.u(BANNER))
            _winds(ui, band)
            words.top += (band.height - high) // 2
            high = band.height - (band.height - high) // 2
        y = ui.paragraph("Lone East", words.topleft, words.width, GREAT, TEAL)
        text = "American-style mahjong, to practise on your own"
        y = max(ui.paragraph(text, (words.left, y), words.width, BODY, SOFT), words.top + high)
        return y + ui.u(18)

    # Deals.

    def _deals(self, ui: Ui, area: Rect) -> int:
        y = area.top
        if not self._left.nothing:
            y = ui.titled((area.left, y), area.width, "Where you left off", partial(self._go_on, ui))
        return ui.titled(
            (area.left, y), area.width, "Your deal" if self._left.nothing else "Another deal", partial(self._new, ui)
        )

    def _go_on(self, ui: Ui, area: Rect) -> int:
        """What was played to last comes first, and its button is the main one."""
        y = area.top
        for one in (
            (self._left.match, self._left.game) if self._left.match_last else (self._left.game, self._left.match)
        ):
            if one is not None:
                y += ui.u(18) if y > area.top else 0
                place = Rect(area.left, y, area.width, 0)
                y = self._match(ui, place, one) if isinstance(one, MatchPlay) else self._game(ui, place, one)
        if self._trouble:
            y = ui.notice(self._trouble, (area.left, y + ui.u(10)), area.width)
        return y

    def _match(self, ui: Ui, area: Rect, play: MatchPlay) -> int:
        standing_now = [standing(play.match)] if play.match.results else []
        text = " ".join(["A match.", *standing_now, seat_sentence(play.match)])
        y = ui.paragraph(text, area.topleft, area.width, BODY) + ui.u(12)
        go = Press(
            "Go on with the match", self._try_left(lambda: self.routes.match_deal(play)), main=self._left.match_last
        )
        return ui.buttons((area.left, y), area.width, [go])

    def _try_left(self, go: Callable[[], Scene]) -> Callable[[], Scene]:
        """Go on, or say why that can't be: the deal may be damaged, or another window may have it."""

        def do() -> Scene:
            try:
                return go()
            except (StoreError, ValueError) as error:
                self._trouble = sentence(f"{str(error).rstrip('.')}.")
                return self

        return do

    def _game(self, ui: Ui, area: Rect, line: LineSummary) -> int:
        words = f"{line.sheet_name} {line.season}, {house_words(line.house)}"
        if line.chosen is not None:
            words += f", only {listed(list(line.chosen))}"
        y = ui.paragraph(f"{words}.", (area.left, area.top), area.width, BODY)
        text = f"Deal {line.deal}, left {when(line.touched)}."
        y = ui.paragraph(text, (area.left, y), area.width, SMALL, SOFT) + ui.u(12)
        main = not self._left.match_last
        press = Press("Go on with this deal", self._try_left(lambda: self.routes.resume(line.id)), main=main)
        return ui.buttons((area.left, y), area.width, [press])

    def _new(self, ui: Ui, area: Rect) -> int:
        sheet, chosen = self.desk.current_sheet, self.desk.chosen
        sections = "all sections" if chosen is None else f"{len(chosen)} of {len(sheet.sections)} sections"
        y = ui.paragraph(f"{sheet.name} {sheet.season}, {sections}", area.topleft, area.width, BODY_BOLD)
        y = ui.paragraph(f"{sentence(house_words(self.desk.house))}.", (area.left, y), area.width, BODY, SOFT) + ui.u(
            12
        )
        presses = [
            Press("Deal", self._deal, "d", main=self._left.nothing),
            Press("Sheet and sections", lambda: self.routes.choosing(self), "c"),
            Press("House rules", lambda: self.routes.house_rules(self), "r"),
        ]
        y = ui.buttons((area.left, y), area.width, presses) + ui.u(18)
        y = ui.caption("Or a certain deal, by its code", (area.left, y), area.width)
        button = ui.button_size("Deal it")[0]
        beside = area.width >= ui.u(200) + button + ui.u(10)
        field = Rect(area.left, y, min(area.width - (button + ui.u(10) if beside else 0), ui.u(360)), ui.u(TOUCH))
        ui.field(
            field, "deal code", self._code, self._write, hint="such as K7Q2-M4X9-3TRB", enter=self._deal_code,
            longest=CODE_LENGTH,
        )  # fmt: skip
        at = (field.right + ui.u(10), y) if beside else (area.left, field.bottom + ui.u(8))
        ui.button(Rect(at, (button, ui.u(TOUCH))), "Deal it", self._deal_code, enabled=bool(self._code.strip()))
        y = at[1] + ui.u(TOUCH)
        if self._fault:
            y = ui.notice(self._fault, (area.left, y + ui.u(10)), area.width)
        return y

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
            text = str(error)
            self._fault = sentence(text) + ("" if text.endswith(".") else ".")
            return None

    def _heard(self) -> Scene | None:
        self.desk.heard()
        return None

    # Everything else.

    def _places(self, ui: Ui, area: Rect) -> int:
        sheet = self.desk.current_sheet
        rows = (
            ("h", "Read the sheet", f"{len(sheet.hands)} hands of {sheet.name}",
             lambda: self.routes.sheet(sheet, self, self.desk.chosen)),
            ("g", "Practise the hands", "what is due today, and every drill",
             lambda: self.routes.practice(self)),
            ("l", "Season’s ledger", "hands won, hands still to win", lambda: self.routes.ledger(self)),
            ("e", "Rehearse the passes", "passes only, with or without a clock", lambda: self.routes.rehearsal(self)),
            ("m", "Play a match", "several deals of four, points kept", lambda: self.routes.match(self)),
            ("p", "Past deals", "look again, step through, try another way", lambda: self.routes.past_deals(self)),
            ("y", "Your play", "what a choice costs you, game by game", lambda: self.routes.play_over_time(self)),
            ("s", "Settings", "size, advice, keys", lambda: self.routes.settings(self)),
            ("w", "How it plays", "the game and its rules in short", lambda: self.routes.intro(self, first=False)),
            ("q", "Leave", "everything is kept", self._leave),
        )  # fmt: skip
        y = area.top
        pad, gap = (12, 7) if ui.window.height >= ui.u(ROOMY) else (5, 5)
        for key, name, note, do in rows:
            room = area.width - ui.u(70)
            written = ui.tall(name, room, BODY_BOLD) + ui.tall(note, room, SMALL)
            high = max(written + ui.u(pad), ui.u(TOUCH))
            rect = Rect(area.left, y, area.width, high)
            ui.row(name, rect, do, key=key)
            with ui.within(inset(rect, ui.u(4), ui.u(2))):
                low = ui.paragraph(
                    name, (rect.left + ui.u(18), rect.top + (high - written) // 2), room, BODY_BOLD, TEAL
                )
                ui.paragraph(note, (rect.left + ui.u(18), low), room, SMALL, SOFT)
                wide = ui.cap_width(key)
                ui.cap_at((rect.right - wide - ui.u(14), rect.centery), key)
            y = rect.bottom + ui.u(gap)
        text = f"{cap('f1')} shows the keys of any screen."
        return ui.paragraph(text, (area.left, y + ui.u(2)), area.width, SMALL, SOFT)


def _winds(ui: Ui, band: Rect) -> None:
    """Four winds and a joker on a ledge."""
    kinds = parse_tiles("we ws ww wn jk")
    wood, gap = ui.u(14), ui.u(10)
    width = min((band.height - wood) * 100 // 138, (band.width - gap * 6) // len(kinds))
    left = band.right - ui.u(14) - width * len(kinds) - gap * (len(kinds) - 1)
    top = band.bottom - wood - height_for(width)
    for index, kind in enumerate(kinds):
        ui.tile(Face(kind), Rect(left + index * (width + gap), top, width, height_for(width)))
    ledge = Rect(left - ui.u(14), band.bottom - wood, band.right - left + ui.u(14), wood)
    ui.look.shapes.ledge(ui.surface, ledge, WOOD_LIT, WOOD, WOOD_DEEP)
