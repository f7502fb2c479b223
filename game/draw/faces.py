"""What is on a tile's face: dots, bams, craks, and where each of them goes.

Every picture is drawn in a box: centre, half width and half height in the tile's units. `plain` is the form for small
tiles: fewer lines, heavier.
"""

from __future__ import annotations

from dataclasses import dataclass

from game.draw.board import Board, Point, around
from game.draw.numerals import NUMERALS, SIGN, draw_strokes
from game.draw.theme import BAM, CRAK, DOT, INK, IVORY, Colour, mix

AMBER = (201, 128, 16)
LEAF = (62, 140, 84)
RUST = (178, 58, 34)


@dataclass(frozen=True)
class Box:
    """Where a picture goes, in tile units."""

    x: float
    y: float
    half_w: float
    half_h: float
    plain: bool = False

    def at(self, across: float, down: float) -> Point:
        """The point at a share (-1 to 1) of the half width and half height."""
        return self.x + across * self.half_w, self.y + down * self.half_h


DOT_PLACES: tuple[tuple[Point, ...], ...] = (
    ((0, 0),),
    ((0, -0.58), (0, 0.58)),
    ((-0.66, -0.68), (0, 0), (0.66, 0.68)),
    ((-0.52, -0.58), (0.52, -0.58), (-0.52, 0.58), (0.52, 0.58)),
    ((-0.62, -0.66), (0.62, -0.66), (0, 0), (-0.62, 0.66), (0.62, 0.66)),
    ((-0.46, -0.7), (0.46, -0.7), (-0.46, 0), (0.46, 0), (-0.46, 0.7), (0.46, 0.7)),
    ((-0.7, -0.8), (0, -0.6), (0.7, -0.4), (-0.46, 0.2), (0.46, 0.2), (-0.46, 0.76), (0.46, 0.76)),
    tuple((x, y) for y in (-0.78, -0.26, 0.26, 0.78) for x in (-0.46, 0.46)),
    tuple((x, y) for y in (-0.7, 0, 0.7) for x in (-0.7, 0, 0.7)),
)
DOT_SIZES = (0.94, 0.46, 0.37, 0.42, 0.34, 0.31, 0.27, 0.25, 0.29)
"""Radius of a pip as a share of the half width of the box."""


def draw_dots(canvas: Board, rank: int, box: Box) -> None:
    """Rings with an amber heart; the single one is a rosette."""
    radius = DOT_SIZES[rank - 1] * min(box.half_w, box.half_h)
    if rank == 1:
        _rosette(canvas, (box.x, box.y), radius, box.plain)
        return
    for across, down in DOT_PLACES[rank - 1]:
        centre = box.at(across, down)
        canvas.disc(centre, radius, DOT)
        if box.plain and rank > 4:
            canvas.disc(centre, radius * 0.42, IVORY)
            continue
        canvas.disc(centre, radius * 0.66, IVORY)
        canvas.disc(centre, radius * 0.4, AMBER)


def _rosette(canvas: Board, centre: Point, radius: float, plain: bool) -> None:
    canvas.disc(centre, radius, DOT)
    canvas.disc(centre, radius * 0.86, IVORY)
    petals = 8 if plain else 12
    for index in range(petals):
        turn = index * 360 / petals
        canvas.oval(around(centre, radius * 0.57, turn), radius * (1.3 / petals), radius * 0.24, turn, DOT)
    canvas.disc(centre, radius * 0.3, AMBER)
    if not plain:
        canvas.disc(centre, radius * 0.16, IVORY)
        canvas.disc(centre, radius * 0.09, RUST)


_UP = tuple[float, float, float, float]
"""across, down, length as a share of the half height, degrees."""

BAM_PLACES: tuple[tuple[_UP, ...], ...] = (
    (),
    ((0, -0.52, 0.44, 0), (0, 0.52, 0.44, 0)),
    ((0, -0.52, 0.44, 0), (-0.5, 0.52, 0.44, 0), (0.5, 0.52, 0.44, 0)),
    ((-0.5, -0.52, 0.44, 0), (0.5, -0.52, 0.44, 0), (-0.5, 0.52, 0.44, 0), (0.5, 0.52, 0.44, 0)),
    ((-0.68, -0.52, 0.44, 0), (0.68, -0.52, 0.44, 0), (0, 0, 0.44, 0), (-0.68, 0.52, 0.44, 0), (0.68, 0.52, 0.44, 0)),
    tuple((x, y, 0.44, 0) for y in (-0.52, 0.52) for x in (-0.64, 0, 0.64)),
    ((0, -0.69, 0.29, 0), *((x, y, 0.29, 0) for y in (0, 0.69) for x in (-0.64, 0, 0.64))),
    (
        *((x, -0.52, 0.43, 0) for x in (-0.86, 0.86)), (-0.3, -0.52, 0.39, -27), (0.3, -0.52, 0.39, 27),
        *((x, 0.52, 0.43, 0) for x in (-0.86, 0.86)), (-0.3, 0.52, 0.39, 27), (0.3, 0.52, 0.39, -27),
    ),
    tuple((x, y, 0.29, 0) for y in (-0.69, 0, 0.69) for x in (-0.64, 0, 0.64)),
)  # fmt: skip
BAM_RED = {5: (2,), 7: (0,), 9: (1, 4, 7)}
"""Which stalks are rust-coloured, to break up the green."""


def draw_bams(canvas: Board, rank: int, box: Box) -> None:
    """Jointed stalks; the single one is a bird, in `pictures`."""
    for index, (across, down, length, degrees) in enumerate(BAM_PLACES[rank - 1]):
        colour = RUST if index in BAM_RED.get(rank, ()) else BAM
        _stalk(canvas, box.at(across, down), length * box.half_h, degrees, colour, box)


def _stalk(canvas: Board, centre: Point, half: float, degrees: float, colour: Colour, box: Box) -> None:
    """A stalk of two lengths with a joint at its middle and rims at its ends."""
    if box.plain:
        width = box.half_w * 0.29
        ends = [around(centre, half - width / 2, degrees), around(centre, width / 2 - half, degrees)]
        canvas.stroke(ends, [width], colour)
        canvas.stroke(
            [around(centre, width * 0.1, degrees), around(centre, -width * 0.1, degrees)], [width * 1.35], colour
        )
        return
    width = 3.9 + half * 0.26
    rim = width * 0.42
    canvas.stroke([around(centre, half - rim, degrees), centre], [width, width * 0.86], colour)
    canvas.stroke([centre, around(centre, rim - half, degrees)], [width * 0.86, width], colour)
    for place in (half - rim / 2, 0, rim / 2 - half):
        middle = around(centre, place, degrees)
        reach = width * 0.64 - rim / 2 + 0.6
        canvas.stroke([around(middle, reach, degrees - 90), around(middle, reach, degrees + 90)], [rim], colour)
    light = mix(colour, IVORY, 0.55)
    for share in (0.47, -0.47):
        ends = [
            around(centre, half * share + half * 0.17, degrees),
            around(centre, half * share - half * 0.17, degrees),
        ]
        canvas.stroke(ends, [width * 0.26], light, steps=4)


def draw_craks(canvas: Board, rank: int, box: Box) -> None:
    """The numeral above, the sign of the suit below; on small tiles the numeral alone."""
    if box.plain:
        half = min(box.half_w, box.half_h) * 0.96
        draw_strokes(canvas, NUMERALS[rank - 1], (box.x - half, box.y - half, half * 2, half * 2), CRAK, 1.25)
        return
    high = box.half_h * 2
    wide = min(box.half_w * 1.16, high * 0.54)
    top = box.y - box.half_h
    draw_strokes(canvas, NUMERALS[rank - 1], (box.x - wide / 2, top, wide, high * 0.42), mix(INK, DOT, 0.3), 1.18)
    wide = min(box.half_w * 1.28, high * 0.6)
    draw_strokes(canvas, SIGN, (box.x - wide / 2, top + high * 0.49, wide, high * 0.52), CRAK, 1.02)
