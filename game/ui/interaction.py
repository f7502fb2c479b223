"""What can be pressed, pointed at and focused in a frame, and what events do with it.

Targets are told anew in every frame, by name; what has to last between frames (focus, scroll, carets) is kept here
under those names. Events act on the last frame's targets.
"""

from __future__ import annotations

from collections.abc import Callable

import pygame

from game.draw.theme import BLUE, CARD
from game.ui.field import Fields
from game.ui.keys import key_of
from game.ui.look import Look
from game.ui.screen import Screen
from game.ui.scrolling import Scrolling
from game.ui.targets import Do, Rect, Target, along, hit, named, towards

GLIDE = 0.16
"""Seconds that a movement takes."""
ARROWS = ("left", "right", "up", "down")


class Interaction(Scrolling):
    """Targets, focus and pointing."""

    def __init__(self, look: Look) -> None:
        super().__init__(look)
        self.targets: list[Target] = []
        self.focus: str | None = None
        self.by_keyboard = False
        """Whether the focus was moved by a key, so that its ring is shown."""
        self.fields = Fields()
        self._pointed: str | None = None
        self._pressed: str | None = None
        self._glides: dict[str, tuple[float, float, float]] = {}

    # Frames.

    def begin(self, surface: pygame.Surface) -> None:
        """Starts a frame: what could be pressed before is forgotten."""
        super().begin(surface)
        self.targets = []
        self.fields.shown = {}

    def end(self) -> bool:
        """Ends a frame: the focus ring. True if another frame is needed at once."""
        target = named(self.targets, self.focus)
        if target is not None and self.by_keyboard and target.rect.height:
            self._ring(target)
        return self._again

    def _ring(self, target: Target) -> None:
        rect = target.rect.inflate(self.u(8), self.u(8))
        area = next((area for area in self.areas if area.name == target.area), None)
        clip = self.surface.get_clip()
        if area is not None:
            self.surface.set_clip(area.rect.inflate(self.u(10), self.u(6)).clip(clip))
        self.panel(rect.inflate(self.u(2), self.u(2)), None, CARD, target.radius + 5, 5)
        self.panel(rect, None, BLUE, target.radius + 4, 3)
        self.surface.set_clip(clip)

    def tick(self, seconds: float) -> bool:
        """Moves what is moving on; True if a frame is needed."""
        moving = False
        for name, (start, end, share) in list(self._glides.items()):
            if share < 1:
                self._glides[name] = (start, end, min(share + seconds / GLIDE, 1.0))
                moving = True
        return moving

    def glide(self, name: str, value: float) -> float:
        """A value that moves to where it is wanted in 0.16 s; at once if motion is off."""
        if not self.look.motion:
            self._glides[name] = (value, value, 1.0)
            return value
        start, end, share = self._glides.setdefault(name, (value, value, 1.0))
        eased = share * (2 - share)
        now = start + (end - start) * eased
        if end != value:
            self._glides[name] = (now, value, 0.0)
            self._again = True
        return now

    # Pressing.

    def target(
        self,
        name: str,
        rect: Rect,
        do: Do | None,
        says: str = "",
        *,
        keys: tuple[str, ...] | str = (),
        enabled: bool = True,
        main: bool = False,
        radius: float = 10,
        quiet: bool = False,
        yields: bool = False,
    ) -> Target:
        """Makes a rectangle something to press. Names are unique in a frame. `do` None: it can only be pointed at."""
        seen = rect.clip(self.surface.get_clip())
        one = Target(
            name=name,
            rect=seen,
            whole=rect.copy(),
            do=do,
            says=says or name,
            keys=((keys,) if keys else ()) if isinstance(keys, str) else keys,
            enabled=enabled,
            main=main,
            radius=radius,
            area=self._area,
            quiet=quiet,
            yields=yields,
        )
        self.targets.append(one)
        return one

    def lit(self, name: str) -> bool:
        """Whether a target is pointed at, by the mouse or, if a key moved last, by the focus."""
        return (self.focus if self.by_keyboard else self._pointed) == name

    @property
    def pointed(self) -> str | None:
        """The name of the target that is `lit`."""
        return self.focus if self.by_keyboard else self._pointed

    def held(self, name: str) -> bool:
        """Whether the mouse button is down on a target."""
        return self._pressed == name and self._pointed == name

    def to(self, name: str, by_keyboard: bool = False) -> None:
        """Puts the focus on a target of the next frame."""
        self.focus, self.by_keyboard, self.changed = name, by_keyboard or self.by_keyboard, True

    def reveal(self, name: str) -> None:
        """Scrolls so that a target of the last frame can be seen."""
        target = named(self.targets, name)
        if target is not None:
            self._reveal(target)

    def measure(self, paint: Callable[[], int]) -> int:
        """What a painter gives back, such as the y under it, without drawing anything or making targets."""
        clip, targets, areas, shown = self.surface.get_clip(), self.targets, self.areas, self.fields.shown
        recorder, self.look.letters.recorder = self.look.letters.recorder, None
        self.surface.set_clip(Rect(0, 0, 0, 0))
        self.targets, self.areas, self.fields.shown = [], [], {}
        try:
            return paint()
        finally:
            self.surface.set_clip(clip)
            self.targets, self.areas, self.fields.shown = targets, areas, shown
            self.look.letters.recorder = recorder

    def forget_press(self) -> None:
        """The mouse button that is down presses nothing when it comes up: something was dragged instead."""
        self._pressed, self._held_area, self.changed = None, None, True

    # Events.

    def handle(self, event: pygame.event.Event, scene: Screen) -> Screen | None:
        """Acts on one event; gives the next scene, or None to stay."""
        if event.type == pygame.KEYDOWN:
            return self._key(event, scene)
        if event.type == pygame.TEXTINPUT:
            return self._typed(event.text)
        if event.type == pygame.MOUSEMOTION:
            self._moved(event.pos)
        elif event.type == pygame.MOUSEBUTTONDOWN and event.button == 1:
            self._down(event.pos)
        elif event.type == pygame.MOUSEBUTTONUP and event.button == 1:
            return self._up(event.pos)
        elif event.type == pygame.MOUSEWHEEL:
            self._wheel(event)
        elif event.type in (pygame.VIDEORESIZE, pygame.WINDOWEXPOSED, pygame.WINDOWSIZECHANGED):
            self.changed = True
        return None

    def _moved(self, at: tuple[int, int]) -> None:
        if self._held_area is not None:
            self._drag_bar(at)
            return
        found = hit(self.targets, at)
        name = found.name if found else None
        if name != self._pointed or self.by_keyboard:
            self._pointed, self.by_keyboard, self.changed = name, False, True

    def _down(self, at: tuple[int, int]) -> None:
        for area in self.areas:
            if area.furthest and self._track(area)[0].inflate(self.u(14), 0).collidepoint(at):
                self._held_area = area.name
                self._drag_bar(at)
                return
        self._moved(at)
        found = hit(self.targets, at)
        self._pressed = found.name if found and found.enabled else None
        self.focus = self._pressed if found is None or not found.quiet else self.focus
        self.fields.point(self._pressed, at)
        self.by_keyboard, self.changed = False, True

    def _up(self, at: tuple[int, int]) -> Screen | None:
        self._held_area = None
        pressed, self._pressed, self.changed = self._pressed, None, True
        found = hit(self.targets, at)
        if found is None or found.name != pressed:
            return None
        return self._do(found)

    def _do(self, target: Target) -> Screen | None:
        if not target.enabled or target.do is None:
            return None
        self.changed = True
        self.look.sounds.tap()
        return target.do()

    def _typed(self, text: str) -> Screen | None:
        if self.focus in self.fields.shown:
            self.changed = True
            return self.fields.type(self.focus, text)
        return None

    def _key(self, event: pygame.event.Event, scene: Screen) -> Screen | None:
        name = key_of(event)
        if self.focus in self.fields.shown and named(self.targets, self.focus) is not None:
            took, following = self.fields.key(self.focus, name, event)
            if took:
                self.changed = True
                return following
        focused = named(self.targets, self.focus)
        if name in ("tab", "shift+tab"):
            self._go(along(self.targets, self.focus, 1 if name == "tab" else -1))
            return None
        if name == "escape":
            return scene.back()
        if name in ("return", "space") and focused is not None and self.by_keyboard:
            main = self._by_enter() if name == "return" and focused.yields else None
            return self._do(main or focused)
        for target in self.targets:
            if name in target.keys and target.enabled:
                return self._do(target)
        following = scene.key(name)
        if following is not None:
            return following
        if name == "return":
            main = next((target for target in self.targets if target.main and target.enabled), None)
            return self._do(main) if main else None
        if name in ARROWS:
            self._arrow(name, focused)
        else:
            self._page(name, focused)
        return None

    def _by_enter(self) -> Target | None:
        """The main button, where Enter is its key and it can be pressed."""
        return next((one for one in self.targets if one.main and one.enabled and "return" in one.keys), None)

    def _arrow(self, name: str, focused: Target | None) -> None:
        if focused is None:
            if name not in ("up", "down") or not self._page(name, focused):
                self._go(along(self.targets, None, 1))
            return
        found = towards(self.targets, focused, name)
        if found is None or (found.area is None and focused.area is not None and self._can_scroll(focused.area, name)):
            self._page(name, focused)
        else:
            self._go(found)

    def _go(self, target: Target | None) -> None:
        if target is not None:
            self.focus, self.by_keyboard, self.changed = target.name, True, True
            self._reveal(target)

    @property
    def hand(self) -> bool:
        """Whether the mouse is over something that can be pressed."""
        target = named(self.targets, self._pointed)
        return target is not None and target.enabled and target.do is not None
