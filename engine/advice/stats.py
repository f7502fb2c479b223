"""Intervals: how far the true figure may be from what was counted or averaged."""

from __future__ import annotations

import math
from collections.abc import Sequence
from statistics import NormalDist

import numpy as np

from engine.advice.table import Whole

ENOUGH = 10
"""Games, deals or matches from which a mean is said. With fewer there is too little to say."""
SURE = 0.95
"""How often an interval is to hold the true figure."""
Interval = tuple[float, float]


def student(freedom: int, below: float) -> float:
    """The value that Student's t falls below so often, by the expansion in powers of 1 / freedom (Abramowitz and
    Stegun, Handbook of Mathematical Functions, 26.7.5); good to 0.001 from 9 degrees of freedom on."""
    z = NormalDist().inv_cdf(below)
    first = (z**3 + z) / 4
    second = (5 * z**5 + 16 * z**3 + 3 * z) / 96
    third = (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / 384
    return z + (first + (second + third / freedom) / freedom) / freedom


def half_width(error: float, number: int, sure: float = SURE) -> float:
    """Half of an interval for the mean of `number` values whose standard error is `error`; 0 for an exact figure, which
    has no values."""
    return student(number - 1, (1 + sure) / 2) * error if number > 1 else 0.0


def wilson(hits: int, trials: int, sure: float = SURE) -> Interval:
    """The score interval of a share: all shares p from which `hits` lies within z standard errors sqrt(p (1 - p) / n).

    E. B. Wilson, Probable inference, the law of succession, and statistical inference, Journal of the American
    Statistical Association 22 (1927), 209-212. Unlike p +- z standard errors it stays sound near 0 and 1: no hit in n
    gives 0 to z^2 / (n + z^2).
    """
    if not 0 <= hits <= trials or not trials:
        raise ValueError(f"{hits} of {trials} is no share")
    z = NormalDist().inv_cdf((1 + sure) / 2)
    share, more = hits / trials, z * z / trials
    centre = share + more / 2
    reach = z * math.sqrt(share * (1 - share) / trials + more / (4 * trials))
    low = 0.0 if hits == 0 else (centre - reach) / (1 + more)
    high = 1.0 if hits == trials else (centre + reach) / (1 + more)
    return low, high


def mean_interval(values: Sequence[float] | Whole, sure: float = SURE) -> Interval:
    """Student's interval of a mean, for at least ENOUGH values."""
    count = len(values)
    mean = float(np.mean(values))
    reach = student(count - 1, (1 + sure) / 2) * float(np.std(values, ddof=1)) / math.sqrt(count)
    return mean - reach, mean + reach


def median_interval(values: Sequence[float] | Whole, sure: float = SURE) -> Interval:
    """An interval of the median from the sorted values alone: the k-th from below and from above, k as large as keeps
    the chance of the median lying outside, by the binomial distribution, at 1 - sure or less."""
    count = len(values)
    spare = (1 - sure) / 2
    outside, place = 0.0, 0
    while place < count // 2:
        outside += math.exp(
            math.lgamma(count + 1) - math.lgamma(place + 1) - math.lgamma(count - place + 1) - count * math.log(2)
        )
        if outside > spare:
            break
        place += 1
    lowest = max(place - 1, 0)
    return float(values[lowest]), float(values[count - 1 - lowest])
