"""Draws scenes without a display and judges every text on them: contrast, room, overlap.

records = drawn(scene, (1440, 900), 2.0)
assert check_records(records, (1440, 900)) == []
"""

import os
from collections.abc import Sequence
from functools import cache
from pathlib import Path

os.environ["SDL_VIDEODRIVER"] = "dummy"
os.environ["SDL_AUDIODRIVER"] = "dummy"

import pygame

from game.draw.letters import Lettering, Recorder
from game.draw.theme import Colour
from game.ui.look import Look
from game.ui.scene import Scene
from game.window.shots import picture

SIZES = ((1024, 640), (1440, 900), (1920, 1080))
SCALES = (1.0, 2.0)
LARGE, LARGE_BOLD = 24.0, 18.66
"""Units from which a text is large: 18 point, or 14 point bold, at 96 dots an inch (WCAG 2.2)."""
NORMAL_RATIO, LARGE_RATIO = 4.5, 3.0
"""WCAG 2.2, success criterion 1.4.3, level AA."""
SPILL = 1
"""Pixels that smoothed edges may touch."""


def start() -> None:
    """Makes pygame ready to draw without a display."""
    pygame.display.init()
    pygame.font.init()
    pygame.display.set_mode((1, 1))


def make_look(scale: float = 1.0) -> Look:
    """A look for tests: nothing moves. All share their fonts and pictures, which are the same for each and take long
    to make."""
    start()
    made = _made()
    return Look(made.letters, made.tiles, scale=scale, motion=False)


@cache
def _made() -> Look:
    """The look whose fonts and pictures are shared."""
    return Look.make()


def drawn(scene: Scene, size: tuple[int, int], scale: float) -> tuple[Lettering, ...]:
    """Every text on the scene at rest in a window of that size and at that scale."""
    scene.look.scale = scale
    recorder = Recorder()
    scene.look.letters.recorder = recorder
    surface = _blank(size)
    try:
        for _ in range(20):
            recorder.taken.clear()
            scene.draw(surface)
            if not scene.dirty:
                break
            scene.update(0.5)
    finally:
        scene.look.letters.recorder = None
    return tuple(recorder.taken)


@cache
def _blank(size: tuple[int, int]) -> pygame.Surface:
    """A surface to draw on: one for each size, since every scene paints all of it."""
    return pygame.Surface(size)


def screenshot(scene: Scene, size: tuple[int, int], scale: float, path: Path) -> None:
    """Writes a PNG of the scene at rest."""
    scene.look.scale = scale
    pygame.image.save(picture(scene, size), path)


def luminance(colour: Colour) -> float:
    """Relative luminance as WCAG 2.2 defines it, written here apart from the game's own."""
    parts = [part / 255 for part in colour]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def ratio(one: Colour, other: Colour) -> float:
    """Contrast ratio as WCAG 2.2 defines it."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def check_records(records: Sequence[Lettering], size: tuple[int, int]) -> list[str]:
    """Every fault among the texts of one frame, in words."""
    return [
        *(fault for one in records for fault in (*_contrast(one), *_room(one, pygame.Rect((0, 0), size)))),
        *_overlaps(records),
    ]


def _contrast(one: Lettering) -> list[str]:
    large = one.size >= LARGE - 0.01 or (one.bold and one.size >= LARGE_BOLD - 0.01)
    needed = LARGE_RATIO if large else NORMAL_RATIO
    poor = [ground for ground in one.grounds if ratio(one.colour, ground) < needed]
    return [f"“{one.text}” {one.colour} on {ground}: {ratio(one.colour, ground):.2f}" for ground in poor]


def _room(one: Lettering, window: pygame.Rect) -> list[str]:
    faults = []
    if not one.room.rect.inflate(2 * SPILL, 2 * SPILL).contains(one.rect):
        faults.append(f"“{one.text}” at {one.rect} leaves its room {one.room.rect}")
    if not window.contains(one.rect):
        faults.append(f"“{one.text}” at {one.rect} leaves the window")
    return faults


def _overlaps(records: Sequence[Lettering]) -> list[str]:
    faults = []
    rects = [one.rect for one in records]
    for index, one in enumerate(records):
        for later in one.rect.collidelistall(rects[index + 1 :]):
            other = records[index + 1 + later]
            both = one.rect.clip(other.rect)
            if both.width > SPILL and both.height > SPILL:
                faults.append(f"“{one.text}” at {one.rect} and “{other.text}” at {other.rect} overlap")
    return faults


def key(name: str, mod: int = 0, text: str = "") -> pygame.event.Event:
    """A key going down; `name` as pygame spells it."""
    typed = text or (name if len(name) == 1 else "")
    return pygame.event.Event(pygame.KEYDOWN, key=pygame.key.key_code(name), mod=mod, unicode=typed, scancode=0)


def press(scene: Scene, *names: str) -> Scene:
    """Presses keys one after another; gives the scene that results."""
    for name in names:
        if name == "shift+tab":
            event = key("tab", pygame.KMOD_SHIFT)
        elif name.startswith("ctrl+"):
            event = key(name[5:], pygame.KMOD_CTRL)
        else:
            event = key(name)
        scene = _settle(scene.handle(event))
    return scene


def write(scene: Scene, text: str) -> Scene:
    """Types a text into the focused field."""
    return _settle(scene.handle(pygame.event.Event(pygame.TEXTINPUT, text=text)))


def click(scene: Scene, name: str) -> Scene:
    """Moves the mouse to the target of that name and clicks. Raises KeyError if it can't be seen."""
    target = next((target for target in scene.ui.targets if target.name == name and target.rect.height), None)
    if target is None:
        raise KeyError(f"no “{name}” to click; there are {[target.name for target in scene.ui.targets]}")
    at = target.rect.center
    scene.handle(pygame.event.Event(pygame.MOUSEMOTION, pos=at, rel=(0, 0), buttons=(0, 0, 0)))
    scene.handle(pygame.event.Event(pygame.MOUSEBUTTONDOWN, pos=at, button=1))
    return _settle(scene.handle(pygame.event.Event(pygame.MOUSEBUTTONUP, pos=at, button=1)))


def _settle(scene: Scene) -> Scene:
    """Draws the scene so that its targets are those of what it shows now."""
    scene.draw(_blank((1440, 900)))
    return scene


def small_targets(scene: Scene, least: float = 44.0) -> list[str]:
    """Targets under so many units wide or high."""
    unit = scene.ui.unit
    return [
        f"{target.name}: {target.whole.width / unit:.0f} by {target.whole.height / unit:.0f}"
        for target in scene.ui.targets
        if target.do is not None and min(target.whole.width, target.whole.height) < least * unit - 1
    ]
