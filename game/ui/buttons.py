"""The page, its header, panels, buttons, rows and key caps.

Each is one call in `paint`: it draws itself and says what pressing it does. Those whose height depends on their text
take a point and a width and give the y under them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from game.draw.theme import (
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
    SMALL,
    SOFT,
    TEAL,
    TEAL_DEEP,
    TEAL_LIT,
    TITLE,
    TOUCH,
    Colour,
    Style,
)
from game.ui.interaction import Interaction
from game.ui.keys import cap
from game.ui.layout import Rect, flow, inset
from game.ui.targets import Do

CAP = Style(14, bold=True)
NAMES = 260
"""Units of the column of names, where there is room for two columns."""
TWO_COLUMNS = 760


@dataclass(frozen=True)
class Press:
    """A button for a row of buttons."""

    says: str
    do: Do
    key: str = ""
    main: bool = False
    enabled: bool = True


class Buttons(Interaction):
    """What most of a screen is made of."""

    # The page.

    def page(self) -> Rect:
        """The window less a margin."""
        margin = min(self.u(24), self.window.width // 30)
        return inset(self.window, margin, min(margin, self.window.height // 32))

    def header(
        self, title: str, note: str = "", back: Do | None = None, says: str = "Back", action: Press | None = None
    ) -> Rect:
        """Way back, title, a note and one action at the right; gives what is left of the page under it."""
        page = self.page()
        row = Rect(page.left, page.top, page.width, self.u(TOUCH))
        if back is not None:
            wide = self.button_size(says)[0] + self.u(16)
            self.button(Rect(row.topleft, (wide, row.height)), says, back, name="back", key="escape", arrow=True)
            row = Rect(row.left + wide + self.u(18), row.top, row.width - wide - self.u(18), row.height)
        bottom = row.bottom
        if action is not None:
            wide = min(self.button_size(action.says, action.key)[0], page.width)
            beside = row.width - wide - self.u(14) >= min(self.width(title, TITLE), self.u(120))
            top = row.top if beside else bottom + self.u(8)
            place = Rect((row.right if beside else page.left + wide) - wide, top, wide, row.height)
            self.button(
                place, action.says, action.do, key=action.key, main=action.main, enabled=action.enabled, show_key=True
            )
            row.width -= wide + self.u(14) if beside else 0
            bottom = place.bottom
        title_wide = min(self.width(title, TITLE) + self.u(4), row.width)
        self.fitted(title, Rect(row.topleft, (title_wide, row.height)), TITLE)
        left = row.left + title_wide + self.u(18)
        rest = Rect(left, row.top + self.u(2), max(row.right - left, 0), row.height)
        if note and rest.width >= self.width(note, BODY):
            self.fitted(note, rest, BODY, SOFT)
        elif note:
            bottom = self.paragraph(note, (page.left, bottom + self.u(4)), page.width, BODY, SOFT)
        top = bottom + self.u(14)
        return Rect(page.left, top, page.width, max(page.bottom - top, 0))

    # Buttons.

    def button_size(self, says: str, key: str = "") -> tuple[int, int]:
        """The natural size of a button, at least 44 units each way."""
        wide = self.width(says, BODY_BOLD) + self.u(36)
        if key:
            wide += self.cap_width(key) + self.u(12)
        return max(wide, self.u(TOUCH)), self.u(TOUCH)

    def button(
        self,
        rect: Rect,
        says: str,
        do: Do,
        *,
        name: str = "",
        key: str = "",
        main: bool = False,
        enabled: bool = True,
        arrow: bool = False,
        show_key: bool = False,
    ) -> None:
        """A button; `main` is the one obvious next step of the screen, filled teal, done by Enter too."""
        name = name or says
        fill, ink, edge = self._button_colours(name, main, enabled)
        self.panel(rect, fill, edge, 10, 1.5)
        self.target(name, rect, do, says, keys=key, enabled=enabled, main=main, radius=10)
        label = inset(rect, self.u(10), self.u(4))
        with self.within(rect):
            if show_key and key:
                label.width -= self.cap_width(key) + self.u(8)
                self.cap_at((label.right + self.u(8), rect.centery), key)
            if arrow:
                self.mark("left", (label.left + self.u(8), label.centery), 14, ink)
                label = Rect(label.left + self.u(18), label.top, label.width - self.u(18), label.height)
            self.fitted(says, label, BODY_BOLD, ink, "middle")

    def _button_colours(self, name: str, main: bool, enabled: bool) -> tuple[Colour, Colour, Colour]:
        if not enabled:
            return OFF_GROUND, OFF_INK, EDGE
        if main:
            fill = TEAL_DEEP if self.held(name) else TEAL_LIT if self.lit(name) else TEAL
            return fill, ON_TEAL, fill
        return (LIT if self.lit(name) or self.held(name) else CARD), TEAL, TEAL

    def buttons(self, at: tuple[int, int], width: int, presses: Sequence[Press], show_keys: bool = True) -> int:
        """Buttons in a row, wrapped to the width; gives the y under them."""
        sizes = [self.button_size(press.says, press.key if show_keys else "") for press in presses]
        sizes = [self._wrapped_size(press, size, width, show_keys) for press, size in zip(presses, sizes, strict=True)]
        bottom = at[1]
        for press, rect in zip(presses, flow(sizes, at, width, (self.u(12), self.u(10))), strict=True):
            self.button(
                rect, press.says, press.do, key=press.key, main=press.main, enabled=press.enabled, show_key=show_keys
            )
            bottom = max(bottom, rect.bottom)
        return bottom

    def _wrapped_size(self, press: Press, size: tuple[int, int], width: int, show_keys: bool) -> tuple[int, int]:
        if size[0] <= width:
            return size
        room = width - self.u(36) - (self.cap_width(press.key) + self.u(12) if show_keys and press.key else 0)
        return width, max(size[1], self.tall(press.says, max(room, 1), BODY_BOLD) + self.u(16))

    def row(self, name: str, rect: Rect, do: Do, *, says: str = "", key: str = "", here: bool = False) -> None:
        """A card to press, for the caller to write on; `here` marks the one that is chosen."""
        self.panel(rect, LIT if self.lit(name) else CARD, TEAL if here else EDGE, 10, 1.5 if here else 1)
        if here:
            self.panel(
                Rect(rect.left, rect.top + self.u(8), max(self.u(5), 2), rect.height - self.u(16)), TEAL, None, 2
            )
        self.target(name, rect, do, says or name, keys=(key,) if key else ())

    # Keys.

    def cap_width(self, key: str) -> int:
        """Pixels of a key cap."""
        return max(self.width(cap(key), CAP) + self.u(14), self.u(24))

    def cap_at(self, at: tuple[int, int], key: str) -> Rect:
        """A key cap, `at` the middle of its left edge."""
        high = self.u(24)
        rect = Rect(at[0], at[1] - high // 2, self.cap_width(key), high)
        self.panel(rect, IVORY, EDGE, 5)
        with self.within(rect):
            self.fitted(cap(key), rect, CAP, INK, "middle")
        return rect

    def caps(self, at: tuple[int, int], width: int, hints: Sequence[tuple[str, str]]) -> int:
        """Key caps, each with what the key does, wrapped to the width; gives the y under them."""
        gap = self.u(8)
        sizes = [(self.cap_width(key) + gap + self.width(says, SMALL), self.u(28)) for key, says in hints]
        bottom = at[1]
        for (key, says), rect in zip(hints, flow(sizes, at, width, (self.u(20), self.u(4))), strict=True):
            drawn = self.cap_at((rect.left, rect.centery), key)
            self.fitted(
                says, Rect(drawn.right + gap, rect.top, rect.right - drawn.right - gap + 2, rect.height), SMALL, SOFT
            )
            bottom = max(bottom, rect.bottom)
        return bottom
