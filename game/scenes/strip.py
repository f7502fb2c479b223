"""The strip over the rack: what is asked of the player, and the buttons that answer."""

from __future__ import annotations

from collections.abc import Sequence

from game.draw.theme import BODY, BODY_BOLD, INK, LEAST_TEXT, VERMILION_TEXT, Style
from game.ui.layout import Rect
from game.ui.widgets import Press, Ui


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
