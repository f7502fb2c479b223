"""Scenes: what is on the window now. A scene gets events and answers with the scene that follows, often itself."""

from __future__ import annotations

from collections.abc import Sequence

import pygame

from game.draw.theme import PAPER
from game.ui.look import Look
from game.ui.screen import Screen
from game.ui.widgets import Ui

VEIL = (140, 134, 126)
"""What the colours under a popup are multiplied with (255 leaves them as they are)."""


class Scene:
    """Base of all scenes: subclasses write `paint` and give `back`.

    `paint(ui)` draws the frame and says, with every button, what pressing it does; it is called again whenever
    something has changed, so it only reads the scene's fields. Nothing is drawn while nothing changes.
    """

    over = False
    """The program ends when the current scene says so."""

    def __init__(self, look: Look) -> None:
        self.look = look
        self.ui = Ui(look)
        self.dirty = True

    # To be written by each scene.

    def paint(self, ui: Ui) -> None:
        """Draws one frame."""
        raise NotImplementedError

    def back(self) -> Screen | None:
        """Where Esc leads; None stays."""
        return None

    def enter(self) -> None:
        """Called when the scene becomes the current one: look again at what may have changed."""

    def closing(self) -> None:
        """Called when the window is closed over it: keep what is not kept yet."""

    def key(self, name: str) -> Screen | None:  # noqa: ARG002 (for subclasses)
        """A key that no target took. Gives the next scene, or None if it means nothing here."""
        return None

    # Asked by the program.

    @property
    def can_press(self) -> bool:
        """Whether the mouse is over something that can be pressed."""
        return self.ui.hand

    def keys(self) -> Sequence[tuple[tuple[str, ...], str]]:
        """The keys of this screen's own targets, each group with what it does, as last drawn."""
        return [(target.keys, target.says) for target in self.ui.targets if target.keys and target.name != "back"]

    # Called by the program.

    def handle(self, event: pygame.event.Event) -> Screen:
        """One event in, the scene to show next out."""
        following = self.ui.handle(event, self)
        self.dirty = self.dirty or self.ui.changed
        self.ui.changed = False
        return following or self

    def update(self, seconds: float) -> None:
        """Time has passed."""
        if self.ui.tick(seconds):
            self.dirty = True

    def draw(self, surface: pygame.Surface) -> None:
        """Paints the whole surface. A subclass that changes this must set `dirty` to False."""
        self.dirty = False
        self.ui.begin(surface)
        surface.fill(PAPER)
        self.paint(self.ui)
        if self.ui.end():
            self.dirty = True


class Popup(Scene):
    """A scene over a parent, which stays to be seen, dimmed, and comes back with Esc."""

    def __init__(self, parent: Screen) -> None:
        super().__init__(parent.look)
        self.parent = parent

    def back(self) -> Screen | None:
        """The parent."""
        return self.parent

    def closing(self) -> None:
        """The parent is left too."""
        self.parent.closing()

    def draw(self, surface: pygame.Surface) -> None:
        """The parent, a veil over it, then the popup."""
        self.dirty = False
        self.parent.draw(surface)
        surface.fill(VEIL, special_flags=pygame.BLEND_RGB_MULT)
        if self.ui.recorder is not None:
            self.ui.recorder.cover()
        self.ui.begin(surface)
        self.paint(self.ui)
        if self.ui.end():
            self.dirty = True
