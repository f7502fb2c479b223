"""Words that every part shares: numbers, lists, percentages, times, points, quoted text."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Sequence
from datetime import datetime

_LONGEST_QUOTE = 30
JOINERS = "\u200c\u200d\ufe0e\ufe0f"
"""Not "printable" to Python, yet part of words and of characters."""
MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip
_NUMBERS = (
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    "thirteen", "fourteen",
)  # fmt: skip

_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")


def quoted(text: str) -> str:
    """What was read, in quotation marks, cut to 30 characters and safe to print: what can't be seen becomes ?."""
    shown = "".join(char if char.isprintable() else "?" for char in text[:_LONGEST_QUOTE])
    return f"“{shown}…”" if len(text) > _LONGEST_QUOTE else f"“{shown}”"


def shown(text: str) -> str:
    """A message as it may be shown. New lines stay. What steers a terminal or turns the way of writing becomes ?."""
    return "".join(char if char.isprintable() or char == "\n" or char in JOINERS else "?" for char in text)


def lowered(text: str) -> str:
    """ASCII letters in lower case and every other character as it is, so that offsets into the text stay true."""
    return "".join(char.lower() if char.isascii() else char for char in text)


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word that a mistyped one most likely means, or None."""
    if len(word) > _LONGEST_QUOTE:
        return None
    found = difflib.get_close_matches(word.lower(), list(known), n=1, cutoff=0.6)
    return found[0] if found else None


def listed(items: Sequence[str], last: str = "and") -> str:
    """`a`, `a and b`, `a, b and c`; `last` joins the last two."""
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} {last} {items[-1]}"


def in_words(number: int) -> str:
    """`five` for 5; figures from 15 on."""
    return _NUMBERS[number] if 0 <= number < len(_NUMBERS) else str(number)


def ordinal(place: int) -> str:
    """`first` for 1; `11th` and so on from 11."""
    if 1 <= place <= len(_ORDINALS):
        return _ORDINALS[place - 1]
    end = "th" if place % 100 in (11, 12, 13) else {1: "st", 2: "nd", 3: "rd"}.get(place % 10, "th")
    return f"{place}{end}"


def counted(number: int, noun: str) -> str:
    """`1 tile`, `2 tiles`."""
    return f"{number:,} {noun}" if number == 1 else f"{number:,} {noun}s"


def odds(probability: float) -> str:
    """A probability as a percentage that never says 0% or 100% of what is merely unlikely or likely."""
    if probability <= 0.0:
        return "0%"
    if probability >= 1.0:
        return "100%"
    if probability < 0.005:
        return "under 1%"
    if probability > 0.995:
        return "over 99%"
    return f"{probability:.0%}"


def exact_odds(probability: float) -> str:
    """The same with one decimal: `12.3%`, `under 0.1%`, `over 99.9%`."""
    if 0.0 < probability < 0.0005:
        return "under 0.1%"
    return "over 99.9%" if 0.9995 < probability < 1.0 else f"{probability:.1%}"


TRIFLE = 0.05
"""A cost in picks below this is said as `under 0.1`: it makes no difference to a player."""


def picks(cost: float, *, turns: bool = False) -> str:
    """What a choice costs: `2.4 picks`, `1 pick`, `under 0.1 picks`; in turns at a full table."""
    unit = "turn" if turns else "pick"
    figure = picks_figure(cost)
    return f"{figure} {unit if figure == '1' else unit + 's'}"


def about_picks(cost: float, *, turns: bool = False) -> str:
    """The same of an estimate: `about 2.4 picks`, `under 0.1 picks`."""
    said = picks(cost, turns=turns)
    return said if said.startswith("under") else f"about {said}"


def picks_figure(cost: float) -> str:
    """The number alone: one decimal below ten, none where it is 0 or above; never 0 of what is something."""
    if cost <= 0.0:
        return "0"
    if cost < TRIFLE:
        return "under 0.1"
    return f"{cost:.0f}" if cost >= 9.95 else f"{cost:.1f}".removesuffix(".0")


def count(number: int, noun: str, plural: str | None = None) -> str:
    """`one tile`, `three tiles`, `12 tiles`."""
    word = in_words(number) if number <= 10 else str(number)
    return f"{word} {noun if number == 1 else plural or noun + 's'}"


def sentence(text: str) -> str:
    """The text with a capital first letter."""
    return text[:1].upper() + text[1:]


def when(moment: datetime) -> str:
    """A moment in the player's own time: `14 March 2026 at 19:30`."""
    local = moment.astimezone()
    return f"{local.day} {MONTHS[local.month - 1]} {local.year} at {local.hour}:{local.minute:02}"


def clock(seconds: float) -> str:
    """`4:05`; a minus sign in front once the time is over."""
    whole = int(abs(seconds))
    return f"{'−' if seconds < 0 else ''}{whole // 60}:{whole % 60:02}"


def points_text(points: int) -> str:
    """`+120`, `−30`, `0`."""
    return "0" if not points else f"{'+' if points > 0 else '−'}{abs(points)}"
