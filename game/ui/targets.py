"""What can be pressed in a frame, where the focus is, and where it goes next."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import pygame

from game.ui.screen import Screen

Do = Callable[[], Screen | None]
"""What happens: gives the screen to go to, or None to stay."""
Rect = pygame.Rect


@dataclass(frozen=True)
class Target:
    """Something to press, as the last frame placed it."""

    name: str
    rect: Rect
    """Where it can be seen and pressed; empty when scrolled out of sight."""
    whole: Rect
    """All of it, in or out of sight."""
    do: Do | None
    says: str
    """What it does, in words: for the list of keys."""
    keys: tuple[str, ...] = ()
    enabled: bool = True
    main: bool = False
    """The obvious next step: Enter does it when nothing else has the focus."""
    radius: float = 10
    """Units of roundness of the focus ring."""
    area: str | None = None
    """The scrolled area that it lies in."""
    quiet: bool = False
    """Takes no focus by Tab: reached by its key or the mouse."""
    yields: bool = False
    """With the focus on it Enter presses the main button, if Enter is its key and it is enabled; Space presses this."""


@dataclass(frozen=True)
class Area:
    """A scrolled area as the last frame placed it."""

    name: str
    rect: Rect
    content: int
    """Pixels of height of what is in it."""
    offset: int

    @property
    def furthest(self) -> int:
        """The greatest offset."""
        return max(0, self.content - self.rect.height)


def hit(targets: Sequence[Target], at: tuple[int, int]) -> Target | None:
    """The last drawn target under a point."""
    for target in reversed(targets):
        if target.rect.collidepoint(at):
            return target
    return None


def named(targets: Sequence[Target], name: str | None) -> Target | None:
    """The target of that name."""
    for target in targets:
        if target.name == name:
            return target
    return None


def stops(targets: Sequence[Target]) -> list[Target]:
    """Targets that Tab visits, in the order they were drawn."""
    return [target for target in targets if target.enabled and not target.quiet]


def along(targets: Sequence[Target], now: str | None, step: int) -> Target | None:
    """The next (1) or previous (-1) stop, going around."""
    order = stops(targets)
    if not order:
        return None
    for index, target in enumerate(order):
        if target.name == now:
            return order[(index + step) % len(order)]
    return order[0 if step > 0 else -1]


def towards(targets: Sequence[Target], now: Target, direction: str) -> Target | None:
    """The nearest stop to the left, right, up or down; straight ahead counts before aside."""
    dx, dy = {"left": (-1, 0), "right": (1, 0), "up": (0, -1), "down": (0, 1)}[direction]
    best: tuple[float, Target] | None = None
    for target in stops(targets):
        if target.name == now.name:
            continue
        ahead, aside = _gaps(now.whole, target.whole, dx, dy)
        if ahead is None:
            continue
        away = ahead + 3.0 * aside
        if best is None or away < best[0]:
            best = away, target
    return best[1] if best else None


def _gaps(a: Rect, b: Rect, dx: int, dy: int) -> tuple[float | None, float]:
    """How far ahead and how far aside `b` lies of `a`; None ahead when it doesn't lie in that direction."""
    if dx:
        centre, edge = (b.centerx - a.centerx) * dx, (b.left - a.right if dx > 0 else a.left - b.right)
        aside = max(0, a.top - b.bottom, b.top - a.bottom)
        off = abs(a.centery - b.centery)
    else:
        centre, edge = (b.centery - a.centery) * dy, (b.top - a.bottom if dy > 0 else a.top - b.bottom)
        aside = max(0, a.left - b.right, b.left - a.right)
        off = abs(a.centerx - b.centerx)
    overlap = min(a.width, b.width) / 2 if dx else min(a.height, b.height) / 2
    if centre <= 0 or edge < -overlap:
        return None, 0
    return max(edge, 0) + 0.02 * off, aside
