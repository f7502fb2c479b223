"""Fresh tiles for drills: loose tiles of a hand, and racks that lie near one.

Everything is drawn with `random.Random.random` alone, the one method promised to stay the same, so that a seed gives
the same tiles on every machine.
"""

from __future__ import annotations

import random
from collections.abc import Sequence

from engine.sheet.groups import Variant
from engine.tiles import JOKER, Kind, full_set

RACK = 13
"""Tiles of a rack before the draw."""


def pick(chance: random.Random, number: int) -> int:
    """A whole number from 0 to `number` - 1, each as likely."""
    return int(chance.random() * number)


def shuffled(chance: random.Random, kinds: Sequence[Kind]) -> tuple[Kind, ...]:
    """The same tiles in random order (Fisher and Yates)."""
    order = list(kinds)
    for last in range(len(order) - 1, 0, -1):
        other = pick(chance, last + 1)
        order[last], order[other] = order[other], order[last]
    return tuple(order)


def tiles_of(variant: Variant, jokers: int, chance: random.Random) -> tuple[Kind, ...]:
    """The fourteen tiles of a variant in random order, so many of them jokers where jokers may stand.

    There are more jokers where the set holds too few of a tile.
    """
    tiles: list[Kind] = []
    free: list[int] = []
    most = list(full_set(0))
    for group in sorted(variant.groups, key=lambda group: group.takes_jokers):  # singles and pairs need real tiles
        for _ in range(group.size):
            if most[group.kind]:
                most[group.kind] -= 1
                free.extend([len(tiles)] if group.takes_jokers else [])
                tiles.append(group.kind)
            else:
                tiles.append(JOKER)
    for place in shuffled(chance, free)[: max(jokers - tiles.count(JOKER), 0)]:
        tiles[place] = JOKER
    return shuffled(chance, tiles)


def rack_near(variant: Variant, missing: int, chance: random.Random, jokers: int = 8) -> tuple[Kind, ...]:
    """Thirteen tiles of which all but `missing` serve a variant, the others from the rest of a set with `jokers`.

    Sorted. The other tiles are random, so that a few of them may serve the variant too.
    """
    hand = tiles_of(variant, 0, chance)
    rack = hand[: max(RACK + 1 - missing, 0)][:RACK]
    left = list(full_set(jokers))
    for kind in rack:
        left[kind] -= 1
    rest = shuffled(chance, [kind for kind, number in enumerate(left) for _ in range(number)])
    return tuple(sorted((*rack, *rest[: RACK - len(rack)])))
