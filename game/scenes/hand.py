"""A hand as rows of laid tiles, with its suit letters on tabs."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence

from game.draw.theme import (
    BLUE,
    INK,
    PAPER,
    SMALL_BOLD,
    SOFT,
)
from game.draw.tiles import Face, height_for
from game.ui.layout import Rect, flow
from game.ui.widgets import Ui
from game.words.sheet import ShownGroup

TILE = 38
"""Units of width of a tile, if there is room."""


TAB = 20


MARK = 10
"""Units under a group for the line that marks it."""


def draw_groups(
    ui: Ui,
    groups: tuple[ShownGroup, ...],
    rect: Rect,
    tile: float = TILE,
    marked: Collection[int] | None = None,
    each: Callable[[int, Rect], object] | None = None,
    faces: Callable[[int], Sequence[Face]] | None = None,
) -> int:
    """Groups of tiles with their tabs, as large as fits in one line up to `tile` units; gives the y under them.

    `marked`: places of groups to underline; None leaves no room for lines. `each` is told where each group lies.
    `faces` says what a group's tiles look like, where they are not all there.
    """
    under = 0 if marked is None else ui.u(MARK)
    gap, between = max(ui.u(2), 1), ui.u(10)
    count = sum(group.size for group in groups)
    room = rect.width - gap * (count - len(groups)) - between * (len(groups) - 1)
    width = max(min(ui.u(tile), room // max(count, 1)), min(ui.u(24), ui.u(tile)))
    tabbed = any(group.tab for group in groups)
    sizes = [
        (group.size * width + (group.size - 1) * gap, height_for(width) + (ui.u(TAB) if tabbed else 0) + under)
        for group in groups
    ]
    bottom = rect.top
    places = flow(sizes, rect.topleft, rect.width, (between, ui.u(4)))
    for index, (group, place) in enumerate(zip(groups, places, strict=True)):
        bottom = max(bottom, place.bottom)
        if each is not None:
            each(index, place)
        if not ui.shows(place):
            continue
        top = place.top
        if tabbed:
            top += ui.u(TAB)
        if group.tab:
            _tab(ui, group.tab, Rect(place.left, place.top, place.width, ui.u(TAB)))
        tiles = [Face(group.kind)] * group.size if faces is None else faces(index)
        ui.tiles(tiles, (place.left, top), width, gap)
        if marked is not None and index in marked:
            ui.panel(Rect(place.left, place.bottom - ui.u(6), place.width, max(ui.u(5), 2)), BLUE, None, 2)
    return bottom


def _tab(ui: Ui, letter: str, rect: Rect) -> None:
    """A bracket over a group with its letter in the middle; "suit" before it where there is room, since the small
    tiles under it bear the letters of their own suits."""
    words = "zero" if letter == "0" else f"suit {letter}"
    if ui.width(words, SMALL_BOLD) + ui.u(8) <= rect.width:
        letter = words
    y = rect.centery
    ui.rule((rect.left + ui.u(2), y), rect.width - ui.u(4), SOFT)
    wide = max(ui.width(letter, SMALL_BOLD) + ui.u(8), ui.u(18))
    plate = Rect(rect.centerx - wide // 2, rect.top, wide, rect.height - ui.u(1))
    ui.panel(plate, PAPER, None, 5)
    with ui.within(plate):
        ui.fitted(letter, plate, SMALL_BOLD, INK, "middle")
