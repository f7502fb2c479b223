"""Brush strokes of the nine numerals and of the sign under them on a crak tile, as our own skeletons.

Each stroke is its points in a box of 100 by 100 and the widths of the brush along it. The font has no such letters,
so they are drawn like everything else on a tile.
"""

from __future__ import annotations

from game.draw.board import Board, Point
from game.draw.theme import Colour

Stroke = tuple[tuple[Point, ...], tuple[float, ...]]

FLAT = (9.0, 7.0, 8.0, 13.0)
"""A stroke across: pressed down, lifted, pressed at the end."""
DOWN = (12.0, 9.0, 10.0)
SWEEP = (12.0, 9.0, 3.0)
PRESS = (4.0, 9.0, 14.0, 6.0)

NUMERALS: tuple[tuple[Stroke, ...], ...] = (
    ((((6, 53), (50, 48), (94, 50)), (12, 9, 10, 17)),),
    ((((22, 28), (50, 25), (78, 26)), (11, 8, 9, 15)), (((6, 76), (50, 72), (94, 74)), (12, 9, 10, 17))),
    (
        (((18, 18), (50, 15), (82, 16)), (10, 8, 9, 14)),
        (((25, 49), (50, 47), (75, 48)), (10, 8, 9, 14)),
        (((6, 84), (50, 80), (94, 82)), (12, 9, 10, 16)),
    ),
    (
        (((12, 18), (16, 52), (18, 88)), DOWN),
        (((12, 20), (50, 17), (87, 18)), FLAT),
        (((87, 18), (85, 52), (82, 86)), (13, 10, 10)),
        (((39, 20), (37, 44), (26, 60)), (9, 8, 3)),
        (((60, 20), (60, 50), (66, 58), (77, 57)), (9, 9, 8, 4)),
        (((18, 80), (82, 79)), (9, 8, 9)),
    ),
    (
        (((17, 13), (50, 10), (83, 11)), FLAT),
        (((48, 12), (42, 50), (34, 86)), DOWN),
        (((20, 48), (48, 45), (74, 45)), FLAT),
        (((74, 45), (72, 66), (68, 86)), (12, 9, 10)),
        (((4, 90), (50, 86), (96, 88)), (11, 9, 9, 15)),
    ),
    (
        (((45, 4), (52, 12), (55, 22)), (4, 9, 13)),
        (((5, 40), (50, 35), (95, 37)), (11, 8, 9, 15)),
        (((37, 54), (28, 74), (9, 94)), SWEEP),
        (((60, 53), (76, 72), (91, 93)), PRESS),
    ),
    (
        (((5, 52), (48, 44), (94, 36)), (11, 9, 9, 13)),
        (((43, 7), (42, 44), (43, 74), (52, 88), (72, 89), (87, 87), (91, 70)), (12, 10, 10, 10, 9, 10, 4)),
    ),
    (
        (((38, 16), (32, 52), (6, 90)), (13, 10, 3)),
        (((50, 12), (62, 46), (94, 88)), (4, 10, 15, 7)),
    ),
    (
        (((40, 6), (38, 48), (7, 93)), (12, 10, 3)),
        (((10, 37), (38, 33), (66, 31)), FLAT),
        (((66, 31), (64, 62), (68, 85), (80, 91), (92, 87), (94, 70)), (13, 10, 10, 10, 9, 4)),
    ),
)
"""One to nine."""

SIGN: tuple[Stroke, ...] = (
    (((6, 14), (50, 11), (94, 12)), (8, 6, 7, 11)),
    (((32, 2), (35, 23)), (9, 7)),
    (((68, 2), (64, 23)), (9, 7)),
    (((24, 31), (27, 56)), (8, 7)),
    (((24, 31), (50, 29), (77, 30)), (7, 6, 9)),
    (((77, 30), (74, 56)), (9, 7)),
    (((27, 43), (74, 42)), (6, 6)),
    (((27, 55), (74, 54)), (6, 6)),
    (((50, 29), (50, 82)), (8, 7)),
    (((13, 67), (15, 99)), (9, 7)),
    (((13, 67), (50, 65), (88, 66)), (8, 6, 10)),
    (((88, 66), (87, 90), (83, 98), (73, 94)), (10, 8, 8, 3)),
    (((30, 85), (48, 83), (66, 81)), (7, 6, 7)),
    (((60, 73), (67, 81), (71, 89)), (4, 6, 8)),
)
"""The sign for ten thousand, which names the suit."""


def draw_strokes(
    canvas: Board,
    strokes: tuple[Stroke, ...],
    box: tuple[float, float, float, float],
    colour: Colour,
    weight: float = 1,
) -> None:
    """Strokes fitted to a box (x, y, wide, high); `weight` makes the brush thicker."""
    x, y, wide, high = box
    thick = min(wide, high) / 100 * weight
    for points, widths in strokes:
        placed = [(x + px * wide / 100, y + py * high / 100) for px, py in points]
        canvas.stroke(placed, [width * thick for width in widths], colour, steps=10)
