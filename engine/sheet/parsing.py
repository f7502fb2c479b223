"""Reads the notation of groups: text to patterns, with a place and a cure for every slip."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from engine.sheet.groups import HAND_TILES, SIZES, size_name
from engine.sheet.notation import (
    SUIT_LETTERS,
    Dragon,
    DragonOf,
    EachDragon,
    EachWind,
    Flower,
    Number,
    Pattern,
    Season,
    Tile,
    Wind,
    Zero,
)
from engine.tiles import CODES, DRAGON_NAMES, SUITS, WIND_NAMES
from engine.words import listed, lowered, nearest, quoted


class NotationError(ValueError):
    """A text that is no group or clause; `offset` is where in the text, counted in characters from 0."""

    def __init__(self, offset: int, message: str) -> None:
        super().__init__(message)
        self.offset = offset


@dataclass(frozen=True)
class Parsed:
    """What a line of groups says: the patterns, where each begins in the text, and the errors."""

    patterns: tuple[Pattern, ...]
    offsets: tuple[int, ...]
    errors: tuple[NotationError, ...]


def parse_groups(text: str) -> Parsed:
    """Read groups apart by commas. All errors are returned, none raised."""
    parts = list(split(text, ","))
    if len(parts) > HAND_TILES:
        error = NotationError(
            parts[HAND_TILES][0], f"there are {len(parts)} groups here; a hand has at most {HAND_TILES}, take some out"
        )
        return Parsed((), (), (error,))
    patterns: list[Pattern] = []
    offsets: list[int] = []
    errors: list[NotationError] = []
    for offset, part in parts:
        try:
            patterns.append(parse_group(part))
            offsets.append(offset)
        except NotationError as error:
            errors.append(NotationError(offset + error.offset, str(error)))
    return Parsed(tuple(patterns), tuple(offsets), tuple(errors))


def split(text: str, separator: str) -> Iterator[tuple[int, str]]:
    """The stripped parts between separators, each with where it begins; an empty part begins at its separator."""
    start = 0
    for part in text.split(separator):
        blank = len(part) - len(part.lstrip())
        yield (start + blank if part.strip() else max(start - 1, 0)), part.strip()
        start += len(part) + len(separator)


_WORD = re.compile(r"\S+")
_EXAMPLE = "write a size and a tile, such as pair a.n, kong flower or pung wind east"
_NUMBER = re.compile(r"([^.]*)\.(.*)")
_RANK = re.compile(r"([a-z])(?:([+-])([0-9]+))?")
_TILE_WORDS = ("flower", "zero", "wind", "dragon", "each", "season")


def parse_group(text: str) -> Pattern:
    """Read one group, `SIZE TILE`, in any case. Raises NotationError with the offset of the word at fault."""
    words = [(found.start(), found.group()) for found in _WORD.finditer(lowered(text))]
    if not words:
        raise NotationError(0, f"a group is missing between commas; {_EXAMPLE}, or take the comma out")
    at, word = words[0]
    if word not in SIZES:
        raise NotationError(at, _no_size(word))
    if len(words) == 1:
        raise NotationError(at, f"{quoted(word)} has no tile; {_EXAMPLE}")
    return Pattern(SIZES.index(word) + 1, _parse_tile(words[1:]))


def _no_size(word: str) -> str:
    sizes = listed(SIZES, "or")
    guess = nearest(word, SIZES)
    if guess:
        return f"{quoted(word)} is no size; write {guess}"
    if word.isascii() and word.isdigit() and len(word) == 1 and 1 <= int(word) <= len(SIZES):
        return f"{quoted(word)} is no size; write {size_name(int(word))}"
    if _looks_like_tile(word):
        return f"a size is missing before {quoted(word)}; write {sizes} first, as in pair {word}"
    return f"{quoted(word)} is no size; write {sizes}"


def _looks_like_tile(word: str) -> bool:
    return word in _TILE_WORDS or bool(re.fullmatch(r"[a-z]{1,4}\.\S{1,4}", word))


def _parse_tile(words: list[tuple[int, str]]) -> Tile:
    at, word = words[0]
    if word in ("flower", "zero"):
        _end(words, 1)
        return Flower() if word == "flower" else Zero()
    if word == "wind":
        name = _argument(words, "wind", WIND_NAMES)
        _end(words, 2)
        return Wind(name)
    if word == "dragon":
        if len(words) > 1 and words[1][1] == "of":
            suit = _suit(words, 2, "dragon of")
            _end(words, 3)
            return DragonOf(suit)
        name = _argument(words, "dragon", DRAGON_NAMES)
        _end(words, 2)
        return Dragon(name)
    if word == "each":
        if len(words) == 1 or words[1][1] not in ("wind", "dragon"):
            raise NotationError(words[-1 if len(words) == 1 else 1][0], "after “each” write wind or dragon")
        _end(words, 2)
        return EachWind() if words[1][1] == "wind" else EachDragon()
    if word == "season":
        suit = _suit(words, 1, "season")
        _end(words, 2)
        return Season(suit)
    if "." in word:
        number = _number(at, word)
        _end(words, 1)
        return number
    raise NotationError(at, _no_tile(word, [w for _, w in words]))


def _end(words: list[tuple[int, str]], length: int) -> None:
    if len(words) > length:
        at, word = words[length]
        if word[0] in "+-":
            raise NotationError(at, f"{quoted(word)} stands apart; write the number without spaces, as in a.n+1")
        cure = "put a comma before it" if word in SIZES else "take it out, or put a comma between two groups"
        raise NotationError(at, f"{quoted(word)} is one word too many here; {cure}")


def _argument(words: list[tuple[int, str]], what: str, names: tuple[str, ...]) -> str:
    """The name or variable letter after `wind` or `dragon`."""
    choices = f"{listed(names, 'or')}, or a letter such as u for any {what}"
    if len(words) < 2:
        raise NotationError(words[0][0], f"“{what}” needs a name; write {what} and then {choices}")
    at, word = words[1]
    if word in names or _is_variable(word):
        return word
    if word in SUIT_LETTERS:
        cure = f"; write dragon of {word} for the dragon of that suit," if what == "dragon" else "; write"
        raise NotationError(at, f"{quoted(word)} always stands for a suit{cure} {'or ' * (what == 'dragon')}{choices}")
    guess = nearest(word, names)
    raise NotationError(at, f"{quoted(word)} is no {what}; write {guess or choices}")


def _is_variable(word: str) -> bool:
    return len(word) == 1 and "a" <= word <= "z" and word not in SUIT_LETTERS


def _suit(words: list[tuple[int, str]], index: int, after: str) -> str:
    if len(words) <= index:
        raise NotationError(words[-1][0], f"“{after}” needs a suit; write {after} a, or {after} bam")
    at, word = words[index]
    return _check_suit(at, word, f"{after} ")


def _check_suit(at: int, word: str, before: str) -> str:
    if word in SUIT_LETTERS or word in SUITS:
        return word
    guess = nearest(word, SUITS) if len(word) > 1 else None
    choices = f"{before}{guess}" if guess else f"a, b or c for any suit, or {listed(SUITS, 'or')}"
    raise NotationError(at, f"{quoted(word)} is no suit; write {choices}")


def _number(at: int, word: str) -> Number:
    """`S.R`: the suit before the point, the rank after it."""
    found = _NUMBER.fullmatch(word)
    assert found is not None  # the caller saw the point
    suit = _check_suit(at, found[1], "") if found[1] else ""
    text = found[2]
    here = at + len(found[1]) + 1
    if not suit:
        raise NotationError(
            at, f"a suit is missing before the point in {quoted(word)}; write a, b, c or {listed(SUITS, 'or')}"
        )
    if text.isascii() and text.isdigit():
        if len(text) == 1 and text != "0":
            return Number(suit, None, int(text))
        cure = "for a nought write zero, the white dragon" if text == "0" else "write 1 to 9"
        raise NotationError(here, f"there is no number tile {quoted(text)}; {cure}")
    rank = _RANK.fullmatch(text)
    if rank is None:
        raise NotationError(
            here, f"{quoted(text)} is no number; write 1 to 9, or a letter such as n, with +1 or -1 after it if need be"
        )
    variable, sign, amount = rank[1], rank[2], rank[3]
    if variable in SUIT_LETTERS:
        raise NotationError(
            here, f"{quoted(variable)} always stands for a suit; use another letter for the number, such as n"
        )
    if amount and (len(amount) > 1 or amount == "9"):
        raise NotationError(here + 1, f"{quoted(sign + amount)} leads out of 1 to 9; write at most {sign}8")
    return Number(suit, variable, int(f"{sign}{amount}") if amount else 0)


def _no_tile(word: str, words: list[str]) -> str:
    if word in CODES[:27]:
        return f"{quoted(word)} is a code for racks; in a sheet write {_spelled(word)}"
    if word == "joker":
        return "jokers are never written in a hand, they may stand in any group of three or more; write the tile itself"
    if word in SUITS or word in SUIT_LETTERS:
        return f"{quoted(word)} is only a suit; write suit and number with a point between them, as in {word}.5"
    if word in WIND_NAMES:
        return f"{quoted(word)} is only a name; write wind {word}"
    if word in DRAGON_NAMES:
        return f"{quoted(word)} is only a name; write dragon {word}"
    if word.isascii() and word.isdigit():
        suit = next((w for w in words if w in SUITS), "a")
        return f"{quoted(word)} has no suit; write {suit}.{word if len(word) == 1 and word != '0' else '5'}"
    if word == "of":
        return "“of” stands alone; write dragon of a"
    guess = nearest(word, _TILE_WORDS) or nearest(word.removesuffix("s"), _TILE_WORDS)
    if guess:
        return f"{quoted(word)} is no tile; write {guess}"
    return f"{quoted(word)} is no tile; write a number tile such as a.n or bam.5, or flower, zero, a wind or a dragon"


def _spelled(code: str) -> str:
    suit = next(suit for suit in SUITS if suit[0] == code[1])
    return f"{suit}.{code[0]}"
