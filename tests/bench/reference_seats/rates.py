"""Chances of what a hand lacks being filled, by drawing and by calling, worked out once for a grid of rates.

The rate is the chance p that a given unseen tile is drawn by this seat in the time looked at. Tiles come
independently. Another seat throws a given unseen tile, in the same time, with a chance that is some multiple of p; one
such tile may be called for each group, as the last tile that it lacks, and any thrown tile may finish the hand.

The groups of a hand leave numbers of tiles to jokers. Their distributions are kept as values at roots of unity, so that
those of several groups are multiplied point by point and met with the chances of the jokers in one sum.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from engine.advice.odds.arrivals import MOST_JOKERS
from engine.advice.table import MOST_ALIKE, Real, SheetTable, Whole
from engine.sheet.groups import HAND_TILES

Points = npt.NDArray[np.complex128]

LEVELS = 128
FASTEST = 0.95
"""Rates go up to this, in steps that grow."""
ROOTS = HAND_TILES + 1
"""No more tiles than a hand has can be left to jokers, so that this many roots tell all numbers apart."""
HALF = ROOTS // 2 + 1
"""The values at the other roots are the conjugates of these."""


@dataclass(frozen=True, eq=False)
class Rates:
    """The chances for each of LEVELS rates."""

    element: Whole
    """[F, Q] the number of the element with f tiles missing that jokers can't fill and q that they can; -1 for none."""
    drawn: Real
    """[LEVELS, 9, F] chance that at least f of u unseen tiles come, the last one perhaps from another seat."""
    groups: Points
    """[2, LEVELS, 9, E, HALF] for concealed (1) or open hands and u unseen tiles, what the element leaves to jokers."""
    jokers: Points
    """[LEVELS, held, unseen, HALF] what turns the product of `groups` into a chance, by taking the real part's sum."""

    @classmethod
    def of(cls, table: SheetTable, thrown: float, finishing: float) -> Rates:
        """The chances of one sheet; `thrown` and `finishing` are the multiples of p by which another seat throws a tile
        that may be called for a group, or that finishes a hand."""
        most_real, most_loose = int(table.real.max(initial=0)) + 1, int(table.loose.max(initial=0)) + 1
        there = table.loose > 0
        element = np.full((most_real + 1, most_loose), -1, np.int64)
        element[0, 0] = 0
        number = 1
        for real, loose in sorted(set(zip(table.real[there].tolist(), table.loose[there].tolist(), strict=True))):
            for strict in range(real + 1):
                for left in range(loose + 1):
                    if element[strict, left] < 0:
                        element[strict, left] = number
                        number += 1
        rates = grid()
        exactly = _exactly(rates)
        faster = _exactly(np.minimum(rates * (1 + finishing), FASTEST))
        drawn = np.stack([faster[:, :, strict:].sum(axis=2) for strict in range(most_real + 1)], axis=2)
        roots = np.exp(2j * np.pi * np.arange(HALF) / ROOTS)
        return cls(
            element,
            drawn,
            np.stack([_groups(exactly, element, number, chance, roots) for chance in (_called(rates, thrown), None)]),
            _jokers(exactly, roots),
        )


def grid() -> Real:
    """[LEVELS] the rates."""
    rates: Real = FASTEST * (np.arange(LEVELS) / (LEVELS - 1)) ** 2
    return rates


def level(rate: Real) -> Whole:
    """The levels nearest to some rates."""
    place = np.sqrt(np.clip(rate, 0.0, FASTEST) / FASTEST) * (LEVELS - 1)
    result: Whole = np.rint(place).astype(np.int64)
    return result


def _exactly(rates: Real) -> Real:
    """[LEVELS, u, b] chance that just b of u tiles come; u and b up to the jokers of any house."""
    most = max(MOST_ALIKE, MOST_JOKERS) + 1
    result = np.zeros((len(rates), most, most))
    for unseen in range(most):
        for number in range(unseen + 1):
            result[:, unseen, number] = math.comb(unseen, number) * rates**number * (1 - rates) ** (unseen - number)
    return result


def _called(rates: Real, thrown: float) -> Real:
    """[LEVELS, n] chance that at least one of n tiles is thrown by another seat."""
    chance = np.minimum(rates * thrown, FASTEST)
    called: Real = 1.0 - (1.0 - chance[:, None]) ** np.arange(MOST_ALIKE + 1)
    return called


def _groups(exactly: Real, element: Whole, number: int, called: Real | None, roots: Points) -> Points:
    """[LEVELS, 9, E, HALF] for every element."""
    result = np.zeros((len(exactly), MOST_ALIKE + 1, number, len(roots)), np.complex128)
    for strict, left in zip(*(element >= 0).nonzero(), strict=True):
        for unseen in range(MOST_ALIKE + 1):
            for come in range(strict, unseen + 1):
                lacking = max(int(left) - (come - int(strict)), 0)
                chance = exactly[:, unseen, come]
                helped = called[:, unseen - come] if called is not None and lacking else np.zeros(len(exactly))
                value = (1 - helped)[:, None] * roots**lacking + helped[:, None] * roots ** max(lacking - 1, 0)
                result[:, unseen, element[strict, left]] += chance[:, None] * value
    return result


def _jokers(exactly: Real, roots: Points) -> Points:
    """[LEVELS, held, unseen, HALF] the chance of the jokers sufficing, taken back from the roots of unity."""
    wanted = np.arange(ROOTS)
    back = np.conj(roots)[None, :] ** wanted[:, None] / ROOTS
    back[:, 1:] *= 2
    result = np.zeros((len(exactly), MOST_JOKERS + 1, MOST_JOKERS + 1, len(roots)), np.complex128)
    for held in range(MOST_JOKERS + 1):
        for unseen in range(MOST_JOKERS + 1):
            suffices = np.stack(
                [exactly[:, unseen, max(int(tiles) - held, 0) :].sum(axis=1) for tiles in wanted], axis=1
            )
            result[:, held, unseen] = suffices @ back
    return result
