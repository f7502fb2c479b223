"""How often a hand is likely to be made, worked out from its variants alone, before any game is played.

In play the share of a hand grows with the number of its variants, and with about the third power of the chance that all
tiles of one variant are among those that come to a player who keeps everything: each tile comes two times in five. On
two sheets of 60 hands, 2,000 and 3,000 games each, the logarithm of the share lay within 0.42 and 0.45 (standard
deviation) of what this says: right within a factor of one and a half, two times in three. That is enough to choose
hands by; play says the rest. All arithmetic is in whole numbers, so that it comes out the same everywhere.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from math import comb

from engine.sheet.groups import Variant
from engine.tiles import COPIES, JOKER

COMES, OF = 2, 5
"""A tile comes two times in five."""
ONE = 10**9
"""What stands for certainty in the whole numbers below."""
_SCALE = ONE**3 // 10**6

Want = tuple[int, int, int]
"""Of one kind: copies in the set, tiles in singles and pairs, tiles in larger groups."""


def pull(variants: Iterable[Variant]) -> int:
    """How strongly a hand draws play to it. On a sheet of the usual pace the pulls of all hands come to about PACE."""
    return sum(all_come(wants(variant)) ** 3 for variant in variants) // _SCALE


PACE = 1_000_000
"""The pulls of a whole sheet added up, where a hand is made after some 45 picks on average."""


def wants(variant: Variant) -> tuple[Want, ...]:
    """What a variant wants of each kind, in an order that makes variants of one shape alike."""
    needs = zip(COPIES, variant.real, variant.loose, strict=True)
    return tuple(sorted((copies, real, loose) for copies, real, loose in needs if real + loose))


@lru_cache(maxsize=4096)
def all_come(wanted: tuple[Want, ...]) -> int:
    """The chance that everything wanted comes, jokers filling in where they may, as so many parts of ONE."""
    left = [1]  # by tiles left for jokers: ways, each tile of the set looked at counting OF
    tiles = 0
    for copies, real, loose in wanted:
        tiles += copies
        after = [0] * (len(left) + loose)
        for come in range(real, copies + 1):
            ways = _exactly(copies, come)
            short = max(real + loose - come, 0)
            for before, so_far in enumerate(left):
                after[before + short] += so_far * ways
        left = after
    jokers = COPIES[JOKER]
    whole = sum(
        ways * sum(_exactly(jokers, come) for come in range(short, jokers + 1)) for short, ways in enumerate(left)
    )
    parts: int = whole * ONE // OF ** (tiles + jokers)
    return parts


def _exactly(copies: int, come: int) -> int:
    """Ways in which just `come` of the copies come, out of OF ** copies."""
    ways: int = comb(copies, come) * COMES**come * (OF - COMES) ** (copies - come)
    return ways
