"""The frame of every scene at the table: header, strip with what is asked and the buttons that answer, rack's place.

In a low window the strip takes the header's place, so that the rack and what lies above it keep their room.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from game.draw.theme import BODY, BODY_BOLD, INK, LEAST_TEXT, ON_TEAL, SMALL_BOLD, TEAL, TOUCH, VERMILION_TEXT, Style
from game.scenes.table.rack import cloth, rack_height
from game.ui.buttons import Press
from game.ui.layout import Rect, Space
from game.ui.targets import Do
from game.ui.widgets import Ui

LOW_UNDER = 450
"""Units of height under which the header gives way to the strip."""


@dataclass
class Frame:
    """Where things go on one frame of the table."""

    page: Space
    """What is left for the middle."""
    bar: Rect
    """The strip."""
    rack: Rect
    low: bool
    """Whether the window is low."""


def frame(ui: Ui, header: Callable[[Ui], Rect], tiles: int, back: Do, clock: str = "") -> Frame:
    """Cut the window up and paint what lies behind: `header` paints itself and gives what is left under it.

    `clock` is time left that a low window shows in the strip, where there is no header to show it.
    """
    low = ui.window.height < ui.u(LOW_UNDER)
    page = Space(ui.page()) if low else Space(header(ui))
    top = page.top(ui.u(TOUCH), ui.u(6)) if low else None
    bottom = page.bottom(rack_height(ui, page.rect.width, tiles))
    if top is None:
        bar = page.bottom(ui.u(TOUCH), ui.u(8))
        cloth(ui, Rect(0, bar.top - ui.u(8), ui.window.width, ui.window.height))
        page.bottom(ui.u(14))
        return Frame(page, bar, bottom, low)
    cloth(ui, Rect(0, bottom.top - ui.u(2), ui.window.width, ui.window.height))
    page.bottom(ui.u(6))
    ui.button(Rect(top.left, top.top, top.height, top.height), "", back, name="back", key="escape", arrow=True)
    left = top.left + top.height + ui.u(8)
    if clock:
        left = pill(ui, (left, top.centery), clock) + ui.u(8)
    return Frame(page, Rect(left, top.top, top.right - left, top.height), bottom, low)


def pill(ui: Ui, at: tuple[int, int], says: str) -> int:
    """A small teal label; gives its right edge."""
    high = ui.line(SMALL_BOLD)
    pill = Rect(at[0], at[1] - high // 2, ui.width(says, SMALL_BOLD) + ui.u(16), high)
    ui.panel(pill, TEAL, None, 10)
    with ui.within(pill):
        ui.fitted(says, pill, SMALL_BOLD, ON_TEAL, "middle")
    return pill.right


def strip(ui: Ui, rect: Rect, asks: str, trouble: str, presses: Sequence[Press], low: bool) -> bool:
    """Paint it: the buttons from the right, the main one first, as many as leave room for the words.

    Whether there was room for what went wrong, if anything did. `low`: no key caps, and no words where they don't fit.
    """
    says = trouble or asks
    style = BODY_BOLD if trouble else BODY
    words_need = min(max(ui.width(says, style) * 0.62, ui.u(150)), ui.u(330))
    right = rect.right
    for place, one in enumerate(reversed(presses)):
        key = "" if low else one.key
        wide = ui.button_size(one.says, key)[0]
        if right - wide - (words_need if place >= 2 else 0) < rect.left:
            break
        button = Rect(right - wide, rect.top, wide, rect.height)
        ui.button(button, one.says, one.do, key=one.key, main=one.main, enabled=one.enabled, show_key=not low)
        right -= wide + ui.u(8)
    room = Rect(rect.left, rect.top, max(right - rect.left - ui.u(8), 1), rect.height)
    if trouble and not _fits(ui, trouble, room):
        if _fits(ui, asks, room):
            ui.fitted(asks, room, BODY)
        return False
    if trouble or not low or _fits(ui, asks, room):
        ui.fitted(says, room, style, VERMILION_TEXT if trouble else INK)
    return True


def _fits(ui: Ui, text: str, room: Rect) -> bool:
    """Whether a text can be set in a rectangle without getting too small."""
    return ui.tall(text, room.width, Style(LEAST_TEXT, bold=True)) <= room.height
