"""Simulated deals counted: how often each section and hand was made, at which pick, and how sure these figures are."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from engine.advice.simulation.simulate import Ended
from engine.advice.stats import ENOUGH, Interval, mean_interval, median_interval, wilson
from engine.advice.table import Truth
from engine.sheet.model import Sheet


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
class SheetTally:
    """All counts of one simulation."""

    whole: Count
    sections: tuple[Count, ...]
    hands: tuple[Count, ...]

    @property
    def never(self) -> tuple[Count, ...]:
        """Hands that were never made."""
        return tuple(count for count in self.hands if not count.made)


def tally(sheet: Sheet, ended: Ended) -> SheetTally:
    """Count what was made. Raises ValueError without any deal."""
    if not len(ended):
        raise ValueError("there is no deal to count; simulate at least one")
    section_of = np.array([sheet.sections.index(section) for section in sheet.sections for _ in section.hands])
    made = ended.hand >= 0
    section = np.where(made, section_of[ended.hand], -1)
    return SheetTally(
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
