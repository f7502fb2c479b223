"""The groups of a hand: sizes, a group of like tiles, and a variant, one way to make a hand."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property

from engine.tiles import COPIES, Counts, Kind, counts_of

SIZES = ("single", "pair", "pung", "kong", "quint", "sextet")
"""Names of groups of 1 to 6 tiles alike."""
JOKERS_FROM = 3
"""The smallest group in which a joker may stand."""
HAND_TILES = 14
"""Tiles in a finished hand."""


def size_name(size: int) -> str:
    """`pung` for 3."""
    return SIZES[size - 1]


@dataclass(frozen=True, order=True)
class Group:
    """So many tiles of one kind, as one variant needs them. Singles and pairs take no joker."""

    size: int
    kind: Kind
    jokers_from: int = field(default=JOKERS_FROM, repr=False, compare=False)
    """The smallest group in which a joker may stand in this deal."""

    @property
    def takes_jokers(self) -> bool:
        """Jokers may stand in groups of three or more, unless the deal has another rule."""
        return self.size >= self.jokers_from


def jokers_needed(groups: Iterable[Group]) -> int | None:
    """The fewest jokers with which the full set supplies these groups: jokers stand in groups of three or more only.

    None when the singles and pairs take more of a tile than the set holds, so that no joker helps.
    """
    real: dict[Kind, int] = {}
    loose: dict[Kind, int] = {}
    for group in groups:
        tiles = loose if group.size >= group.jokers_from else real
        tiles[group.kind] = tiles.get(group.kind, 0) + group.size
    for kind, count in real.items():
        if count > COPIES[kind]:
            return None
    needed = 0
    for kind, count in loose.items():
        lacking = count + real.get(kind, 0) - COPIES[kind]
        if lacking > 0:
            needed += lacking
    return needed


@dataclass(frozen=True)
class Variant:
    """One way to make a hand: its groups in the order the sheet gives them, 14 tiles in all."""

    groups: tuple[Group, ...]

    @cached_property
    def key(self) -> tuple[Group, ...]:
        """Groups in sorted order: two variants of equal keys are one."""
        return tuple(sorted(self.groups))

    @cached_property
    def real(self) -> Counts:
        """Per kind, tiles in singles and pairs, which no joker can fill."""
        return counts_of(g.kind for g in self.groups if not g.takes_jokers for _ in range(g.size))

    @cached_property
    def loose(self) -> Counts:
        """Per kind, tiles in groups of three or more, where jokers may stand."""
        return counts_of(g.kind for g in self.groups if g.takes_jokers for _ in range(g.size))

    @cached_property
    def total(self) -> Counts:
        """Per kind, tiles in all groups."""
        return tuple(r + q for r, q in zip(self.real, self.loose, strict=True))

    def suppliable(self, jokers: int) -> bool:
        """Whether a set with so many jokers holds the tiles."""
        needed = jokers_needed(self.groups)
        return needed is not None and needed <= jokers
