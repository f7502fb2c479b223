"""How it plays, on one screen: what a first start shows, and what is there to be read again later."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial

from engine.sheet.model import Sheet
from engine.tiles import parse_tiles
from engine.words import in_words
from game.draw.theme import BLUE, BLUE_TEXT, BODY, CLOTH, GREAT, RULE, SMALL, SOFT, WOOD, WOOD_DEEP, WOOD_LIT
from game.draw.tiles import SLOT, Face, height_for, width_for
from game.play.settings import ALWAYS
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.layout import Rect, columns
from game.ui.scene import Scene
from game.ui.widgets import Ui

ABOVE = (
    "Your group’s own rules and the maker’s printed sheet stand above this game. If you type in a sheet that you "
    "bought, it is for your own practice."
)
RULES = (
    "Fourteen tiles make a hand, and only hands on the sheet count.",
    "East begins with 14 tiles, the others with 13. In your turn you draw one and let one go.",
    "Jokers stand for any tile in a group of three or more alike, never in a pair or a single.",
    "In the passes three tiles go right, across and left; a second round goes left, across and right, if nobody stops "
    "it. Jokers are never passed.",
    "A discard may be called for a group of three or more, which is then exposed, or for mahjong.",
    "In your turn you may take a joker out of any exposure by giving the tile that it stands for.",
    "An exposure can’t be taken back: the hand shown at last must have that very group.",
    "A hand marked concealed may not be exposed; only its last tile may be called, for mahjong.",
    "When the wall is used up nobody scores: a wall game.",
)
PICTURE, LARGEST_PICTURE = 84, 150
"""Units of height of a card's picture: at least, and where the window has room to spare."""
KEYS_FROM = 400
"""Units of height of the window from which the ways on show their keys."""
CARD_LEAST = 222
GAP = 14


@dataclass(frozen=True)
class Card:
    """One step of the explanation."""

    title: str
    text: str
    picture: Callable[[Ui, Rect], None]


class IntroScene(Scene):
    """Four cards, what stands above the game, and the way on."""

    def __init__(self, routes: Routes, home: Scene, first: bool) -> None:
        """`first`: the program's first start; otherwise the rules in short follow below."""
        super().__init__(routes.look)
        self.routes, self.desk = routes, routes.desk
        self.first = first
        self._home = home
        why = f"Press {self.desk.settings.key('why').upper()} to read why."
        self.cards = (
            Card("A sheet of hands", "Fourteen tiles make one of the hands on the sheet. Begin with the few of "
                 "First Steps; a new season’s sheet is loaded from a file.", _sheet_picture),
            Card("Pass three, then play", "First choose three tiles to pass, some six times over. Then draw one and "
                 "let one go: arrow keys and Enter, or two clicks.", _rack_picture),
            Card("What each tile is for", "Above the rack stand the hands within reach and their chances, under "
                 f"it what it costs to let each tile go. {why}", _odds_picture),
            Card("Leave when you like", "Every choice is kept as you make it. Go on later, or step back and try "
                 "another way: both stay.", _fork_picture),
        )  # fmt: skip

    def back(self) -> Scene | None:
        """On to the start screen."""
        if self.first and self.desk.first_start:
            self._show_advice()
        self.desk.explained()
        return self._home

    def _sheets(self) -> tuple[Sheet, Sheet]:
        """The sheet with the fewest hands, to begin with, and the one that is set."""
        return min(self.desk.sheets(), key=lambda sheet: len(sheet.hands)), self.desk.current_sheet

    def _deal(self, sheet: Sheet) -> Scene | None:
        """A deal of that sheet; with advice shown, as the explanation has promised."""
        self.desk.explained()
        self._show_advice()
        if sheet is not self.desk.current_sheet:
            self.desk.choose_sheet(sheet, None)
        return self.routes.new_deal()

    def _show_advice(self) -> None:
        self.desk.save_settings(replace(self.desk.settings, advice=ALWAYS))

    def paint(self, ui: Ui) -> None:
        """At a first start there is no way back but on."""
        if self.first:
            page = ui.page()
            below = Rect(page.left, page.top, page.width, page.height)
        else:
            below = ui.header("How it plays", "", self.back)
        scrolled(ui, "how it plays", below, self._fill, widest=1340, roomy=self.first)

    def _fill(self, page: Column) -> None:
        """Pictures grow into spare room, and what is still spare goes above and below. The ways on never scroll."""
        if not self.first:
            self._explained(page)
            page.gap(GAP)
            with page.panel("The rules in short") as inside:
                inside.points(RULES)
            return
        page.spring(2)
        page.rest("explained", self._welcome)
        page.gap(GAP)
        page.buttons(self._ways(), show_keys=page.ui.window.height >= page.ui.u(KEYS_FROM))
        page.space(4)
        page.spring(3)

    def _welcome(self, page: Column) -> None:
        page.text("Welcome to Lone East", GREAT)
        text = "A quiet table to practise American-style mahjong at, on your own, with this season’s sheet."
        page.text(text, BODY, SOFT)
        page.gap(GAP)
        self._explained(page)

    def _explained(self, page: Column) -> None:
        self._cards(page)
        page.gap(GAP)
        page.notice(ABOVE)

    def _ways(self) -> list[Press]:
        small, whole = self._sheets()
        ways = [Press("Look around first", self.back)]
        if small is not whole:
            ways.insert(0, Press(f"All {len(whole.hands)} hands", partial(self._deal, whole), "a"))
        return [
            Press(f"Begin with {in_words(len(small.hands))} hands", partial(self._deal, small), "b", main=True),
            *ways,
        ]

    def _cards(self, page: Column) -> None:
        """Four beside one another, or two, or one; all as high as the highest."""
        across = max(one for one in (1, 2, 4) if one == 1 or page.has(one * CARD_LEAST + (one - 1) * GAP))
        for start in range(0, len(self.cards), across):
            with page.beside([1] * across, gap=GAP) as cells:
                for cell, card in zip(cells, self.cards[start:], strict=False):
                    with cell.panel(pad=18, fills=True) as inside:
                        inside.block(PICTURE, partial(card.picture, inside.ui), grows=LARGEST_PICTURE - PICTURE)
                        inside.gap(12)
                        inside.heading(card.title)
                        inside.text(card.text)
            page.gap(GAP)


def _fit(rect: Rect, count: float, gap: int, most: int) -> int:
    """The width of the largest tiles of which so many stand side by side in a rectangle."""
    wide = int((rect.width - gap * (count - 1)) // count)
    return max(min(wide, width_for(rect.height), most), 8)


def _sheet_picture(ui: Ui, rect: Rect) -> None:
    """A hand as the sheet shows it, in two rows."""
    gap, between, apart = ui.u(2), ui.u(9), ui.u(10)
    rows = (("2d 2d 2d 2d 2d", "5d 5d"), ("8d 8d 8d", "fl fl fl fl"))
    width = _fit(Rect(rect.left, rect.top, rect.width, (rect.height - apart) // 2), 7.8, gap, ui.u(64))
    high = height_for(width)
    for row, y in zip(rows, (rect.centery - high - apart // 2, rect.centery + apart // 2), strict=True):
        x = rect.left
        for group in row:
            faces = [Face(kind) for kind in parse_tiles(group)]
            x = ui.tiles(faces, (x, y), width, gap).right + between


def _rack_picture(ui: Ui, rect: Rect) -> None:
    """Five tiles on a ledge, one of them lifted."""
    kinds = parse_tiles("3d 4d 5b dg 7c")
    lift, gap, wood = ui.u(9), ui.u(6), ui.u(14)
    room = Rect(rect.left, rect.top, rect.width - ui.u(20), rect.height - wood - 2 * lift)
    width = _fit(room, len(kinds), gap, ui.u(80))
    high = height_for(width)
    cloth = Rect(rect.left, 0, rect.width, high + wood + 2 * lift)
    cloth.centery = rect.centery
    ui.panel(cloth, CLOTH, None, 8)
    left = rect.centerx - (width * len(kinds) + gap * (len(kinds) - 1)) // 2
    ledge = Rect(rect.left, cloth.bottom - wood, rect.width, wood)
    for index, kind in enumerate(kinds):
        place = Rect(left + index * (width + gap), ledge.top - high - (lift if index == 3 else 0), width, high)
        ui.tile(Face(kind), place)
        if index == 3:
            ui.panel(place.inflate(ui.u(4), ui.u(4)), None, BLUE, 7, 2.5)
    ui.look.shapes.ledge(ui.surface, ledge, WOOD_LIT, WOOD, WOOD_DEEP)


def _odds_picture(ui: Ui, rect: Rect) -> None:
    """Two rows of slots with their odds as bars."""
    for index, (codes, share) in enumerate((("5d 5d", 0.8), ("fl fl", 0.45))):
        line = Rect(rect.left, rect.top + index * rect.height // 2, rect.width, rect.height // 2 - ui.u(6))
        kinds = parse_tiles(codes)
        width = _fit(line, 6, ui.u(3), ui.u(60))
        faces = [*(Face(kind) for kind in kinds), Face(kinds[0], SLOT)]
        right = ui.tiles(faces, line.topleft, width, ui.u(3)).right
        bar = Rect(right + ui.u(14), line.centery - ui.u(6), line.right - right - ui.u(14), ui.u(12))
        ui.bar(bar, share, BLUE, RULE)


def _fork_picture(ui: Ui, rect: Rect) -> None:
    """A line of choices that parts in two."""
    shapes, surface = ui.look.shapes, ui.surface
    label = ui.line(SMALL)
    high = rect.top + label + ui.u(8)
    low = rect.bottom - label - ui.u(8)
    places = columns(rect, [1] * 6)
    thick, dot = max(ui.u(4), 2), ui.u(24)
    ui.panel(Rect(places[0].centerx, low - thick // 2, places[5].centerx - places[0].centerx, thick), RULE, None, 0)
    ui.panel(Rect(places[2].centerx, high - thick // 2, places[5].centerx - places[2].centerx, thick), BLUE, None, 0)
    ui.panel(Rect(places[2].centerx - thick // 2, high, thick, low - high), BLUE, None, 0)
    for index, place in enumerate(places):
        shapes.mark(surface, "dot", (place.centerx, low), dot, SOFT)
        if index >= 3:
            shapes.mark(surface, "dot", (place.centerx, high), dot, BLUE)
    with ui.within(rect):
        ui.text("another way", (rect.right, rect.top), SMALL, BLUE_TEXT, "right")
        ui.text("as you played", (rect.right, rect.bottom - label), SMALL, SOFT, "right")
