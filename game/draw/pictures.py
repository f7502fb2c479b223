"""The pictured tiles: compass winds, coiled dragons, a blossom, a jester's cap, a bird for the 1 bam. All our own."""

from __future__ import annotations

import math

from game.draw.board import Board, Point, around, curve, spread
from game.draw.faces import AMBER, LEAF, RUST, Box
from game.draw.theme import BAM, CRAK, DOT, EDGE, INK, IVORY, PURPLE_TEXT, TEAL, Colour, mix

PETAL = (150, 62, 122)
PETAL_LIGHT = (196, 116, 168)


def draw_wind(canvas: Board, wind: int, box: Box) -> None:
    """A compass whose long needle points to the wind (0 east, 1 south, 2 west, 3 north). The letter is put on later.

    Plain, it is only the needle's tip beside the letter.
    """
    centre = (box.x, box.y)
    radius = min(box.half_w, box.half_h) * 0.97
    degrees = (90, 180, 270, 0)[wind]
    if box.plain:
        foot = around(centre, radius * 0.8, degrees)
        sides = [around(foot, radius * 0.34, degrees - 90), around(foot, radius * 0.34, degrees + 90)]
        canvas.shape([around(centre, radius * 1.12, degrees), *sides], TEAL)
        return
    brass = mix(EDGE, INK, 0.35)
    canvas.ring(centre, radius, radius * 0.055, brass)
    for index in range(16):
        turn = index * 22.5
        length = 0.13 if index % 4 == 0 else 0.07
        ends = [around(centre, radius * 0.9, turn), around(centre, radius * (0.9 - length), turn)]
        canvas.stroke(ends, [radius * 0.045], brass, steps=2)
    for index in range(4):
        _needle(canvas, centre, radius * 0.66, radius * 0.2, index * 90 + 45, mix(EDGE, IVORY, 0.55))
    for index in range(4):
        if index * 90 != degrees:
            _needle(canvas, centre, radius * 0.8, radius * 0.26, index * 90, mix(EDGE, IVORY, 0.15))
    _needle(canvas, centre, radius, radius * 0.36, degrees, TEAL)
    canvas.disc(centre, radius * 0.5, IVORY)
    canvas.ring(centre, radius * 0.5, radius * 0.06, TEAL)


def _needle(canvas: Board, centre: Point, length: float, half: float, degrees: float, colour: Colour) -> None:
    tip = around(centre, length, degrees)
    left, right = around(centre, half, degrees - 90), around(centre, half, degrees + 90)
    canvas.shape([tip, left, centre], colour)
    canvas.shape([tip, right, centre], mix(colour, INK, 0.22))


DRAGON_COLOURS = (BAM, CRAK, DOT)


def draw_dragon(canvas: Board, dragon: int, box: Box) -> None:
    """A coiled dragon: green and red are filled, white is drawn in outline (0 green, 1 red, 2 white)."""
    colour = DRAGON_COLOURS[dragon]
    spine = [
        box.at(0.06, -0.6), box.at(0.52, -0.36), box.at(0.5, 0.06), box.at(-0.02, 0.08), box.at(-0.52, 0.2),
        box.at(-0.52, 0.66), box.at(0.02, 0.78), box.at(0.5, 0.62), box.at(0.74, 0.36),
    ]  # fmt: skip
    thick = box.half_w * (0.34 if not box.plain else 0.38)
    widths = [thick * share for share in (0.9, 1, 1.04, 1, 0.98, 0.9, 0.74, 0.5, 0.1)]
    if not box.plain:
        _crest(canvas, spine, widths, colour)
    canvas.stroke(spine, widths, colour, steps=18)
    if dragon == 2:
        canvas.stroke(spine[:-1], [max(width - thick * 0.42, 0.5) for width in widths[:-1]], IVORY, steps=18)
    elif not box.plain:
        _scales(canvas, spine, widths, mix(colour, IVORY, 0.5))
    _head(canvas, box, thick, colour, outline=dragon == 2)


def _crest(canvas: Board, spine: list[Point], widths: list[float], colour: Colour) -> None:
    """Small points along the outer side of the body."""
    path, wide = curve(spine, 18), spread(widths, len(spine), 18)
    for index in range(12, len(path) - 10, 9):
        (x, y), (after_x, after_y) = path[index], path[index + 1]
        length = math.hypot(after_x - x, after_y - y) or 1
        tx, ty = (after_x - x) / length, (after_y - y) / length
        side = 1 if index < 70 else -1
        nx, ny = ty * side, -tx * side
        out, step = wide[index] * 0.78, wide[index] * 0.3
        canvas.shape(
            [(x + nx * out, y + ny * out), (x + tx * step, y + ty * step), (x - tx * step, y - ty * step)], colour
        )


def _scales(canvas: Board, spine: list[Point], widths: list[float], light: Colour) -> None:
    path, wide = curve(spine, 18), spread(widths, len(spine), 18)
    for index in range(20, len(path) - 14, 9):
        canvas.disc(path[index], wide[index] * 0.15, light)


def _head(canvas: Board, box: Box, thick: float, colour: Colour, outline: bool) -> None:
    """Snout to the left, two horns, an eye and whiskers."""
    inner = IVORY if outline else colour
    line = thick * 0.2
    for lift in (0.0, 0.2):
        horn = [
            box.at(0.02, -0.74),
            box.at(0.2 + lift * 0.8, -0.92 - lift * 0.1),
            box.at(0.44 + lift, -0.98 + lift * 0.5),
        ]
        canvas.stroke(horn, [line * 1.1, line, line * 0.3], colour)
    outer = [box.at(-0.84, -0.5), box.at(-0.7, -0.72), box.at(-0.3, -0.82), box.at(0.08, -0.78), box.at(0.28, -0.56),
             box.at(0.12, -0.36), box.at(-0.24, -0.36), box.at(-0.34, -0.26), box.at(-0.7, -0.26)]  # fmt: skip
    canvas.shape(curve([*outer, outer[0]], 8), colour)
    if outline:
        middle = (sum(x for x, _ in outer) / len(outer), sum(y for _, y in outer) / len(outer))
        smaller = [(middle[0] + (x - middle[0]) * 0.74, middle[1] + (y - middle[1]) * 0.68) for x, y in outer]
        canvas.shape(curve([*smaller, smaller[0]], 8), IVORY)
    if not box.plain:
        for ends in (((-0.8, -0.3), (-0.92, -0.1), (-0.74, 0.04)), ((-0.62, -0.26), (-0.62, -0.06), (-0.44, 0.02))):
            canvas.stroke([box.at(*end) for end in ends], [line * 0.55, line * 0.5, line * 0.3], colour)
        canvas.stroke([box.at(-0.8, -0.42), box.at(-0.5, -0.43), box.at(-0.3, -0.47)], [line * 0.36],
                      colour if outline else IVORY)  # fmt: skip
    eye = box.at(-0.18, -0.62)
    canvas.disc(eye, thick * (0.2 if not box.plain else 0.24), IVORY if inner == colour else colour)
    if not box.plain and not outline:
        canvas.disc(eye, thick * 0.09, INK)


def draw_flower(canvas: Board, box: Box) -> None:
    """A five-petalled blossom on a stem with two leaves."""
    radius = min(box.half_w, box.half_h)
    heart = box.at(0, -0.2 if not box.plain else 0)
    if not box.plain:
        stem = [box.at(0, 0), box.at(0.06, 0.5), box.at(-0.04, 1.0)]
        canvas.stroke(stem, [radius * 0.09, radius * 0.08, radius * 0.06], BAM)
        for side in (-1, 1):
            leaf = box.at(side * 0.36, 0.72)
            canvas.oval(leaf, radius * 0.15, radius * 0.4, side * 62, LEAF if side < 0 else BAM)
            canvas.stroke([box.at(0, 0.84), box.at(side * 0.6, 0.6)], [radius * 0.05, radius * 0.02],
                          mix(LEAF, IVORY, 0.5))  # fmt: skip
    size = radius * (0.36 if not box.plain else 0.42)
    for index in range(5):
        turn = index * 72
        canvas.disc(around(heart, size * 1.02, turn), size, PETAL)
    if not box.plain:
        for index in range(5):
            turn = index * 72
            canvas.disc(around(heart, size * 1.1, turn), size * 0.66, PETAL_LIGHT)
            vein = [around(heart, size * 0.5, turn), around(heart, size * 1.35, turn)]
            canvas.stroke(vein, [size * 0.12, size * 0.05], PETAL)
    canvas.disc(heart, size * 0.58, AMBER)
    if not box.plain:
        canvas.disc(heart, size * 0.46, (240, 200, 84))
        for index in range(7):
            canvas.disc(around(heart, size * 0.28, index * 360 / 7), size * 0.08, RUST)


def draw_joker(canvas: Board, box: Box) -> None:
    """A jester's cap with three bells."""
    thick = box.half_w * 0.2
    for side, colour in ((-1, TEAL), (1, PURPLE_TEXT)):
        canvas.shape(
            curve(
                [
                    box.at(side * 0.62, 0.4), box.at(side * 0.74, 0.12),
                    box.at(side * 0.86, 0.1), box.at(side * 0.98, 0.06),
                    box.at(side * 0.86, -0.34), box.at(side * 0.52, -0.5), box.at(side * 0.16, -0.1), box.at(0, 0.4),
                ],
                8,
            ),
            colour,
        )  # fmt: skip
    middle = [box.at(-0.36, 0.4), box.at(-0.3, -0.1), box.at(0, -0.82), box.at(0.3, -0.1), box.at(0.36, 0.4)]
    canvas.shape(curve(middle, 8), AMBER)
    for spot in ((0, -0.84), (-0.98, 0.14), (0.98, 0.14)):
        place = box.at(spot[0] * 0.9, spot[1])
        canvas.disc(place, thick * 0.8, RUST)
        if not box.plain:
            canvas.disc((place[0] - thick * 0.2, place[1] - thick * 0.25), thick * 0.22, mix(RUST, IVORY, 0.6))
    canvas.stroke([box.at(-0.6, 0.46), box.at(0, 0.58), box.at(0.6, 0.46)], [thick * 1.25], RUST)
    if not box.plain:
        for across in (-0.42, -0.14, 0.14, 0.42):
            canvas.disc(box.at(across, 0.58 - abs(across) ** 2 * 0.32), thick * 0.3, (244, 214, 120))


def draw_bird(canvas: Board, box: Box) -> None:
    """A small bird on a stalk: the 1 bam."""
    r = box.half_w
    if not box.plain:
        canvas.stroke([box.at(-0.95, 0.8), box.at(0, 0.7), box.at(0.95, 0.78)], [r * 0.16], BAM)
        for across in (-0.5, 0.42):
            canvas.stroke([box.at(across, 0.66), box.at(across, 0.84)], [r * 0.1], mix(BAM, INK, 0.35))
        canvas.oval(box.at(0.8, 0.56), r * 0.1, r * 0.26, 40, LEAF)
        for across in (-0.12, 0.1):
            canvas.stroke([box.at(across, 0.4), box.at(across - 0.02, 0.7)], [r * 0.05], AMBER)
    for index, degrees in enumerate((-0.1, 0.08, 0.26)):
        tail = [box.at(0.36, 0.2), box.at(0.7, 0.16 + degrees), box.at(0.98, 0.08 + degrees * 1.6)]
        canvas.stroke(tail, [r * 0.18, r * 0.16, r * 0.05], (BAM, LEAF, TEAL)[index])
    body = [box.at(-0.62, -0.36), box.at(-0.38, -0.1), box.at(0.02, 0.16), box.at(0.42, 0.2)]
    canvas.stroke(body, [r * 0.42, r * 0.66, r * 0.74, r * 0.26], BAM)
    canvas.disc(box.at(-0.5, -0.46), r * 0.29, BAM)
    canvas.shape([box.at(-0.72, -0.58), box.at(-1.04, -0.42), box.at(-0.72, -0.32)], AMBER)
    for index in range(3):
        canvas.stroke([box.at(-0.46 + index * 0.08, -0.7), box.at(-0.34 + index * 0.14, -0.98 + index * 0.06)],
                      [r * 0.07, r * 0.05], RUST)  # fmt: skip
    canvas.disc(box.at(-0.56, -0.48), r * 0.1, IVORY)
    canvas.disc(box.at(-0.57, -0.48), r * 0.05, INK)
    if not box.plain:
        belly = [box.at(-0.44, -0.06), box.at(-0.2, 0.2), box.at(0.12, 0.32)]
        canvas.stroke(belly, [r * 0.16, r * 0.22, r * 0.1], (230, 190, 92))
        for index, light in enumerate((LEAF, TEAL, (120, 178, 130))):
            wing = [box.at(-0.2 + index * 0.04, -0.06 + index * 0.08), box.at(0.16, 0.0 + index * 0.09),
                    box.at(0.5 - index * 0.1, 0.1 + index * 0.1)]  # fmt: skip
            canvas.stroke(wing, [r * 0.1, r * 0.2, r * 0.04], light)
