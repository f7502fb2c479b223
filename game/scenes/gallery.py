"""All tiles and widgets on one screen: what the others are made of, to be looked at."""

from __future__ import annotations

from functools import partial

from engine.tiles import EAST, FLOWER, JOKER, KINDS, parse_tiles
from game.draw.shapes import Mark
from game.draw.theme import (
    BLUE,
    BLUE_TEXT,
    BODY,
    CLOTH,
    GREEN,
    INK,
    SMALL,
    SOFT,
    VERMILION,
    VERMILION_TEXT,
    WOOD,
    WOOD_DEEP,
    WOOD_LIT,
    Colour,
)
from game.draw.tiles import SLOT, SOLID, TURNED, Face, height_for
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.layout import Rect
from game.ui.look import Look
from game.ui.scene import Scene
from game.ui.widgets import Ui

MARKS: tuple[Mark, ...] = ("tick", "cross", "star", "left", "right", "up", "down", "dot", "plus", "bang")
RACK = parse_tiles("3d 3d 4d 5d 5d 6d 7d 5b 5b 1b 5c fl jk dg")


class Gallery(Scene):
    """Everything once."""

    def __init__(self, look: Look) -> None:
        super().__init__(look)
        self.number, self.word, self.ticked, self.choice = 8, "", True, "hinted"

    def paint(self, ui: Ui) -> None:
        """One long scrolled page."""
        rest = ui.header("What it is made of", "every tile and widget, at this scale", lambda: None)
        scrolled(ui, "all", rest, self._fill)

    def _fill(self, page: Column) -> None:
        self._rack(page)
        for title, width, look in (
            ("Tiles", 76, SOLID),
            ("Small tiles", 34, SOLID),
            ("Slots still to come", 34, SLOT),
            ("Large slots", 64, SLOT),
        ):
            page.gap(20)
            page.heading(title)
            page.gap(8)
            faces = [Face(kind, look) for kind in range(KINDS)]
            faces += [Face(None, TURNED), Face(4, SOLID, joker=True)] if look == SOLID else []
            page.tiles(faces, width, gap=7)
        page.gap(20)
        self._widgets(page)
        page.gap(20)
        self._letters(page)
        page.gap(12)
        page.tiles([Face(EAST), Face(FLOWER), Face(JOKER), Face(None, TURNED)], 140, gap=7)

    def _rack(self, page: Column) -> None:
        """A rack of fourteen on cloth."""
        ui = page.ui
        gap = max(page.width // 150, 2)
        width = min((page.width - ui.u(24) - gap * 13) // 14, ui.u(90))

        def paint(cloth: Rect) -> None:
            ui.panel(cloth, CLOTH, None, 14)
            top = cloth.top + ui.u(20)
            left = cloth.centerx - (width * 14 + gap * 13) // 2
            for index, kind in enumerate(RACK):
                name = f"rack {index}"
                up = ui.glide(name, 1.0 if ui.lit(name) else 0.0)
                rect = Rect(left + index * (width + gap), top - round(up * ui.u(10)), width, height_for(width))
                ui.tile(Face(kind), rect)
                ui.target(name, rect, lambda: None, f"tile {index + 1}")
            ledge = Rect(cloth.left + ui.u(10), top + height_for(width) + ui.u(4), cloth.width - ui.u(20), ui.u(24))
            ui.look.shapes.ledge(ui.surface, ledge, WOOD_LIT, WOOD, WOOD_DEEP)

        page.put(height_for(width) + ui.u(76), paint)

    def _widgets(self, page: Column) -> None:
        ui = page.ui
        page.buttons([
            Press("Let it go", lambda: None, "return", main=True),
            Press("Why", lambda: None, "w"),
            Press("Step back", lambda: None, "z"),
            Press("Not now", lambda: None, enabled=False),
        ])  # fmt: skip
        page.gap(16)
        options = [("always", "Always"), ("hinted", "When I ask"), ("hidden", "Hidden")]
        page.add(lambda at, width: ui.choice(at, width, "advice", options, self.choice, self._choose))
        page.gap(16)
        note = "Tiles glide for less than a fifth of a second."
        page.add(lambda at, width: ui.check(at, width, "Things may move", self.ticked, self._tick, note))
        page.gap(12)
        page.add(lambda at, _: ui.stepper(at, "jokers", self.number, 0, 10, self._count).bottom)
        page.gap(16)
        page.block(44, lambda rect: ui.field(rect, "code", self.word, self._write, hint="A deal code"))
        page.gap(16)
        page.notice("Your group’s own rules and the maker’s printed sheet stand above this game.")
        page.gap(16)
        hints = [("left", "choose"), ("return", "let go"), ("w", "why"), ("ctrl+z", "undo")]
        page.add(lambda at, width: ui.caps(at, width, hints))

    def _letters(self, page: Column) -> None:
        """Marks, bars and styles of text."""
        ui = page.ui

        def marks(rect: Rect) -> None:
            for index, mark in enumerate(MARKS):
                ui.mark(mark, (rect.left + ui.u(14 + 34 * index), rect.centery), 20)

        page.block(34, marks)
        for share, colour in ((0.8, BLUE), (0.5, GREEN), (0.3, VERMILION)):
            page.gap(10)
            page.block(12, partial(_bar, ui, share, colour))
        page.gap(10)
        for text, style, colour in (
            ("Body text in ink, as most of it is.", BODY, INK),
            ("Body text, soft.", BODY, SOFT),
            ("Small text, soft.", SMALL, SOFT),
            ("Better", BODY, BLUE_TEXT),
            ("Worse", BODY, VERMILION_TEXT),
        ):
            page.text(text, style, colour)

    def _choose(self, value: str) -> Scene | None:
        self.choice = value
        return None

    def _tick(self, value: bool) -> Scene | None:
        self.ticked = value
        return None

    def _count(self, value: int) -> Scene | None:
        self.number = value
        return None

    def _write(self, value: str) -> Scene | None:
        self.word = value
        return None


def _bar(ui: Ui, share: float, colour: Colour, rect: Rect) -> None:
    ui.bar(Rect(rect.left, rect.top, min(ui.u(200), rect.width), rect.height), share, colour)
