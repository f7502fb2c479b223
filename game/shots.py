"""Pictures of the screens: `python -m game.shots OUTDIR [SCENE...]`, without a display."""

from __future__ import annotations

import argparse
import os
from collections.abc import Callable, Sequence
from pathlib import Path

import pygame

from game.app import prepare
from game.scenes.gallery import Gallery
from game.ui.look import Look
from game.ui.scene import Scene

SIZES = ("1024x640", "1440x900", "1920x1080")
SCALES = ("1", "2")


def scenes() -> dict[str, Callable[[Look], Scene]]:
    """The scenes that can be pictured, by name."""
    return {"gallery": Gallery}


def picture(scene: Scene, size: tuple[int, int]) -> pygame.Surface:
    """The scene at rest in a window of that size."""
    surface = pygame.Surface(size)
    for _ in range(20):
        scene.draw(surface)
        if not scene.dirty:
            break
        scene.update(0.5)
    return surface


def main(argv: Sequence[str] | None = None) -> int:
    """Writes a PNG for every scene, size and scale asked for."""
    parser = argparse.ArgumentParser(prog="python -m game.shots", description="Writes pictures of the screens.")
    parser.add_argument("folder", type=Path)
    parser.add_argument("scene", nargs="*", help=f"of: {', '.join(scenes())}; all if none is named")
    parser.add_argument("--size", action="append", help="such as 1440x900; may be given more than once")
    parser.add_argument("--scale", action="append", help="such as 1 or 2.5; may be given more than once")
    args = parser.parse_args(argv)
    known = scenes()
    unknown = [name for name in args.scene if name not in known]
    if unknown:
        parser.error(f"there is no scene “{unknown[0]}”; choose from: {', '.join(known)}")
    prepare()
    os.environ["SDL_VIDEODRIVER"] = "dummy"
    pygame.display.init()
    pygame.display.set_mode((1, 1))
    args.folder.mkdir(parents=True, exist_ok=True)
    for scale in args.scale or SCALES:
        look = Look.make(float(scale))
        for name in args.scene or known:
            scene = known[name](look)
            for size in args.size or SIZES:
                wide, high = (int(part) for part in size.split("x"))
                path = args.folder / f"{name}-{size}-{round(float(scale) * 100)}.png"
                pygame.image.save(picture(scene, (wide, high)), path)
                print(path)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
