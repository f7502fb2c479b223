"""Many racks that differ in a few tiles: what each is worth, and how many tiles each misses for every hand.

The worth is the one of `worth`: the chances of the near variants, brought together and averaged over the draws to come.
But here each kind has its own rate of coming in, since the tiles of a pass are no fair sample of the unseen tiles.

Each larger group leaves some number of tiles to jokers. The distribution of that number is stored as its values at
roots of unity. So several groups are multiplied point by point, and one sum brings in the jokers.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from engine.advice.odds.needs import Needs, needs
from engine.advice.odds.reach import shortfall
from engine.advice.table import MOST_ALIKE, Bytes, Real, SheetTable, Truth, Whole
from engine.advice.worth.worth import made, near, raised
from engine.sheet.groups import HAND_TILES
from engine.tiles import JOKER, KINDS, Kind

Points = npt.NDArray[np.complex128]

NEVER = 99
"""Stands for the tiles missing of a hand that can't be made any more."""
ROOTS = HAND_TILES + 1
"""No more tiles than a hand has can be left to jokers, so that this many roots tell all numbers apart."""
HALF = ROOTS // 2 + 1
"""The values at the other roots are the conjugates of these."""
_MOST = 16
"""More than the copies of any kind, and than a variant misses of one kind."""


@dataclass(frozen=True, eq=False)
class RacksLeft:
    """G racks, each what is left of one rack after some tiles went, which are then not to be had any more."""

    table: SheetTable
    racks: Whole
    """[G, 36]"""
    unseen: Whole
    """[36] alike for all."""
    short: Bytes
    """[G, V] shortfalls as in `reach`."""
    alive: Truth
    """[G, V] whether rack and unseen tiles together hold the variant."""

    @classmethod
    def of(
        cls, table: SheetTable, counts: Sequence[int], unseen: Sequence[int], choices: Sequence[Sequence[Kind]]
    ) -> RacksLeft:
        """What each choice of tiles leaves of the rack of 36 counts."""
        racks = np.tile(np.array(counts, np.int64), (len(choices), 1))
        for rack, kinds in zip(racks, choices, strict=True):
            for kind in kinds:
                rack[kind] -= 1
        hidden = np.array(unseen, np.int64)
        jokers = np.minimum(racks[:, JOKER] + hidden[JOKER], len(table.closing) - 1)
        could_be = table.closing[jokers[:, None], _shortfalls(table, racks + hidden)]
        return cls(table, racks, hidden, _shortfalls(table, racks), could_be == 0)

    def worths(self, shares: Real) -> Real:
        """[G] what the racks are worth when a given unseen tile of each kind has come, by each of Z moments, with the
        chances `shares` [36, Z]; the mean over the moments."""
        jokers = self.racks[:, JOKER]
        games, rows = near(self.short, self.alive, jokers)
        if not len(rows):
            return np.zeros(len(self.racks))
        around = np.broadcast_to(self.unseen, self.racks.shape)
        missed = needs(self.table, rows, self.racks, around, games)
        chances = _Chances.of(self.unseen, shares)
        filled = chances.plain(missed) * chances.filled(missed, jokers[games])
        powers = raised(filled)
        total: Real = np.stack([np.bincount(games, moment, len(self.racks)) for moment in powers.T])
        worth: Real = made(total).mean(axis=0)
        return worth

    def missing(self, rows: Whole) -> Whole:
        """[G, n] tiles that the racks miss for the variants `rows`."""
        tiles: Whole = self.table.closing[self.racks[:, JOKER, None], self.short[:, rows]]
        return tiles

    def least_missing(self, rows: Whole) -> Whole:
        """[G, n] the least number of tiles that each rack misses for the hand of each variant of `rows`, over all
        variants of the hand that can still be made; NEVER where none can."""
        tiles = self.table.closing.astype(np.uint8)[self.racks[:, JOKER, None], self.short]
        tiles |= (~self.alive).view(np.uint8) * np.uint8(255)
        hands = self.table.hand
        starts = np.flatnonzero(np.diff(hands, prepend=-1))
        least = np.minimum.reduceat(tiles, starts, axis=1) if len(starts) else tiles
        place = np.searchsorted(hands[starts], hands[rows])
        result: Whole = np.minimum(least[:, place], NEVER).astype(np.int64)
        return result


def _shortfalls(table: SheetTable, racks: Whole) -> Bytes:
    """[G, V] as `reach.shortfalls`, for racks that differ from the first one in few kinds."""
    base = racks[0]
    short = np.tile(shortfall(table, base.tolist()), (len(racks), 1))
    for kind in range(JOKER):
        other = np.flatnonzero(racks[:, kind] != base[kind])
        if len(other):
            rows = table.rows[kind]
            short[other] += (rows - rows[base[kind]])[racks[other, kind]]
    return short


@dataclass(frozen=True, eq=False)
class _Chances:
    """Chances of arrivals at Z moments, kind by kind."""

    exactly: Real
    """[36, b, Z] chance that just b of the unseen tiles of a kind come."""
    at_least: Real
    """[36, f, Z] chance that f or more come."""

    @classmethod
    def of(cls, unseen: Whole, shares: Real) -> _Chances:
        exactly = np.zeros((KINDS, _MOST, shares.shape[1]))
        for kind, copies in enumerate(unseen.tolist()):
            for number in range(copies + 1):
                ways = math.comb(copies, number)
                exactly[kind, number] = ways * shares[kind] ** number * (1.0 - shares[kind]) ** (copies - number)
        return cls(exactly, np.cumsum(exactly[:, ::-1], axis=1)[:, ::-1])

    def plain(self, missed: Needs) -> Real:
        """[n, Z] chance that singles and pairs of kinds that no larger group needs are filled."""
        result = np.ones((len(missed.kinds), self.exactly.shape[2]))
        starts = np.flatnonzero(np.diff(missed.plain_of, prepend=-1))
        if len(starts):
            factors = self.at_least[missed.plain_kind, missed.plain_short]
            result[missed.plain_of[starts]] = np.multiply.reduceat(factors, starts, axis=0)
        return result

    def filled(self, missed: Needs, held: Whole) -> Real:
        """[n, Z] chance that everything else is filled, with `held` [n] jokers in the rack. What several of the n have
        in common is worked out once."""
        spare = missed.held - missed.real
        strict = np.maximum(-spare, 0)
        loose = np.maximum(missed.loose - np.maximum(spare, 0), 0)
        elements, place = np.unique((missed.kinds * _MOST + strict) * _MOST + loose, return_inverse=True)
        place = np.sort(place.reshape(missed.kinds.shape), axis=1)
        keys = held
        for column in place.T:
            keys = keys * len(elements) + column
        _, first, back = np.unique(keys, return_index=True, return_inverse=True)
        groups, product = self._groups(elements), self._jokers()[held[first]]
        for column in place[first].T:
            product = product * groups[column]
        result: Real = product.sum(axis=2).real[back]
        return result

    def _groups(self, elements: Whole) -> Points:
        """[E, Z, HALF] what each element leaves to jokers: a kind, with tiles missing in singles and pairs (`strict`)
        and in larger groups (`loose`)."""
        kind, strict, loose = elements // _MOST**2, elements // _MOST % _MOST, elements % _MOST
        come = np.arange(MOST_ALIKE + 1)
        left = np.maximum((strict + loose)[:, None] - come, 0)
        values = np.where((come >= strict[:, None])[:, :, None], _roots() ** left[:, :, None], 0)
        result: Points = np.einsum("ebz,ebh->ezh", self.exactly[kind][:, : MOST_ALIKE + 1], values)
        return result

    def _jokers(self) -> Points:
        """[held, Z, HALF] the chance that jokers held and to come fill what is left, taken back from the roots."""
        wanted = np.arange(ROOTS)
        back = np.conj(_roots())[None, :] ** wanted[:, None] / ROOTS
        back[:, 1:] *= 2
        lacking = np.maximum(wanted[None, :] - wanted[:, None], 0)
        result: Points = np.einsum("jsz,sh->jzh", self.at_least[JOKER][lacking], back)
        return result


def _roots() -> Points:
    """[HALF] the first roots of unity."""
    roots: Points = np.exp(2j * np.pi * np.arange(HALF) / ROOTS)
    return roots
