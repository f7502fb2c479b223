"""Sentences and figures that the window and the text table share, so that both say the same thing."""

from __future__ import annotations

from datetime import datetime

MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip
NUMBER_WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


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


def points_of_odds(cost: float) -> str:
    """A loss of probability in points of odds, one decimal: `4.1`; `under 0.1` when it would round to nothing."""
    if cost <= 0.0:
        return "0"
    return "under 0.1" if cost < 0.0005 else f"{cost * 100:.1f}"


def give_or_take(half: float) -> str:
    """Half of an interval in points of odds: `1.2`; never nothing of what was sampled."""
    return "under 0.1" if half < 0.0005 else f"{100 * half:.1f}"


def count(number: int, noun: str, plural: str | None = None) -> str:
    """`one tile`, `three tiles`, `12 tiles`."""
    word = NUMBER_WORDS[number] if number < len(NUMBER_WORDS) else str(number)
    return f"{word} {noun if number == 1 else plural or noun + 's'}"


def listed(words: list[str], joint: str = "and") -> str:
    """`a, b and c`."""
    if len(words) < 2:
        return "".join(words)
    return ", ".join(words[:-1]) + f" {joint} " + words[-1]


def sentence(text: str) -> str:
    """The text with a capital first letter."""
    return text[:1].upper() + text[1:]


def when(moment: datetime) -> str:
    """A moment in the player's own time: `14 March 2026 at 19:30`."""
    local = moment.astimezone()
    return f"{local.day} {MONTHS[local.month - 1]} {local.year} at {local.hour}:{local.minute:02}"
