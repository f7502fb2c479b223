"""Opening the window: store, look, desk, first scene, loop, and leaving everything kept behind."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Iterator

import pygame

from engine.advice.rollout.beside import Helpers
from engine.store.files import default_path
from engine.store.store import Store
from engine.store.values import StoreError
from game.draw.tiles import Face
from game.play.desk import AskedDeal, Desk
from game.play.worker import Worker
from game.scenes.navigation import Navigation
from game.scenes.routes import Routes
from game.ui.look import Look
from game.ui.scene import Scene
from game.window.app import WANTED, App, prepare

SWITCH = 0.001
"""Seconds after which work in the background gives way to the window (Python's own choice, 0.005, costs frames)."""
LATEST = 1000
"""Smaller collections after which Python looks through all objects for waste, if the window has had no quiet moment to
do it in (`App`)."""


class NoDisplayError(Exception):
    """No window can be opened here."""


def open_window(asked: AskedDeal | None = None) -> int:
    """Run the window until the player leaves; at once at the deal asked for, if one is. Raises NoDisplayError."""
    prepare()
    sys.setswitchinterval(SWITCH)
    worker = Worker(Helpers())
    try:
        pygame.display.init()
        pygame.font.init()
    except pygame.error as error:
        raise NoDisplayError(str(error)) from error
    if unseen(pygame.display.get_driver()):
        pygame.quit()
        raise NoDisplayError("no display answers")
    try:
        with Store(default_path()) as store:
            routes = Navigation(Desk(worker, store), Look.make())
            app = App(routes.look, worker, routes.desk.rescaled, _foreseen, routes.desk.save_window)
            app.first_frame_first()
            first = first_scene(routes, asked)
            try:
                app.open(routes.desk.window or WANTED, first)
            except pygame.error as error:
                raise NoDisplayError(str(error)) from error
            gc.freeze()  # what is loaded by now stays, and need not be looked through again and again
            gc.set_threshold(*gc.get_threshold()[:2], LATEST)
            app.run(first)
    finally:
        worker.close()
        pygame.quit()
    return 0


def _foreseen(look: Look, size: tuple[int, int]) -> Iterator[tuple[Face, int, float]]:
    from game.scenes.table.foreseen import foreseen  # late: the first frame comes before it

    return foreseen(look, size)


def unseen(driver: str) -> bool:
    """Whether the driver that was found shows nothing to anyone: where no display answers, the last resort is found."""
    return driver in ("offscreen", "dummy") and os.environ.get("SDL_VIDEODRIVER", "") != driver


def first_scene(routes: Routes, asked: AskedDeal | None = None) -> Scene:
    """The explanation at a first start, the deal asked for, the deal, match or sheet left unfinished, or home."""
    if asked is not None:
        return routes.at_table(routes.desk.deal_asked(asked))
    desk = routes.desk
    if desk.first_start:
        return routes.intro(routes.home(), first=True)
    if not desk.told and not desk.lost_settings:
        try:
            return routes.left_off() or routes.home()
        except (OSError, StoreError, ValueError) as error:
            desk.tell(f"What you left unfinished can't be opened: {error}")
    return routes.home()
