"""House rules: what a group plays its own way, as one frozen value."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, fields

from engine.rules.twists.names import TWISTS

SEATS = ("east", "south", "west", "north")
"""Seat names in turn order; a seat is 0 to 3. The next seat to the right is (seat + 1) % 4."""

QUIET = "quiet"
FULL = "full"
TWO = "two"

STRENGTHS = ("beginner", "steady", "sharp", "expert")
"""How well a simulated player may play, the weakest first."""

RANGES = {
    "jokers": (0, 10),
    "picks": (0, 99),
    "seat": (0, 3),
    "passes": (0, 6),
    "blind_round": (0, 2),
    "concealed_bonus": (0, 50),
    "loss_limit": (0, 500),
    "last_tiles": (0, 40),
    "mistake_pays": (0, 50),
}
"""The least and the most that each rule with a number may be."""


@dataclass(frozen=True)
class House:
    """The rules of one table. Raises ValueError, with what to choose instead, for a setting out of range."""

    table: str = QUIET
    """QUIET: only the player draws and discards. FULL: three simulated seats play too. TWO: the two-hand game."""
    jokers: int = 8
    """Jokers in the set."""
    picks: int = 0
    """On the quiet table, how many tiles the player may draw; 0 for all of the wall."""
    seat: int = 0
    """The player's seat; 0 is East."""
    passes: int = 0
    """How many of the six passes may be played: 3 leaves out the second round."""
    courtesy: bool = False
    """Whether the courtesy pass follows the passes; without passes there is none."""
    blind: bool = True
    """Whether tiles coming in may be passed on unseen on the last pass of a round."""
    slips: bool = False
    """Whether the game lets mistakes happen (a wrong mahjong, an exposure that fits no hand) instead of refusing."""
    vote: bool = True
    """Whether the second round of passes is played only if all agree; else it is always played."""
    blind_round: int = 0
    """The only round, 1 or 2, in which tiles may be passed on unseen; 0 for both."""
    east_stays: bool = False
    """Whether East stays East after winning a deal of a match."""
    last_tiles: int = 0
    """No discard may be called once no more than so many tiles are left in the wall: then mahjong is self-drawn."""
    self_drawn_doubles: bool = True
    """Whether all pay double for a self-drawn mahjong; else single."""
    jokerless_doubles: bool = True
    """Whether a hand made without any joker doubles."""
    discarder_pays_all: bool = False
    """Whether the seat that let the last tile go pays for all three, the others nothing."""
    concealed_bonus: int = 0
    """Points added to a hand that is won with nothing exposed."""
    loss_limit: int = 0
    """The most points a seat may lose in a deal, and in all deals of a match together; 0 for no limit."""
    mistake_pays: int = 0
    """Points that a seat pays to each other one for a mistaken mahjong."""
    others: str = ""
    """Three of STRENGTHS for the seats to the player's right, across and to the left; empty for all alike, as set."""
    twist: str = ""
    """The twist that changes this one deal, one of TWISTS; empty for none."""

    def __post_init__(self) -> None:
        for field in fields(self):
            value = getattr(self, field.name)
            if field.name in RANGES:
                low, high = RANGES[field.name]
                if type(value) is not int or not low <= value <= high:
                    raise ValueError(f"{field.name} is {value!r}; choose {low} to {high}")
            elif isinstance(field.default, bool) and type(value) is not bool:
                raise ValueError(f"{field.name} is {value!r}; choose True or False")
        if self.table not in (QUIET, FULL, TWO):
            raise ValueError(f"table is “{self.table}”; choose {QUIET}, {FULL} or {TWO}")
        if self.twist and self.twist not in TWISTS:
            raise ValueError(f"twist is “{self.twist[:40]}”; choose one of {', '.join(TWISTS)}, or none")
        if self.others and (len(self.strengths) != 3 or any(one not in STRENGTHS for one in self.strengths)):
            raise ValueError(
                f"others is “{self.others[:40]}”; choose three of {', '.join(STRENGTHS)}, with a space between, or none"
            )

    @property
    def strengths(self) -> tuple[str, ...]:
        """The strengths of the seats to the right, across and to the left; () where all are alike, as set."""
        return tuple(self.others.split(" ")) if self.others else ()

    @property
    def plays_courtesy(self) -> bool:
        """Whether there is a courtesy pass at all."""
        return self.courtesy and self.passes > 0

    def may_be_blind(self, passes_done: int) -> bool:
        """Whether tiles coming in may be passed on unseen in the pass with this index."""
        return self.blind and passes_done in LAST_OF_A_ROUND and self.blind_round in (0, 1 + passes_done // 3)

    def closes_calls(self, wall_left: int) -> bool:
        """Whether no discard may be called any more, with so many tiles left in the wall."""
        return wall_left <= self.last_tiles and self.last_tiles > 0


LAST_OF_A_ROUND = (2, 5)
"""The passes that end a round, counted from 0."""

FIRST_RULES = 8
"""The rules, from `table` to `slips`, that every record and every deal code names; later ones only where they differ
from what is usual."""


def seat_name(seat: int) -> str:
    """`east` for 0."""
    return SEATS[seat]


def write_house(house: House) -> str:
    """House rules on one line: `table quiet, jokers 8, ..., blind yes, slips no`, then rules that are unusual."""
    said = []
    for place, field in enumerate(fields(house)):
        value = getattr(house, field.name)
        if place >= FIRST_RULES and value == field.default:
            continue
        text = ("no", "yes")[value] if isinstance(value, bool) else SEATS[value] if field.name == "seat" else str(value)
        said.append(f"{field.name} {text}")
    return ", ".join(said)


def parse_house(text: str) -> House:
    """The house rules that such a line names. Raises ValueError with one sentence."""
    names = [field.name for field in fields(House)]
    given: dict[str, str] = {}
    for part in text.split(","):
        name, _, value = part.strip().partition(" ")
        if name not in names or name in given:
            raise ValueError(f"“{part.strip()[:40]}” is no house rule, or comes twice; expected {', '.join(names)}")
        given[name] = value.strip()

    def choice(name: str, allowed: Sequence[str]) -> int:
        if given[name] not in allowed:
            raise ValueError(f"{name} is “{given[name][:40]}”; write {', '.join(allowed[:-1])} or {allowed[-1]}")
        return allowed.index(given[name])

    settings: dict[str, str | int | bool] = {}
    for place, field in enumerate(fields(House)):
        name = field.name
        if name not in given:
            if place < FIRST_RULES:
                raise ValueError(f"the house rules lack “{name}”; write all of {', '.join(names[:FIRST_RULES])}")
        elif name == "seat":
            settings[name] = choice(name, SEATS)
        elif isinstance(field.default, bool):
            settings[name] = bool(choice(name, ("no", "yes")))
        elif isinstance(field.default, int):
            if not re.fullmatch(r"[0-9]{1,3}", given[name]):
                raise ValueError(f"{name} is “{given[name][:40]}”; write a number of at most three digits")
            settings[name] = int(given[name])
        else:
            settings[name] = given[name]
    return House(**settings)  # type: ignore[arg-type]  # each was read as its default's type
