"""What the player has set, as one frozen value that goes to JSON and back.

A value that is unknown or broken falls back to its default and is named; nothing else is lost with it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import Enum, auto
from types import MappingProxyType
from typing import Any

from engine.seats.character import Strength
from game.play.rack_order import BY_SUIT, ORDERS

ALWAYS, HINTED, HIDDEN = "always", "hinted", "hidden"
ADVICE = (ALWAYS, HINTED, HIDDEN)
"""Advice stands beside the rack all the time; only when asked for; or not at all, which is the game that counts."""
OTHERS = tuple(strength.value for strength in Strength)
"""How well the others may play: beginner, steady, sharp, expert."""
LEAST_CALL, MOST_CALL = 3, 30
"""Seconds that a discard may be called, where it does not wait for the player."""
SCALES = (1.0, 1.25, 1.5, 1.75, 2.0, 2.5, 3.0)


@dataclass(frozen=True)
class KeyUse:
    """Something a key does at the table, and the key it has unless the player gives it another."""

    name: str
    key: str


KEY_USES = (
    KeyUse("why", "w"),
    KeyUse("advice", "a"),
    KeyUse("back", "z"),
    KeyUse("forward", "y"),
    KeyUse("mahjong", "m"),
    KeyUse("call", "c"),
    KeyUse("exchange", "x"),
    KeyUse("order", "o"),
    KeyUse("tile left", ","),
    KeyUse("tile right", "."),
    KeyUse("blind", "b"),
    KeyUse("stop", "t"),
    KeyUse("sheet", "h"),
    KeyUse("note", "n"),
)
FIXED_KEYS = ("return", "escape", "space", "tab", "left", "right", "up", "down", "home", "end",
              "page up", "page down", "backspace", "delete", "f1", "f11")  # fmt: skip
"""Keys that mean the same everywhere and can't be given to anything else."""


class KeyRefusal(Enum):
    """Why a key can't be given to a use."""

    FIXED = auto()
    """It means the same everywhere."""
    NO_SIGN = auto()
    """It is no letter, digit or sign."""
    TAKEN = auto()
    """Another use has it."""


class KeyTakenError(ValueError):
    """A key that can't be given to a use."""

    def __init__(self, refusal: KeyRefusal, use: str = "") -> None:
        super().__init__(refusal.name if not use else f"{refusal.name}: {use}")
        self.refusal = refusal
        self.use = use
        """The use that has the key already."""


EVERYTHING, KEYS = "everything", "keys"
"""What may be lost of settings, besides one setting by its name, and one key as `keys: USE`."""


@dataclass(frozen=True)
class Settings:
    """Everything on the settings screen."""

    scale: float = 1.0
    advice: str = HINTED
    rack_order: str = BY_SUIT
    sound: bool = False
    motion: bool = True
    call_seconds: int = 0
    """How long a discard may be called, 3 to 30 seconds; 0 waits for the player."""
    others: str = "steady"
    """How well the simulated players of the other seats play."""
    keys: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    """Only the keys that the player has changed: use -> key."""

    def key(self, use: str) -> str:
        """The key of a use. Raises KeyError for a use that is not in `KEY_USES`."""
        default = next((one.key for one in KEY_USES if one.name == use), None)
        if default is None:
            raise KeyError(use)
        return self.keys.get(use, default)

    def with_key(self, use: str, key: str) -> Settings:
        """The settings with another key for a use. Raises KeyTakenError for a key that is fixed or taken."""
        if key in FIXED_KEYS or key.startswith(("ctrl+", "alt+", "shift")):
            raise KeyTakenError(KeyRefusal.FIXED)
        if not key.strip() or not key.isprintable() or (len(key) > 1 and not (key[0] == "f" and key[1:].isdigit())):
            raise KeyTakenError(KeyRefusal.NO_SIGN)
        for other in KEY_USES:
            if other.name != use and self.key(other.name) == key:
                raise KeyTakenError(KeyRefusal.TAKEN, other.name)
        changed = {**self.keys, use: key}
        return replace(self, keys=MappingProxyType(changed))

    def to_json(self) -> dict[str, object]:
        """A dict of plain values."""
        return {
            "scale": self.scale,
            "advice": self.advice,
            "rack_order": self.rack_order,
            "sound": self.sound,
            "motion": self.motion,
            "call_seconds": self.call_seconds,
            "others": self.others,
            "keys": dict(self.keys),
        }

    @classmethod
    def from_json(cls, data: object) -> tuple[Settings, tuple[str, ...]]:
        """The settings that a dict holds, and what of it could not be used: names of settings, EVERYTHING, KEYS, or
        `keys: USE` for one key."""
        if data is None:
            return cls(), ()
        if not isinstance(data, Mapping):
            return cls(), (EVERYTHING,)
        lost: list[str] = []
        known = cls()
        given = dict(data)
        keys = given.pop("keys", {})
        for name in ("scale", "advice", "rack_order", "sound", "motion", "call_seconds", "others"):
            value = given.pop(name, getattr(known, name))
            if _good(name, value):
                change: dict[str, Any] = {name: float(value) if name == "scale" else value}
                known = replace(known, **change)
            else:
                lost.append(name)
        known, lost_keys = _with_keys(known, keys)
        return known, (*lost, *lost_keys)


def _good(name: str, value: object) -> bool:
    if name == "scale":
        return isinstance(value, int | float) and not isinstance(value, bool) and 1 <= value <= 3
    if name == "advice":
        return value in ADVICE
    if name == "rack_order":
        return value in ORDERS
    if name == "call_seconds":
        return type(value) is int and (value == 0 or LEAST_CALL <= value <= MOST_CALL)
    if name == "others":
        return value in OTHERS
    return isinstance(value, bool)


def _with_keys(settings: Settings, keys: object) -> tuple[Settings, tuple[str, ...]]:
    if not isinstance(keys, Mapping):
        return settings, (KEYS,)
    uses = {use.name for use in KEY_USES}
    wanted = {use: key for use, key in keys.items() if use in uses and isinstance(key, str)}
    trial = replace(settings, keys=MappingProxyType(wanted))
    lost: list[str] = []
    for use in wanted:
        try:
            trial.with_key(use, wanted[use])
        except KeyTakenError:
            lost.append(f"{KEYS}: {use}")
            trial = replace(trial, keys=MappingProxyType({u: k for u, k in trial.keys.items() if u != use}))
    return trial, tuple(lost)
