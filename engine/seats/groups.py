"""Which variants of a sheet are still open once groups lie face up, for all variants at once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

import numpy as np

from engine.advice.table import Laid, SheetTable, Truth
from engine.sheet.groups import Group


class Groups:
    """For every group of the sheet, which variants of its table hold it."""

    def __init__(self, table: SheetTable) -> None:
        holding: dict[tuple[Group, int], list[int]] = {}
        for row, variant in enumerate(table.variants):
            for group, times in Counter(variant.groups).items():
                for time in range(1, times + 1):
                    holding.setdefault((group, time), []).append(row)
        self._holding: dict[tuple[Group, int], Truth] = {}
        for key, rows in holding.items():
            mask = np.zeros(len(table), np.bool_)
            mask[rows] = True
            self._holding[key] = mask
        self._none = np.zeros(len(table), np.bool_)
        self._all = np.ones(len(table), np.bool_)
        self._open = ~table.concealed

    def holding(self, group: Group) -> Truth:
        """[V] whether the variant has such a group, concealed hands included."""
        return self._holding.get((group, 1), self._none)

    def allowing(self, laid: Sequence[Laid]) -> Truth:
        """[V] whether a seat that has laid these groups may still make the variant; all of them while it has none."""
        if not laid:
            return self._all
        allowed = self._open
        for group, times in Counter(Group(one.size, one.kind) for one in laid).items():
            allowed = allowed & self._holding.get((group, times), self._none)
        return allowed
