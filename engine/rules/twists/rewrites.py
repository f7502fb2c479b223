"""Other ways to make a hand that a twist allows: each function gives variants made out of one variant."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from itertools import permutations

from engine.sheet.groups import Group, Variant
from engine.tiles import DRAGONS, EAST, FLOWER, NORTH, SOUTH, WEST, WHITE, Kind

_RANKS = 9
_FIRST_HONOUR = EAST
"""Number tiles are the kinds below this one."""


def _renamed(variant: Variant, name: Callable[[Kind], Kind]) -> Variant:
    return Variant(tuple(Group(group.size, name(group.kind)) for group in variant.groups))


def _mapped(variant: Variant, to: Mapping[Kind, Kind]) -> Variant:
    return _renamed(variant, lambda kind: to.get(kind, kind))


def mirrored(variant: Variant) -> Iterator[Variant]:
    """Every number n read as 10 - n."""
    yield _renamed(variant, lambda kind: kind + _RANKS - 1 - 2 * (kind % _RANKS) if kind < _FIRST_HONOUR else kind)


def stepped(variant: Variant) -> Iterator[Variant]:
    """Every number one higher; nothing for a variant that has a 9."""
    if all(group.kind >= _FIRST_HONOUR or group.kind % _RANKS < _RANKS - 1 for group in variant.groups):
        yield _renamed(variant, lambda kind: kind + (kind < _FIRST_HONOUR))


def turned(variant: Variant) -> Iterator[Variant]:
    """East and West changed about, and North and South."""
    yield _mapped(variant, {EAST: WEST, WEST: EAST, NORTH: SOUTH, SOUTH: NORTH})


def wandering(variant: Variant) -> Iterator[Variant]:
    """The three dragons changed about in every way."""
    for order in permutations(DRAGONS):
        yield _mapped(variant, dict(zip(DRAGONS, order, strict=True)))


def whitened(variant: Variant) -> Iterator[Variant]:
    """All flowers read as white dragons."""
    yield _mapped(variant, {FLOWER: WHITE})
