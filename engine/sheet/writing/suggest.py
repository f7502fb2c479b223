"""What may come next while a hand is typed: sizes, tiles, suits, letters and clauses."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from engine.sheet.groups import HAND_TILES, SIZES
from engine.sheet.notation import DRAGON, RANK, SUIT_LETTERS, WIND
from engine.sheet.parsing import parse_groups
from engine.tiles import DRAGON_NAMES, SUITS, WIND_NAMES

MOST = 9
"""Suggestions at a time, so that each has a digit."""


_MORE_OF_A_GROUP = 4
"""Ways to go on with a group that is whole already; the rest is for the group after it."""


@dataclass(frozen=True)
class NextWord:
    """A way to go on: what it adds, in a word, and the text and caret once it is taken."""

    says: str
    text: str
    caret: int


def suggest_groups(text: str, caret: int, season: str = "") -> tuple[NextWord, ...]:
    """Ways to go on with a line of groups at the caret."""
    start = text.rfind(",", 0, caret) + 1
    before = text[start:caret].lstrip()
    words = before.lower().split(" ")
    words = [word for word in words[:-1] if word] + words[-1:]
    used = sum(one.size * one.groups(season) for one in parse_groups(text).patterns)
    here = sum(one.size * one.groups(season) for one in parse_groups(before).patterns)
    rest = max(HAND_TILES - used + here, 0)
    found = list(_next_words(words, rest, letters_in(text, RANK) or ("n",)))
    shown = _taken(text, caret, words[-1], found)
    if here and not text[caret : caret + 1].strip(", "):  # a whole group: the next one may begin
        shown = shown[:_MORE_OF_A_GROUP] + _next_groups(text, caret, rest - here)
    return shown[:MOST]


def _next_groups(text: str, caret: int, rest: int) -> tuple[NextWord, ...]:
    """The sizes that may follow a group, each with the comma before it."""
    found = []
    for size in SIZES[: max(rest, 0)]:
        head = f"{text[:caret].rstrip()}, {size} "
        found.append(NextWord(f"then {size}", head + text[caret:].lstrip(" "), len(head)))
    return tuple(found)


def _next_words(words: Sequence[str], rest: int, letters: Sequence[str]) -> Iterator[str]:
    """Whole words that may stand where the last one of `words` is begun, with the blank or point after them."""
    if len(words) == 1:
        sizes = SIZES[: max(rest, 1)]
        if words[0] in {str(number) for number in range(1, len(sizes) + 1)}:
            yield f"{SIZES[int(words[0]) - 1]} "
            return
        yield from (f"{size} " for size in sizes)
        return
    if words[0] not in SIZES:
        return
    last = words[-1]
    if len(words) == 2:
        suit, point, _ = last.partition(".")
        if point and suit in (*SUIT_LETTERS, *SUITS):
            for letter in letters:
                yield from (f"{suit}.{letter}", *(f"{suit}.{letter}+{step}" for step in range(1, 9)))
            yield from (f"{suit}.{rank}" for rank in range(1, 10))
            return
        yield from (f"{suit}." for suit in SUIT_LETTERS)
        yield from ("flower", "zero", "wind ", "dragon ")
        yield from (f"{suit}." for suit in SUITS)
        yield from ("each ", "season ")
    elif len(words) == 3:
        yield from {
            "wind": (*WIND_NAMES, "u"),
            "dragon": (*DRAGON_NAMES, "of ", "v"),
            "each": ("wind", "dragon"),
            "season": (*SUIT_LETTERS, *SUITS),
        }.get(words[1], ())
    elif len(words) == 4 and words[1:3] == ["dragon", "of"]:
        yield from (*SUIT_LETTERS, *SUITS)


def _taken(text: str, caret: int, begun: str, found: Sequence[str]) -> tuple[NextWord, ...]:
    """Those that go on from what is begun, as texts."""
    shown: list[NextWord] = []
    digit = begun.isdigit() and len(begun) == 1
    for word in dict.fromkeys(found):
        if word != begun and (word.startswith(begun) or digit):
            head = text[: caret - len(begun)] + word
            rest = text[caret:].lstrip(" ") if word.endswith(" ") else text[caret:]
            shown.append(NextWord(word.strip(), head + rest, len(head)))
    return tuple(shown)


def letters_in(text: str, use: str) -> tuple[str, ...]:
    """The letters of a line of groups that stand for numbers (RANK), winds (WIND) or dragons (DRAGON), in order."""
    patterns = parse_groups(text).patterns
    return tuple(dict.fromkeys(letter for one in patterns for letter, kind in one.letters if kind == use))


def clause_forms(numbers: Sequence[str], others: Sequence[Sequence[str]]) -> tuple[str, ...]:
    """Clauses that these letters allow, the short ones first. `others`: letters of winds, and of dragons."""
    found = [f"{one} {parity}" for one in numbers for parity in ("odd", "even")]
    found += [f"{one} in " for one in numbers]
    found += [f"{one} < {two}" for one, two in combinations(numbers, 2)]
    found += [f"{one} != {two}" for group in (numbers, *others) for one, two in combinations(group, 2)]
    found += [f"{one} + {two} = {three}" for one, two, three in combinations(numbers, 3)]
    found += [f"{one} * {two} = {three}" for one, two, three in combinations(numbers, 3)]
    found += [f"{one} + {two} = " for one, two in combinations(numbers, 2)]
    return tuple(found)


def suggest_where(text: str, caret: int, groups: Sequence[str]) -> tuple[NextWord, ...]:
    """Ways to go on with the clauses at the caret; `groups` are the hand's lines."""
    start = text.rfind(";", 0, caret) + 1
    begun = text[start:caret].lstrip()
    whole = ", ".join(one for one in groups if one.strip())
    others = (letters_in(whole, WIND), letters_in(whole, DRAGON))
    forms = clause_forms(letters_in(whole, RANK), others)
    known = {_tight(part) for part in text.split(";")}
    shown = []
    for form in forms:
        if _tight(form).startswith(_tight(begun)) and _tight(form) not in known and _tight(form) != _tight(begun):
            blank = " " if start and text[start - 1 : start] == ";" else ""
            head = f"{text[:start]}{blank}{form}"
            shown.append(NextWord(form.strip(), head + text[caret:].lstrip(" "), len(head)))
    return tuple(shown[:MOST])


def _tight(text: str) -> str:
    return re.sub(r"\s", "", text.lower())
