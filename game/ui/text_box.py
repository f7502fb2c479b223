"""A text field of several lines: it is as high as its text needs, and marks the places that are at fault."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence

from game.draw.theme import BLUE, BODY, EDGE, INK, IVORY, SKY_LIT, SOFT, VERMILION
from game.ui.field import Shown, nearest_gap
from game.ui.layout import Rect, inset
from game.ui.screen import Screen
from game.ui.targets import Do
from game.ui.widgets import Ui

LEAST = 44
"""Units of height of a box with one line."""
Span = tuple[int, int]
"""Where a part of the text begins and ends."""


def broken(text: str, room: int, width: Callable[[str], int]) -> tuple[Span, ...]:
    """Where each line of a text begins and ends, none wider than `room` pixels unless one word is."""
    lines: list[Span] = []
    start = end = 0
    for word in re.finditer(r"\S+\s*|\s+", text):
        if end > start and width(text[start : word.end()].rstrip()) > room:
            lines.append((start, end))
            start = end
        end = word.end()
        while width(text[start:end].rstrip()) > room and end - start > 1:  # a word that no line can hold
            cut = start + 1
            while cut < end and width(text[start : cut + 1]) <= room:
                cut += 1
            if cut >= end:
                break
            lines.append((start, cut))
            start = cut
    return (*lines, (start, end))


def text_box(
    ui: Ui,
    at: tuple[int, int],
    wide: int,
    name: str,
    text: str,
    change: Callable[[str], Screen | None],
    *,
    hint: str = "",
    enter: Do | None = None,
    marks: Sequence[Span] = (),
    longest: int = 2000,
    says: str = "",
) -> int:
    """Draws the box from a point down; gives the y under it. `marks` are underlined: each from a place to another."""
    focused = ui.focus == name
    fonts, size = ui.look.letters.fonts, ui.px(BODY)
    step = ui.line(BODY)
    pad = ui.u(12)

    def width(part: str) -> int:
        return fonts.width(part, size)

    lines = broken(text, max(wide - 2 * pad - ui.u(4), 1), width)
    high = max(ui.u(LEAST), step * len(lines) + 2 * ui.u(9))
    rect = Rect(at[0], at[1], wide, high)
    ui.panel(rect, IVORY, BLUE if focused else EDGE, 8, 2 if focused else 1.5)
    ui.target(name, rect, lambda: None, says or hint or name, radius=8)
    top = rect.top + (high - step * len(lines)) // 2
    left = rect.left + pad

    def locate(point: tuple[int, int]) -> int:
        row = min(max((point[1] - top) // step, 0), len(lines) - 1)
        start, end = lines[row]
        here = start + nearest_gap(text[start:end], point[0] - left, width)
        return here if row == len(lines) - 1 or here < end else max(end - 1, start)

    ui.fields.shown[name] = Shown(text, change, enter, longest, locate)
    caret = ui.fields.caret(name, text)
    with ui.within(rect):
        if not text and hint:
            ui.fitted(hint, inset(rect, pad, ui.u(6)), BODY, SOFT)
        for row, (start, end) in enumerate(lines):
            y = top + row * step
            if focused and text and ui.fields.marked == name:
                ui.panel(Rect(left, y, width(text[start:end].rstrip()), step), SKY_LIT, None, 3)
            if text[start:end].strip():
                ui.text(text[start:end].rstrip(), (left, y), BODY)
            for begin, stop in _within(marks, start, end):
                x = left + width(text[start:begin])
                long = max(width(text[start:stop]) + left - x, ui.u(8))
                ui.panel(Rect(x, y + step - ui.u(4), long, max(ui.u(3), 2)), VERMILION, None, 1)
            if focused and start <= caret <= end and (caret < end or row == len(lines) - 1):
                x = min(left + width(text[start:caret]), rect.right - ui.u(6))
                ui.panel(Rect(x, y, max(ui.u(2), 1), fonts.height(size)), INK, None, 0)
    return rect.bottom


def _within(marks: Sequence[Span], start: int, end: int) -> Iterator[Span]:
    """The parts of marks that lie on a line."""
    for begin, stop in marks:
        first, last = max(begin, start), min(stop, end)
        if first < last or begin == stop == first == end:
            yield first, last
