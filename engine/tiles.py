"""The 36 kinds of tile: codes, names, characters, how many of each are in the set.

A kind is a small whole number, 0 to 35, so that a rack can be a tuple of kinds or a tuple of 36 counts.
Everything that a person types or reads goes through the functions below.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

Kind = int
Counts = tuple[int, ...]

KINDS = 36
SUITS = ("bam", "crak", "dot")
BAMS = range(0, 9)
CRAKS = range(9, 18)
DOTS = range(18, 27)
WINDS = range(27, 31)
DRAGONS = range(31, 34)
EAST, SOUTH, WEST, NORTH = WINDS
GREEN, RED, WHITE = DRAGONS
FLOWER = 34
JOKER = 35

WIND_NAMES = ("east", "south", "west", "north")
DRAGON_NAMES = ("green", "red", "white")

CODES: tuple[str, ...] = (
    *(f"{rank}{suit}" for suit in "bcd" for rank in range(1, 10)),
    "we", "ws", "ww", "wn", "dg", "dr", "dw", "fl", "jk",
)  # fmt: skip

NAMES: tuple[str, ...] = (
    *(f"{rank} {suit}" for suit in SUITS for rank in range(1, 10)),
    *(f"{wind} wind" for wind in WIND_NAMES),
    *(f"{dragon} dragon" for dragon in DRAGON_NAMES),
    "flower",
    "joker",
)

COPIES: Counts = (4,) * 34 + (8, 8)
"""How many of each kind the full set of 152 holds."""

CHARACTERS: tuple[str, ...] = (
    *(chr(0x1F010 + i) for i in range(9)),  # bamboos
    *(chr(0x1F007 + i) for i in range(9)),  # characters
    *(chr(0x1F019 + i) for i in range(9)),  # circles
    *(chr(0x1F000 + i) for i in range(4)),  # winds, in the block's order east south west north
    chr(0x1F005), chr(0x1F004), chr(0x1F006),  # green, red, white
    chr(0x1F022), chr(0x1F02A),  # plum, standing for every flower; joker
)  # fmt: skip
"""The character of each kind in the Unicode block Mahjong Tiles."""

_KIND_OF_CODE = {code: kind for kind, code in enumerate(CODES)}
_KIND_OF_CHARACTER = {char: kind for kind, char in enumerate(CHARACTERS)} | {
    chr(point): FLOWER for point in range(0x1F022, 0x1F02A)
}
_VARIATION_SELECTORS = dict.fromkeys((0xFE0E, 0xFE0F))
_REPEATED = re.compile(r"(\d+)x(\S+)")


class TileError(ValueError):
    """A text that names no tile, or more tiles than can be."""


def code(kind: Kind) -> str:
    """The two-character code of a kind: `5d`, `we`, `dr`, `fl`, `jk`."""
    return CODES[kind]


def name(kind: Kind) -> str:
    """What a player reads: `5 dot`, `east wind`, `red dragon`, `flower`, `joker`."""
    return NAMES[kind]


def character(kind: Kind) -> str:
    """The kind's character in the Unicode block Mahjong Tiles."""
    return CHARACTERS[kind]


def kind_of(text: str) -> Kind:
    """The kind that a code or a Mahjong Tiles character names; any case. Raises TileError."""
    clean = text.translate(_VARIATION_SELECTORS).strip()
    found = _KIND_OF_CODE.get(clean.lower(), _KIND_OF_CHARACTER.get(clean))
    if found is None:
        raise TileError(f"“{text[:20]}” is no tile; write a code such as 5d, 3b, 9c, we, dr, fl or jk")
    return found


def number(suit: int, rank: int) -> Kind:
    """The number tile of a suit (0 bam, 1 crak, 2 dot) and rank 1 to 9."""
    if suit not in (0, 1, 2) or not 1 <= rank <= 9:
        raise TileError(f"there is no number tile of suit {suit} and rank {rank}")
    return suit * 9 + rank - 1


def suit_of(kind: Kind) -> int | None:
    """0 bam, 1 crak, 2 dot for a number tile, else None."""
    return kind // 9 if kind < 27 else None


def rank_of(kind: Kind) -> int | None:
    """1 to 9 for a number tile, else None."""
    return kind % 9 + 1 if kind < 27 else None


def dragon_of(suit: int) -> Kind:
    """The dragon that goes with a suit: green with bams, red with craks, white with dots."""
    return DRAGONS[suit]


def parse_tiles(text: str) -> tuple[Kind, ...]:
    """Kinds in the order written: codes or characters apart by spaces, `3x5d` for a repeat. Raises TileError."""
    known = [_KIND_OF_CODE.get(word, -1) for word in text.split()]
    if -1 not in known:  # codes alone, as in every record
        return tuple(known)
    kinds: list[Kind] = []
    for word in _words(text):
        repeated = _REPEATED.fullmatch(word.lower())
        times, single = (repeated[1], repeated[2]) if repeated else ("1", word)
        if len(times) > 2 or not 1 <= int(times) <= 14:
            raise TileError(f"“{word[:20]}” repeats a tile {times[:20]} times; write 1 to 14, as in 3x5d")
        kinds += [kind_of(single)] * int(times)
    return tuple(kinds)


def _words(text: str) -> list[str]:
    """Split at white space and commas; a run of tile characters falls apart into single ones."""
    words = []
    for word in text.translate(_VARIATION_SELECTORS).replace(",", " ").split():
        if len(word) > 1 and all(char in _KIND_OF_CHARACTER for char in word):
            words += list(word)
        else:
            words.append(word)
    return words


def write_tiles(kinds: Iterable[Kind]) -> str:
    """Codes apart by spaces, in the order given; `parse_tiles` reads them back."""
    return " ".join(CODES[kind] for kind in kinds)


def say_tiles(kinds: Sequence[Kind]) -> str:
    """Names for a sentence: `two 5 dots` is never made; `5 dot, 5 dot and flower` is."""
    names = [NAMES[kind] for kind in kinds]
    if len(names) < 2:
        return "".join(names)
    return ", ".join(names[:-1]) + " and " + names[-1]


def counts_of(kinds: Iterable[Kind]) -> Counts:
    """How many of each kind, 36 numbers."""
    counts = [0] * KINDS
    for kind in kinds:
        counts[kind] += 1
    return tuple(counts)


def kinds_of(counts: Sequence[int]) -> tuple[Kind, ...]:
    """The kinds that 36 counts stand for, lowest kind first."""
    return tuple(kind for kind, count in enumerate(counts) for _ in range(count))


def full_set(jokers: int = COPIES[JOKER]) -> Counts:
    """Counts of the whole set with the given number of jokers."""
    return (*COPIES[:JOKER], jokers)
