"""House rules in words, for the window and the text table alike."""

from __future__ import annotations

from engine.rules.house import FULL, House, seat_name
from engine.words import count


def passes_words(passes: int) -> str:
    """What of the two rounds of passes is played."""
    if passes == 0:
        return "no passes"
    if passes == 3:
        return "one round of passes"
    if passes == 6:
        return "two rounds of passes"
    return count(passes, "pass", "passes")


def house_words(house: House) -> str:
    """The rules of a table in one line: `quiet table, you are East, 8 jokers, all of the wall, no passes`."""
    parts = [
        "full table" if house.table == FULL else "quiet table",
        f"you are {seat_name(house.seat).capitalize()}",
        "no jokers" if house.jokers == 0 else f"{house.jokers} joker{'s' if house.jokers > 1 else ''}",
    ]
    if house.table != FULL:
        parts.append("all of the wall" if house.picks == 0 else f"{house.picks} pick{'s' if house.picks > 1 else ''}")
    parts.append(passes_words(house.passes))
    if house.courtesy:
        parts.append("courtesy pass")
    if house.passes and not house.blind:
        parts.append("no blind passes")
    if house.slips:
        parts.append("slips may happen")
    return ", ".join(parts)
