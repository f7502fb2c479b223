"""Keys and presses at random: the editor never crashes, and every state of it is a file that can be cut again."""

from random import Random

import pygame
import pytest
from at_table import routes_over
from harness import key, make_look

from engine.sheet.shelf import find
from engine.sheet.writing.cutting import cut
from game.scenes.editor.scene import EditorScene
from game.ui.scene import Popup

LETTERS = "quint a.n, kong b.n+1; x < y ':#-[]{}&*!\"\\@é0123456789"
KEYS = (
    "ctrl+z", "ctrl+z", "ctrl+y", "ctrl+n", "ctrl+d", "ctrl+e", "ctrl+h", "ctrl+o", "ctrl+a", "ctrl+delete", "ctrl+up",
    "ctrl+down", "alt+up", "alt+down", "return", "backspace", "delete", "left", "right", "home", "end", "tab", "up",
    "down", "ctrl+1", "ctrl+3", "space",
)  # fmt: skip
LEFT_OUT = ("back", "Write it to a file", "Deal now", "To the home screen", "Delete this sheet")
"""Presses that lead elsewhere."""
SURFACE = (900, 560)
STEPS = 120


def event_of(name):
    """A key going down, with Ctrl or Alt where the name says so."""
    mod, _, bare = name.rpartition("+")
    return key(bare, {"": 0, "ctrl": pygame.KMOD_CTRL, "alt": pygame.KMOD_ALT}[mod])


def one_step(scene, chance):
    """Something that a hand or a cat may do; gives the scene that follows."""
    kind = chance.random()
    if kind < 0.3:
        return scene.handle(pygame.event.Event(pygame.TEXTINPUT, text=chance.choice(LETTERS)))
    if kind < 0.55:
        return scene.handle(event_of(chance.choice(KEYS)))
    targets = [one for one in scene.ui.targets if one.enabled and one.do and one.name not in LEFT_OUT]
    target = chance.choice(targets)
    for kind in (pygame.MOUSEBUTTONDOWN, pygame.MOUSEBUTTONUP):
        at = target.rect.center if target.rect.height else (1, 1)
        scene = scene.handle(pygame.event.Event(kind, pos=at, button=1))
    return scene


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(2))
def test_nothing_that_is_pressed_breaks_it(tmp_path, seed):
    """Some hundred steps from a copy of a sheet; undone to the end it is the copy again."""
    chance = Random(seed)
    routes = routes_over(make_look(), tmp_path / "lone-east.sqlite")
    editor = scene = routes.writing(routes.home()).copy(find("first-steps"))
    first = editor.writing.document.text
    surface = pygame.Surface(SURFACE)
    for _ in range(STEPS):
        scene.draw(surface)
        routes.desk.worker.poll()
        scene = one_step(scene, chance)
        if not isinstance(scene, (EditorScene, Popup)):
            scene = editor
        document = editor.writing.document
        assert cut(document.text).document.text == document.text
        assert document.has(editor.writing.place)
    while editor.writing.history.can_undo:
        editor.writing.undo()
    assert editor.writing.document.text == first
    editor.writing.keeping.flush()
    assert editor.writing.keeping.trouble == ""
    routes.desk.store.close()
