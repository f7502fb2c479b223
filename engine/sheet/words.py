"""Small helps for sentences about faults: quoting what was read, suggesting the nearest word, numbers in words."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Sequence

_LONGEST_QUOTE = 30
_NUMBERS = (
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    "thirteen", "fourteen",
)  # fmt: skip


def quoted(text: str) -> str:
    """What was read, in quotation marks, cut to 30 characters and safe to print: what can't be seen becomes ?."""
    shown = "".join(char if char.isprintable() else "?" for char in text[:_LONGEST_QUOTE])
    return f"“{shown}…”" if len(text) > _LONGEST_QUOTE else f"“{shown}”"


def lowered(text: str) -> str:
    """ASCII letters in lower case and every other character as it is, so that offsets into the text stay true."""
    return "".join(char.lower() if char.isascii() else char for char in text)


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word that a mistyped one most likely means, or None."""
    if len(word) > _LONGEST_QUOTE:
        return None
    found = difflib.get_close_matches(word.lower(), list(known), n=1, cutoff=0.6)
    return found[0] if found else None


def listed(items: Sequence[str], last: str = "or") -> str:
    """`a`, `a or b`, `a, b or c`."""
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} {last} {items[-1]}"


def in_words(number: int) -> str:
    """`five` for 5; figures from 15 on."""
    return _NUMBERS[number] if 0 <= number < len(_NUMBERS) else str(number)


def counted(number: int, noun: str) -> str:
    """`1 tile`, `2 tiles`."""
    return f"{number:,} {noun}" if number == 1 else f"{number:,} {noun}s"
