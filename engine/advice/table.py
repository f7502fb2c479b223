"""A sheet as arrays: what every variant needs of every kind, and the look-up rows that count tiles missing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from engine.rules.matching import Laid, SheetIndex, index_of
from engine.sheet.groups import HAND_TILES, Group, Variant
from engine.sheet.model import Sheet
from engine.tiles import COPIES, JOKER, KINDS

Bytes = npt.NDArray[np.uint8]
Whole = npt.NDArray[np.int64]
Real = npt.NDArray[np.float64]
Truth = npt.NDArray[np.bool_]

MOST_ALIKE = 8
"""No rack holds more than eight tiles of one kind, jokers apart."""

MOST_GROUPS = HAND_TILES // 3
"""No hand has more groups of three or more."""


@dataclass(frozen=True, eq=False)
class SheetTable:
    """Every variant of a sheet that a set with so many jokers can supply, V of them, in sheet order.

    With groups laid, only the variants that those allow are in, and `real` and `loose` tell what is needed besides.
    """

    sheet: Sheet
    jokers: int
    laid: tuple[Group, ...]
    """The groups lying face up that every variant here holds."""
    variants: tuple[Variant, ...]
    hand: Whole
    """[V] which hand of `sheet.hands` the variant makes."""
    concealed: Truth
    """[V]"""
    real: Bytes
    """[V, 36] tiles in singles and pairs, which no joker fills."""
    loose: Bytes
    """[V, 36] tiles in groups of three or more."""
    bare: Bytes
    """[V] the shortfall of an empty rack: 16 x tiles in singles and pairs + tiles in larger groups. Hands have 14
    tiles, so that a shortfall always fits one byte."""
    rows: Bytes
    """[36, 9, V] `rows[k, c]`: what holding c tiles of kind k adds to the shortfall (modulo 256)."""
    closing: Whole
    """[15, 256] `closing[j, s]`: tiles missing for a shortfall s with j jokers held."""
    plain_kinds: Whole
    """Kinds that a variant has in singles and pairs only, the variants' lists one after the other."""
    plain_ends: Whole
    """[V + 1] the list of variant v is `plain_kinds[plain_ends[v] : plain_ends[v + 1]]`."""
    group_kinds: Whole
    """[V, 4] kinds that a variant has in larger groups, which can be four at most; the rest is filled with JOKER."""

    @classmethod
    def of(cls, sheet: Sheet, jokers: int = COPIES[JOKER]) -> SheetTable:
        """The table of a sheet, whole or cut, for a set with `jokers` jokers (0 to 10)."""
        return _build(sheet, jokers, (), index_of(sheet, jokers).all)

    def after(self, laid: Sequence[Laid]) -> SheetTable:
        """What is left of this table once these groups lie face up: the variants of open hands that hold all of them,
        each needing only its other groups."""
        if not laid:
            return self
        everything = (*self.laid, *(Group(one.size, one.kind) for one in laid))
        return _build(self.sheet, self.jokers, everything, self._index.allowing(everything))

    def allowing(self, laid: Sequence[Laid]) -> Truth:
        """[V] whether a seat that has laid these groups may still make the variant; all of them while it has none."""
        mask = _mask(self._index, self._index.allowing((*self.laid, *laid)))
        return mask if not self.laid else mask[_mask(self._index, self._index.allowing(self.laid))]

    @cached_property
    def _index(self) -> SheetIndex:
        return index_of(self.sheet, self.jokers)

    @cached_property
    def total(self) -> Bytes:
        """[V, 36] tiles in all groups."""
        return self.real + self.loose

    @cached_property
    def steps(self) -> Bytes:
        """[36, 8, V] `steps[k, c]`: what one tile more adds to the shortfall of a rack that holds c of kind k."""
        return np.diff(self.rows, axis=1)

    def __len__(self) -> int:
        return len(self.variants)


def _mask(index: SheetIndex, bits: int) -> Truth:
    """[V] the variants whose bits are set."""
    size = len(index.pairs)
    packed = np.frombuffer(bits.to_bytes(-(-size // 8), "little"), np.uint8)
    return np.unpackbits(packed, count=size, bitorder="little").astype(np.bool_)


def _build(sheet: Sheet, jokers: int, laid: tuple[Group, ...], bits: int) -> SheetTable:
    index = index_of(sheet, jokers)
    places = np.flatnonzero(_mask(index, bits)).tolist()
    pairs = [(index.hands[place], index.pairs[place][1]) for place in places]
    size = len(pairs)
    real = np.array([variant.real for _, variant in pairs], np.uint8).reshape(size, KINDS)
    loose = np.array([variant.loose for _, variant in pairs], np.uint8).reshape(size, KINDS)
    for group in laid:
        (loose if group.size >= sheet.jokers_from else real)[:, group.kind] -= group.size
    hands = sheet.hands
    held = np.arange(MOST_ALIKE + 1)[None, :, None]
    wanted, flexible = (array.T.astype(np.int64)[:, None, :] for array in (real, loose))
    strict = np.maximum(wanted - held, 0)
    spare = np.maximum(held - wanted, 0)
    rows = (16 * strict + np.maximum(flexible - spare, 0)).astype(np.uint8)
    bare = np.add.reduce(rows[:, 0], axis=0, dtype=np.uint8)
    plain = (real > 0) & (loose == 0)
    short = np.arange(256)
    closing = (short >> 4) + np.maximum((short & 15) - np.arange(HAND_TILES + 1)[:, None], 0)
    return SheetTable(
        sheet,
        jokers,
        laid,
        tuple(variant for _, variant in pairs),
        np.array([index for index, _ in pairs], np.int64),
        np.array([hands[index].concealed for index, _ in pairs], np.bool_),
        real,
        loose,
        bare,
        rows - rows[:, :1],
        closing,
        (plain.nonzero()[1]).astype(np.int64),
        np.concatenate(([0], np.cumsum(plain.sum(axis=1)))),
        _listed(loose > 0),
    )


def _listed(mask: Truth) -> Whole:
    """[V, 4] the columns that are set in each row, lowest first, filled up with JOKER."""
    kinds = np.where(mask, np.arange(KINDS), JOKER)
    return np.sort(kinds, axis=1)[:, :MOST_GROUPS].astype(np.int64)
