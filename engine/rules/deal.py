"""Shuffling, and deal codes: a short text that names the house rules and the seed of a deal, and the sheet's edition.

Each character stands for five bits; the last one is a check. The bits begin with the version (3 bits), the number of
the usual house rules (2), the sheet's edition (19) and the seed (31). With usual house rules that is all: 12
characters. With other rules the first eight follow in full (20 bits): 16 characters, version 1. If a later rule is
unusual too, the version is 2: each later rule has a bit that says whether it is unusual, and then its value. That
makes 20 to 28 characters. If the deal has a twist or two racks, the version is 3, and
last come the twist's number (6 bits, 0 for none) and a bit for the two-hand game. All versions shuffle alike.

For the check a character is an element of the field with 32 elements. Each is multiplied by another power of the
field's generator, and the sum must be zero. So one mistyped character is always found, and so are two neighbours that
have changed places.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from typing import NoReturn

from engine.rules.game import start
from engine.rules.house import FULL, QUIET, STRENGTHS, TWO, House
from engine.rules.state import State
from engine.rules.twists.names import TWISTS
from engine.sheet.model import Sheet
from engine.tiles import COPIES, JOKER, Kind, full_set, kinds_of

NEWEST = 3
"""The newest version of a code that this program reads and writes."""
SEEDS = 1 << 31
"""Seeds run from 0 to one less."""

ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
"""Without I, L, O and U, which are read as 1, 1, 0 and V."""
_READ = {char: value for value, char in enumerate(ALPHABET)} | {"O": 0, "I": 1, "L": 1, "U": ALPHABET.index("V")}
_IGNORED = frozenset(" \t\r\n-_‐‑‒–—")
_SHORT, _LONG = 12, 16
_LENGTHS = (_SHORT, _LONG, 20, 24, 28)
_LONGEST_TEXT = 100

USUAL = (
    House(table=QUIET, jokers=8, picks=40, seat=0, passes=0, courtesy=False, blind=True, slips=False),
    House(table=QUIET, jokers=8, picks=40, seat=0, passes=6, courtesy=True, blind=True, slips=False),
    House(table=FULL, jokers=8, picks=0, seat=0, passes=6, courtesy=True, blind=True, slips=False),
)
"""House rules that a short code names by number, 1 to 3. Never to be changed, or old codes would deal otherwise."""

_PLAIN = House()
_VERSION, _USUAL, _EDITION, _SEED = 3, 2, 19, 31
_HOUSE = (("jokers", 4), ("picks", 7), ("seat", 2), ("passes", 3), ("courtesy", 1), ("blind", 1), ("slips", 1))
_LATER = (
    ("vote", 0),
    ("blind_round", 1),
    ("east_stays", 0),
    ("last_tiles", 6),
    ("self_drawn_doubles", 0),
    ("jokerless_doubles", 0),
    ("discarder_pays_all", 0),
    ("concealed_bonus", 6),
    ("loss_limit", 9),
    ("mistake_pays", 6),
    ("others", 6),
)
"""Rules of version 2: a bit says whether the rule is unusual; then so many bits give its value, if it has several."""

_TWIST = 6
"""Bits that number the twist, 1 for the first and 0 for none; only in version 3."""


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


def edition_of(fingerprint: str) -> int:
    """The first bits of a sheet's fingerprint, as many as a code carries. Raises ValueError for no fingerprint."""
    return int(fingerprint[:8], 16) >> (32 - _EDITION)


@dataclass(frozen=True)
class DealCode:
    """What a code says. `str` writes it, `parse` reads it."""

    house: House
    seed: int
    edition: int
    version: int = 1

    @classmethod
    def of(cls, sheet: Sheet, house: House, seed: int) -> DealCode:
        """The code of a deal. Raises ValueError for a seed out of range."""
        if not 0 <= seed < SEEDS:
            raise ValueError(f"seed is {seed}; choose 0 to {SEEDS - 1}")
        return cls(house, seed, edition_of(sheet.fingerprint), _version_of(house))

    def __str__(self) -> str:
        usual = USUAL.index(self.house) + 1 if self.house in USUAL else 0
        bits = _bits(self.version, _VERSION) + _bits(usual, _USUAL)
        bits += _bits(self.edition, _EDITION) + _bits(self.seed, _SEED)
        if not usual:
            bits += _first_rules(self.house)
        if self.version > 1:
            bits += _later_rules(self.house)
        if self.house.twist or self.house.table == TWO:
            bits += _bits(("", *TWISTS).index(self.house.twist), _TWIST) + _bits(self.house.table == TWO, 1)
        length = next(length for length in _LENGTHS if 5 * (length - 1) >= len(bits))
        bits = bits.ljust(5 * (length - 1), "0")
        values = [int(bits[place : place + 5], 2) for place in range(0, len(bits), 5)]
        text = "".join(ALPHABET[value] for value in (*values, _check(values)))
        return "-".join(text[place : place + 4] for place in range(0, length, 4))

    @classmethod
    def parse(cls, text: str) -> DealCode:
        """Read a code; case, spaces and hyphens don't count. Raises DealCodeError."""
        values = _values(text)
        if _check(values[:-1]) != values[-1]:
            _refuse(text, "has a slip in it: a mistyped character, or two that changed places; compare it again")
        bits = _Bits("".join(_bits(value, 5) for value in values[:-1]))
        version, usual = bits.take(_VERSION), bits.take(_USUAL)
        edition, seed = bits.take(_EDITION), bits.take(_SEED)
        if version > NEWEST:
            _refuse(text, "was made by a newer edition of the game; update the game to deal it")
        try:
            code = cls(USUAL[usual - 1] if usual else _house(bits, version), seed, edition, version)
        except (ValueError, IndexError):
            code = None
        right = code is not None and version == _version_of(code.house)
        if code is None or not right or str(code).replace("-", "") != "".join(ALPHABET[value] for value in values):
            _refuse(text, "was not made by this game; copy it again from where it came")
        return code

    def is_for(self, sheet: Sheet) -> bool:
        """Whether the code was made for this edition of the sheet."""
        return self.edition == edition_of(sheet.fingerprint)

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


def _bits(value: int, width: int) -> str:
    return f"{value:0{width}b}" if width else ""


class _Bits:
    """Bits that are read one field after another; beyond the end there are noughts."""

    def __init__(self, bits: str) -> None:
        self._left = bits

    def take(self, width: int) -> int:
        """The value of the next field."""
        field, self._left = self._left[:width].ljust(width, "0"), self._left[width:]
        return int(field, 2) if width else 0


def _first_rules(house: House) -> str:
    table = _bits(house.table == FULL, 1)
    return table + "".join(_bits(int(getattr(house, name)), width) for name, width in _HOUSE)


def _version_of(house: House) -> int:
    if house.twist or house.table == TWO:
        return 3
    return 2 if any(getattr(house, name) != getattr(_PLAIN, name) for name, _ in _LATER) else 1


def _later_rules(house: House) -> str:
    bits = ""
    for name, width in _LATER:
        value = getattr(house, name)
        bits += "1" if value != getattr(_PLAIN, name) else "0"
        if value == getattr(_PLAIN, name):
            continue
        if name == "others":
            value = sum(STRENGTHS.index(one) << 2 * place for place, one in enumerate(house.strengths))
        bits += _bits(value - 1 if name == "blind_round" else value, width)
    return bits


def _house(bits: _Bits, version: int) -> House:
    """The house rules that the bits name. Raises ValueError where they name none."""
    settings: dict[str, str | int | bool] = {"table": FULL if bits.take(1) else QUIET}
    for name, width in _HOUSE:
        value = bits.take(width)
        settings[name] = bool(value) if isinstance(getattr(_PLAIN, name), bool) else value
    for name, width in _LATER if version > 1 else ():
        if not bits.take(1):
            continue
        value = bits.take(width)
        if name == "others":
            settings[name] = " ".join(STRENGTHS[value >> 2 * place & 3] for place in range(3))
        elif width:
            settings[name] = value + 1 if name == "blind_round" else value
        else:
            settings[name] = not getattr(_PLAIN, name)
    if version > 2:
        settings["twist"] = ("", *TWISTS)[bits.take(_TWIST)]
        settings["table"] = TWO if bits.take(1) else settings["table"]
    return House(**settings)  # type: ignore[arg-type]  # each has its default's type


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
    if len(values) not in _LENGTHS or len(text) > _LONGEST_TEXT:
        _refuse(
            text, f"is not whole: a code has {_SHORT} characters, {_LONG} to {_LENGTHS[-1]} for unusual house rules"
        )
    return values


def _refuse(text: str, why: str) -> NoReturn:
    raise DealCodeError(f"the deal code “{text[:40]}” {why}")
