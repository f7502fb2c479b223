"""Text fields: where the caret is and what keys do to the text. The text itself belongs to the scene."""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from dataclasses import dataclass

import pygame

from game.ui.screen import Screen

LONGEST = 2000
"""Characters that a field takes at most."""


@dataclass(frozen=True)
class Shown:
    """A field in the last frame."""

    text: str
    change: Callable[[str], Screen | None]
    enter: Callable[[], Screen | None] | None
    longest: int
    locate: Callable[[tuple[int, int]], int] | None = None
    """Which place in the text a point of the window is nearest to."""


class Fields:
    """Carets by the fields' names."""

    def __init__(self) -> None:
        self.shown: dict[str, Shown] = {}
        self._carets: dict[str, int] = {}
        self.marked: str | None = None
        """The field whose whole text is marked: what is typed next takes its place."""

    def caret(self, name: str, text: str) -> int:
        """Where the caret stands, at the end of the text at first."""
        return min(self._carets.get(name, len(text)), len(text))

    def put_caret(self, name: str, at: int) -> None:
        """Puts the caret at a place of the text; nothing is marked any more."""
        self._carets[name] = max(at, 0)
        self.marked = None if self.marked == name else self.marked

    def point(self, name: str | None, at: tuple[int, int]) -> None:
        """The mouse was pressed on a field: the caret goes there."""
        field = self.shown.get(name or "")
        if field is not None and name is not None and field.locate is not None:
            self.put_caret(name, field.locate(at))

    def type(self, name: str | None, text: str) -> Screen | None:
        """Text goes in at the caret; control characters are left out."""
        field = self.shown.get(name or "")
        if field is None or name is None:
            return None
        clean = "".join(char for char in text if char.isprintable())
        before, after = ("", "") if self.marked == name else self._around(name, field.text)
        self.marked = None
        clean = clean[: max(0, min(field.longest, LONGEST) - len(before) - len(after))]
        self._carets[name] = len(before) + len(clean)
        return field.change(before + clean + after)

    def _around(self, name: str, text: str) -> tuple[str, str]:
        """What stands before the caret, and what behind it."""
        at = self.caret(name, text)
        return text[:at], text[at:]

    def key(self, name: str | None, key: str, event: pygame.event.Event) -> tuple[bool, Screen | None]:
        """Whether a field took the key, and the scene that follows."""
        field = self.shown.get(name or "")
        if field is None or name is None:
            return False, None
        at, text = self.caret(name, field.text), field.text
        marked, self.marked = self.marked == name, None
        if key == "ctrl+a":
            self.marked = name if text else None
            self._carets[name] = len(text)
            return True, None
        if marked and key in ("ctrl+c", "ctrl+x"):
            _copy(text)
            self.marked = name if key == "ctrl+c" else None
            return True, None if key == "ctrl+c" else field.change("")
        if marked and key in ("backspace", "delete"):
            return True, field.change("")
        moves = {"left": max(at - 1, 0), "right": min(at + 1, len(text)), "home": 0, "end": len(text)}
        if key in moves:
            self._carets[name] = moves[key]
            return True, None
        if key == "backspace":
            self._carets[name] = max(at - 1, 0)
            return True, field.change(text[: max(at - 1, 0)] + text[at:])
        if key == "delete":
            self._carets[name] = at
            return True, field.change(text[:at] + text[at + 1 :])
        if key == "ctrl+v":
            self.marked = name if marked else None
            return True, self.type(name, _pasted())
        if key == "return" and field.enter is not None:
            return True, field.enter()
        self.marked = name if marked else None  # a key that types brings its letter in an event of its own
        typed = getattr(event, "unicode", "")
        plain = not getattr(event, "mod", 0) & (pygame.KMOD_CTRL | pygame.KMOD_META)
        return bool(typed) and typed.isprintable() and plain, None


def nearest_gap(line: str, x: int, width: Callable[[str], int]) -> int:
    """The gap between two letters of a line that is nearest to `x` pixels from its beginning."""
    low, high = 0, len(line)
    while low < high:  # the width grows with every letter
        middle = (low + high) // 2
        if (width(line[:middle]) + width(line[: middle + 1])) / 2 < x:
            low = middle + 1
        else:
            high = middle
    return low


def _copy(text: str) -> None:
    """The text goes to the clipboard, where there is one."""
    with contextlib.suppress(pygame.error):
        pygame.scrap.put_text(text)


def _pasted() -> str:
    """The clipboard's text on one line, or nothing where there is no clipboard."""
    try:
        return " ".join(pygame.scrap.get_text().split())
    except pygame.error:
        return ""
