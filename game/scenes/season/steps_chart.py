"""Luck and choices as one picture: bars that lead, each from where the last one ended, to what came of the game."""

from __future__ import annotations

from game.draw.theme import BLUE, BODY, BODY_BOLD, EDGE, INK, SMALL, SOFT, TEAL, VERMILION, Colour
from game.ui.column import Column
from game.ui.layout import Rect
from game.ui.widgets import Ui
from game.words.season.luck import LuckStep, LuckSteps

ROW, BAR = 30, 16
"""Units of height of a row and of its bar."""
LOW = 450
"""Units of height of a window under which rows are no higher than a line of text."""
NARROW = 360
"""Units of width under which the names stand over their bars."""


def fill_luck(page: Column, found: LuckSteps) -> None:
    """What luck and choices did: in one sentence, as a picture, and what its figures are."""
    page.text(found.headline, BODY_BOLD)
    page.gap(8)
    fill_steps(page, found)
    page.gap(4)
    page.text(found.note, SMALL, SOFT)


def fill_steps(page: Column, found: LuckSteps) -> None:
    """A row for each step, and one for the result."""
    ui = page.ui
    begins = [] if found.start is None else [found.start]
    lines = [*begins, *found.steps, found.result]
    figures = max(ui.width(one.said, BODY_BOLD) for one in lines) + ui.u(8)
    narrow = not page.has(NARROW)
    names = 0 if narrow else min(max(ui.width(one.name, BODY_BOLD) for one in lines) + ui.u(12), page.width // 2)
    ends = [0]
    for one in (*begins, *found.steps):
        ends.append(ends[-1] + one.amount)
    low, high = min(0, *ends, found.result.amount), max(0, *ends, found.result.amount)
    scale = low, max(high, low + 1)
    for number, one in enumerate(lines[:-1]):
        _row(page, one, (ends[number], ends[number + 1]), scale, names, figures, whole=one is found.start)
    page.rule(SOFT)
    _row(page, found.result, (0, found.result.amount), scale, names, figures, whole=True)


def _row(
    page: Column, one: LuckStep, span: tuple[int, int], scale: tuple[int, int], names: int, figures: int, *, whole: bool
) -> None:
    """A name, a bar and a figure. `whole`: where it begins or ends, and no step."""
    ui, style = page.ui, BODY_BOLD if whole else BODY
    if not names:
        page.text(one.name, style)
    high = max(ui.u(ROW) if ui.window.height >= ui.u(LOW) else 0, ui.line(BODY))

    def paint(rect: Rect) -> None:
        if names:
            ui.fitted(one.name, Rect(rect.left, rect.top, names, rect.height), style, INK)
        cell = Rect(rect.right - figures, rect.top, figures, rect.height)
        ui.fitted(one.said, cell, BODY_BOLD, INK, "right")
        _bar(ui, Rect(rect.left + names, rect.top, rect.width - names - figures - ui.u(8), rect.height), span, scale,
             TEAL if whole else BLUE if one.amount > 0 else VERMILION)  # fmt: skip

    page.put(high, paint)


def _bar(ui: Ui, room: Rect, span: tuple[int, int], scale: tuple[int, int], colour: Colour) -> None:
    """The bar between two values, the line where nothing is won or paid, and a thin end where it arrives."""
    low, high = scale
    if room.width < 4:
        return

    def across(value: int) -> int:
        return room.left + round((room.width - 1) * (value - low) / (high - low))

    ui.panel(Rect(across(0), room.top, max(ui.u(1), 1), room.height), EDGE, None, 0)
    left, right = sorted(map(across, span))
    bar = Rect(left, 0, max(right - left, ui.u(3), 2), ui.u(BAR))
    bar.centery = room.centery
    ui.panel(bar, colour, None, 2)
