"""Everything that can happen at the table, as frozen values that round-trip through text.

`str(action)` writes a line such as `discard 5d` or `pass 1b 2c we blind 1`; `parse_action` reads it back.
The line does not name the seat: a record puts that in front.
"""

from __future__ import annotations

from dataclasses import dataclass

from engine.sheet.model import SIZES, size_name
from engine.tiles import Kind, TileError, code, kind_of, parse_tiles, write_tiles


class MalformedActionError(ValueError):
    """A text or value that is no action at all."""


class IllegalActionError(ValueError):
    """An action that the rules do not allow now."""


@dataclass(frozen=True)
class Draw:
    """The wall gives its next tile to the seat whose turn it is. Chance, not a choice, yet logged."""

    kind: Kind

    def __str__(self) -> str:
        return f"draw {code(self.kind)}"


@dataclass(frozen=True)
class Discard:
    """A tile is let go."""

    kind: Kind

    def __str__(self) -> str:
        return f"discard {code(self.kind)}"


@dataclass(frozen=True)
class Mahjong:
    """The hand is shown: in one's own turn, or to call the discard that finishes it."""

    def __str__(self) -> str:
        return "mahjong"


@dataclass(frozen=True)
class Pass:
    """Three tiles go out: `kinds` from the rack (sorted), `blind` more from those coming in, unseen."""

    kinds: tuple[Kind, ...]
    blind: int = 0

    def __str__(self) -> str:
        return " ".join(filter(None, ["pass", write_tiles(self.kinds), f"blind {self.blind}" if self.blind else ""]))


@dataclass(frozen=True)
class Agree:
    """The seat is willing to play the second round of passes."""

    def __str__(self) -> str:
        return "agree"


@dataclass(frozen=True)
class Stop:
    """The seat stops the passes before the second round."""

    def __str__(self) -> str:
        return "stop"


@dataclass(frozen=True)
class Ask:
    """How many tiles the seat would exchange in the courtesy pass, 0 to 3."""

    number: int

    def __str__(self) -> str:
        return f"ask {self.number}"


@dataclass(frozen=True)
class Give:
    """The tiles that go across in the courtesy pass, as many as were settled (sorted)."""

    kinds: tuple[Kind, ...]

    def __str__(self) -> str:
        return " ".join(filter(None, ["give", write_tiles(self.kinds)]))


@dataclass(frozen=True)
class LetGo:
    """The seat does not call the discard."""

    def __str__(self) -> str:
        return "no call"


@dataclass(frozen=True)
class Call:
    """The discard is taken for an exposure of `size` tiles, `jokers` of them jokers from the rack."""

    size: int
    jokers: int = 0

    def __str__(self) -> str:
        return f"call {size_name(self.size)}" + (f" jokers {self.jokers}" if self.jokers else "")


@dataclass(frozen=True)
class Exchange:
    """A real tile from the rack goes into an exposure of `seat` and a joker comes out of it."""

    seat: int
    exposure: int
    """Which of the seat's exposures, from 0, in the order they were laid."""
    kind: Kind

    def __str__(self) -> str:
        return f"exchange {code(self.kind)} seat {self.seat} exposure {self.exposure}"


Action = Draw | Discard | Mahjong | Pass | Agree | Stop | Ask | Give | LetGo | Call | Exchange

_PLAIN: dict[str, Action] = {"mahjong": Mahjong(), "agree": Agree(), "stop": Stop(), "no call": LetGo()}


def parse_action(text: str) -> Action:
    """The action that a line written by `str` names. Raises MalformedActionError, quoting the line."""
    words = text.split()
    plain = _PLAIN.get(" ".join(words))
    if plain is not None:
        return plain
    try:
        match words:
            case ["draw", tile]:
                return Draw(kind_of(tile))
            case ["discard", tile]:
                return Discard(kind_of(tile))
            case ["pass", *tiles, "blind", blind]:
                return Pass(tuple(sorted(parse_tiles(" ".join(tiles)))), int(blind))
            case ["pass", *tiles]:
                return Pass(tuple(sorted(parse_tiles(" ".join(tiles)))))
            case ["ask", number]:
                return Ask(int(number))
            case ["give", *tiles]:
                return Give(tuple(sorted(parse_tiles(" ".join(tiles)))))
            case ["call", size, "jokers", jokers]:
                return Call(SIZES.index(size) + 1, int(jokers))
            case ["call", size]:
                return Call(SIZES.index(size) + 1)
            case ["exchange", tile, "seat", seat, "exposure", exposure]:
                return Exchange(int(seat), int(exposure), kind_of(tile))
    except (TileError, ValueError) as error:
        raise MalformedActionError(f"“{text[:60]}” is no action: {error}") from error
    raise MalformedActionError(f"“{text[:60]}” is no action; write one such as “discard 5d” or “pass 1b 2c we”")
