"""Racks at a full table that differ in a few tiles: the chance to finish the near hands before the game ends.

Tiles come by drawing. The last tile of a group in an open hand may also be called, and so may the last tile of any
hand. Each larger group leaves some number of tiles to jokers. The distribution of that number is stored as its values
at roots of unity, so that several groups are multiplied point by point, and one sum brings in the jokers.

Chances of the near variants are brought together as in `worth`: a plain sum would overrate a rack that is vaguely near
to many overlapping variants.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from engine.advice.contest.pace import MOMENTS, Coming
from engine.advice.odds.reach import missing, shortfall
from engine.advice.table import Real, SheetTable, Whole
from engine.advice.worth.worth import raised
from engine.sheet.groups import HAND_TILES
from engine.tiles import JOKER, KINDS, Kind

Points = npt.NDArray[np.complex128]

NEAR = 40
"""So many near variants are looked at, more where several are equally near."""
SPREAD = 8
"""How far behind the nearest variant a near one may be, in halves of a tile."""
FEWER = 4
"""At most three tiles of a kind go at once."""
ROOTS = HAND_TILES + 1
"""No more tiles than a hand has can be left to jokers, so that this many roots tell all numbers apart."""
HALF = ROOTS // 2 + 1
"""The values at the other roots are the conjugates of these."""
_ALIKE = 11
"""One more than the copies of any kind, jokers in any house included."""
_NEEDED = 24
"""More than a variant misses of one kind."""
TINY = 1e-300
"""In place of no chance, where logarithms are added up."""


@dataclass(frozen=True, eq=False)
class Near:
    """The variants near to a rack, N of them, and their chances once some tiles of the rack have gone."""

    rows: Whole
    """[N] of the table."""
    plain: Real
    """[N, 36, FEWER, Z] logarithm of the chance that a kind in singles and pairs is there, with so many fewer held."""
    last: Real
    """[N, 36, FEWER, Z] how many times likelier that is if its last tile may come from another seat, less one."""
    groups: Points
    """[N, 4, FEWER, Z, HALF] what a kind of the larger groups leaves to jokers, with so many fewer held."""
    kinds: Whole
    """[N, 4] these kinds; JOKER where there are fewer."""
    jokers: Points
    """[FEWER, N, Z, HALF] what turns the product of the groups into a chance, with so many jokers fewer."""

    def chances(self, gone: Sequence[Sequence[Kind]]) -> Real:
        """[G, N, Z] for each choice of tiles gone from the rack."""
        fewer = np.zeros((len(gone), KINDS), np.int64)
        for place, kinds in enumerate(gone):
            for kind in kinds:
                fewer[place, kind] += 1
        return self.after(fewer)

    def after(self, fewer: Whole) -> Real:
        """[G, N, Z] for so many tiles fewer of each kind, [G, 36], three of a kind at most."""
        size = len(self.rows)
        logs = np.repeat(self.plain[:, :, 0].sum(axis=1)[None], len(fewer), axis=0)
        lasts = np.repeat(self.last[:, :, 0].sum(axis=1)[None], len(fewer), axis=0)
        for kind in np.flatnonzero(fewer[:, :JOKER].sum(axis=0)):
            for number in range(1, FEWER):
                of = (fewer[:, kind] == number).nonzero()[0]
                if len(of):
                    logs[of] += self.plain[:, kind, number] - self.plain[:, kind, 0]
                    lasts[of] += self.last[:, kind, number] - self.last[:, kind, 0]
        in_groups = np.where(self.kinds == JOKER, 0, fewer[:, self.kinds])  # [G, N, 4]
        code = (in_groups * FEWER ** np.arange(4)).sum(axis=2) + FEWER**4 * fewer[:, JOKER, None]
        code = code * size + np.arange(size)
        once, back = np.unique(code, return_inverse=True)
        row, left = once % size, once // size
        product = self.jokers[left // FEWER**4, row]
        for place in range(4):
            product = product * self.groups[row, place, left // FEWER**place % FEWER]
        filled = product.real.sum(axis=2)[back.reshape(code.shape)]
        result: Real = np.clip(np.exp(logs) * filled * (1.0 + lasts), 0.0, 1.0)
        return result


def near_rows(table: SheetTable, counts: Sequence[int], unseen: Sequence[int]) -> Whole:
    """The nearest variants that rack and unseen tiles together still hold. A tile missing from a single or a pair
    counts one and a half, as no joker fills it."""
    held, jokers = np.asarray(counts), int(counts[JOKER])
    together = (held + np.asarray(unseen)).tolist()
    most = min(together[JOKER], len(table.closing) - 1)
    alive = table.closing[most].take(shortfall(table, np.minimum(together, 8).tolist())) == 0
    short = shortfall(table, np.minimum(held, 8).tolist())
    far = (short >> 4).astype(np.int64) * 3 + np.maximum((short & 15).astype(np.int64) - jokers, 0) * 2
    far = np.where(alive, far, 999)
    cut = int(np.partition(far, NEAR - 1)[NEAR - 1]) if len(far) > NEAR else 998
    rows: Whole = (far <= min(cut, int(far.min(initial=998)) + SPREAD, 998)).nonzero()[0]
    return rows


def near(table: SheetTable, counts: Sequence[int], unseen: Sequence[int], come: Coming, fewer: int = 1) -> Near:
    """The variants near to the rack of 36 `counts`, with up to `fewer` tiles of a kind to go from it."""
    rows = near_rows(table, counts, unseen)
    held, hidden = np.asarray(counts, np.int64), np.minimum(np.asarray(unseen, np.int64), _ALIKE - 1)
    exactly = _exactly(hidden, come.drawn)
    at_least = np.cumsum(exactly[:, ::-1], axis=1)[:, ::-1]
    lacking = np.maximum(missing(table, np.minimum(held, 8).tolist())[rows], 1)
    plain, last = _plain(table, rows, held, hidden, exactly, at_least, come, fewer)
    last /= lacking[:, None, None, None]  # all others must have come before
    kinds = table.group_kinds[rows]
    groups = _groups(table, rows, kinds, held, hidden, exactly, come, fewer)
    return Near(rows, plain, last, groups, kinds, _jokers(table, rows, held, lacking, at_least, exactly, come, fewer))


def together(chances: Real, weights: Real) -> Real:
    """[G, Z] what the chances [G, N, Z] of the near variants come to, each weighted by `weights` [N]."""
    most = float(weights.max(initial=1.0))
    powers = raised(chances * (weights / most)[None, :, None]).sum(axis=1)
    result: Real = most * np.sqrt(np.sqrt(powers / (1.0 + powers)))
    return result


def _exactly(hidden: Whole, drawn: Real) -> Real:
    """[36, _NEEDED, Z] the chance that just so many of the unseen tiles of a kind come."""
    number = np.arange(_ALIKE)
    ways = np.array([[math.comb(copies, some) for some in range(_ALIKE)] for copies in range(_ALIKE)], np.float64)
    stay = np.maximum(hidden[:, None] - number, 0)[:, :, None]
    result = np.zeros((KINDS, _NEEDED, MOMENTS))
    result[:, :_ALIKE] = ways[hidden][:, :, None] * drawn[:, None] ** number[:, None] * (1.0 - drawn[:, None]) ** stay
    return result


def _plain(
    table: SheetTable,
    rows: Whole,
    held: Whole,
    hidden: Whole,
    exactly: Real,
    at_least: Real,
    come: Coming,
    fewer: int,
) -> tuple[Real, Real]:
    """`Near.plain` and `Near.last`."""
    plain = np.zeros((len(rows), KINDS, FEWER, MOMENTS))
    last = np.zeros((len(rows), KINDS, FEWER, MOMENTS))
    place, kind = ((table.real[rows] > 0) & (table.loose[rows] == 0)).nonzero()
    wanted = table.real[rows][place, kind].astype(np.int64)
    for gone in range(fewer + 1):
        short = np.maximum(wanted - np.maximum(held[kind] - gone, 0), 0)
        chance = at_least[kind, short]
        plain[place, kind, gone] = np.log(np.maximum(chance, TINY))
        one_short = np.where(short[:, None] > 0, exactly[kind, np.maximum(short - 1, 0)], 0.0)
        left = np.maximum(hidden[kind] - short + 1, 0)[:, None]
        thrown = 1.0 - (1.0 - come.thrown[kind]) ** left
        last[place, kind, gone] = np.divide(one_short * thrown, chance, out=np.zeros_like(chance), where=chance > TINY)
    return plain, last


def _groups(
    table: SheetTable,
    rows: Whole,
    kinds: Whole,
    held: Whole,
    hidden: Whole,
    exactly: Real,
    come: Coming,
    fewer: int,
) -> Points:
    """`Near.groups`."""
    real = np.take_along_axis(table.real[rows], kinds, axis=1).astype(np.int64)
    loose = np.take_along_axis(table.loose[rows], kinds, axis=1).astype(np.int64)
    there = kinds != JOKER
    open_hand = ~table.concealed[rows]
    result = np.zeros((len(rows), 4, FEWER, MOMENTS, HALF), np.complex128)
    b, gone = np.arange(_ALIKE), np.arange(fewer + 1)[:, None, None]
    spare = np.where(there, np.maximum(held[kinds] - gone, 0), 0) - real  # [gone, N, 4]
    strict = np.where(there, np.maximum(-spare, 0), 0)
    lacking = np.where(there, np.maximum(loose - np.maximum(spare, 0), 0), 0)
    key = ((kinds * 16 + strict) * 16 + lacking) * 2 + open_hand[:, None]
    once, back = np.unique(key, return_inverse=True)
    kind, f, q, callable_ = once // 512, once // 32 % 16, once // 2 % 16, once % 2
    left = np.maximum((f + q)[:, None] - b, 0)
    enough = b >= f[:, None]
    powers = _roots() ** np.arange(2 * _NEEDED)[:, None]
    value = powers[left]  # [E, b, HALF]
    better = powers[np.maximum(left - 1, 0)]
    unthrown = (1.0 - come.thrown[kind])[:, None, :] ** np.maximum(hidden[kind][:, None] - b, 0)[:, :, None]
    helped = np.where((callable_[:, None] * (left > 0) > 0)[:, :, None], 1.0 - unthrown, 0.0)  # [E, b, Z]
    chance = exactly[kind][:, :_ALIKE] * enough[:, :, None]
    values = np.einsum("ebz,ebh->ezh", chance * (1.0 - helped), value)
    values += np.einsum("ebz,ebh->ezh", chance * helped, better)
    values[kind == JOKER] = 1.0
    result[:, :, : fewer + 1] = np.moveaxis(values[back.reshape(key.shape)], 0, 2)
    return result


def _jokers(
    table: SheetTable,
    rows: Whole,
    held: Whole,
    lacking: Whole,
    at_least: Real,
    exactly: Real,
    come: Coming,
    fewer: int,
) -> Points:
    """`Near.jokers`. The last tile of a concealed hand may come from another seat, too."""
    wanted = np.arange(ROOTS)
    back = np.conj(_roots())[None, :] ** wanted[:, None] / ROOTS
    back[:, 1:] *= 2
    mean = come.thrown[:JOKER].mean(axis=0)
    last = (1.0 - (1.0 - mean) ** 2) / lacking[:, None]  # [N, Z]
    result = np.zeros((FEWER, len(rows), MOMENTS, HALF), np.complex128)
    for gone in range(min(fewer, 1) + 1):
        short = wanted - max(int(held[JOKER]) - gone, 0)
        drawn = at_least[JOKER][np.maximum(short, 0)]  # [s, Z]
        one_short = np.where((short > 0)[:, None], exactly[JOKER][np.maximum(short - 1, 0)], 0.0)
        opened = np.einsum("sz,sh->zh", drawn, back)
        shut = np.einsum("sz,sh->zh", one_short, back)[None] * last[:, :, None]
        result[gone] = opened + np.where(table.concealed[rows][:, None, None], shut, 0.0)
    return result


def _roots() -> Points:
    """[HALF] the first roots of unity."""
    roots: Points = np.exp(2j * np.pi * np.arange(HALF) / ROOTS)
    return roots
