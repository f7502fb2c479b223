"""What buttons, fields and the window know of a screen: enough to show it, hand it events, and go where it leads.

Every scene is made of buttons, and every button may lead to a scene. This protocol stands between the two, so that
neither file has to import the other.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

import pygame

from game.ui.look import Look


class Screen(Protocol):
    """A scene, seen from outside. `game.ui.scene.Scene` is the base of all of them."""

    look: Look
    over: bool
    """The program ends when the current screen says so."""
    dirty: bool
    """Something has changed since it was last drawn."""

    @property
    def can_press(self) -> bool:
        """Whether the mouse is over something that can be pressed."""

    def keys(self) -> Sequence[tuple[tuple[str, ...], str]]:
        """The keys that mean something here, each group with what it does."""

    def enter(self) -> None:
        """Called when it becomes the current one."""

    def closing(self) -> None:
        """Called when the window is closed over it."""

    def back(self) -> Screen | None:
        """Where Esc leads; None stays."""

    def key(self, name: str) -> Screen | None:
        """A key that no target took. Gives the next screen, or None if it means nothing here."""

    def handle(self, event: pygame.event.Event) -> Screen:
        """One event in, the screen to show next out."""

    def update(self, seconds: float) -> None:
        """Time has passed."""

    def draw(self, surface: pygame.Surface) -> None:
        """Paints the whole surface."""
