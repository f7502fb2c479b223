"""All tiles and widgets on one screen: what the others are made of, to be looked at."""

from __future__ import annotations

from engine.tiles import EAST, FLOWER, JOKER, KINDS, parse_tiles
from game.draw.shapes import Mark
from game.draw.theme import (
    BLUE,
    BLUE_TEXT,
    BODY,
    CLOTH,
    GREEN,
    HEADING,
    INK,
    SMALL,
    SOFT,
    VERMILION,
    VERMILION_TEXT,
    WOOD,
    WOOD_DEEP,
    WOOD_LIT,
)
from game.draw.tiles import SLOT, SOLID, TURNED, Face, height_for
from game.ui.buttons import Press
from game.ui.layout import Rect, flow
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
        ui.scroll("all", rest, lambda area: self._all(ui, area))

    def _all(self, ui: Ui, area: Rect) -> int:
        y = self._rack(ui, area)
        for title, width, look in (
            ("Tiles", 76, SOLID),
            ("Small tiles", 34, SOLID),
            ("Slots still to come", 34, SLOT),
            ("Large slots", 64, SLOT),
        ):
            y = ui.paragraph(title, (area.left, y), area.width, HEADING) + ui.u(8)
            faces = [Face(kind, look) for kind in range(KINDS)]
            faces += [Face(None, TURNED), Face(4, SOLID, joker=True)] if look == SOLID else []
            y = self._flow(ui, faces, (area.left, y), area.width, width) + ui.u(20)
        return self._widgets(ui, area, y)

    def _rack(self, ui: Ui, area: Rect) -> int:
        gap = max(area.width // 150, 2)
        width = min((area.width - ui.u(24) - gap * 13) // 14, ui.u(90))
        cloth = Rect(area.left, area.top, area.width, height_for(width) + ui.u(76))
        ui.panel(cloth, CLOTH, None, 14)
        left = cloth.centerx - (width * 14 + gap * 13) // 2
        for index, kind in enumerate(RACK):
            name = f"rack {index}"
            up = ui.glide(name, 1.0 if ui.lit(name) else 0.0)
            rect = Rect(
                left + index * (width + gap), cloth.top + ui.u(20) - round(up * ui.u(10)), width, height_for(width)
            )
            ui.tile(Face(kind), rect)
            ui.target(name, rect, lambda: None, f"tile {index + 1}")
        ledge = Rect(
            cloth.left + ui.u(10), cloth.top + ui.u(20) + height_for(width) + ui.u(4), cloth.width - ui.u(20), ui.u(24)
        )
        ui.look.shapes.ledge(ui.surface, ledge, WOOD_LIT, WOOD, WOOD_DEEP)
        return cloth.bottom + ui.u(20)

    @staticmethod
    def _flow(ui: Ui, faces: list[Face], at: tuple[int, int], width: int, units: int) -> int:
        size = (ui.u(units), height_for(ui.u(units)))
        bottom = at[1]
        for face, rect in zip(faces, flow([size] * len(faces), at, width, (ui.u(7), ui.u(8))), strict=True):
            ui.tile(face, rect)
            bottom = rect.bottom
        return bottom

    def _widgets(self, ui: Ui, area: Rect, y: int) -> int:
        left, width = area.left, area.width
        presses = [
            Press("Let it go", lambda: None, "return", main=True),
            Press("Why", lambda: None, "w"),
            Press("Step back", lambda: None, "z"),
            Press("Not now", lambda: None, enabled=False),
        ]
        y = ui.buttons((left, y), width, presses) + ui.u(16)
        options = [("always", "Always"), ("hinted", "When I ask"), ("hidden", "Hidden")]
        y = ui.choice((left, y), width, "advice", options, self.choice, self._choose) + ui.u(16)
        y = ui.check((left, y), min(width, ui.u(560)), "Things may move", self.ticked, self._tick,
                     "Tiles glide for less than a fifth of a second.") + ui.u(12)  # fmt: skip
        y = ui.stepper((left, y), "jokers", self.number, 0, 10, self._count).bottom + ui.u(16)
        ui.field(Rect(left, y, min(width, ui.u(420)), ui.u(44)), "code", self.word, self._write, hint="A deal code")
        y += ui.u(44 + 16)
        y = ui.notice(
            "Your group’s own rules and the maker’s printed sheet stand above this game.",
            (left, y),
            min(width, ui.u(700)),
        )
        y += ui.u(16)
        y = ui.caps(
            (left, y), width, [("left", "choose"), ("return", "let go"), ("w", "why"), ("ctrl+z", "undo")]
        ) + ui.u(16)
        for index, mark in enumerate(MARKS):
            ui.mark(mark, (left + ui.u(14 + 34 * index), y + ui.u(12)), 20)
        y += ui.u(44)
        for share, colour in ((0.8, BLUE), (0.5, GREEN), (0.3, VERMILION)):
            ui.bar(Rect(left, y, ui.u(200), ui.u(12)), share, colour)
            y += ui.u(22)
        for text, style, colour in (
            ("Body text in ink, as most of it is.", BODY, INK),
            ("Body text, soft.", BODY, SOFT),
            ("Small text, soft.", SMALL, SOFT),
            ("Better", BODY, BLUE_TEXT),
            ("Worse", BODY, VERMILION_TEXT),
        ):
            y = ui.paragraph(text, (left, y), width, style, colour)
        faces = [Face(EAST), Face(FLOWER), Face(JOKER), Face(None, TURNED)]
        return self._flow(ui, faces, (left, y + ui.u(12)), width, 140)

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
