"""A position laid out by hand, from text: a rack, tiles seen elsewhere, exposed groups; and what can't be one."""

from __future__ import annotations

from dataclasses import dataclass

from engine.rules.state import Exposure
from engine.sheet.groups import HAND_TILES, SIZES
from engine.tiles import JOKER, KINDS, Counts, TileError, code, counts_of, full_set, kind_of, name, parse_tiles
from engine.words import count, listed, quoted

_EXPOSED = SIZES[2:]
_EXAMPLE = "write groups such as “kong 5d; pung wn jokers 1”"


class PositionError(ValueError):
    """Text that is no position. The message is one sentence that says what to give."""


@dataclass(frozen=True)
class LaidOut:
    """A position."""

    counts: Counts
    """36 counts of the rack, exposed groups left out."""
    exposures: tuple[Exposure, ...]
    unseen: Counts
    """36 counts of the tiles that may still come."""


def lay_out(rack: str, shown: str, exposed: str, names: tuple[str, str, str]) -> LaidOut:
    """The position that three texts give: `5d 3x2b`, `we we`, `kong 5d; pung wn jokers 1`.

    `names` are what faults call the three. Raises PositionError.
    """
    counts, seen = _tiles(names[0], rack), _tiles(names[1], shown)
    exposures = parse_exposures(exposed, names[2])
    _check_size(sum(counts), exposures)
    whole = full_set()
    used = [counts[kind] + seen[kind] for kind in range(KINDS)]
    for exposure in exposures:
        used[exposure.kind] += exposure.real
        used[JOKER] += exposure.jokers
    for kind in range(KINDS):
        if used[kind] > whole[kind]:
            where = "the rack has" if counts[kind] == used[kind] else "rack, shown and exposed tiles together have"
            raise PositionError(
                f"The set holds {whole[kind]} tiles of the kind {name(kind)} ({code(kind)}), but {where} "
                f"{used[kind]}; take {used[kind] - whole[kind]} away."
            )
    return LaidOut(counts, exposures, tuple(whole[kind] - used[kind] for kind in range(KINDS)))


def parse_exposures(text: str, what: str) -> tuple[Exposure, ...]:
    """Exposed groups from text such as `kong 5d; pung wn jokers 1`; faults call it `what`. Raises PositionError."""
    return tuple(_exposure(part, what) for part in text.split(";") if part.strip())


def _tiles(what: str, text: str) -> Counts:
    try:
        return counts_of(parse_tiles(text))
    except TileError as error:
        raise PositionError(f"{what} can't be read: {error}.") from error


def _exposure(text: str, what: str) -> Exposure:
    """One exposed group: `kong 5d`, `pung wn jokers 1`."""
    match text.lower().split():
        case [size, tile]:
            jokers = "0"
        case [size, tile, "jokers", jokers]:
            pass
        case _:
            raise PositionError(f"{what} has {quoted(text.strip())}, which is no group; {_EXAMPLE}.")
    if size not in _EXPOSED:
        raise PositionError(f"{what} has {quoted(text.strip())}; an exposed group is a {listed(list(_EXPOSED), 'or')}.")
    tiles = SIZES.index(size) + 1
    try:
        kind = kind_of(tile)
    except TileError as error:
        raise PositionError(f"{what} can't be read: {error}.") from error
    if kind == JOKER:
        raise PositionError(f"{what} has {quoted(text.strip())}; name the tile that the jokers stand for: {_EXAMPLE}.")
    if not (jokers.isascii() and jokers.isdecimal()) or len(jokers) > 2 or int(jokers) >= tiles:
        raise PositionError(
            f"{what} has {quoted(text.strip())}; a {size} was called with a real tile, "
            f"so write 0 to {tiles - 1} jokers."
        )
    return Exposure(tiles, kind, int(jokers))


def _check_size(tiles: int, exposures: tuple[Exposure, ...]) -> None:
    """Refuse a rack that is not 13 or 14 tiles with what lies exposed."""
    lying = sum(exposure.size for exposure in exposures)
    low, high = HAND_TILES - 1 - lying, HAND_TILES - lying
    if high < 1:
        raise PositionError(f"The exposed groups have {lying} tiles; a hand has {HAND_TILES}, so name fewer groups.")
    if tiles not in (low, high):
        besides = f" besides the {lying} exposed ones" if lying else ""
        raise PositionError(f"The rack has {count(tiles, 'tile')}; give {max(low, 0)} or {high}{besides}.")
