"""The widgets: what a scene paints with. Choices, ticks, steppers, fields and notices stand here.

Each is one call in `paint`: it draws itself and says what pressing it does. Those whose height depends on their text
take a point and a width and give the y under them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeVar

from game.draw.theme import (
    BLUE,
    BODY,
    BODY_BOLD,
    CARD,
    EDGE,
    INK,
    IVORY,
    LIT,
    OFF_GROUND,
    OFF_INK,
    ON_TEAL,
    ORANGE,
    RULE,
    SKY_LIT,
    SMALL,
    SMALL_BOLD,
    SOFT,
    TEAL,
    TOUCH,
    WARM,
    Colour,
)
from game.ui.buttons import Buttons
from game.ui.field import Shown, nearest_gap
from game.ui.layout import Rect, flow, inset
from game.ui.screen import Screen
from game.ui.targets import Do

Value = TypeVar("Value")


class Ui(Buttons):
    """What a scene paints with."""

    # Choices.

    def choice(
        self,
        at: tuple[int, int],
        width: int,
        name: str,
        options: Sequence[tuple[Value, str]],
        value: Value,
        pick: Callable[[Value], Screen | None],
    ) -> int:
        """One of several; the chosen one is filled, bold and ticked. Gives the y under them.

        They stand a little closer where that brings them into one line.
        """
        tick, apart = self.u(26), self.u(8)
        bare = [self.width(says, BODY_BOLD) + tick for _, says in options]
        close = sum(bare) + len(bare) * self.u(34) + (len(bare) - 1) * apart > width
        sizes = [(min(wide + self.u(24 if close else 34), width), self.u(TOUCH)) for wide in bare]
        bottom = at[1]
        for (option, says), rect in zip(options, flow(sizes, at, width, (apart, apart)), strict=True):
            chosen = option == value
            target = f"{name}: {says}"
            fill = TEAL if chosen else LIT if self.lit(target) else CARD
            self.panel(rect, fill, TEAL if chosen else EDGE, 22, 1.5)
            self.target(target, rect, lambda option=option: pick(option), says, radius=22)  # type: ignore[misc]
            ink = ON_TEAL if chosen else INK
            label = Rect(rect.left + self.u(11) + tick, rect.top, rect.width - self.u(22) - tick, rect.height)
            if chosen:
                self.mark("tick", (rect.left + self.u(22), rect.centery), 16, ink)
            else:
                centre = Rect(0, 0, self.u(16), self.u(16))
                centre.center = (rect.left + self.u(22), rect.centery)
                self.panel(centre, None, EDGE, 8, 1.5)
            with self.within(rect):
                self.fitted(says, label, BODY_BOLD if chosen else BODY, ink)
            bottom = max(bottom, rect.bottom)
        return bottom

    def check(
        self, at: tuple[int, int], width: int, says: str, value: bool, change: Callable[[bool], Screen | None],
        note: str = "", name: str = "", enabled: bool = True,
    ) -> int:  # fmt: skip
        """A box to tick, with a note under its words; gives the y under it."""
        box = self.u(26)
        text_wide = width - box - self.u(30)
        high = self.tall(says, text_wide, BODY) + (self.tall(note, text_wide, SMALL) if note else 0) + self.u(14)
        rect = Rect(at[0], at[1], width, max(high, self.u(TOUCH)))
        name = name or says
        if self.lit(name) and enabled:
            self.panel(rect, LIT, None, 10)
        self.target(name, rect, lambda: change(not value), says, enabled=enabled)
        square = Rect(rect.left + self.u(8), rect.top + max(self.u(9), (self.u(TOUCH) - box) // 2), box, box)
        self.panel(square, (TEAL if enabled else OFF_INK) if value else CARD, TEAL if enabled else EDGE, 6, 2)
        if value:
            self.mark("tick", square.center, 16, ON_TEAL)
        with self.within(rect):
            x = square.right + self.u(12)
            used = self.tall(says, text_wide, BODY) + (self.tall(note, text_wide, SMALL) if note else 0)
            y = rect.top + (rect.height - used) // 2
            y = self.paragraph(says, (x, y), text_wide, BODY, INK if enabled else OFF_INK)
            if note:
                self.paragraph(note, (x, y), text_wide, SMALL, SOFT)
        return rect.bottom

    def stepper(
        self, at: tuple[int, int], name: str, value: int, low: int, high: int, change: Callable[[int], Screen | None],
        shown: str = "",
    ) -> Rect:  # fmt: skip
        """A number with a button to lower and one to raise it; gives its rectangle."""
        side = self.u(TOUCH)
        text = shown or str(value)
        middle = max(self.width(text, BODY_BOLD) + self.u(20), self.u(56))
        rect = Rect(at[0], at[1], side * 2 + middle, side)
        for step, left in ((-1, rect.left), (1, rect.right - side)):
            part = Rect(left, rect.top, side, side)
            target = f"{name}: {'less' if step < 0 else 'more'}"
            open_ = low <= value + step <= high
            fill = (LIT if self.lit(target) else CARD) if open_ else OFF_GROUND
            self.panel(part, fill, TEAL if open_ else EDGE, 10, 1.5)
            self.target(target, part, lambda step=step: change(value + step), target, enabled=open_)  # type: ignore[misc]
            ink = TEAL if open_ else OFF_INK
            if step > 0:
                self.mark("plus", part.center, 18, ink)
            else:
                self.panel(
                    Rect(part.centerx - self.u(9), part.centery - self.u(1.5), self.u(18), self.u(3)), ink, None, 1
                )
        with self.within(rect):
            self.fitted(text, Rect(rect.left + side, rect.top, middle, side), BODY_BOLD, INK, "middle")
        return rect

    # Fields and notices.

    def field(
        self,
        rect: Rect,
        name: str,
        text: str,
        change: Callable[[str], Screen | None],
        *,
        hint: str = "",
        enter: Do | None = None,
        longest: int = 200,
    ) -> None:
        """One line to type in. The part around the caret is shown when the text is longer than the field."""
        focused = self.focus == name
        self.panel(rect, IVORY, BLUE if focused else EDGE, 8, 2 if focused else 1.5)
        self.target(name, rect, lambda: None, hint or name, radius=8)
        inner = inset(rect, self.u(12), self.u(6))
        fonts, size = self.look.letters.fonts, self.px(BODY)
        caret = self.fields.caret(name, text)
        start = 0
        while start < caret and fonts.width(text[start:caret], size) > inner.width - self.u(4):
            start += 1
        end = len(text)
        while end > caret and fonts.width(text[start:end], size) > inner.width:
            end -= 1

        def locate(point: tuple[int, int]) -> int:
            return start + nearest_gap(text[start:end], point[0] - inner.left, lambda part: fonts.width(part, size))

        self.fields.shown[name] = Shown(text, change, enter, longest, locate)
        y = rect.centery - fonts.height(size) // 2
        if text and focused and self.fields.marked == name:
            self.panel(Rect(inner.left, y, fonts.width(text[start:end], size), fonts.height(size)), SKY_LIT, None, 3)
        with self.within(rect):
            if text:
                self.text(text[start:end], (inner.left, y), BODY)
            elif hint:
                self.fitted(hint, inner, BODY, SOFT)
        if focused:
            x = inner.left + (fonts.width(text[start:caret], size) if caret > start else 0)
            self.panel(Rect(x, y, max(self.u(2), 1), fonts.height(size)), INK, None, 0)

    def notice(self, text: str, at: tuple[int, int], width: int, fill: Colour = WARM) -> int:
        """Something worth noticing, with a mark at its left; gives the y under it."""
        pad, mark = self.u(16), self.u(26)
        room = width - 2 * pad - mark
        rect = Rect(at[0], at[1], width, self.tall(text, room, BODY) + 2 * self.u(12))
        self.panel(rect, fill, RULE, 12)
        strip = Rect(rect.left, rect.top + self.u(12), max(self.u(5), 2), rect.height - 2 * self.u(12))
        self.panel(strip.move(self.u(12), 0), ORANGE, None, 2)
        with self.within(rect):
            self.paragraph(text, (rect.left + pad + mark - self.u(8), rect.top + self.u(12)), room, BODY)
        return rect.bottom

    def caption(self, text: str, at: tuple[int, int], width: int) -> int:
        """A small heading over a group; gives the y under it."""
        return self.paragraph(text, at, width, SMALL_BOLD, SOFT) + self.u(4)
