"""A hand alone: all ways to make it turned over as laid tiles, what stays and what moves, how often it comes off."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

import pygame

from engine.sheet.likeness import neighbours
from engine.sheet.model import Hand, Sheet
from engine.tiles import Kind
from game.draw.theme import BODY, BODY_BOLD, SMALL, SOFT, TEAL
from game.scenes.hand import draw_groups
from game.scenes.routes import Routes
from game.scenes.sheet.hands import rack_strip
from game.scenes.sheet.made import Made
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.layout import Rect, Space
from game.ui.scene import Scene
from game.ui.screen import Screen
from game.ui.widgets import Ui
from game.words.sheet import fixed_words, hold_meaning, shown_variants
from game.words.simulation import made_words

TWO_COLUMNS = 900
WIDEST = 1500
TILE = 88
"""Units of width of a laid tile, if there is room."""


class HandScene(Scene):
    """One hand of a sheet. Arrow keys, the wheel over the tiles and two buttons turn its variants over."""

    def __init__(
        self, routes: Routes, sheet: Sheet, hand: Hand, back: Scene, made: Made, rack: Sequence[Kind] = ()
    ) -> None:
        """`rack` is what the player holds at a table: it stays in sight, and no other rack is dealt from here."""
        super().__init__(routes.look)
        self.routes, self.sheet, self.hand, self.made = routes, sheet, hand, made
        self.rack = tuple(rack)
        self._back = back
        self._shown = shown_variants(sheet, hand)
        self._near = neighbours(hand, sheet.hands)
        self.place = 0
        """Which variant is laid."""
        self._before = 0
        """The one that was laid before."""
        self._tiles = Rect(0, 0, 0, 0)

    def back(self) -> Scene | None:
        """Where the reader came from."""
        return self._back

    def turn(self, step: int) -> Scene | None:
        """Lays the next variant, or the one before, going around."""
        self._before, self.place = self.place, (self.place + step) % len(self._shown)
        self.dirty = True
        return None

    @property
    def moved(self) -> tuple[int, ...]:
        """Places of the groups that are others than in the variant laid before; none at first."""
        now, before = self._shown[self.place], self._shown[self._before]
        if len(now) != len(before) or self.place == self._before:
            return ()
        return tuple(place for place, (one, other) in enumerate(zip(now, before, strict=True)) if one != other)

    def handle(self, event: pygame.event.Event) -> Screen:
        """The wheel over the tiles turns the variants; all else is as in every scene."""
        if event.type == pygame.MOUSEWHEEL and event.y and self._tiles.collidepoint(pygame.mouse.get_pos()):
            self.turn(-1 if event.y > 0 else 1)
            return self
        return super().handle(event)

    def update(self, seconds: float) -> None:
        """The deals in the background may have gone on."""
        super().update(seconds)
        if self.made.running:
            self.dirty = True

    # Painting.

    def paint(self, ui: Ui) -> None:
        """Tiles and words at the left, figures and what to do at the right, or under one another."""
        note = f"{self.hand.section} · {self.sheet.name} {self.sheet.season}"
        rest = Space(ui.header(self.hand.name, note, self.back))
        rack_strip(ui, rest, self.rack)
        scrolled(ui, "hand", rest.rect, self._fill, WIDEST, gap=16)

    def _fill(self, page: Column) -> None:
        with page.panel() as inside:
            self._laid(inside)
        with page.beside([1.3, 1], least=TWO_COLUMNS) as (left, right):
            with left.panel("What varies") as inside:
                self._varies(inside)
            if not self.rack:
                left.gap(16)
                with left.panel("Practise it") as inside:
                    self._practise(inside)
            with right.panel("How often it comes off") as inside:
                self._often(inside)
            right.gap(16)
            with right.panel("Hands that are near") as inside:
                self._neighbours(inside)

    def _laid(self, column: Column) -> None:
        ui = column.ui
        ways = len(self._shown)
        groups = self._shown[self.place]

        def tiles(at: tuple[int, int], width: int) -> int:
            bottom = draw_groups(ui, groups, Rect(*at, width, 0), TILE, self.moved)
            self._tiles = Rect(at, (width, bottom - at[1]))
            return bottom

        column.add(tiles)
        column.gap(10)
        said = f"Way {self.place + 1} of {ways}."
        if self.moved:
            said += " What is underlined has moved." if ways > 1 else ""
        column.text(said, BODY_BOLD)
        column.gap(8)
        turning = ways > 1
        column.buttons([
            Press("Way before", partial(self.turn, -1), "left", enabled=turning),
            Press("Next way", partial(self.turn, 1), "right", main=turning, enabled=turning),
        ])  # fmt: skip

    def _varies(self, column: Column) -> None:
        column.text(f"{self.hand.wording[:1].upper()}{self.hand.wording[1:]}.")
        column.gap(6)
        column.text(fixed_words(self.hand))
        column.gap(6)
        column.text(hold_meaning(self.hand))
        column.gap(6)
        column.text(f"It counts {self.hand.points} points.")

    def _often(self, column: Column) -> None:
        for sentence in made_words(self.hand, self.made.tally, self.made.done):
            column.text(sentence)
            column.gap(6)
        if self.made.running:
            column.text("More deals are being played.", SMALL, SOFT)
        elif not self.made.done:
            column.buttons([Press("Play deals to see", self._count, "o")])

    def _count(self) -> Scene | None:
        self.made.start()
        return None

    def _neighbours(self, column: Column) -> None:
        if not self._near:
            column.text("It is the only hand of its sheet.")
            return
        column.text("A rack for this hand can turn to these; they share most tiles with it.", SMALL, SOFT)
        for hand, tiles in self._near:
            column.gap(8)
            with column.card(f"near {hand.name}", partial(self._open, hand), says=f"go to {hand.name}") as card:
                card.text(hand.name, BODY_BOLD, TEAL)
                card.text(f"{tiles:.1f} of 14 tiles in common on average · {hand.section}", SMALL, SOFT)

    def _open(self, hand: Hand) -> Scene | None:
        return HandScene(self.routes, self.sheet, hand, self, self.made, self.rack)

    def _practise(self, column: Column) -> None:
        column.text("A fair shuffle is looked for in which this hand is within reach of your first rack.", BODY)
        column.gap(10)
        column.buttons([
            Press("Deal me a rack near it", lambda: self.routes.deal_near(self.sheet, self.hand), "d"),
            Press(
                "Rehearse the passes towards it", lambda: self.routes.rehearse_near(self.sheet, self.hand, self), "e"
            ),
        ])  # fmt: skip
