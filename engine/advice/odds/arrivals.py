"""How likely the missing tiles of a variant come, when every unseen tile comes independently of the others.

Each tile has a weight for coming and one for staying away, each at Z points. With the weights `p` and `1 - p` the
result is a probability. With complex weights it is a generating function, from which `exact` takes exact odds.

Of one kind, f tiles are missing in singles and pairs, q in larger groups, and u are unseen. Suppose b of the u come. If
b < f, the kind fails. Otherwise max(f + q - b, 0) tiles are left for jokers to fill.

A kind with q = 0 gives a plain factor. Each other kind, of which a variant has four at most, gives a small polynomial
in the number of tiles left for jokers. These polynomials are multiplied (a convolution); then each coefficient is
weighted by the chance that the jokers, held and to come, are enough.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import numpy.typing as npt

from engine.advice.table import MOST_ALIKE, Whole

Numbers = npt.NDArray[Any]
"""Real or complex."""

MOST_JOKERS = 10
"""No house plays with more jokers."""
_ALIKE = max(MOST_ALIKE, MOST_JOKERS)
_NEEDED = 24
"""More than f + q can be. Look-ups past the unseen copies read a zero."""
_CODES = 9 << 8


_WAYS = np.array([[math.comb(unseen, number) for number in range(_ALIKE + 1)] for unseen in range(_ALIKE + 1)])
"""[u, b] ways to choose b of u tiles; none where b is more."""


def element(strict: Whole, loose: Whole, unseen: Whole) -> Whole:
    """One number for (f, q, u) of a kind: f, u up to 8, q up to 15. Nothing missing and nothing unseen is 0."""
    return strict << 8 | loose << 4 | unseen


class Arrivals:
    """The weights at Z points: `come` and `stay` for one tile, arrays [Z].

    Lists run along the last axis of all arrays, so that numpy works on long rows.
    """

    def __init__(self, come: Numbers, stay: Numbers) -> None:
        self.points = len(come)
        number = np.arange(_ALIKE + 1)
        left = number[:, None] - number
        weights = _WAYS * _powers(come)[:, None, :] * _powers(stay)[:, np.maximum(left, 0)]
        self.exactly: Numbers = np.zeros((self.points, _ALIKE + 1, _NEEDED), come.dtype)
        """[Z, u, b] weight of just b of u tiles coming."""
        self.exactly[:, :, : _ALIKE + 1] = weights
        self._at_least: Numbers = np.cumsum(self.exactly[:, :, ::-1], axis=2)[:, :, ::-1].copy()
        """[Z, u, f] weight of f or more of u tiles coming."""
        self._at_least[:, :, 0] = _powers(come + stay)

    def at_least(self, unseen: Whole, number: Whole) -> Numbers:
        """[Z, ...] weight of `number` [...] or more of `unseen` [...] tiles coming."""
        return picked(self._at_least.reshape(self.points, -1), unseen * _NEEDED + number)

    def finished(self, elements: Whole, held: Whole, unseen: Whole) -> Numbers:
        """[Z, n] weight of the larger groups being filled, for n lists of four elements [n, 4], with `held` jokers in
        the rack and `unseen` ones still to come, each [n].

        The lists fall into two halves of two kinds. Equal halves, and equal pairs of halves, are worked out once.
        """
        kinds, ranks = _distinct(_in_order(elements), _CODES)
        polynomials, most = self._polynomials(kinds)
        count = len(kinds)
        left, left_of = _distinct(ranks[0] * count + ranks[1], count * count)
        right, right_of = _distinct(ranks[2] * count + ranks[3], count * count)
        wilds, wild_of = _distinct(held * 16 + unseen, 256)
        right_wild, joint_of = _distinct(right_of * len(wilds) + wild_of, len(right) * len(wilds))

        first = _multiplied(polynomials, most, left // count, left % count)
        second = _multiplied(polynomials, most, right // count, right % count)
        suffices = self._suffices(wilds, len(first) + len(second) - 1)
        met = _met(picked(second, right_wild // len(wilds)), picked(suffices, right_wild % len(wilds)), len(first))

        once, once_of = _distinct(left_of * len(right_wild) + joint_of, len(left) * len(right_wild))
        whole = np.einsum("szn,szn->zn", picked(first, once // len(right_wild)), picked(met, once % len(right_wild)))
        return picked(whole, once_of)

    def _polynomials(self, kinds: Whole) -> tuple[Numbers, Whole]:
        """[S, Z, n] for each element the weight of s tiles being left for jokers, and [n] the most that can be left."""
        strict, loose, unseen = kinds >> 8, kinds >> 4 & 15, kinds & 15
        left = np.arange(int(loose.max(initial=0)) + 1)[:, None]
        places = unseen * _NEEDED + np.maximum(strict + loose - left, 0)
        weights = picked(self.exactly.reshape(self.points, -1), places) * (left <= loose)
        weights[:, 0] = self.at_least(unseen, strict + loose)
        return np.ascontiguousarray(weights.swapaxes(0, 1)), loose

    def _suffices(self, wilds: Whole, length: int) -> Numbers:
        """[length, Z, W] weight of the jokers filling s tiles, for each 16 x held + unseen."""
        wanted = np.maximum(np.arange(length)[:, None] - wilds // 16, 0)
        return np.ascontiguousarray(self.at_least(wilds % 16, wanted).swapaxes(0, 1))


def picked(values: Numbers, places: Whole) -> Numbers:
    """[..., *n] the values [..., m] at the places [*n], all from 0 to under m.

    Unlike `values[..., places]` it keeps the rows long in memory, so that what follows runs along them.
    """
    found: Numbers = values.take(places, axis=-1, mode="clip")
    return found


def _in_order(elements: Whole) -> Whole:
    """[4, n] the elements of each list [n, 4], least first: five exchanges sort four numbers."""
    rows = np.ascontiguousarray(elements.T)
    for low, high in ((0, 1), (2, 3), (0, 2), (1, 3), (1, 2)):
        least = np.minimum(rows[low], rows[high])
        np.maximum(rows[low], rows[high], out=rows[high])
        rows[low] = least
    return rows


def _powers(values: Numbers) -> Numbers:
    """[Z, u] the powers 0, 1, 2 and so on of the values [Z]."""
    powers = np.ones((len(values), _ALIKE + 1), values.dtype)
    np.cumprod(np.repeat(values[:, None], _ALIKE, axis=1), axis=1, out=powers[:, 1:])
    return powers


def _distinct(values: Whole, bound: int) -> tuple[Whole, Whole]:
    """The distinct values, all from 0 to under `bound`, and for each value its place among them."""
    seen = np.zeros(bound, np.bool_)
    seen[values] = True
    distinct = seen.nonzero()[0]
    places = np.empty(bound, np.int64)
    places[distinct] = np.arange(len(distinct))
    return distinct, places[values]


def _multiplied(polynomials: Numbers, most: Whole, one: Whole, other: Whole) -> Numbers:
    """[S, Z, n] the products of the polynomials `one` and `other`, without the powers that none of them reaches."""
    top_one, top_other = int(most[one].max(initial=0)), int(most[other].max(initial=0))
    first, factor = picked(polynomials[: top_one + 1], one), picked(polynomials[: top_other + 1], other)
    product = np.zeros((top_one + top_other + 1, *factor.shape[1:]), factor.dtype)
    for power in range(top_one + 1):
        product[power : power + top_other + 1] += first[power] * factor
    return product[: int((most[one] + most[other]).max(initial=0)) + 1]


def _met(second: Numbers, suffices: Numbers, size: int) -> Numbers:
    """[size, Z, n] for s tiles left by the first half: the weight of the second half and the jokers filling all."""
    return np.stack([np.einsum("tzn,tzn->zn", second, suffices[s : s + len(second)]) for s in range(size)])
