"""The hands in reach of a rack: the best variant of each, in how many ways it is made, which tile stands where."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from engine.advice.moment import Moment
from engine.advice.odds.exact import exact
from engine.advice.odds.reach import missing, shortfalls
from engine.advice.table import SheetTable, Whole
from engine.advice.worth.finish import picks_alone
from engine.advice.worth.worth import possible
from engine.rules.matching import Laid
from engine.sheet.groups import Group, Variant
from engine.sheet.model import Hand
from engine.tiles import JOKER, Kind

_EQUAL = 12
"""Odds that agree in so many decimals rank alike."""


@dataclass(frozen=True)
class Slot:
    """One of a variant's fourteen places."""

    kind: Kind
    """The tile that the place is for."""
    held: bool
    """Whether a tile for it is in the rack or lies exposed; else it is still to come."""
    joker: bool
    """Whether that tile is a joker."""


@dataclass(frozen=True)
class HandReach:
    """A hand that can still be made, by its best variant."""

    hand: Hand
    variant: Variant
    missing: int
    """The least number of tiles still to come for the variant."""
    odds: float
    """The exact probability that the draws bring them all when the player goes for that variant alone."""
    slots: tuple[tuple[Slot, ...], ...]
    """The places of each group, groups in the variant's order."""
    picks: float
    """How many picks it takes on average when the player goes for that variant alone, estimated; a game that doesn't
    make it counts as if it came at the pick after the last. 0 once it is made."""


def best_of_each_hand(
    table: SheetTable, counts: Sequence[int], unseen: Sequence[int], draws: int
) -> tuple[Whole, dict[int, float]]:
    """Rows of the best variant of every hand that `draws` can finish, best odds first, and the odds of each row.

    Of variants with equal odds the one that misses fewer tiles is taken, then the first on the sheet; hands likewise.
    """
    rows = np.arange(len(table))
    odds = exact(table, rows, counts, unseen, draws)
    rows = rows[odds > 0]
    short = missing(table, counts)[rows]
    rank = np.lexsort((rows, short, -odds[rows].round(_EQUAL), table.hand[rows]))
    hands, first = np.unique(table.hand[rows[rank]], return_index=True)
    chosen = rank[first]
    order = np.lexsort((hands, short[chosen], -odds[rows[chosen]].round(_EQUAL)))
    best: Whole = rows[chosen[order]]
    return best, {int(row): float(odds[row]) for row in best}


def reaches_of(
    table: SheetTable,
    rows: Whole,
    odds: Sequence[float],
    counts: Sequence[int],
    unseen: Sequence[int],
    draws: int,
    laid: Sequence[Laid] = (),
) -> tuple[HandReach, ...]:
    """The variants of some rows as the player sees them, in their order."""
    picks = picks_alone(table, rows, np.array(counts), np.array(unseen), draws)
    return tuple(
        _reach_of(table, int(row), counts, chance, float(needed), laid)
        for row, chance, needed in zip(rows, odds, picks, strict=True)
    )


def _reach_of(
    table: SheetTable, row: int, counts: Sequence[int], odds: float, picks: float, laid: Sequence[Laid]
) -> HandReach:
    """The variant of a row. The table is the one after the groups laid."""
    variant = table.variants[row]
    slots = slots_of(variant, counts, laid)
    to_come = sum(not slot.held for group in slots for slot in group)
    return HandReach(table.sheet.hands[int(table.hand[row])], variant, to_come, odds, slots, picks if to_come else 0.0)


def slots_of(variant: Variant, counts: Sequence[int], laid: Sequence[Laid] = ()) -> tuple[tuple[Slot, ...], ...]:
    """Fill the places of a variant: groups laid first, then real tiles into singles and pairs, real tiles into larger
    groups, jokers into what these still miss, each in the variant's order."""
    jokers_of: dict[Group, list[int]] = {}
    for one in laid:
        jokers_of.setdefault(Group(one.size, one.kind), []).append(one.jokers)
    left = list(counts)
    real: dict[int, int] = {}
    exposed: dict[int, int] = {}
    places = sorted(range(len(variant.groups)), key=lambda place: variant.groups[place].takes_jokers)
    for place in places:
        group = variant.groups[place]
        if jokers_of.get(group):
            exposed[place] = jokers_of[group].pop(0)
            continue
        real[place] = min(group.size, left[group.kind])
        left[group.kind] -= real[place]
    slots = []
    for place, group in enumerate(variant.groups):
        if place in exposed:
            tiles, jokers = group.size - exposed[place], exposed[place]
        else:
            tiles = real[place]
            jokers = min(group.size - tiles, left[JOKER]) if group.takes_jokers else 0
            left[JOKER] -= jokers
        slots.append(
            tuple(Slot(group.kind, spot < tiles + jokers, tiles <= spot < tiles + jokers) for spot in range(group.size))
        )
    return tuple(slots)


def ways(moment: Moment, hand: Hand, most: int) -> int:
    """In how many ways a hand can be made that need so many tiles at most."""
    rows = rows_of(moment, hand)
    racks, unseen = np.array([moment.counts]), np.array([moment.unseen])
    short = moment.table.closing[moment.counts[JOKER], shortfalls(moment.table, racks)[0, rows]]
    return int((possible(moment.table, racks, unseen)[0, rows] & (short <= most)).sum())


def rows_of(moment: Moment, hand: Hand) -> Whole:
    """The rows of all variants of a hand."""
    names = [one.name for one in moment.table.sheet.hands]
    return np.flatnonzero(moment.table.hand == names.index(hand.name))
