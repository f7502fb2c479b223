"""The frame of every moment at the table: header, strip with what is asked and the buttons that answer, rack's place.

In a low window the strip takes the header's place, so that the rack and what lies above it keep their room.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from game.draw.theme import (
    BODY,
    BODY_BOLD,
    INK,
    LEAST_TEXT,
    ON_TEAL,
    SMALL_BOLD,
    SOFT,
    TEAL,
    TITLE,
    TOUCH,
    VERMILION_TEXT,
    Style,
)
from game.scenes.table.rack import cloth, rack_height
from game.ui.buttons import Press
from game.ui.layout import Rect, Space
from game.ui.targets import Do
from game.ui.widgets import Ui

LOW_UNDER = 450
"""Units of height under which the header gives way to the strip."""
NARROW = 560
"""Units of width of the strip under which buttons have short names."""
ALWAYS_THERE = 3
"""Buttons that stand in the strip however little room it leaves for words, which then stand under it. In a short window
there is no room under it to spare: one button fewer, but where a discard is asked about or a joker is to be had."""
SHORT_UNDER = 560
"""Units of height of a short window."""


@dataclass(frozen=True)
class Heading:
    """What stands in the header of a moment."""

    title: str
    back: Do
    back_says: str = "Home"
    looking_back: bool = False
    notes: tuple[str, ...] = ()
    """At the right end: the wall, the time left. Empty ones are left out."""
    parts: tuple[str, ...] = ()
    """Behind the title, what matters most first. Empty ones are left out, and the last ones where room is short."""


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


def header(ui: Ui, heading: Heading, steps: Callable[[Ui, Rect], int] | None = None) -> Rect:
    """Paint the header; gives what is left of the page under it.

    `steps` paints which pass it is into a rectangle behind the title and gives its right edge.
    """
    space = Space(ui.page())
    row = space.top(ui.u(TOUCH), ui.u(10))
    home = Rect(row.left, row.top, ui.button_size(heading.back_says)[0] + ui.u(16), row.height)
    ui.button(home, heading.back_says, heading.back, name="back", key="escape", arrow=True)
    left, right = home.right + ui.u(16), row.right
    for note in filter(None, heading.notes):
        wide = min(ui.width(note, BODY_BOLD) + ui.u(4), (right - left) // 2)
        ui.fitted(note, Rect(right - wide, row.top, wide, row.height), BODY_BOLD, across="right")
        right -= wide + ui.u(22)
    title = "Looking back" if heading.looking_back else heading.title
    wide = min(ui.width(title, TITLE) + ui.u(2), right - left)
    colour = VERMILION_TEXT if heading.looking_back else INK
    ui.fitted(title, Rect(left, row.top, wide, row.height), TITLE, colour)
    left += wide + ui.u(16)
    if steps is not None:
        left = steps(ui, Rect(left, row.top, max(right - left, 0), row.height)) + ui.u(16)
    rest = Rect(left, row.top + ui.u(2), right - left, row.height - ui.u(2))
    parts = [part for part in heading.parts if part]
    while parts and ui.width("  ·  ".join(parts), BODY) > rest.width:
        parts.pop()
    if parts:
        ui.fitted("  ·  ".join(parts), rest, BODY, SOFT)
    return space.rect


def frame(
    ui: Ui,
    heading: Heading,
    tiles: int,
    clock: str = "",
    steps: Callable[[Ui, Rect], int] | None = None,
    rack_stays: bool = True,
) -> Frame:
    """Cut the window up and paint the header and what lies behind.

    `tiles`: so many the rack has room for. With `rack_stays` False it has no place. `clock` is time
    left that a low window shows in the strip, where there is no header to show it.
    """
    low = ui.window.height < ui.u(LOW_UNDER)
    page = Space(ui.page()) if low else Space(header(ui, heading, steps))
    top = page.top(ui.u(TOUCH), ui.u(6)) if low else None
    bottom = page.bottom(rack_height(ui, page.rect.width, tiles) if rack_stays else 0)
    if top is None:
        bar = page.bottom(ui.u(TOUCH), ui.u(8))
        cloth(ui, Rect(0, bar.top - ui.u(8), ui.window.width, ui.window.height))
        page.bottom(ui.u(14))
        return Frame(page, bar, bottom, low)
    if rack_stays:
        cloth(ui, Rect(0, bottom.top - ui.u(2), ui.window.width, ui.window.height))
        page.bottom(ui.u(6))
    ui.button(Rect(top.left, top.top, top.height, top.height), "", heading.back, name="back", key="escape", arrow=True)
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


def strip(
    ui: Ui,
    rect: Rect,
    asks: str,
    trouble: str,
    presses: Sequence[Press],
    low: bool,
    lead: Callable[[Ui, Rect], int] | None = None,
    brief: str = "",
) -> bool:
    """Paint it: the buttons from the right, the main one first, as many as leave room for the words.

    Gives whether there was room for the words; else they stand under the strip. In a `low` window buttons have no key
    caps. `lead` paints something before the words and gives its right edge. `brief`: a word or two that will do in a
    short window, where another button is needed more than the words.
    """
    says = trouble or asks
    style = BODY_BOLD if trouble or lead is not None else BODY
    left = rect.left if lead is None else lead(ui, rect) + ui.u(12)
    words_need = min(max(ui.width(says, style) * 0.75, ui.u(140)), ui.u(330))
    short = ui.window.height < ui.u(SHORT_UNDER)
    right, always = rect.right, ALWAYS_THERE - (short and not brief)
    for place, one in enumerate(reversed(presses)):
        wide = ui.button_size(one.says, "" if low else one.key)[0]
        if right - wide - (words_need if place >= always else 0) < left:
            break
        button = Rect(right - wide, rect.top, wide, rect.height)
        ui.button(button, one.says, one.do, key=one.key, main=one.main, enabled=one.enabled, show_key=not low)
        right -= wide + ui.u(8)
    room = Rect(left, rect.top, right - left - ui.u(8), rect.height)
    if not _fits(ui, says, room):
        if not (short and brief and not trouble and _fits(ui, brief, room)):
            return False
        says = brief
    ui.fitted(says, room, style, VERMILION_TEXT if trouble else INK)
    return True


def under_strip(ui: Ui, page: Space, asks: str, trouble: str) -> None:
    """The words that found no room in the strip."""
    if trouble:
        page.top(ui.notice(trouble, page.rect.topleft, page.rect.width) - page.rect.top, ui.u(10))
    else:
        page.top(ui.paragraph(asks, page.rect.topleft, page.rect.width, BODY_BOLD) - page.rect.top, ui.u(6))


def _fits(ui: Ui, text: str, room: Rect) -> bool:
    """Whether a text can be set in a rectangle without getting too small, no word broken."""
    if room.width < max(ui.width(word, BODY_BOLD) for word in text.split()):
        return False
    return ui.tall(text, room.width, Style(LEAST_TEXT + 1, bold=True)) <= room.height
