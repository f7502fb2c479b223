"""How it plays, on one screen: what a first start shows, and what is there to be read again later."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from engine.tiles import parse_tiles
from game.desk import Desk
from game.draw.theme import (
    BLUE,
    BLUE_TEXT,
    BODY,
    CLOTH,
    HEADING,
    RULE,
    SMALL,
    SOFT,
    TITLE,
    WOOD,
    WOOD_DEEP,
    WOOD_LIT,
)
from game.draw.tiles import SLOT, Face, height_for, width_for
from game.ui.layout import Rect, columns, grid, inset
from game.ui.scene import Scene
from game.ui.widgets import Press, Ui

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
PICTURE = 84
CARD_LEAST = 290


@dataclass(frozen=True)
class Card:
    """One step of the explanation."""

    title: str
    text: str
    picture: Callable[[Ui, Rect], None]


class IntroScene(Scene):
    """Four cards, what stands above the game, and the way on."""

    def __init__(self, desk: Desk, home: Scene, first: bool) -> None:
        """`first`: the program's first start; otherwise the rules in short follow below."""
        super().__init__(desk.look)
        self.desk = desk
        self.first = first
        self._home = home
        why = f"Press {desk.settings.key('why').upper()} to read why."
        self.cards = (
            Card("A sheet of hands", "Fourteen tiles make one of the hands on the sheet. Three sheets of our own are "
                 "here to learn with; a new season’s sheet is loaded from a file.", _sheet_picture),
            Card("Draw one, let one go", "Choose a tile with the arrow keys and press Enter, or click it twice. "
                 "The rack is yours to order.", _rack_picture),
            Card("See what each tile is worth", "Above the rack stand the hands within reach and their odds, under "
                 f"it what it costs to let each tile go. {why}", _odds_picture),
            Card("Leave when you like", "Every choice is kept as you make it. Go on later, or step back and try "
                 "another way: both stay.", _fork_picture),
        )  # fmt: skip

    def back(self) -> Scene | None:
        """On to the start screen."""
        self.desk.explained()
        return self._home

    def _deal(self) -> Scene | None:
        self.desk.explained()
        return self.desk.new_deal()

    def paint(self, ui: Ui) -> None:
        """At a first start there is no way back but on."""
        if self.first:
            page = ui.page()
            below = Rect(page.left, page.top, page.width, page.height)
        else:
            below = ui.header("How it plays", "", self.back)
        ui.scroll("how it plays", below, lambda area: self._all(ui, area))

    def _all(self, ui: Ui, area: Rect) -> int:
        width = min(area.width, ui.u(1340))
        left, y = area.centerx - width // 2, area.top
        if self.first:
            y = ui.paragraph("Welcome to Lone East", (left, y), width, TITLE)
            text = "A quiet table to practise American-style mahjong at, on your own, with this season’s sheet."
            y = ui.paragraph(text, (left, y), width, BODY, SOFT) + ui.u(14)
        y = self._cards(ui, Rect(left, y, width, 0)) + ui.u(14)
        y = ui.notice(ABOVE, (left, y), width) + ui.u(14)
        if self.first:
            presses = [Press("Deal me a rack", self._deal, main=True), Press("Look around first", self.back)]
            return ui.buttons((left, y), width, presses) + ui.u(4)
        return ui.titled((left, y), width, "The rules in short", lambda inside: self._rules(ui, inside))

    def _cards(self, ui: Ui, area: Rect) -> int:
        gap, pad = ui.u(14), ui.u(18)
        across = grid(len(self.cards), area, ui.u(CARD_LEAST), gap)
        room = across[0].width - 2 * pad
        texts = max(ui.tall(card.title, room, HEADING) + ui.tall(card.text, room, BODY) for card in self.cards)
        high = pad + ui.u(PICTURE) + ui.u(12) + texts + pad
        bottom = area.top
        cells = grid(len(self.cards), Rect(area.left, area.top, area.width, high), ui.u(CARD_LEAST), gap)
        for number, (card, cell) in enumerate(zip(self.cards, cells, strict=True), start=1):
            ui.panel(cell)
            with ui.within(inset(cell, pad // 2, pad // 2)):
                card.picture(ui, Rect(cell.left + pad, cell.top + pad, room, ui.u(PICTURE)))
                y = cell.top + pad + ui.u(PICTURE) + ui.u(12)
                y = ui.paragraph(f"{number}  {card.title}", (cell.left + pad, y), room, HEADING)
                ui.paragraph(card.text, (cell.left + pad, y), room, BODY)
            bottom = cell.bottom
        return bottom

    @staticmethod
    def _rules(ui: Ui, area: Rect) -> int:
        y = area.top + ui.u(6)
        for rule in RULES:
            ui.mark("dot", (area.left + ui.u(7), y + ui.line(BODY) // 2), 10, SOFT)
            y = ui.paragraph(rule, (area.left + ui.u(24), y), min(area.width - ui.u(24), ui.u(900)), BODY) + ui.u(6)
        return y


def _fit(rect: Rect, count: float, gap: int, most: int) -> int:
    """The width of the largest tiles of which so many stand side by side in a rectangle."""
    wide = int((rect.width - gap * (count - 1)) // count)
    return max(min(wide, width_for(rect.height), most), 8)


def _sheet_picture(ui: Ui, rect: Rect) -> None:
    """A hand as the sheet shows it, in two rows."""
    gap, between = ui.u(2), ui.u(9)
    rows = (("2d 2d", "3d 3d 3d", "4d 4d"), ("5d 5d 5d", "fl fl fl fl"))
    line = Rect(rect.left, rect.top, rect.width, (rect.height - ui.u(8)) // 2)
    width = _fit(line, 7.6, gap, ui.u(40))
    for index, row in enumerate(rows):
        x = rect.left
        for group in row:
            faces = [Face(kind) for kind in parse_tiles(group)]
            x = ui.tiles(faces, (x, rect.top + index * (line.height + ui.u(8))), width, gap).right + between


def _rack_picture(ui: Ui, rect: Rect) -> None:
    """Five tiles on a ledge, one of them lifted."""
    ledge = Rect(rect.left, rect.bottom - ui.u(14), rect.width, ui.u(14))
    kinds = parse_tiles("3d 4d 5b dg 7c")
    lift = ui.u(9)
    room = Rect(rect.left, rect.top, rect.width - ui.u(20), rect.height - ledge.height - lift)
    gap = ui.u(6)
    width = _fit(room, len(kinds), gap, ui.u(60))
    left = rect.centerx - (width * len(kinds) + gap * (len(kinds) - 1)) // 2
    ui.panel(Rect(rect.left, rect.top + lift, rect.width, rect.height - lift), CLOTH, None, 8)
    for index, kind in enumerate(kinds):
        y = ledge.top - height_for(width) - (lift if index == 3 else 0)
        place = Rect(left + index * (width + gap), y, width, height_for(width))
        ui.tile(Face(kind), place)
        if index == 3:
            ui.panel(place.inflate(ui.u(4), ui.u(4)), None, BLUE, 7, 2.5)
    ui.look.shapes.ledge(ui.surface, ledge, WOOD_LIT, WOOD, WOOD_DEEP)


def _odds_picture(ui: Ui, rect: Rect) -> None:
    """Two rows of slots with their odds as bars."""
    for index, (codes, share) in enumerate((("5d 5d", 0.8), ("fl fl", 0.45))):
        line = Rect(rect.left, rect.top + index * rect.height // 2, rect.width, rect.height // 2 - ui.u(6))
        kinds = parse_tiles(codes)
        width = _fit(line, 8, ui.u(3), ui.u(40))
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
