"""What every way of judging a rack looks at, and what it answers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

import numpy as np

from engine.advice.table import MOST_ALIKE, Real, Whole
from engine.rules.observation import Observation
from engine.rules.table import Exposure
from engine.tiles import JOKER, KINDS, Kind


@dataclass(frozen=True, eq=False)
class Hold:
    """What one seat holds and may still hope for."""

    counts: Whole
    """[36] the rack."""
    laid: tuple[Exposure, ...]
    """Its own exposures."""
    unseen: Whole
    """[36] tiles that lie in the wall or in other racks."""
    draws: int
    """Tiles it may still draw."""
    together: Whole
    """[36] rack and exposures, an exposed joker counting as the tile it stands for."""

    @classmethod
    def of(cls, counts: Whole, laid: tuple[Exposure, ...], unseen: Whole, draws: int) -> Hold:
        """A holding, with what it comes to."""
        together = counts.copy()
        for one in laid:
            together[one.kind] += one.size
        return cls(counts, laid, unseen, draws, together)

    @classmethod
    def seen_by(cls, observation: Observation) -> Hold:
        """What the observing seat holds."""
        return cls.of(
            np.array(observation.counts),
            observation.exposures[observation.seat],
            np.array(observation.unseen),
            draws_hoped_for(observation),
        )

    def changed(self, change: Whole, laid: Exposure | None = None) -> Hold:
        """The same with `change` [36] added to the rack and perhaps one more group laid."""
        return Hold.of(self.counts + change, self.laid if laid is None else (*self.laid, laid), self.unseen, self.draws)

    def without(self, kind: Kind) -> Hold:
        """The same with one tile of the rack let go, to be seen no more."""
        counts, together = self.counts.copy(), self.together.copy()
        counts[kind] -= 1
        together[kind] -= 1
        return Hold(counts, self.laid, self.unseen, self.draws, together)

    @property
    def plain_kinds(self) -> Whole:
        """The kinds in the rack, jokers left out."""
        kinds: Whole = self.counts[:JOKER].nonzero()[0]
        return kinds


def draws_hoped_for(observation: Observation) -> int:
    """Its share of the wall. At least one, as the last discards may still be called; and in the passes of the quiet
    table, where the others draw nothing later, they choose as if they did."""
    return max(observation.picks_left or observation.wall_left // 4, 1)


class Judge(Protocol):
    """A way of judging racks. Worths are numbers from 0 up that may be compared with one another, nothing more."""

    def worth(self, hold: Hold) -> float:
        """What a rack that waits for its next tile is worth."""
        ...

    def keeps(self, hold: Hold) -> Real:
        """[36] what is left after letting go one tile of each kind in the rack; -1 for jokers and kinds not held."""
        ...

    def aim(self, hold: Hold) -> int | None:
        """The row of the variant that the rack is likeliest to become, None when none is left."""
        ...


def no_keeps() -> Real:
    """[36] filled with -1."""
    return np.full(KINDS, -1.0)


def capped(counts: Whole) -> Whole:
    """Counts as the rows of a table know them; what lies beyond is of no use to any hand."""
    result: Whole = np.minimum(counts, MOST_ALIKE)
    return result
