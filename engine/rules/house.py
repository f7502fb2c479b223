"""House rules: what a group plays its own way, as one frozen value."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, fields

SEATS = ("east", "south", "west", "north")
"""Seat names in turn order; a seat is 0 to 3. The next seat to the right is (seat + 1) % 4."""

QUIET = "quiet"
FULL = "full"


@dataclass(frozen=True)
class House:
    """The rules of one table. Raises ValueError, with what to choose instead, for a setting out of range."""

    table: str = QUIET
    """QUIET: only the player draws and discards. FULL: three simulated seats play too."""
    jokers: int = 8
    """Jokers in the set, 0 to 10."""
    picks: int = 0
    """On the quiet table, how many tiles the player may draw, 1 to 99; 0 for all of the wall."""
    seat: int = 0
    """The player's seat; 0 is East."""
    passes: int = 0
    """How many of the six passes may be played, 0 to 6: 3 leaves out the second round."""
    courtesy: bool = False
    """Whether the courtesy pass follows the passes."""
    blind: bool = True
    """Whether tiles coming in may be passed on unseen on the last pass of a round."""
    slips: bool = False
    """Whether the game lets mistakes happen (a wrong mahjong, an exposure that fits no hand) instead of refusing."""

    def __post_init__(self) -> None:
        for field, low, high in (("jokers", 0, 10), ("picks", 0, 99), ("seat", 0, 3), ("passes", 0, 6)):
            value = getattr(self, field)
            if type(value) is not int or not low <= value <= high:
                raise ValueError(f"{field} is {value!r}; choose {low} to {high}")
        for field in ("courtesy", "blind", "slips"):
            if type(getattr(self, field)) is not bool:
                raise ValueError(f"{field} is {getattr(self, field)!r}; choose True or False")
        if self.table not in (QUIET, FULL):
            raise ValueError(f"table is “{self.table}”; choose {QUIET} or {FULL}")


def seat_name(seat: int) -> str:
    """`east` for 0."""
    return SEATS[seat]


def write_house(house: House) -> str:
    """House rules on one line: `table quiet, jokers 8, ..., blind yes, slips no`."""
    said = []
    for field in fields(house):
        value = getattr(house, field.name)
        text = ("no", "yes")[value] if isinstance(value, bool) else SEATS[value] if field.name == "seat" else str(value)
        said.append(f"{field.name} {text}")
    return ", ".join(said)


def parse_house(text: str) -> House:
    """The house rules that such a line names, all of them. Raises ValueError with one sentence."""
    settings = dict.fromkeys((field.name for field in fields(House)), "")
    for part in text.split(","):
        name, _, value = part.strip().partition(" ")
        if name not in settings or settings[name]:
            raise ValueError(f"“{part.strip()[:40]}” is no house rule, or comes twice; expected {', '.join(settings)}")
        settings[name] = value.strip()

    def choice(name: str, allowed: Sequence[str]) -> int:
        if settings[name] not in allowed:
            raise ValueError(f"{name} is “{settings[name][:40]}”; write {', '.join(allowed[:-1])} or {allowed[-1]}")
        return allowed.index(settings[name])

    def number(name: str) -> int:
        if not re.fullmatch(r"[0-9]{1,2}", settings[name]):
            raise ValueError(f"{name} is “{settings[name][:40]}”; write a number of at most two digits")
        return int(settings[name])

    return House(
        table=settings["table"],
        jokers=number("jokers"),
        picks=number("picks"),
        seat=choice("seat", SEATS),
        passes=number("passes"),
        courtesy=bool(choice("courtesy", ("no", "yes"))),
        blind=bool(choice("blind", ("no", "yes"))),
        slips=bool(choice("slips", ("no", "yes"))),
    )
