"""Judging by tiles missing alone: every variant counts, the less the more tiles it lacks.

This is how most people look at a rack. The sum over all variants of a power of the tiles missing prefers tiles that
many near hands use. It knows that singles and pairs are harder to fill than groups that may be called for, and nothing
of how many of a tile are left, except that a hand may have become impossible.
"""

from __future__ import annotations

from hashlib import blake2b

import numpy as np

from engine.advice.reach import shortfall
from engine.advice.table import Bytes, Real, SheetTable
from engine.seats.groups import Groups
from engine.seats.judging import Hold, capped, no_keeps
from engine.tiles import JOKER

SINGLES = 3.0
GROUPS = 2.0
"""A variant counts e^-SINGLES for each tile it lacks in singles and pairs, e^-GROUPS for each in larger groups."""
CONCEALED = 0.35
"""A concealed hand counts so much less, since nothing but its last tile may be called."""


class Glance:
    """Judges racks of one sheet, looking at every variant."""

    def __init__(
        self, table: SheetTable, groups: Groups, singles: float = SINGLES, concealed: float = CONCEALED
    ) -> None:
        self._table = table
        self._groups = groups
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
        coming = capped(hold.together + hold.unseen).tolist()
        jokers = min(int(hold.counts[JOKER] + hold.unseen[JOKER]), len(self._table.closing) - 1)
        possible = self._table.closing[jokers].take(shortfall(self._table, coming)) == 0
        result: Real = self._factor * (self._groups.allowing(hold.laid) & possible)
        return result


class FewInMind(Glance):
    """Looks at the few nearest variants only, all tiles alike to it, even when what they lack is long gone.

    Of equally near ones it prefers the hands that it happens to like, always the same ones.
    """

    def __init__(self, table: SheetTable, groups: Groups, few: int) -> None:
        super().__init__(table, groups, singles=GROUPS, concealed=1.0)
        self._few = few
        likes = np.array([_liking(hand.name) for hand in table.sheet.hands])
        self._likes = likes[table.hand] if len(table) else np.zeros(0)

    def _counting(self, hold: Hold, short: Bytes) -> Real:
        allowed = self._groups.allowing(hold.laid)
        missing = self._table.closing[hold.counts[JOKER]].take(short)
        order = np.where(allowed, missing + self._likes, np.inf)
        counting = np.zeros(len(order))
        counting[np.argsort(order, kind="stable")[: self._few]] = 1.0
        result: Real = counting * allowed
        return result


def _liking(hand: str) -> float:
    """From 0 up to 1; the same on every machine."""
    return int.from_bytes(blake2b(hand.encode(), digest_size=4).digest()) / (1 << 32)
