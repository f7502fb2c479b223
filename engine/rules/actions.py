"""Everything that can happen at the table, as frozen values that round-trip through text.

`str(action)` writes a line such as `discard 5d` or `pass 1b 2c we blind 1`; `parse_action` reads it back.
The line does not name the seat: a record puts that in front.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from engine.rules.refusals import Refusal, Rule
from engine.rules.sentences import clause
from engine.sheet.groups import SIZES, size_name
from engine.tiles import JOKER, KINDS, Kind, TileError, code, kind_of, parse_tiles, write_tiles

PASS_TILES = 3
"""Tiles that go out in every pass, and the most in a courtesy pass."""
SMALLEST_CALL, LARGEST_CALL = 3, 6
"""Sizes of a group that a discard may be called for, to expose it."""


class MalformedActionError(ValueError):
    """A text or value that is no action at all.

    `refusal` says why, `quoted` is what was read, `where` names the moment in which it was tried, if there was one.
    """

    def __init__(self, refusal: Refusal, quoted: str, where: str = "") -> None:
        super().__init__(refusal, quoted, where)
        self.refusal = refusal
        self.quoted = quoted
        self.where = where

    def __str__(self) -> str:
        where = f" in {self.where} or anywhere" if self.where else ""
        return f"“{self.quoted[:60]}” is no action{where}: {clause(self.refusal)}."


class IllegalActionError(ValueError):
    """An action that the rules do not allow now: `refusal` says why, `where` names the moment."""

    def __init__(self, refusal: Refusal, action: object, where: str) -> None:
        super().__init__(refusal, action, where)
        self.refusal = refusal
        self.action = action
        self.where = where

    def __str__(self) -> str:
        return f"“{self.action}” is not allowed in {self.where}: {clause(self.refusal)}."


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

    def __post_init__(self) -> None:
        object.__setattr__(self, "kinds", tuple(sorted(self.kinds)))

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

    def __post_init__(self) -> None:
        object.__setattr__(self, "kinds", tuple(sorted(self.kinds)))

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


@dataclass(frozen=True)
class PutOn:
    """In the two-hand game: the tile just drawn goes on this rack, 0 or 1."""

    rack: int

    def __str__(self) -> str:
        return f"place rack {self.rack + 1}"


@dataclass(frozen=True)
class ChangeRacks:
    """In the two-hand game: a tile of the first rack changes places with one of the second."""

    first: Kind
    second: Kind

    def __str__(self) -> str:
        return f"change {code(self.first)} for {code(self.second)}"


Action = Draw | Discard | Mahjong | Pass | Agree | Stop | Ask | Give | LetGo | Call | Exchange | PutOn | ChangeRacks

_PLAIN: dict[str, Action] = {"mahjong": Mahjong(), "agree": Agree(), "stop": Stop(), "no call": LetGo()}
_NUMBER = re.compile(r"[0-9]{1,3}")


def parse_action(text: str) -> Action:
    """The action that a line written by `str` names. Raises MalformedActionError, quoting the line."""
    words = text.split()
    plain = _PLAIN.get(" ".join(words))
    if plain is not None:
        return plain
    try:
        action = _read(words)
    except TileError as error:
        raise MalformedActionError(Refusal(Rule.UNREADABLE_TILES, said=str(error)), text) from error
    if action is None:
        raise MalformedActionError(Refusal(Rule.UNREADABLE), text)
    wrong = what_is_malformed(action)
    if wrong:
        raise MalformedActionError(wrong, text)
    return action


def _read(words: list[str]) -> Action | None:
    match words:
        case ["draw", tile]:
            return Draw(kind_of(tile))
        case ["discard", tile]:
            return Discard(kind_of(tile))
        case ["pass", *tiles, "blind", blind] if _NUMBER.fullmatch(blind):
            return Pass(parse_tiles(" ".join(tiles)), int(blind))
        case ["pass", *tiles]:
            return Pass(parse_tiles(" ".join(tiles)))
        case ["ask", number] if _NUMBER.fullmatch(number):
            return Ask(int(number))
        case ["give", *tiles]:
            return Give(parse_tiles(" ".join(tiles)))
        case ["call", size, "jokers", jokers] if size in SIZES and _NUMBER.fullmatch(jokers):
            return Call(SIZES.index(size) + 1, int(jokers))
        case ["call", size] if size in SIZES:
            return Call(SIZES.index(size) + 1)
        case ["exchange", tile, "seat", seat, "exposure", place] if _NUMBER.fullmatch(seat + place):
            return Exchange(int(seat), int(place), kind_of(tile))
        case ["place", "rack", rack] if _NUMBER.fullmatch(rack):
            return PutOn(int(rack) - 1)
        case ["change", first, "for", second]:
            return ChangeRacks(kind_of(first), kind_of(second))
    return None


def what_is_malformed(action: object) -> Refusal | None:
    """Why a value is no action at all, whatever the moment: a wrong type, count or range. None when it is one."""
    match action:
        case Mahjong() | Agree() | Stop() | LetGo():
            return None
        case Draw(kind) | Discard(kind):
            return _no_kind(kind)
        case Pass(kinds, blind):
            if not _in(blind, 0, PASS_TILES) or len(kinds) + blind != PASS_TILES:
                return Refusal(Rule.PASS_COUNT, number=PASS_TILES)
            return next(filter(None, map(_no_kind, kinds)), None)
        case Ask(number):
            return None if _in(number, 0, PASS_TILES) else Refusal(Rule.COURTESY_COUNT, number=PASS_TILES)
        case Give(kinds):
            if len(kinds) > PASS_TILES:
                return Refusal(Rule.COURTESY_COUNT, number=PASS_TILES)
            return next(filter(None, map(_no_kind, kinds)), None)
        case Call(size, jokers):
            if not _in(size, 1, len(SIZES)):
                return Refusal(Rule.GROUP_SIZE, number=len(SIZES))
            return None if _in(jokers, 0, size - 1) else Refusal(Rule.CALL_JOKERS)
        case Exchange(seat, exposure, kind):
            if not _in(seat, 0, 3):
                return Refusal(Rule.SEAT_RANGE)
            if not _in(exposure, 0, 3):
                return Refusal(Rule.EXPOSURE_RANGE)
            return Refusal(Rule.EXCHANGE_FOR_JOKER) if kind == JOKER else _no_kind(kind)
        case PutOn(rack):
            return None if _in(rack, 0, 1) else Refusal(Rule.RACK_RANGE)
        case ChangeRacks(first, second):
            return _no_kind(first) or _no_kind(second)
    return Refusal(Rule.NO_ACTION)


def _in(value: object, low: int, high: int) -> bool:
    return type(value) is int and low <= value <= high


def _no_kind(kind: object) -> Refusal | None:
    return None if _in(kind, 0, KINDS - 1) else Refusal(Rule.KIND_RANGE, number=KINDS - 1)
