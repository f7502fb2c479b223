"""What the tests of the editor share: a sheet begun, what is shown, and the cursor at a new hand."""

import pygame
from harness import press

from game.scenes.editor.scene import EditorScene

LONG = 5000
"""Characters of a file that takes its time to be read."""

FOURTEEN = "quint a.n, kong b.n, pung c.n, pair b.n+2"


def begun(routes, sheet=None):
    """An editor with an empty sheet, or a copy of one whose hands are all looked at."""
    start = routes.writing(routes.home())
    scene = start.empty() if sheet is None else start.copy(sheet)
    scene.enter()
    routes.desk.worker.poll()
    return shown(scene)


def shown(scene):
    """The scene after a frame."""
    if isinstance(scene, EditorScene):
        scene.desk.worker.poll()
    scene.draw(pygame.Surface((1440, 900)))
    return scene


def at_new_hand(routes):
    """An empty hand of an empty sheet."""
    scene = begun(routes)
    return press(scene, "ctrl+n")
