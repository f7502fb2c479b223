"""What every way of judging a rack looks at, and what it answers."""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import blake2b
from typing import Protocol

import numpy as np

from engine.advice.odds.reach import shortfall
from engine.advice.table import MOST_ALIKE, Bytes, Real, SheetTable, Truth, Whole
from engine.rules.observation import Observation
from engine.rules.state import Exposure
from engine.sheet.groups import HAND_TILES
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


def possible(table: SheetTable, hold: Hold) -> Truth:
    """[V] whether what is laid allows the variant, and the tiles left can still make it."""
    coming = capped(hold.together + hold.unseen).tolist()
    jokers = min(int(hold.counts[JOKER] + hold.unseen[JOKER]), len(table.closing) - 1)
    made: Truth = table.closing[jokers].take(shortfall(table, coming)) == 0
    return table.allowing(hold.laid) & made


def lacking(table: SheetTable, hold: Hold) -> int:
    """Tiles that the nearest variant still lacks, of those that are possible; HAND_TILES + 1 when none is."""
    short = shortfall(table, capped(hold.together).tolist())
    missing = table.closing[hold.counts[JOKER]].take(short)
    return int(missing.min(where=possible(table, hold), initial=HAND_TILES + 1))


def no_keeps() -> Real:
    """[36] filled with -1."""
    return np.full(KINDS, -1.0)


def capped(counts: Whole) -> Whole:
    """Counts as the rows of a table know them; what lies beyond is of no use to any hand."""
    result: Whole = np.minimum(counts, MOST_ALIKE)
    return result


SINGLES = 3.0
GROUPS = 2.0
"""A variant counts e^-SINGLES for each tile it lacks in singles and pairs, e^-GROUPS for each in larger groups."""
CONCEALED = 0.35
"""A concealed hand counts so much less, since nothing but its last tile may be called."""


class Glance:
    """Judges racks of one sheet, looking at every variant."""

    def __init__(self, table: SheetTable, singles: float = SINGLES, concealed: float = CONCEALED) -> None:
        self._table = table
        short = np.arange(256)
        loose = np.maximum((short & 15) - np.arange(len(table.closing))[:, None], 0)
        self._weights = np.exp(-singles * (short >> 4) - GROUPS * loose)
        self._factor = np.where(table.concealed, concealed, 1.0)

    def worth(self, hold: Hold) -> float:
        """The sum over the variants that count."""
        short = shortfall(self._table, capped(hold.together).tolist())
        weights = self._weights[hold.counts[JOKER]].take(short)
        return float((weights * self._counting(hold, short)).sum())

    def keeps(self, hold: Hold) -> Real:
        """The same sums after letting go each kind."""
        table = self._table
        held = capped(hold.together)
        short = shortfall(table, held.tolist())
        kinds = hold.plain_kinds
        after = short + (table.rows[kinds, held[kinds] - 1] - table.rows[kinds, held[kinds]])
        weights = self._weights[hold.counts[JOKER]].take(after)
        result = no_keeps()
        result[kinds] = np.einsum("kv,v->k", weights, self._counting(hold, short))
        return result

    def aim(self, hold: Hold) -> int | None:
        """The variant that counts most."""
        short = shortfall(self._table, capped(hold.together).tolist())
        weights = self._weights[hold.counts[JOKER]].take(short) * self._counting(hold, short)
        best = int(weights.argmax())
        return best if weights[best] > 0 else None

    def _counting(self, hold: Hold, _short: Bytes) -> Real:
        """[V] how much each variant counts, whatever it lacks."""
        result: Real = self._factor * possible(self._table, hold)
        return result


class FewInMind(Glance):
    """Looks at the few nearest variants only, all tiles alike to it, even when what they lack is long gone.

    Of equally near ones it prefers the hands that it happens to like, always the same ones.
    """

    def __init__(self, table: SheetTable, few: int) -> None:
        super().__init__(table, singles=GROUPS, concealed=1.0)
        self._few = few
        likes = np.array([_liking(hand.name) for hand in table.sheet.hands])
        self._likes = likes[table.hand] if len(table) else np.zeros(0)

    def _counting(self, hold: Hold, short: Bytes) -> Real:
        allowed = self._table.allowing(hold.laid)
        missing = self._table.closing[hold.counts[JOKER]].take(short)
        order = np.where(allowed, missing + self._likes, np.inf)
        counting = np.zeros(len(order))
        counting[np.argsort(order, kind="stable")[: self._few]] = 1.0
        result: Real = counting * allowed
        return result


def _liking(hand: str) -> float:
    """From 0 up to 1; the same on every machine."""
    return int.from_bytes(blake2b(hand.encode(), digest_size=4).digest()) / (1 << 32)
