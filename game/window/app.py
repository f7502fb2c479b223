"""The window and its loop: events to the scene, a frame when something changed, and otherwise next to nothing."""

from __future__ import annotations

import contextlib
import gc
import os
import sys
import traceback
from collections.abc import Callable, Iterable

import pygame

from engine.tiles import EAST
from game.draw.theme import TEAL
from game.draw.tiles import Face
from game.play.worker import Worker
from game.ui.keys import key_of
from game.ui.look import Look
from game.ui.popups import KeyHelp, TroublePopup
from game.ui.scene import Popup
from game.ui.screen import Screen

TITLE = "Lone East"
LEAST = (1024, 640)
WANTED = (1440, 900)
REST = 33
"""Milliseconds between two looks at the events."""
SOON = 8
"""The same while a frame or an answer is on its way."""
PREPARING = 0.01
"""Seconds at a time for making pictures and letters ahead."""
BESIDE = 0.004
"""The same where a frame is drawn as well, which then takes no longer than 33 ms."""
PATIENCE = 400
"""Milliseconds that an answer waits at most for the pictures that it is shown with."""
WASTE = 10
"""From so many smaller collections on all objects are looked through for waste, once nothing else is to be done: the
number after which Python would do so anyway."""
PRESSES = (pygame.KEYDOWN, pygame.MOUSEBUTTONDOWN, pygame.MOUSEBUTTONUP)
"""Events that act on what is shown: a hurried player's next press waits for the frame that his last one made."""
MOVES = frozenset(
    {"left", "right", "up", "down", "home", "end", "page up", "page down", "backspace", "delete", "tab", "shift+tab"}
)
"""Keys that act again and again while they are held down. All others act once, however slowly they are let go."""
SCALES = (1.0, 1.25, 1.5, 1.75, 2.0, 2.5, 3.0)


class App:
    """The program's window.

    `scaled(scale)` is told when Ctrl and + or - change the scale. `foresee(look, size)` names the tile pictures that
    will be needed in a window of that size; they and the letters are made in short pieces between frames, and what
    comes of work in the background is shown once they are there. `sized(size)` is told the window's size in pixels when
    it is closed.
    """

    def __init__(
        self,
        look: Look,
        worker: Worker,
        scaled: Callable[[float], None] | None = None,
        foresee: Callable[[Look, tuple[int, int]], Iterable[tuple[Face, int, float]]] | None = None,
        sized: Callable[[tuple[int, int]], None] | None = None,
    ) -> None:
        self.look = look
        self.worker = worker
        self._scaled = scaled
        self._foresee = foresee
        self._sized = sized
        self._foreseen: tuple[tuple[int, int], float] | None = None
        self._patience = 0
        """Until then an answer waits for its pictures."""
        self._full = False
        self._window: pygame.Window | None = None
        self._hand = False
        self._shown = False
        """Whether the first frame is on the screen: nothing else is done before it."""
        self._waited_for = False
        """Whether work in the background waits for the first frame."""
        self._held: set[int] = set()
        """Keys that are down now."""

    def first_frame_first(self) -> None:
        """Let work in the background wait until the first frame is shown. To be called once, before `run`."""
        self._waited_for = True
        self.worker.hold()

    def run(self, scene: Screen) -> None:
        """Shows the scene, and those that follow from it, until one is over or the window is closed."""
        window = self._window or self.open()
        try:
            self._loop(window, scene)
        finally:
            if self._sized is not None and not self._full:
                self._sized(window.size)
            self._window = None
            window.destroy()

    def _loop(self, window: pygame.Window, scene: Screen) -> None:
        before = pygame.time.get_ticks()
        while not scene.over:
            with self.worker.held():
                for event in pygame.event.get():
                    if event.type == pygame.QUIT:
                        scene.closing()
                        return
                    if self._held_on(event):
                        continue
                    if scene.dirty and event.type in PRESSES:
                        self._show(window, scene)
                    scene = self.step(scene, event)
                    if scene.over:
                        return
                now = pygame.time.get_ticks()
                scene.update((now - before) / 1000)
                before = now
                if self._shown and (self.worker.busy or not scene.dirty):
                    self._prepare(window, BESIDE if scene.dirty else PREPARING)
                if self._shown and (self.look.ready or pygame.time.get_ticks() > self._patience):
                    scene = self._answers(scene)
                if scene.dirty:
                    self._show(window, scene)
                elif not self.worker.busy:
                    self._tidy()
                self._shown = True
            pygame.time.wait(SOON if scene.dirty or self.worker.busy else REST)

    def _held_on(self, event: pygame.event.Event) -> bool:
        """Whether the event says only that a key is still down which acts once."""
        if event.type == pygame.KEYUP:
            self._held.discard(event.key)
        if event.type != pygame.KEYDOWN:
            return False
        again = event.key in self._held
        self._held.add(event.key)
        return again and key_of(event) not in MOVES

    def _answers(self, scene: Screen) -> Screen:
        """What has come of work in the background; what went wrong there is said, and the game goes on."""
        try:
            if self.worker.poll():
                scene.dirty = True
        except Exception as error:  # whatever it was, the player has a game to go on with
            traceback.print_exception(error)
            scene = TroublePopup(scene, error)
        return scene

    def _prepare(self, window: pygame.Window, seconds: float) -> None:
        """Make what will be needed, as much as is done in so many seconds."""
        now = (window.size, self.look.scale)
        if self._foresee is not None and now != self._foreseen:
            self._foreseen = now
            self._patience = pygame.time.get_ticks() + PATIENCE
            self.look.foresee(self._foresee(self.look, window.size), window.size)
        self.look.prepare(seconds)

    def _tidy(self) -> None:
        """While nothing happens: free what only holds on to itself. Python would do it in the midst of a frame."""
        if gc.get_count()[2] >= WASTE:
            gc.collect()

    def step(self, scene: Screen, event: pygame.event.Event) -> Screen:
        """One event in, the scene to show next out. A few keys mean the same everywhere."""
        if event.type == pygame.KEYDOWN:
            name = key_of(event)
            if name in ("ctrl++", "ctrl+=", "ctrl+-", "ctrl+0"):
                self._rescale(name[-1])
                scene.dirty = True
                return scene
            if name in ("f11", "alt+return"):
                self.toggle_fullscreen()
                scene.dirty = True
                return scene
            if name == "f1" and not isinstance(scene, Popup):
                return KeyHelp(scene)
        following = scene.handle(event)
        if following is not scene:
            following.enter()
            following.dirty = True
        return following

    def _show(self, window: pygame.Window, scene: Screen) -> None:
        scene.draw(window.get_surface())
        window.flip()
        if self._waited_for:
            self._waited_for = False
            self.worker.release()
        if scene.can_press != self._hand:
            self._hand = scene.can_press
            with contextlib.suppress(pygame.error):  # a display without such cursors
                pygame.mouse.set_cursor(pygame.SYSTEM_CURSOR_HAND if self._hand else pygame.SYSTEM_CURSOR_ARROW)

    def _rescale(self, sign: str) -> None:
        if sign == "0":
            self.look.scale = 1.0
        else:
            larger = [scale for scale in SCALES if scale > self.look.scale + 0.01]
            smaller = [scale for scale in SCALES if scale < self.look.scale - 0.01]
            step = larger[:1] if sign in "+=" else smaller[-1:]
            self.look.scale = step[0] if step else self.look.scale
        if self._scaled is not None:
            self._scaled(self.look.scale)

    def open(self, wanted: tuple[int, int] = WANTED, first: Screen | None = None) -> pygame.Window:
        """Opens the window, as large as wanted: resizable, no smaller than 1024 by 640, no larger than the desktop.

        The `first` scene is painted before that where nobody sees it. Its fonts and pictures are there then, and the
        window does not stand empty while they are made.
        """
        prepare()
        pygame.display.init()
        pygame.font.init()
        desktops = pygame.display.get_desktop_sizes()
        room = desktops[0] if desktops else WANTED
        size = fitting(wanted, room)
        if first is not None:
            with self.worker.held():
                first.draw(pygame.Surface(size))
            first.dirty = True
        window = pygame.Window(TITLE, size, resizable=True)
        window.set_icon(icon(self.look))
        with contextlib.suppress(pygame.error):  # the least size is a kindness, not a need
            window.minimum_size = (min(LEAST[0], size[0]), min(LEAST[1], size[1]))
        pygame.key.set_repeat(350, 45)
        pygame.key.start_text_input()
        self._window = window
        return window

    def toggle_fullscreen(self) -> None:
        """Fills the screen, or goes back to the window."""
        if self._window is not None:
            self._full = not self._full
            if self._full:
                self._window.set_fullscreen(True)
            else:
                self._window.set_windowed()


def fitting(wanted: tuple[int, int], room: tuple[int, int]) -> tuple[int, int]:
    """The size of a window, in pixels: as wanted, but at least `LEAST`, and on the desktop with its bars."""
    most = (round(room[0] * 0.94), round(room[1] * 0.88))
    return min(max(wanted[0], LEAST[0]), most[0]), min(max(wanted[1], LEAST[1]), most[1])


def prepare() -> None:
    """To be called before pygame starts: real pixels on Windows, no greeting on standard output."""
    os.environ.setdefault("SDL_WINDOWS_DPI_AWARENESS", "permonitorv2")
    os.environ.setdefault("SDL_VIDEO_X11_NET_WM_BYPASS_COMPOSITOR", "0")
    os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
    if sys.platform.startswith("linux"):  # everything is drawn in memory: a graphics library would only copy it again
        os.environ.setdefault("SDL_FRAMEBUFFER_ACCELERATION", "0")
        for variable in ("SDL_VIDEO_X11_WMCLASS", "SDL_VIDEO_WAYLAND_WMCLASS"):  # what the desktop calls the program
            os.environ.setdefault(variable, "lone-east")


def icon(look: Look, side: int = 128) -> pygame.Surface:
    """The program's icon, so many pixels wide and high: an east wind on teal."""
    surface = pygame.Surface((side, side), pygame.SRCALPHA)
    look.shapes.panel(surface, surface.get_rect(), TEAL, side * 28 // 128)
    tile = look.tiles.picture(Face(EAST), side * 78 // 128).surface
    surface.blit(tile, tile.get_rect(center=surface.get_rect().center))
    return surface
