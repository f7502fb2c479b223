"""The chart of what a choice cost, ten games at a time, with how sure each point is."""

from __future__ import annotations

from collections.abc import Sequence

from engine import words
from game.draw.theme import BLUE, BODY, CARD, EDGE, INK, RULE, SMALL, SMALL_BOLD, SOFT, VERMILION
from game.play.skill import PlayOverTime, Ten
from game.ui.layout import Rect
from game.ui.widgets import Ui

TALL, LEAST = 300, 170
"""Units of the chart's height, and how little it may be in a low window."""
APART = 24
"""Units from one point to the next at least; what doesn't fit then is left to the table."""
ASIDE = 4
"""Units that the two kinds stand to the left and to the right of their place, so that neither hides the other."""
MARK = 12
STEPS = (0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0)
"""Costs that the lines of the scale may be apart."""
LINES = 4
BEYOND = 3.0
"""An interval that ends higher than so many times the highest mean runs out of the chart."""
COUNTED = "choices made without looking advice up: these count"
OTHERS = "with advice always in sight, or a deal tried another way: shown, not counted"


def chart(ui: Ui, area: Rect, found: PlayOverTime) -> int:
    """Paint it from the area's top; gives the y under it. Nothing where no ten is full."""
    tens = [ten for ten in found.tens if ten.full]
    if not tens:
        return area.top
    title = "Picks that a choice cost, on average over ten games in a row"
    y = ui.paragraph(title, area.topleft, area.width, SMALL_BOLD, SOFT) + ui.u(4)
    y = _legend(ui, area, y, tens) + ui.u(10)
    end, step = _scale(tens)
    wide = max(ui.width(_label(number * step, step), SMALL) for number in range(round(end / step) + 1)) + ui.u(10)
    high = max(ui.u(LEAST), min(ui.u(TALL), ui.window.height // 3))
    plot = Rect(area.left + wide, y + ui.line(SMALL) // 2, area.width - wide - ui.u(MARK), high)
    for number in range(round(end / step) + 1):
        at = plot.bottom - round(plot.height * number * step / end)
        ui.rule((plot.left, at), plot.width, RULE if number else EDGE)
        place = (plot.left - ui.u(10), at - ui.line(SMALL) // 2)
        ui.text(_label(number * step, step), place, SMALL, SOFT, "right")
    first, last = _span(ui, plot, found, tens)
    _months(ui, plot, found, first, last)
    for ten in tens:
        if ten.place >= first:
            _point(ui, plot, ten, _across(ui, plot, ten.place, first, last), end)
    return plot.bottom + ui.u(8) + ui.line(SMALL)


def _scale(tens: Sequence[Ten]) -> tuple[float, float]:
    """Where the scale ends, and how far apart its lines are: costs."""
    highest = max(ten.play.cost for ten in tens)
    top = max(_high(ten, BEYOND * highest) for ten in tens)
    step = next((step for step in STEPS if top <= LINES * step), STEPS[-1])
    return step * max(-(-top // step), 1), step


def _high(ten: Ten, most: float) -> float:
    return min(ten.play.within[1], most) if ten.play.within is not None else ten.play.cost


def _label(cost: float, step: float) -> str:
    return f"{cost:.2f}" if step < 0.1 else f"{cost:.1f}" if step < 1 else f"{cost:.0f}"


def _span(ui: Ui, plot: Rect, found: PlayOverTime, tens: Sequence[Ten]) -> tuple[float, float]:
    """Places of the first and the last game that are shown: all, or as many of the latest as there is room for."""
    last = len(found.games) - 1
    fit = max(plot.width // ui.u(APART), 1)
    return (0.0 if len(tens) <= fit else tens[-fit].place - 5), float(max(last, 1))


def _across(ui: Ui, plot: Rect, place: float, first: float, last: float) -> int:
    inner = plot.inflate(-2 * ui.u(MARK), 0)
    return inner.left + round(inner.width * (place - first) / max(last - first, 1))


def _months(ui: Ui, plot: Rect, found: PlayOverTime, first: float, last: float) -> None:
    """The month under the first game of each, as far as they don't crowd one another."""
    free = plot.left
    before = (0, 0)
    for place, game in enumerate(found.games):
        at = game.at.astimezone()
        if place < first or (at.year, at.month) == before:
            continue
        new_year, before = at.year != before[0], (at.year, at.month)
        name = words.MONTHS[at.month - 1] + (f" {at.year}" if new_year else "")
        wide = ui.width(name, SMALL)
        x = _across(ui, plot, place, first, last)
        left = min(x, plot.right - wide)
        ui.panel(Rect(x, plot.bottom, max(ui.u(1.5), 1), ui.u(6)), EDGE, None, 0)
        if left >= free:
            ui.text(name, (left, plot.bottom + ui.u(8)), SMALL, SOFT)
            free = left + wide + ui.u(16)


def _point(ui: Ui, plot: Rect, ten: Ten, x: int, end: float) -> None:
    x += ui.u(-ASIDE if ten.hidden else ASIDE)
    colour = BLUE if ten.hidden else VERMILION

    def down(cost: float) -> int:
        return plot.bottom - round(plot.height * min(cost / end, 1.0))

    if ten.play.within is not None:
        low, high = (down(cost) for cost in ten.play.within)
        line, half = max(ui.u(2), 1), ui.u(5)
        ui.panel(Rect(x - line // 2, high, line, max(low - high, 1)), colour, None, 0)
        ui.panel(Rect(x - half, low - line, 2 * half, line), colour, None, 0)
        if ten.play.within[1] <= end:
            ui.panel(Rect(x - half, high, 2 * half, line), colour, None, 0)
    sign(ui, (x, down(ten.play.cost)), ten.hidden)


def sign(ui: Ui, centre: tuple[int, int], hidden: bool) -> None:
    """The mark of a kind of game: a disc for those that count, an open square for the others."""
    if hidden:
        ui.mark("dot", centre, MARK * 1.5, BLUE)  # the mark's disc takes two thirds of its width
        return
    side = ui.u(MARK)
    ui.panel(Rect(centre[0] - side // 2, centre[1] - side // 2, side, side), CARD, VERMILION, 0, 2.5)


def _legend(ui: Ui, area: Rect, y: int, tens: Sequence[Ten]) -> int:
    """The marks that are there, each with what it means, one under the other; gives the y under them."""
    for hidden, says in ((True, COUNTED), (False, OTHERS)):
        if any(ten.hidden == hidden for ten in tens):
            sign(ui, (area.left + ui.u(MARK), y + ui.line(BODY) // 2), hidden)
            left = area.left + ui.u(2.2 * MARK)
            y = ui.paragraph(says, (left, y), area.right - left, BODY, INK)
    return y
