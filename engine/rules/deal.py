"""Shuffling, and deal codes: a short text that names the house rules and the seed of a deal, and the sheet's edition.

A code is 12 characters of five bits each, 16 where the house rules are none of the usual ones, the last one a check:
version of the shuffle (3 bits), house (2), sheet edition (19), seed (31), then the house rules in full (20) if need be.
The characters are numbers of the field of 32 elements; each is weighted with another power of its generator and all sum
to zero, so every single mistyped character and every two neighbours changed about are found.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from typing import NoReturn

from engine.rules.game import start
from engine.rules.house import FULL, QUIET, House
from engine.rules.state import State
from engine.sheet.model import Sheet
from engine.tiles import COPIES, JOKER, Kind, full_set, kinds_of

SHUFFLE_VERSION = 1
SEEDS = 1 << 31
"""Seeds run from 0 to one less."""

ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
"""Without I, L, O and U, which are read as 1, 1, 0 and V."""
_READ = {char: value for value, char in enumerate(ALPHABET)} | {"O": 0, "I": 1, "L": 1, "U": ALPHABET.index("V")}
_IGNORED = frozenset(" \t\r\n-_‐‑‒–—")
_SHORT, _LONG = 12, 16
_LONGEST_TEXT = 100

USUAL = (
    House(table=QUIET, jokers=8, picks=40, seat=0, passes=0, courtesy=False, blind=True, slips=False),
    House(table=QUIET, jokers=8, picks=40, seat=0, passes=6, courtesy=True, blind=True, slips=False),
    House(table=FULL, jokers=8, picks=0, seat=0, passes=6, courtesy=True, blind=True, slips=False),
)
"""House rules that a short code names by number, 1 to 3. Never to be changed, or old codes would deal otherwise."""

_VERSION, _USUAL, _EDITION, _SEED = 3, 2, 19, 31
_HOUSE = (("jokers", 4), ("picks", 7), ("seat", 2), ("passes", 3), ("courtesy", 1), ("blind", 1), ("slips", 1))


class DealCodeError(ValueError):
    """A text that is no deal code, or one that this program or sheet can't deal."""


def shuffle(seed: int, jokers: int = COPIES[JOKER]) -> tuple[Kind, ...]:
    """The whole wall, first tile first: Fisher-Yates over `random.Random(seed).random()`.

    That generator's output is the one that Python promises to keep. Raises ValueError for a seed out of range.
    """
    if not 0 <= seed < SEEDS:
        raise ValueError(f"seed is {seed}; choose 0 to {SEEDS - 1}")
    chance = random.Random(seed).random
    tiles = list(kinds_of(full_set(jokers)))
    for last in range(len(tiles) - 1, 0, -1):
        other = int(chance() * (last + 1))
        tiles[last], tiles[other] = tiles[other], tiles[last]
    return tuple(tiles)


def edition_of(sheet: Sheet) -> int:
    """The first bits of the sheet's fingerprint, as many as a code carries."""
    return int(sheet.fingerprint[:8], 16) >> (32 - _EDITION)


@dataclass(frozen=True)
class DealCode:
    """What a code says. `str` writes it, `parse` reads it."""

    house: House
    seed: int
    edition: int
    version: int = SHUFFLE_VERSION

    @classmethod
    def of(cls, sheet: Sheet, house: House, seed: int) -> DealCode:
        """The code of a deal. Raises ValueError for a seed out of range."""
        if not 0 <= seed < SEEDS:
            raise ValueError(f"seed is {seed}; choose 0 to {SEEDS - 1}")
        return cls(house, seed, edition_of(sheet))

    def __str__(self) -> str:
        usual = USUAL.index(self.house) + 1 if self.house in USUAL else 0
        bits = ((self.version << _USUAL | usual) << _EDITION | self.edition) << _SEED | self.seed
        length = _SHORT
        if not usual:
            bits = bits << 1 | (self.house.table == FULL)
            for name, width in _HOUSE:
                bits = bits << width | int(getattr(self.house, name))
            bits <<= _spare_bits(_LONG)
            length = _LONG
        values = [bits >> 5 * place & 31 for place in range(length - 2, -1, -1)]
        text = "".join(ALPHABET[value] for value in (*values, _check(values)))
        return "-".join(text[place : place + 4] for place in range(0, length, 4))

    @classmethod
    def parse(cls, text: str) -> DealCode:
        """Read a code; case, spaces and hyphens don't count. Raises DealCodeError."""
        values = _values(text)
        if _check(values[:-1]) != values[-1]:
            _refuse(text, "has a slip in it: a mistyped character, or two that changed places; compare it again")
        bits = 0
        for value in values[:-1]:
            bits = bits << 5 | value
        extra = 1 + sum(width for _, width in _HOUSE) + _spare_bits(_LONG) if len(values) == _LONG else 0
        rules, head = bits & (1 << extra) - 1, bits >> extra
        seed, head = head & SEEDS - 1, head >> _SEED
        edition, head = head & (1 << _EDITION) - 1, head >> _EDITION
        usual, version = head & (1 << _USUAL) - 1, head >> _USUAL
        if version > SHUFFLE_VERSION:
            _refuse(
                text, "was made by a newer edition of the game, which shuffles otherwise; update the game to deal it"
            )
        if version < 1 or (usual == 0) != (len(values) == _LONG):
            _refuse(text, "was not made by this game; copy it again from where it came")
        code = cls(USUAL[usual - 1] if usual else _house(text, rules >> _spare_bits(_LONG)), seed, edition, version)
        if str(code).replace("-", "") != "".join(ALPHABET[value] for value in values):
            _refuse(text, "was not made by this game; copy it again from where it came")
        return code

    def is_for(self, sheet: Sheet) -> bool:
        """Whether the code was made for this edition of the sheet."""
        return self.edition == edition_of(sheet)

    def wall(self) -> tuple[Kind, ...]:
        """The shuffled wall."""
        return shuffle(self.seed, self.house.jokers)

    def deal(self, sheet: Sheet) -> State:
        """The dealt table. Raises DealCodeError when the code is for another sheet."""
        if not self.is_for(sheet):
            raise DealCodeError(
                f"the code {self} was made for another sheet or another edition than {sheet.name} of season "
                f"{sheet.season}; choose the sheet it was made for"
            )
        return start(sheet, self.house, self.wall())


def _spare_bits(length: int) -> int:
    used = _VERSION + _USUAL + _EDITION + _SEED + (1 + sum(width for _, width in _HOUSE) if length == _LONG else 0)
    return 5 * (length - 1) - used


def _check(values: list[int]) -> int:
    """The value that makes the weighted sum zero; multiplying by the generator of x^5 + x^2 + 1 is a shift."""
    total = 0
    for value in values:
        total = (total ^ value) << 1
        total ^= 0b100101 if total & 32 else 0
    return total


def _values(text: str) -> list[int]:
    values = []
    for char in text[:_LONGEST_TEXT]:
        if char in _IGNORED:
            continue
        value = _READ.get(char.upper()) if char.isascii() else None
        if value is None:
            _refuse(text, f"holds “{char}”, which no code does; it is made of digits and letters")
        values.append(value)
    if len(values) not in (_SHORT, _LONG) or len(text) > _LONGEST_TEXT:
        _refuse(text, f"is not whole: a code has {_SHORT} characters, {_LONG} for unusual house rules")
    return values


def _house(text: str, bits: int) -> House:
    settings: dict[str, int] = {}
    for name, width in reversed(_HOUSE):
        settings[name], bits = bits & (1 << width) - 1, bits >> width
    try:
        return House(
            table=FULL if bits else QUIET,
            jokers=settings["jokers"],
            picks=settings["picks"],
            seat=settings["seat"],
            passes=settings["passes"],
            courtesy=bool(settings["courtesy"]),
            blind=bool(settings["blind"]),
            slips=bool(settings["slips"]),
        )
    except ValueError:
        _refuse(text, "was not made by this game; copy it again from where it came")


def _refuse(text: str, why: str) -> NoReturn:
    raise DealCodeError(f"the deal code “{text[:40]}” {why}")
