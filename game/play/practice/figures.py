"""Shares, medians and means of what was counted, each with its interval; nothing is said of fewer than ten."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from statistics import fmean, median

from engine.advice.stats import ENOUGH, Interval, mean_interval, median_interval, wilson


@dataclass(frozen=True)
class Share:
    """So many of so many."""

    good: int
    of: int

    @property
    def enough(self) -> bool:
        """Whether there are enough to say the share."""
        return self.of >= ENOUGH

    @property
    def within(self) -> Interval | None:
        """The score interval of the true share, for 95 in 100; None where there is too little to say."""
        return wilson(self.good, self.of) if self.enough else None

    def __add__(self, other: Share) -> Share:
        return Share(self.good + other.good, self.of + other.of)


NONE = Share(0, 0)
"""Nothing of nothing."""


@dataclass(frozen=True)
class Figure:
    """A mean or a median of so many values."""

    number: int
    value: float | None = None
    """None where there is no value at all."""
    within: Interval | None = None
    """An interval for 95 in 100; None where there is too little to say."""

    @property
    def enough(self) -> bool:
        """Whether there are enough values to say it."""
        return self.number >= ENOUGH


def mean_of(values: Iterable[float]) -> Figure:
    """The mean, with Student's interval."""
    given = list(values)
    within = mean_interval(given) if len(given) >= ENOUGH else None
    return Figure(len(given), fmean(given) if given else None, within)


def median_of(values: Iterable[float]) -> Figure:
    """The median, with an interval from the sorted values alone."""
    given = sorted(values)
    within = median_interval(given) if len(given) >= ENOUGH else None
    return Figure(len(given), float(median(given)) if given else None, within)
