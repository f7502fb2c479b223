"""Student's t: how many standard errors make an interval when the error itself comes from few values."""

from __future__ import annotations

from statistics import NormalDist


def student(freedom: int, below: float) -> float:
    """The value that Student's t falls below so often, by the expansion in powers of 1 / freedom (Abramowitz and
    Stegun, Handbook of Mathematical Functions, 26.7.5); good to 0.001 from 9 degrees of freedom on."""
    z = NormalDist().inv_cdf(below)
    first = (z**3 + z) / 4
    second = (5 * z**5 + 16 * z**3 + 3 * z) / 96
    third = (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / 384
    return z + (first + (second + third / freedom) / freedom) / freedom


def half_width(error: float, number: int, sure: float = 0.95) -> float:
    """Half of an interval for the mean of `number` values whose standard error is `error`; nothing for what is exact,
    which has no values."""
    return student(number - 1, (1 + sure) / 2) * error if number > 1 else 0.0
