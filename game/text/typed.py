"""What a player types at the text table, read as tiles and choices. Whatever the table says is understood as well.

Case, articles, commas and a full stop at the end make no difference: `pass 5d 6d we` and `Pass 5 dot, 6 dot and east
wind.` are the same.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from engine import words
from engine.rules.actions import PASS_TILES, Action, Agree, Ask, Call, Give, Pass, Stop
from engine.sheet.groups import SIZES
from engine.tiles import CODES, KINDS, Kind, TileError, kind_of, name, parse_tiles

NUMBERS = {word: number for number in range(6) for word in (str(number), words.in_words(number))}
LONGEST_ECHO = 40
_BLIND = re.compile(rf"\bblind\s+(\S+)|\b({'|'.join(NUMBERS)})\s+blind\b")
_FILLERS = re.compile(r"\b(the|and|unseen|across)\b")

_LONG = (" wind", " dragon")
_SHORT = {
    name(kind).partition(" ")[0]: CODES[kind] for kind in range(KINDS) if name(kind).endswith((" wind", " dragon"))
}
"""`east` for the east wind, `red` for the red dragon."""


class NotUnderstoodError(ValueError):
    """What was typed is no choice that is asked for now; the message says what to type."""


def tidy(text: str) -> str:
    """The text in lower case, with single spaces and without a full stop at the end."""
    return " ".join(text.lower().split()).rstrip(".! ")


def echo(typed: str) -> str:
    """What was typed, safe to print: not too long, and without what would steer the terminal."""
    return printable(typed if len(typed) <= LONGEST_ECHO else typed[:LONGEST_ECHO] + "…")


def printable(text: str) -> str:
    """The text without what would steer the terminal, or can't be printed at all."""
    return "".join(char if char.isprintable() else " " for char in text)


def tile_of(text: str) -> Kind:
    """The kind that a code, a character or a spoken name means: `5d`, `the 5 dot`, `east`. Raises TileError."""
    said = tidy(text).removeprefix("the ")
    for kind in range(KINDS):
        if said and said in (name(kind), name(kind).removesuffix(" wind").removesuffix(" dragon")):
            return kind
    return kind_of(said)


def tiles_of(text: str) -> tuple[Kind, ...]:
    """The kinds of several tiles, by codes, characters or names, in the order typed. Raises TileError."""
    said = tidy(text)
    for kind in sorted(range(KINDS), key=lambda one: -len(name(one))):
        said = re.sub(rf"\b{name(kind)}s?\b", f" {CODES[kind]} ", said)
    for word, code in _SHORT.items():
        said = re.sub(rf"\b{word}\b", f" {code} ", said)
    return parse_tiles(_FILLERS.sub(" ", said))


def choice_before_play(text: str) -> Action | None:
    """The pass, vote, number or courtesy tiles that were typed; None for anything else. Raises NotUnderstoodError."""
    word, _, rest = tidy(text).partition(" ")
    try:
        match word:
            case "pass":
                return _pass(rest)
            case "give":
                return Give(tuple(sorted(() if rest in ("no tile", "nothing", "none") else tiles_of(rest))))
            case "ask":
                return Ask(_number(rest.partition(" and give")[0]))
            case "agree":
                return Agree()
            case "stop":
                return Stop()
    except TileError as error:
        raise NotUnderstoodError(printable(f"{words.sentence(str(error).rstrip('.'))}.")) from error
    return None


def calls_meant(text: str, calls: Sequence[Call]) -> list[Call]:
    """Those of the calls that fit what was typed: a size, a number of jokers, both or neither."""
    parts = tidy(text).split()
    sizes = [SIZES.index(part) + 1 for part in parts if part in SIZES]
    numbers = [NUMBERS[part] for part in parts if part in NUMBERS]
    return [
        call
        for call in calls
        if (not sizes or call.size == sizes[0]) and (not numbers or call.jokers == numbers[0])
    ]  # fmt: skip


def names_a_size(text: str) -> bool:
    """Whether the size of a group was typed."""
    return any(part in SIZES for part in tidy(text).split())


def _pass(rest: str) -> Pass:
    """`5d 6d we`; `1b blind 2` and `1b and two blind` pass tiles on unseen."""
    tiles, unseen = rest, 0
    found = _BLIND.search(rest)
    if found is not None:
        tiles = rest[: found.start()] + rest[found.end() :]
        unseen = _number(found[1] or found[2] or "")
    kinds = tuple(sorted(tiles_of(tiles)))
    if len(kinds) + unseen != PASS_TILES:
        raise NotUnderstoodError(f"Three tiles go out, not {len(kinds) + unseen}; type “pass” and three tiles.")
    return Pass(kinds, unseen)


def _number(text: str) -> int:
    """A number from 0 to 3, in figures or in words, whatever stands around it. Raises NotUnderstoodError."""
    found = [NUMBERS[part] for part in text.split() if part in NUMBERS]
    if len(found) != 1 or found[0] > PASS_TILES:
        raise NotUnderstoodError(f"“{echo(text)}” is no number from 0 to 3; type one of those.")
    return found[0]


def one_of(text: str, number: int) -> int | None:
    """Which of so many numbered things was typed, counted from 0; None for anything else."""
    found = tidy(text)
    place = NUMBERS.get(found, int(found) if found.isascii() and found.isdigit() and len(found) < 3 else 0)
    return place - 1 if 1 <= place <= number else None
