"""The tile pictures that the table will need in a window of some size: built while the player reads or thinks."""

from __future__ import annotations

from collections.abc import Iterator

import pygame

from engine.tiles import FLOWER, KINDS
from game.draw.tiles import SLOT, Face
from game.scenes.table.between import DISCARD_ROW, side_width
from game.scenes.table.board import board_tile
from game.scenes.table.passes_view import reach_width
from game.scenes.table.rack import tile_width
from game.scenes.table.reasons import HELP_ROW, row_tile
from game.ui.look import Look
from game.ui.widgets import Ui

RACK = 14


def foreseen(look: Look, window: tuple[int, int]) -> Iterator[tuple[Face, int, float]]:
    """Faces, widths in pixels and the unit: the rack's first, then those of boards, discards and reasons."""
    ui = Ui(look)
    ui.begin(pygame.Surface(window, 0, 8))  # nothing is drawn on it: it is only measured
    width = ui.page().width
    beside = board_tile(ui, width - side_width(ui, width) - ui.u(12))
    boards = dict.fromkeys((beside, board_tile(ui, reach_width(ui, width))))
    widths = (tile_width(ui, width, RACK), *boards, row_tile(ui, DISCARD_ROW), row_tile(ui, HELP_ROW))
    for wide in dict.fromkeys(widths):
        for kind in range(KINDS):
            yield Face(kind), wide, ui.unit
        if wide in boards:
            for kind in range(KINDS):
                yield Face(kind, SLOT), wide, ui.unit
            for kind in range(FLOWER):
                yield Face(kind, joker=True), wide, ui.unit
