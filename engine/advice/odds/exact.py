"""Exact odds: the probability that K draws without replacement bring everything that a variant misses.

Draws without replacement are independent arrivals, given that exactly K tiles arrive. So the odds are a quotient of two
coefficients of z^K. The lower one belongs to the product over the kinds of sum over b of C(u, b) (p z)^b (1-p)^(u-b);
it is the binomial probability of K arrivals. The upper one belongs to the same product, restricted to arrivals that
finish the variant.

Coefficients are read off the values at M roots of unity: a discrete Fourier transform, exact for M over the number of
tiles. Fewer points mix in the coefficients of z^(K +- M), z^(K +- 2M) and so on. M is large enough that those add up to
less than 1e-15 of the odds. The odds are 0 if the variant can't be finished.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from math import comb

import numpy as np
import numpy.typing as npt

from engine.advice.odds.arrivals import Arrivals, picked
from engine.advice.odds.needs import Needs, needs
from engine.advice.table import Real, SheetTable, Truth, Whole
from engine.tiles import JOKER

_MIXED_IN = 1e-15


def exact(table: SheetTable, rows: Whole, counts: Sequence[int], unseen: Sequence[int], draws: int) -> Real:
    """[n] for each variant of `rows`, the probability that `draws` tiles, taken without replacement from the 36 counts
    `unseen`, together with a rack of the 36 `counts`, finish it; jokers fill groups of three or more only.

    Raises ValueError if `draws` is negative or more than the tiles unseen.
    """
    total = int(sum(unseen))
    if not 0 <= draws <= total:
        raise ValueError(f"draws is {draws}; choose 0 to {total}, the tiles unseen")
    held = np.asarray(counts, np.int64)
    hidden = np.asarray(unseen, np.int64)
    odds = np.zeros(len(rows))
    missed = needs(table, rows, held, hidden)
    jokers, drawn = np.full(len(rows), int(held[JOKER])), np.full(len(rows), draws)
    sure = _possible(missed, jokers, int(hidden[JOKER]), np.zeros_like(drawn))  # complete as it is
    odds[sure] = 1.0
    at = (_possible(missed, jokers, int(hidden[JOKER]), drawn) & ~sure).nonzero()[0]
    if len(at):
        if draws in (0, total):  # nothing is left to chance
            odds[at] = 1.0
        else:
            odds[at] = _coefficient(table, rows[at], held, hidden, jokers[at], drawn[at])
    return odds


def _possible(missed: Needs, held: Whole, unseen: int, draws: Whole) -> Truth:
    """[n] whether some choice of `draws` [n] unseen tiles finishes the variant, with `held` [n] jokers in the rack."""
    size = len(missed.kinds)
    spare = missed.held - missed.real
    strict = np.maximum(-spare, 0)
    loose = np.maximum(missed.loose - np.maximum(spare, 0), 0)
    plain = missed.plain_short
    unfilled = np.maximum(loose - np.maximum(missed.unseen - strict, 0), 0).sum(axis=1)
    tiles = strict.sum(axis=1) + np.maximum(loose.sum(axis=1) - held, 0)
    tiles += np.bincount(missed.plain_of, plain, size).astype(np.int64)
    lost = np.bincount(missed.plain_of, plain > missed.plain_unseen, size) > 0
    lost |= (strict > missed.unseen).any(axis=1)
    result: Truth = ~lost & (unfilled <= held + unseen) & (tiles <= draws)
    return result


def _coefficient(table: SheetTable, rows: Whole, counts: Whole, hidden: Whole, held: Whole, draws: Whole) -> Real:
    """[n] the odds for variants that can be finished, each with `held` [n] jokers in the rack and `draws` [n] to come.

    Any share of tiles to come gives the same coefficients; near the draws it gives them most exactly. So the draws may
    not lie far apart, and some tiles must stay away.
    """
    total = int(hidden.sum())
    chance = float(draws.mean()) / total
    binomial = _binomial(total, chance)
    numbers, number_of = np.unique(draws, return_inverse=True)
    points = max(_enough_points(binomial, number) for number in numbers.tolist())
    half = points // 2 + 1  # the values at the other roots are the conjugates of these
    root = np.exp(2j * np.pi * np.arange(half) / points)
    come, stay = chance * root, np.full(half, 1 - chance, np.complex128)
    arrivals = Arrivals(come, stay)
    missed = needs(table, rows, counts, hidden)
    size = len(rows)
    jokers = int(hidden[JOKER])
    values = arrivals.finished(missed.elements, held, np.full(size, jokers, np.int64))
    factors = arrivals.at_least(missed.plain_unseen, missed.plain_short)
    starts, whose = _runs(missed.plain_of)
    if len(whose):
        values[:, whose] *= np.multiply.reduceat(factors, starts, axis=1)
    looked_at = np.bincount(missed.plain_of, missed.plain_unseen, size) + missed.unseen.sum(axis=1) + jokers
    others = total - looked_at.astype(np.int64)
    powers = np.ones((half, int(others.max()) + 1), np.complex128)
    powers[:, 1:] = np.cumprod(np.repeat((come + stay)[:, None], powers.shape[1] - 1, axis=1), axis=1)
    values = values * powers[:, others]
    weights = np.full(half, 2.0)
    weights[0] = 1.0
    if points % 2 == 0:
        weights[-1] = 1.0
    back = weights[:, None] * root[:, None] ** -numbers / points
    sums = np.einsum("zn,zn->n", values, picked(back, number_of)).real  # a matrix product would wait for threads
    result: Real = np.clip(sums / binomial[draws], 0.0, 1.0)
    return result


def _runs(values: Whole) -> tuple[Whole, Whole]:
    """Where each run of equal values starts, and its value."""
    starts = np.flatnonzero(np.r_[True, values[1:] != values[:-1]]) if len(values) else np.zeros(0, np.int64)
    return starts, values[starts]


def _binomial(total: int, chance: float) -> npt.NDArray[np.float64]:
    """[total + 1] probability of every number of arrivals."""
    return np.array([math.comb(total, k) * chance**k * (1 - chance) ** (total - k) for k in range(total + 1)])


def _enough_points(binomial: npt.NDArray[np.float64], draws: int) -> int:
    """The least number of roots of unity whose mixing in stays under the limit."""
    total = len(binomial) - 1
    least = _MIXED_IN * binomial[draws]
    for points in range(8, total + 1):
        others = binomial[draws % points :: points].sum() - binomial[draws]
        if others < least:
            return points
    return total + 1


def exact_after_passes(
    table: SheetTable, rows: Whole, counts: Sequence[int], unseen: Sequence[int], coming: int, draws: int
) -> Real:
    """[n] for each variant of `rows`, the probability that it is finished by a rack of the 36 `counts` with `coming`
    tiles taken from the 36 counts `unseen` without the jokers, and then `draws` tiles taken from all that are left.

    Given that j of the draws are jokers, the tiles that are none are `coming` + `draws` - j, any of them; so the odds
    are those of `exact` with j jokers more in the rack and none unseen, weighted by the chance of j (hypergeometric).

    Raises ValueError if there are not so many tiles.
    """
    jokers, total = unseen[JOKER], sum(unseen)
    if not 0 <= coming <= total - jokers or not 0 <= draws <= total - coming:
        raise ValueError(
            f"{coming} tiles coming in by passes and {draws} draws are more than the {total} tiles unseen, "
            f"{jokers} of them jokers; choose fewer"
        )
    left = total - coming
    drawn = np.arange(max(draws - (left - jokers), 0), min(jokers, draws) + 1)  # so many jokers among the draws
    chance = np.array([comb(jokers, j) * comb(left - jokers, draws - j) / comb(left, draws) for j in drawn.tolist()])
    plain = np.array([*unseen[:JOKER], 0])
    odds = _with_jokers(table, rows, np.asarray(counts), plain, drawn, coming + draws)
    result: Real = np.einsum("jn,j->n", odds, chance)
    return result


def _with_jokers(table: SheetTable, rows: Whole, counts: Whole, plain: Whole, more: Whole, tiles: int) -> Real:
    """[j, n] the odds of each variant with each of `more` [j] jokers drawn besides those held, and the rest of so many
    tiles taken from the 36 counts `plain`, which hold no joker."""
    every, of = np.tile(rows, len(more)), np.repeat(more, len(rows))
    held, draws = counts[JOKER] + of, tiles - of
    odds = np.zeros(len(every))
    possible = _possible(needs(table, every, counts, plain), held, 0, draws)
    sure = (draws == 0) | (draws == plain.sum())
    odds[possible & sure] = 1.0
    at = (possible & ~sure).nonzero()[0]
    if len(at):
        odds[at] = _coefficient(table, every[at], counts, plain, held[at], draws[at])
    return odds.reshape(len(more), len(rows))
