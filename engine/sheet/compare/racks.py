"""Racks to practise on after a change of sheets, dealt so that a hand of the old sheet tempts."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from random import Random

from engine.sheet.compare.comparison import Comparison, Unlearn
from engine.sheet.groups import HAND_TILES, Variant
from engine.sheet.model import Hand, Sheet
from engine.sheet.study.counts import Weights
from engine.sheet.study.finding import nearest_to
from engine.tiles import JOKER, Kind, counts_of, full_set, kinds_of

TEMPTING = 10
"""Tiles of the old hand that the rack is dealt; fewer only where jokers must make up most of the hand."""


@dataclass(frozen=True)
class Temptation:
    """A rack of 14 tiles, near a hand that is none any more."""

    rack: tuple[Kind, ...]
    """In the order of kinds, without jokers."""
    unlearn: Unlearn
    variant: Variant
    """The variant of the old hand that tempts; the rack holds TEMPTING tiles of it or more."""
    hand: Hand
    """The new hand to turn to: the one that the rack serves best."""
    towards: Variant
    """Its variant that the rack has most tiles of."""


def racks(comparison: Comparison, number: int, seed: int, weights: Weights | None = None) -> tuple[Temptation, ...]:
    """So many racks to practise on, none when there is nothing to unlearn. Weights say how often the old hands came
    off: what came off often tempts most. Each hand tempts once before any tempts again; without weights they come in
    an order that the seed makes. The same seed gives the same racks on every machine."""
    chance = Random(seed).random  # the one method that is promised to stay the same
    found: list[Temptation] = []
    while comparison.unlearn and len(found) < number:
        left = list(comparison.unlearn)
        while left and len(found) < number:
            shares = [1.0 if weights is None else weights.get(one.hand.name, 0.0) + 1e-9 for one in left]
            found.append(_rack(comparison.new, left.pop(_drawn(shares, chance)), chance))
    return tuple(found)


def _drawn(shares: Sequence[float], chance: Callable[[], float]) -> int:
    """A place, each as likely as its share."""
    mark = chance() * sum(shares)
    for place, share in enumerate(shares):
        mark -= share
        if mark < 0:
            return place
    return len(shares) - 1


def _rack(new: Sheet, unlearn: Unlearn, chance: Callable[[], float]) -> Temptation:
    variant = unlearn.lost[_drawn([1.0] * len(unlearn.lost), chance)]
    needed = list(kinds_of(variant.total))
    left = list(full_set(0))
    rack: list[Kind] = []
    while needed and len(rack) < TEMPTING:
        kind = needed.pop(_drawn([1.0] * len(needed), chance))
        if left[kind]:  # a fifth tile alike would be a joker, and a joker tempts to everything
            rack.append(kind)
            left[kind] -= 1
    while len(rack) < HAND_TILES:
        kind = _drawn([float(count) for count in left[:JOKER]], chance)
        rack.append(kind)
        left[kind] -= 1
    hand, _ = nearest_to(rack, new.hands)[0]
    held = counts_of(rack)
    towards = max(hand.variants, key=lambda one: sum(map(min, held, one.total)))
    return Temptation(tuple(sorted(rack)), unlearn, variant, hand, towards)
