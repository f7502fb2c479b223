"""Simulated deals counted: how often each section and hand was made, at which pick, and how sure these figures are."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist

import numpy as np

from engine.advice.simulation import Ended
from engine.advice.student import student
from engine.advice.table import Truth, Whole
from engine.sheet.model import Sheet

SURE = 0.95
"""How often an interval is to hold the true figure."""
ENOUGH = 10
"""Deals from which means and medians get an interval; with fewer there is too little to say."""

Interval = tuple[float, float]


@dataclass(frozen=True)
class Count:
    """How often one thing was made."""

    name: str
    section: str
    """The section it belongs to; its own name for a section, empty for the whole sheet."""
    made: int
    deals: int
    share_within: Interval
    """Wilson's interval of the share."""
    mean: float | None
    """Picks needed where it was made; None where it never was."""
    mean_within: Interval | None
    """None with fewer than ENOUGH deals."""
    median: float | None
    median_within: Interval | None
    """None with fewer than ENOUGH deals."""

    @property
    def share(self) -> float:
        """Of all deals, 0 to 1."""
        return self.made / self.deals


@dataclass(frozen=True)
class Tally:
    """All counts of one simulation."""

    whole: Count
    sections: tuple[Count, ...]
    hands: tuple[Count, ...]

    @property
    def never(self) -> tuple[Count, ...]:
        """Hands that were never made."""
        return tuple(count for count in self.hands if not count.made)


def tally(sheet: Sheet, ended: Ended) -> Tally:
    """Count what was made. Raises ValueError without any deal."""
    if not len(ended):
        raise ValueError("there is no deal to count; simulate at least one")
    section_of = np.array([sheet.sections.index(section) for section in sheet.sections for _ in section.hands])
    made = ended.hand >= 0
    section = np.where(made, section_of[ended.hand], -1)
    return Tally(
        _count(sheet.name, "", ended, made),
        tuple(_count(one.name, one.name, ended, section == place) for place, one in enumerate(sheet.sections)),
        tuple(_count(hand.name, hand.section, ended, ended.hand == place) for place, hand in enumerate(sheet.hands)),
    )


def _count(name: str, section: str, ended: Ended, which: Truth) -> Count:
    picks = np.sort(ended.picks[which])
    number = len(picks)
    enough = number >= ENOUGH
    return Count(
        name,
        section,
        number,
        len(ended),
        wilson(number, len(ended)),
        float(picks.mean()) if number else None,
        mean_interval(picks) if enough else None,
        float(np.median(picks)) if number else None,
        median_interval(picks) if enough else None,
    )


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
