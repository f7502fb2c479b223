"""What variants miss of each kind, in the form that `arrivals` reads."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from engine.advice.odds.arrivals import element
from engine.advice.table import SheetTable, Whole


@dataclass(frozen=True, eq=False)
class Needs:
    """What n variants miss, each for a rack of its own or all for one rack."""

    plain_of: Whole
    """[m] for every kind that a variant has in singles and pairs only: which of the n variants it is."""
    plain_kind: Whole
    """[m]"""
    plain_held: Whole
    """[m] copies held."""
    plain_real: Whole
    """[m] copies needed."""
    plain_unseen: Whole
    """[m] copies unseen."""
    kinds: Whole
    """[n, 4] the kinds in larger groups; JOKER where there are fewer."""
    held: Whole
    real: Whole
    loose: Whole
    unseen: Whole

    @property
    def plain_short(self) -> Whole:
        """[m] tiles missing."""
        short: Whole = np.maximum(self.plain_real - self.plain_held, 0)
        return short

    @property
    def elements(self) -> Whole:
        """[n, 4] the elements of the kinds in larger groups."""
        return self.elements_with(self.held)

    def elements_with(self, held: Whole) -> Whole:
        """[n, 4] the elements if `held` copies were held."""
        spare = held - self.real
        return element(np.maximum(-spare, 0), np.maximum(self.loose - np.maximum(spare, 0), 0), self.unseen)


def needs(table: SheetTable, rows: Whole, counts: Whole, unseen: Whole, games: Whole | None = None) -> Needs:
    """What the variants `rows` [n] miss. `counts` and `unseen` are 36 numbers each, or [G, 36] with `games` [n] telling
    which of the G racks each variant is looked at for."""
    start, end = table.plain_ends[rows], table.plain_ends[rows + 1]
    length = end - start
    plain_of = np.repeat(np.arange(len(rows)), length)
    first = np.repeat(start - (np.cumsum(length) - length), length)
    plain_kind = table.plain_kinds[first + np.arange(len(plain_of))]
    kinds = table.group_kinds[rows]
    if games is None:
        counts, unseen = counts[None, :], unseen[None, :]
        games = np.zeros(len(rows), np.int64)
    plain_game = games[plain_of]
    return Needs(
        plain_of,
        plain_kind,
        counts[plain_game, plain_kind],
        table.real[rows[plain_of], plain_kind].astype(np.int64),
        unseen[plain_game, plain_kind],
        kinds,
        *_grouped(table, rows, counts, unseen, games, kinds),
    )


def _grouped(
    table: SheetTable, rows: Whole, counts: Whole, unseen: Whole, games: Whole, kinds: Whole
) -> tuple[Whole, Whole, Whole, Whole]:
    """Held, real, loose and unseen for the four kinds of each variant; all zero where there are fewer."""
    real = table.real[rows[:, None], kinds].astype(np.int64)
    loose = table.loose[rows[:, None], kinds].astype(np.int64)
    there = loose > 0
    return counts[games[:, None], kinds] * there, real, loose, unseen[games[:, None], kinds] * there
