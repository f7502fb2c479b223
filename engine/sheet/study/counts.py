"""Counts over a sheet: how often each tile, group size, shape and suit is needed, and by which hands.

Everything is counted once for each hand; the figures of the whole sheet, and the hands behind any of them, come out
of that.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import TypeVar

from engine.sheet.groups import Variant
from engine.sheet.model import Hand, Section, Sheet
from engine.tiles import FLOWER, JOKER, KINDS, Kind, rank_of, suit_of

Shape = tuple[int, ...]
"""The sizes of a variant's groups, in the order of the sheet."""

Key = TypeVar("Key", int, Shape)

Weights = Mapping[str, float]
"""By a hand's name, how often it comes off. Only the ratios matter."""


@dataclass(frozen=True)
class HandCounts:
    """What the variants of one hand need."""

    hand: Hand
    variants: tuple[int, ...]
    """By kind: variants that need it."""
    groups: tuple[int, ...]
    """By kind: its groups in those variants."""
    longest: tuple[int, ...]
    """By kind: tiles of its largest group in any variant, 0 when it is never needed."""
    shapes: Mapping[Shape, int]
    """Variants of each shape."""
    flowers: Mapping[int, int]
    """By size, variants with a group of so many flowers."""
    suits: Mapping[int, int]
    """By how many suits its numbers need, 0 to 3: variants."""
    jokers: Mapping[int, int]
    """By how many of its tiles a joker may stand for, 0 to 14: variants."""

    @staticmethod
    def of(hand: Hand) -> HandCounts:
        """Count one hand."""
        variants, groups, longest = [0] * KINDS, [0] * KINDS, [0] * KINDS
        flowers: Counter[int] = Counter()
        for variant in hand.variants:
            for kind in {group.kind for group in variant.groups}:
                variants[kind] += 1
            for group in variant.groups:
                groups[group.kind] += 1
                longest[group.kind] = max(longest[group.kind], group.size)
            flowers.update({group.size for group in variant.groups if group.kind == FLOWER})
        return HandCounts(
            hand,
            tuple(variants),
            tuple(groups),
            tuple(longest),
            Counter(map(shape_of, hand.variants)),
            flowers,
            Counter(map(suits_of, hand.variants)),
            Counter(sum(variant.loose) for variant in hand.variants),
        )

    def share(self, kind: Kind) -> float:
        """Of the hand's variants, the share that needs the kind: 0 to 1."""
        return self.variants[kind] / len(self.hand.variants)

    def always(self, kind: Kind) -> bool:
        """Whether the hand can't be made without the kind."""
        return self.variants[kind] == len(self.hand.variants)


def shape_of(variant: Variant) -> Shape:
    """The sizes of its groups, in order."""
    return tuple(group.size for group in variant.groups)


def suits_of(variant: Variant) -> int:
    """How many suits its numbers need, 0 to 3."""
    return len({suit_of(group.kind) for group in variant.groups} - {None})


def has_rank(variant: Variant, rank: int) -> bool:
    """Whether it needs a number, in any suit."""
    return any(rank_of(group.kind) == rank for group in variant.groups)


@dataclass(frozen=True)
class Demand:
    """How much a sheet wants one kind of tile."""

    kind: Kind
    hands: int
    """Hands with a variant that needs it."""
    variants: int
    """Those variants."""
    groups: int
    """Its groups in those variants."""
    weighed: float | None
    """Of 1 hand made, how often it needs the kind, 0 to 1, when a hand's variants come equally often; None without
    weights."""


@dataclass(frozen=True)
class Study:
    """The counts of a sheet. `weights` says how often hands come off, where that is known."""

    sheet: Sheet
    counts: tuple[HandCounts, ...]
    weights: Weights | None = None

    @staticmethod
    def of(sheet: Sheet, weights: Weights | None = None) -> Study:
        """Count a sheet. Weights come from a simulation. Raises ValueError when all of them are nothing or one is
        less."""
        if weights is not None and (min(weights.values(), default=0) < 0 or not any(weights.values())):
            raise ValueError("weights must not be negative, and one of them must be more than nothing")
        return Study(sheet, tuple(HandCounts.of(hand) for hand in sheet.hands), weights)

    @cached_property
    def tiles(self) -> tuple[Demand, ...]:
        """Every kind but the joker, in the order of kinds."""
        return tuple(self._wanted(kind) for kind in range(JOKER))

    def _wanted(self, kind: Kind) -> Demand:
        needing = [one for one in self.counts if one.variants[kind]]
        return Demand(
            kind,
            len(needing),
            sum(one.variants[kind] for one in needing),
            sum(one.groups[kind] for one in needing),
            self._weighed(lambda one: one.share(kind)),
        )

    def _weighed(self, share: Callable[[HandCounts], float]) -> float | None:
        """The mean of a share over the hands, by weight."""
        if self.weights is None:
            return None
        weights = [self.weights.get(one.hand.name, 0.0) for one in self.counts]
        whole = sum(weights)
        return sum(w * share(one) for w, one in zip(weights, self.counts, strict=True)) / whole if whole else None

    @property
    def hands(self) -> int:
        """Hands of the sheet."""
        return len(self.counts)

    @cached_property
    def variants(self) -> int:
        """Variants of all hands."""
        return sum(len(one.hand.variants) for one in self.counts)

    # How many hands there are of a sort.

    @cached_property
    def flowers(self) -> Mapping[int, int]:
        """By size, hands with a variant that needs a group of so many flowers, smallest size first."""
        return _by_key(one.flowers for one in self.counts)

    @cached_property
    def shapes(self) -> tuple[tuple[Shape, int], ...]:
        """Each shape with the number of hands that have a variant of it, commonest first."""
        found = _by_key(one.shapes for one in self.counts)
        return tuple(sorted(found.items(), key=lambda item: (-item[1], item[0])))

    @cached_property
    def suits(self) -> Mapping[int, int]:
        """By how many suits a variant's numbers need, 0 to 3: hands that have such a variant."""
        return _by_key(one.suits for one in self.counts)

    @cached_property
    def jokers(self) -> Mapping[int, int]:
        """By how many tiles a joker may stand for: hands that have such a variant."""
        return _by_key(one.jokers for one in self.counts)

    @property
    def concealed(self) -> int:
        """Hands that may not be exposed."""
        return sum(one.hand.concealed for one in self.counts)

    # The hands behind a figure.

    def wanting(self, kind: Kind, section: str | None = None) -> tuple[Hand, ...]:
        """Hands with a variant that needs the kind; of one section, when it is named."""
        return self._that(lambda one: one.variants[kind] > 0, section)

    def wanting_rank(self, rank: int, section: str | None = None) -> tuple[Hand, ...]:
        """Hands with a variant that needs the number, in whichever suit."""
        return self._that(lambda one: any(one.variants[kind] for kind in kinds_of_rank(rank)), section)

    def shaped(self, shape: Shape) -> tuple[Hand, ...]:
        """Hands with a variant of the shape."""
        return self._that(lambda one: shape in one.shapes)

    def with_flowers(self, size: int) -> tuple[Hand, ...]:
        """Hands with a variant that needs a group of so many flowers."""
        return self._that(lambda one: size in one.flowers)

    def with_suits(self, number: int) -> tuple[Hand, ...]:
        """Hands with a variant whose numbers need so many suits."""
        return self._that(lambda one: number in one.suits)

    def with_jokers(self, tiles: int) -> tuple[Hand, ...]:
        """Hands with a variant in which a joker may stand for so many tiles."""
        return self._that(lambda one: tiles in one.jokers)

    def _that(self, fits: Callable[[HandCounts], bool], section: str | None = None) -> tuple[Hand, ...]:
        return tuple(one.hand for one in self.counts if fits(one) and section in (None, one.hand.section))

    def sections_of(self, hands: Iterable[Hand]) -> tuple[Section, ...]:
        """The sections that the hands belong to, in sheet order."""
        names = {hand.section for hand in hands}
        return tuple(section for section in self.sheet.sections if section.name in names)


def kinds_of_rank(rank: int) -> tuple[Kind, ...]:
    """The number tile of each suit."""
    return tuple(kind for kind in range(KINDS) if rank_of(kind) == rank)


def _by_key(hands: Iterable[Mapping[Key, int]]) -> dict[Key, int]:
    """How many of the hands hold each key, by key in order."""
    found: Counter[Key] = Counter()
    for held in hands:
        found.update(held.keys())
    return {key: found[key] for key in sorted(found)}
