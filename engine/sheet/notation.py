"""The notation of groups as values, and how they are written: `pung a.n+1`, `kong flower`, `single each wind`."""

from __future__ import annotations

from dataclasses import dataclass

from engine.sheet.groups import size_name
from engine.tiles import DRAGON_NAMES, WIND_NAMES

SUIT_LETTERS = ("a", "b", "c")

SUIT, RANK, WIND, DRAGON = "suit", "number", "wind", "dragon"
"""What a single letter may stand for."""


@dataclass(frozen=True)
class Number:
    """`a.n+1`, `bam.5`: a number tile of a suit, its rank a variable plus an offset, or just the offset."""

    suit: str
    variable: str | None
    offset: int


@dataclass(frozen=True)
class Wind:
    """`wind east`, `wind u`: a wind by name or by variable."""

    name: str


@dataclass(frozen=True)
class Dragon:
    """`dragon red`, `dragon v`: a dragon by name or by variable."""

    name: str


@dataclass(frozen=True)
class DragonOf:
    """`dragon of a`: the dragon that goes with a suit."""

    suit: str


@dataclass(frozen=True)
class Flower:
    """`flower`."""


@dataclass(frozen=True)
class Zero:
    """`zero`: the white dragon, as a digit."""


@dataclass(frozen=True)
class EachWind:
    """`each wind`: stands for four groups."""


@dataclass(frozen=True)
class EachDragon:
    """`each dragon`: stands for three groups."""


@dataclass(frozen=True)
class Season:
    """`season a`: stands for one group for each digit of the season, in a suit, zeros as `zero`."""

    suit: str


Tile = Number | Wind | Dragon | DragonOf | Flower | Zero | EachWind | EachDragon | Season


@dataclass(frozen=True)
class Pattern:
    """One group as a sheet writes it: a size from 1 to 6 and a tile that may hold variables."""

    size: int
    tile: Tile

    def groups(self, season: str) -> int:
        """How many groups it stands for: 1, or more for `each` and `season`."""
        match self.tile:
            case EachWind():
                return len(WIND_NAMES)
            case EachDragon():
                return len(DRAGON_NAMES)
            case Season():
                return len(season)
        return 1

    @property
    def letters(self) -> tuple[tuple[str, str], ...]:
        """The letters in it, each with its use: SUIT, RANK, WIND or DRAGON."""
        match self.tile:
            case Number(suit=suit, variable=variable):
                return _suit_use(suit) + (((variable, RANK),) if variable else ())
            case Wind(name=name) if len(name) == 1:
                return ((name, WIND),)
            case Dragon(name=name) if len(name) == 1:
                return ((name, DRAGON),)
            case DragonOf(suit=suit) | Season(suit=suit):
                return _suit_use(suit)
        return ()

    def __str__(self) -> str:
        """The text that `parsing.parse_group` reads back."""
        return f"{size_name(self.size)} {_write_tile(self.tile)}"


def _suit_use(suit: str) -> tuple[tuple[str, str], ...]:
    return ((suit, SUIT),) if suit in SUIT_LETTERS else ()


def _write_tile(tile: Tile) -> str:
    match tile:
        case Number(suit=suit, variable=None, offset=rank):
            return f"{suit}.{rank}"
        case Number(suit=suit, variable=variable, offset=offset):
            return f"{suit}.{variable}{offset:+d}" if offset else f"{suit}.{variable}"
        case Wind(name=name):
            return f"wind {name}"
        case Dragon(name=name):
            return f"dragon {name}"
        case DragonOf(suit=suit):
            return f"dragon of {suit}"
        case Flower():
            return "flower"
        case Zero():
            return "zero"
        case EachWind():
            return "each wind"
        case EachDragon():
            return "each dragon"
        case Season(suit=suit):
            return f"season {suit}"


def write_groups(patterns: tuple[Pattern, ...]) -> str:
    """The groups of one alternative as one line: `pair flower, kong a.x`."""
    return ", ".join(str(pattern) for pattern in patterns)
