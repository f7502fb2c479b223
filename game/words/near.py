"""Near misses in words: which hand a seat was nearest to at the end, and what it lacked."""

from __future__ import annotations

from engine import words
from engine.rules.house import seat_name
from engine.tiles import name, say_tiles
from game.play.ended import NearMiss

NAMED = 3
"""So many missing tiles or fewer are named."""


def near_sentence(miss: NearMiss, player: int) -> str:
    """`You were one tile from Moth: the 5 dot.`"""
    who = "You were" if miss.seat == player else f"{seat_name(miss.seat).capitalize()} was"
    reach = miss.reach
    said = f"{who} {words.count(reach.missing, 'tile')} from {reach.hand.name}"
    if reach.missing > NAMED:
        return f"{said}."
    lacking = [slot.kind for group in reach.slots for slot in group if not slot.held]
    return f"{said}: {f'the {name(lacking[0])}' if len(lacking) == 1 else say_tiles(lacking)}."
