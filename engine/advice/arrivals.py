"""How likely it is that what a variant misses arrives, when every unseen tile comes independently of the others.

Everything rests on one weight per tile for coming and one for staying away, each at Z points. With `p` and `1 - p` the
result is a probability; with complex weights it is a generating function, from which `odds` takes exact odds.

Of a kind, f tiles are missing in singles and pairs, q in larger groups, and u are unseen. If b of the u come, the kind
is lost for b < f; otherwise max(f + q - b, 0) tiles are left for jokers to fill. Kinds with q = 0 give a plain factor.
The others, at most four in a variant, give a small polynomial each, by tiles left for jokers; the polynomials are
multiplied, and met with the chance that the jokers held and to come suffice.
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
"""More than f + q can be, so that look-ups past the copies unseen read a zero."""
_CODES = 9 << 8


def element(strict: Whole, loose: Whole, unseen: Whole) -> Whole:
    """One number for (f, q, u) of a kind: f, u up to 8, q up to 15. Nothing missing and nothing unseen is 0."""
    return strict << 8 | loose << 4 | unseen


class Arrivals:
    """The weights at Z points: `come` and `stay` for one tile, arrays [Z]."""

    def __init__(self, come: Numbers, stay: Numbers) -> None:
        self.points = len(come)
        self.exactly: Numbers = np.zeros((_ALIKE + 1, _NEEDED, self.points), come.dtype)
        """[u, b, Z] weight of just b of u tiles coming."""
        for unseen in range(_ALIKE + 1):
            for number in range(unseen + 1):
                self.exactly[unseen, number] = math.comb(unseen, number) * come**number * stay ** (unseen - number)
        self.at_least: Numbers = np.cumsum(self.exactly[:, ::-1], axis=1)[:, ::-1].copy()
        """[u, f, Z] weight of f or more of u tiles coming."""
        for unseen in range(_ALIKE + 1):
            self.at_least[unseen, 0] = (come + stay) ** unseen

    def finished(self, elements: Whole, held: Whole, unseen: Whole) -> Numbers:
        """[n, Z] weight of the larger groups being filled, for n lists of four elements [n, 4], with `held` jokers in
        the rack and `unseen` ones still to come, each [n].

        The lists fall into two halves of two kinds. Equal halves, and equal pairs of halves, are worked out once.
        """
        kinds, ranks = _distinct(np.sort(elements, axis=1), _CODES)
        polynomials, most = self._polynomials(kinds)
        count = len(kinds)
        left, left_of = _distinct(ranks[:, 0] * count + ranks[:, 1], count * count)
        right, right_of = _distinct(ranks[:, 2] * count + ranks[:, 3], count * count)
        wilds, wild_of = _distinct(held * 16 + unseen, 256)
        joint = right_of * len(wilds) + wild_of
        right_wild, joint_of = _distinct(joint, len(right) * len(wilds))

        halves = np.concatenate((left, right))
        products = _multiplied(polynomials[halves // count], polynomials[halves % count])
        sizes = most[halves // count] + most[halves % count] + 1
        first = products[: len(left), : int(sizes[: len(left)].max(initial=1))]
        second = products[len(left) :, : int(sizes[len(left) :].max(initial=1))]
        suffices = self._suffices(wilds, first.shape[1] + second.shape[1] - 1)
        met = _met(second[right_wild // len(wilds)], suffices[right_wild % len(wilds)], first.shape[1])

        pairs = left_of * len(right_wild) + joint_of
        once, back = np.unique(pairs, return_inverse=True)
        whole = np.einsum("nsz,nsz->nz", first[once // len(right_wild)], met[once % len(right_wild)])
        result: Numbers = whole[back]
        return result

    def _polynomials(self, kinds: Whole) -> tuple[Numbers, Whole]:
        """For each element, [S, Z] the weight of s tiles being left for jokers, and the most that can be left."""
        strict, loose, unseen = kinds >> 8, kinds >> 4 & 15, kinds & 15
        left = np.arange(int(loose.max(initial=0)) + 1)[None, :]
        needed = (strict + loose)[:, None]
        weights = self.exactly[unseen[:, None], np.maximum(needed - left, 0)]
        weights[left[0][None, :] > loose[:, None]] = 0
        weights[:, 0] = self.at_least[unseen, needed[:, 0]]
        return weights, loose

    def _suffices(self, wilds: Whole, length: int) -> Numbers:
        """[W, length, Z] weight of the jokers filling s tiles, for each 16 x held + unseen."""
        wanted = np.maximum(np.arange(length)[None, :] - (wilds // 16)[:, None], 0)
        result: Numbers = self.at_least[(wilds % 16)[:, None], np.minimum(wanted, _NEEDED - 1)]
        return result


def _distinct(values: Whole, bound: int) -> tuple[Whole, Whole]:
    """The distinct values, all from 0 to under `bound`, and for each value its place among them."""
    seen = np.zeros(bound, np.bool_)
    seen[values] = True
    distinct = seen.nonzero()[0]
    places = np.empty(bound, np.int64)
    places[distinct] = np.arange(len(distinct))
    return distinct, places[values]


def _multiplied(one: Numbers, other: Numbers) -> Numbers:
    """Products of polynomials, [n, S, Z] each."""
    size = one.shape[1]
    product = np.zeros((len(one), 2 * size - 1, one.shape[2]), one.dtype)
    for power in range(size):
        product[:, power : power + size] += one[:, power, None] * other
    return product


def _met(second: Numbers, suffices: Numbers, size: int) -> Numbers:
    """[n, size, Z] for s tiles left by the first half: the weight of the second half and the jokers filling all."""
    total = np.zeros((len(second), size, second.shape[2]), second.dtype)
    for power in range(second.shape[1]):
        total += second[:, power, None] * suffices[:, power : power + size]
    return total
