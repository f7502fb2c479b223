"""The shapes of a tile: its body, its picture and what its corner mark says, on any board.

A tile is 100 units wide and 138 high; the last 10 are its thickness.
"""

from __future__ import annotations

from engine.tiles import (
    BAMS,
    CRAKS,
    DOTS,
    DRAGON_NAMES,
    DRAGONS,
    FLOWER,
    JOKER,
    SUITS,
    WIND_NAMES,
    WINDS,
    Kind,
    rank_of,
    suit_of,
)
from game.draw.board import Board
from game.draw.faces import Box, draw_bams, draw_craks, draw_dots
from game.draw.pictures import draw_bird, draw_dragon, draw_flower, draw_joker, draw_wind
from game.draw.theme import BAM, CRAK, DOT, INK, IVORY, Colour, mix

WIDE, HIGH, THICK = 100.0, 138.0, 10.0

BODY = (199, 181, 146)
BACK = (38, 98, 96)


def draw_body(canvas: Board, plain: bool) -> None:
    """A back, a bone side and an ivory face, with a soft edge."""
    canvas.panel(0.6, 3, WIDE - 1.2, HIGH - 3.2, 12, mix(BODY, INK, 0.3))
    canvas.panel(1.6, 4, WIDE - 3.2, HIGH - 5.4, 11.5, BACK)
    canvas.panel(1.2, 1, WIDE - 2.4, HIGH - 6, 12, mix(BODY, INK, 0.06))
    canvas.panel(0.6, 0, WIDE - 1.2, HIGH - THICK, 12, mix(BODY, INK, 0.14))
    edge = 1.6 if not plain else 2.6
    canvas.panel(edge, edge - 0.4, WIDE - 2 * edge, HIGH - THICK - 2 * edge + 0.4, 11, IVORY)


def draw_back(canvas: Board) -> None:
    """The back of a turned tile."""
    canvas.panel(2, 2, WIDE - 4, HIGH - THICK - 4, 11, BACK)
    canvas.panel(12, 12, WIDE - 24, HIGH - THICK - 24, 6, mix(BACK, IVORY, 0.45), 2.5)
    for row in range(3):
        for column in range(2):
            x, y = 35 + column * 30, 34 + row * 30
            canvas.shape([(x, y - 10), (x + 8, y), (x, y + 10), (x - 8, y)], mix(BACK, IVORY, 0.3))


def draw_face(canvas: Board, kind: Kind, small: bool, plain: bool) -> None:
    """The picture of a kind; under the larger mark of a small tile there is less room for it."""
    box = Box(50, 86, 36, 36, plain) if small else Box(50, 78.5, 36, 42, plain)
    rank = rank_of(kind) or 0
    if kind == BAMS[0]:
        draw_bird(canvas, box)
    elif kind in BAMS:
        draw_bams(canvas, rank, box)
    elif kind in CRAKS:
        draw_craks(canvas, rank, box)
    elif kind in DOTS:
        draw_dots(canvas, rank, box)
    elif kind in WINDS:
        draw_wind(canvas, kind - WINDS[0], box)
    elif kind in DRAGONS:
        draw_dragon(canvas, kind - DRAGONS[0], box)
    elif kind == FLOWER:
        draw_flower(canvas, box)
    elif kind == JOKER:
        draw_joker(canvas, box)


SUIT_COLOURS = (BAM, CRAK, DOT)


def mark_of(kind: Kind) -> tuple[str, str]:
    """The corner mark: number and suit word, or nothing and a name."""
    suit = suit_of(kind)
    if suit is not None:
        return str(rank_of(kind)), SUITS[suit]
    if kind in WINDS:
        return "", WIND_NAMES[kind - WINDS[0]]
    if kind in DRAGONS:
        return "", DRAGON_NAMES[kind - DRAGONS[0]]
    return "", "flower" if kind == FLOWER else "joker"


def mark_colour(kind: Kind) -> Colour:
    """The colour of a number in the corner, and of a dragon's name."""
    suit = suit_of(kind)
    if suit is not None:
        return SUIT_COLOURS[suit]
    return SUIT_COLOURS[kind - DRAGONS[0]] if kind in DRAGONS else INK
