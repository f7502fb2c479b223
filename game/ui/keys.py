"""Names of keys: what an event's key is called, and how a key is written on a cap."""

from __future__ import annotations

import pygame

CAPS = {
    "return": "Enter",
    "escape": "Esc",
    "space": "Space",
    "tab": "Tab",
    "left": "Left",
    "right": "Right",
    "up": "Up",
    "arrows": "Arrows",
    "down": "Down",
    "page up": "Page up",
    "page down": "Page down",
    "backspace": "Backspace",
    "delete": "Delete",
    "home": "Home",
    "end": "End",
}
KEYPAD = {"enter": "return", "[+]": "+", "[-]": "-"}


def key_of(event: pygame.event.Event) -> str:
    """The name of the key of a KEYDOWN event: `w`, `return`, `left`, `f1`, `ctrl+z`, `shift+tab`."""
    name = pygame.key.name(event.key).lower()
    name = KEYPAD.get(name, name)
    if name.startswith("[") and name.endswith("]") and len(name) == 3:
        name = name[1]
    mod = getattr(event, "mod", 0)
    typed = getattr(event, "unicode", "")
    if mod & (pygame.KMOD_CTRL | pygame.KMOD_META):
        return f"ctrl+{name}"
    if mod & pygame.KMOD_ALT:
        return f"alt+{name}"
    if len(typed) == 1 and typed.isprintable() and typed != " ":
        return typed.lower()
    if mod & pygame.KMOD_SHIFT and name == "tab":
        return "shift+tab"
    return name


def cap(name: str) -> str:
    """What a key is called on a cap: `Enter`, `W`, `Ctrl Z`."""
    parts = name.split("+") if name not in ("+", "ctrl++") else [name]
    if name == "ctrl++":
        parts = ["ctrl", "+"]
    return " ".join(CAPS.get(part, part.upper() if len(part) == 1 else part.capitalize()) for part in parts)
