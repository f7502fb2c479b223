"""How many tiles a rack still misses for every variant of a sheet at once.

A variant misses, of each kind, some tiles in singles and pairs (which only real tiles fill) and some in larger groups
(which jokers fill too). Both numbers are read for all variants from one row of bytes per kind and count held, and the
rows are added up; a tile drawn or let go changes one row only.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from engine.advice.table import Bytes, SheetTable, Whole
from engine.tiles import JOKER


def shortfall(table: SheetTable, counts: Sequence[int]) -> Bytes:
    """[V] one byte per variant: 16 x tiles missing from singles and pairs + tiles missing from larger groups, before
    any joker is used, for a rack of the 36 counts (joker counts are not looked at)."""
    held = np.array(counts)
    held[JOKER] = 0
    kinds = held.nonzero()[0]
    short: Bytes = table.bare + np.add.reduce(table.rows[kinds, held[kinds]], axis=0, dtype=np.uint8)
    return short


def missing(table: SheetTable, counts: Sequence[int]) -> Whole:
    """[V] the least number of tiles to come that finish each variant, for a rack of the 36 counts."""
    tiles: Whole = table.closing[int(counts[JOKER])].take(shortfall(table, counts))
    return tiles


def shortfalls(table: SheetTable, racks: Whole) -> Bytes:
    """[B, V] the shortfall of B racks, given as counts [B, 36]."""
    short = np.tile(table.bare, (len(racks), 1))
    for kind in range(JOKER):
        short += table.rows[kind][racks[:, kind]]
    return short
