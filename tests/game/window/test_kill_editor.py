"""The editor is killed while somebody types: at most the last second is lost, and the next start goes on there."""

import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import pytest
from at_table import routes_over
from harness import make_look

from engine.sheet.writing.document import Place
from game.scenes.editor.scene import EditorScene
from game.window.open import first_scene

pytestmark = [pytest.mark.kill, pytest.mark.slow]

TYPING = """
import os, sys, time
from pathlib import Path
os.environ["SDL_VIDEODRIVER"] = os.environ["SDL_AUDIODRIVER"] = "dummy"
import pygame
from engine.store.store import Store
from game.play.desk import Desk
from game.play.worker import Worker
from game.scenes.navigation import Navigation
from game.ui.look import Look

pygame.display.init(); pygame.font.init(); pygame.display.set_mode((1, 1))
worker = Worker()
desk = Desk(worker, Store(Path(sys.argv[1])))
desk.explained()
routes = Navigation(desk, Look.make(motion=False))
scene = routes.writing(routes.home()).empty()
scene.enter()
scene.new_hand()
surface = pygame.Surface((640, 400))
for number in range(2000):
    scene.draw(surface)
    scene.handle(pygame.event.Event(pygame.TEXTINPUT, text="abcdefghij"[number % 10]))
    os.write(1, b".")
    with worker.held():
        worker.poll()
        scene.update(0.03)
    time.sleep(0.01)
"""


@pytest.fixture
def folder(tmp_path):
    """A folder in memory where there is one: a disk that others keep busy is not what is tested here."""
    memory = Path("/dev/shm")
    if not os.access(memory, os.W_OK):
        yield tmp_path
        return
    with tempfile.TemporaryDirectory(prefix="lone-east-", dir=memory) as made:
        yield Path(made)


@pytest.mark.parametrize("seed", range(2))
def test_at_most_a_second_of_typing_is_lost(folder, seed):
    """Killed at a moment by chance: every letter typed more than a second before it is in the file."""
    if not hasattr(signal, "SIGKILL"):
        pytest.skip("needs a system that can kill at once")
    store = folder / "lone-east.sqlite"
    script = folder / "writer_to_kill.py"
    script.write_text(TYPING, encoding="utf-8")
    process = subprocess.Popen(
        [sys.executable, script, store], stdout=subprocess.PIPE, bufsize=0,
        env={**os.environ, "PYGAME_HIDE_SUPPORT_PROMPT": "1", "PYTHONPATH": os.pathsep.join(filter(None, sys.path))},
    )  # fmt: skip
    moments = []
    try:
        moments += [time.monotonic()] * len(process.stdout.read(1))
        until = time.monotonic() + random.Random(seed).uniform(1.2, 2.4)
        while time.monotonic() < until:
            moments += [time.monotonic()] * len(process.stdout.read(1))
    finally:
        killed = time.monotonic()
        process.kill()
        process.wait()
        process.stdout.close()
    routes = routes_over(make_look(), store)
    assert not routes.desk.told
    scene = first_scene(routes)
    assert isinstance(scene, EditorScene)
    assert scene.writing.place == Place(0, 0)
    kept = scene.text_of("hand")
    assert kept == ("abcdefghij" * 200)[: len(kept)]
    assert len(kept) >= sum(1 for moment in moments if moment < killed - 1.0)
    assert len(moments) > 10, "somebody was typing"
    routes.desk.store.close()
