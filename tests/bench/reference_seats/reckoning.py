"""Judging by chances: what comes by drawing and by calling, with the tiles that are left, within the game's usual end.

The some forty nearest variants that are still possible are each given a chance of being finished, for a few moments
between now and the end of the wall, weighted by how likely the game is to last so long. Chances of variants are brought
together by the sum of their cubes, as many overlapping variants would overrate a rack that is vaguely near to all.
A hand of more points counts more.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from engine.advice.odds.reach import shortfall
from engine.advice.table import MOST_ALIKE, Real, SheetTable, Whole
from engine.tiles import JOKER, KINDS
from reference_seats.judging import Hold, capped, no_keeps, possible
from reference_seats.rates import HALF, Points, Rates, level

MOMENTS = np.array([0.1, 0.3, 0.55, 0.85])
"""Shares of the draws to come."""
LASTS = np.array([0.35, 0.3, 0.2, 0.15])
"""How much a chance by each moment counts."""
NEAR = 40
"""So many near variants are looked at, more where several are equally near."""
BEHIND = 8
"""A near variant is at most so far behind the nearest, in halves of a tile."""
THROWN = 2.0
FINISHING = 0.5
"""See Rates."""
DEAR = 0.5
"""Points count with this power."""
SURE = 3.0
"""The chance that some hand is made is 1 - e^(-SURE x chances together)."""


@dataclass(frozen=True, eq=False)
class _Near:
    """The near variants of one holding, N of them, and what their chances by each of the M moments are made of."""

    rows: Whole
    """[N]"""
    need: Whole
    """[N, 36] tiles in singles and pairs."""
    loose: Whole
    """[N, 36] tiles in larger groups that are not laid yet."""
    kinds: Whole
    """[N, 4] kinds in larger groups, filled up with JOKER."""
    at: Whole
    """[N, M, 1, 1] where the values of `Rates.groups` for the moment and for open or concealed hands begin."""
    singles: Real
    """[N, M] chance of the kinds in singles and pairs only."""
    parts: Points
    """[N, 4, M, HALF] the larger groups."""
    suffice: Points
    """[M, HALF] the jokers."""
    drawn: Real
    """[36, F, M] `Rates.drawn` for the tiles unseen."""
    chances: Real
    """[N, M]"""


class Reckoning:
    """Judges racks of one sheet."""

    def __init__(self, table: SheetTable) -> None:
        self._table = table
        self._rates = Rates.of(table, THROWN, FINISHING)
        self._flat = self._rates.groups.reshape(-1, HALF)
        self._need = table.real.astype(np.int64)
        self._loose = table.loose.astype(np.int64)
        self._shut = table.concealed.astype(np.int64)
        short = np.arange(256)
        loose = np.maximum((short & 15) - np.arange(len(table.closing))[:, None], 0)
        self._distance = 3 * (short >> 4) + 2 * loose
        points = np.array([hand.points for hand in table.sheet.hands], np.float64)[table.hand]
        self._dear = (points / points.mean()) ** DEAR if len(points) else points

    def worth(self, hold: Hold, rows: Whole | None = None) -> float:
        """The chance of mahjong, tilted by points, over the near variants or the given ones."""
        cubes = self._cubes(self._near(hold, rows))
        return float(_made(cubes.sum(axis=0)))

    def aim(self, hold: Hold) -> int | None:
        """The variant of the greatest chance, tilted by points."""
        near = self._near(hold, None)
        if not len(near.rows):
            return None
        return int(near.rows[np.einsum("nm,m->n", self._cubes(near), LASTS).argmax()])

    def keeps(self, hold: Hold, rows: Whole | None = None) -> Real:
        """The worth after letting go each kind."""
        near = self._near(hold, rows)
        cubes = self._cubes(near)
        total = cubes.sum(axis=0)
        kinds = hold.plain_kinds
        change = np.zeros((KINDS, len(MOMENTS)))
        for row, kind, chances in (self._without_plain(hold, near), self._without_grouped(hold, near)):
            new = (self._dear[near.rows[row], None] * chances) ** 3
            np.add.at(change, kind, new - cubes[row])
        result = no_keeps()
        result[kinds] = _made(np.maximum(total + change[kinds], 0.0))
        return result

    def _cubes(self, near: _Near) -> Real:
        """[N, M] chances tilted by points, to the third power."""
        cubes: Real = (self._dear[near.rows, None] * near.chances) ** 3
        return cubes

    def _near(self, hold: Hold, rows: Whole | None) -> _Near:
        rows = self.near_rows(hold) if rows is None else rows
        need, loose = self._need[rows], self._loose[rows]
        for one in hold.laid:
            loose[:, one.kind] -= one.size
        kinds = self._table.group_kinds[rows]
        rates = self._rates
        levels = level(MOMENTS * hold.draws / max(int(hold.unseen.sum()), 1))
        drawn = rates.drawn[levels[None, :], np.minimum(hold.unseen, MOST_ALIKE)[:, None]].transpose(0, 2, 1)
        shape = rates.groups.shape
        at = (self._shut[rows][:, None, None] * shape[1] + levels[None, None, :]) * (shape[2] * shape[3])
        strict = np.maximum(need - hold.counts, 0)
        plain = np.where(self._loose[rows] > 0, 0, strict)
        singles = drawn[np.arange(KINDS), plain].prod(axis=1)
        parts = self._flat[at + self._elements(hold, need, loose, kinds, hold.counts)[:, :, None]]
        suffice = rates.jokers[levels, hold.counts[JOKER], hold.unseen[JOKER]]
        filled = _met(parts[:, 0] * parts[:, 1] * parts[:, 2] * parts[:, 3], suffice)
        return _Near(rows, need, loose, kinds, at, singles, parts, suffice, drawn, singles * filled)

    def near_rows(self, hold: Hold) -> Whole:
        """The near variants that what is laid allows and that the tiles left can still make."""
        table = self._table
        held = capped(hold.together)
        short = shortfall(table, held.tolist())
        distance = self._distance[hold.counts[JOKER]].take(short)
        distance = np.where(possible(table, hold), distance, 999)
        cut = int(np.partition(distance, NEAR - 1)[NEAR - 1]) if len(distance) > NEAR else 998
        rows: Whole = (distance <= min(cut, int(distance.min(initial=998)) + BEHIND, 998)).nonzero()[0]
        return rows

    def _elements(self, hold: Hold, need: Whole, loose: Whole, kinds: Whole, counts: Whole) -> Whole:
        """[N, 4] where each larger group's values lie, with `counts` [36] in the rack."""
        across = np.arange(len(need))[:, None]
        held = np.where(kinds == JOKER, 0, counts[kinds])
        spare = held - need[across, kinds]
        left = np.maximum(loose[across, kinds] - np.maximum(spare, 0), 0)
        unseen = np.where(kinds == JOKER, 0, np.minimum(hold.unseen, MOST_ALIKE)[kinds])
        element = self._rates.element[np.maximum(-spare, 0), left]
        result: Whole = unseen * self._rates.groups.shape[3] + element
        return result

    def _without_plain(self, hold: Hold, near: _Near) -> tuple[Whole, Whole, Real]:
        """For each near variant and each kind whose copies its singles and pairs use up: the chances with one fewer."""
        row, kind = ((near.need >= hold.counts) & (hold.counts > 0) & (self._loose[near.rows] == 0)).nonzero()
        short = near.need[row, kind] - hold.counts[kind]
        before, after = near.drawn[kind, short], near.drawn[kind, short + 1]
        ratio = np.divide(after, before, out=np.zeros_like(after), where=before > 0)
        return row, kind, near.chances[row] * ratio

    def _without_grouped(self, hold: Hold, near: _Near) -> tuple[Whole, Whole, Real]:
        """The same for the kinds in larger groups."""
        across = np.arange(len(near.rows))[:, None]
        held = np.where(near.kinds == JOKER, 0, hold.counts[near.kinds])
        wanted = near.need[across, near.kinds] + near.loose[across, near.kinds]
        row, place = ((held > 0) & (held <= wanted)).nonzero()
        fewer = self._elements(hold, near.need, near.loose, near.kinds, np.maximum(hold.counts - 1, 0))
        new = self._flat[near.at[row, 0] + fewer[row, place][:, None]]
        parts = near.parts[row]
        one, two = parts[:, 0] * parts[:, 1], parts[:, 2] * parts[:, 3]
        beside = parts[np.arange(len(row)), place ^ 1]
        others = beside * np.where((place < 2)[:, None, None], two, one)
        return row, near.kinds[row, place], near.singles[row] * _met(others * new, near.suffice)


def _met(groups: Points, suffice: Points) -> Real:
    """[N, M] the chance that jokers fill what the groups [N, M, HALF] leave to them."""
    chance: Real = np.einsum("nmh,mh->nm", groups, suffice).real
    return chance


def _made(cubes: Real) -> Real:
    """The chance that some hand is made, weighted over the moments, for sums of cubes [..., M]."""
    chance: Real = np.einsum("...m,m->...", 1.0 - np.exp(-SURE * np.cbrt(cubes)), LASTS)
    return chance
