"""Positions near the end of a quiet game: many at once, each cut down to what can still matter, no two alike.

A position is a rack and the unseen tiles. Only kinds that some variant needs are stored, one byte for each kind: tiles
held in the low half, unseen tiles in the high half. Each position has a list of the variants that can still be
finished. An entry of this list is called a pair: a position and a variant.

Positions with the same bytes, the same rack size and as many draws left are one: the best play is the same from both.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from engine.advice.table import Bytes, SheetTable, Truth, Whole
from engine.tiles import JOKER

Small = npt.NDArray[np.int8]


@dataclass(frozen=True, eq=False)
class Wanted:
    """What V variants want of the K kinds that any of them uses.

    Each kind is a column, 0 to K - 1; jokers are the last one. A set of columns is a whole number, one bit for each. A
    variant lists its kinds in G places. Places that it doesn't need hold column K, which is always empty.
    """

    kinds: Whole
    """[K] the kind of each column."""
    columns: Whole
    """[G, V] the column of each place."""
    bits: Whole
    """[G, V] the same as a set; empty where a place is not used."""
    places: Whole
    """[V, K + 1] the place of each column; G for jokers, G + 1 for a column that the variant doesn't use."""
    real: Small
    """[G, V] tiles in singles and pairs."""
    total: Small
    """[G, V] tiles in all groups."""
    loose: Small
    """[V] tiles in larger groups: the most jokers that the variant can use."""
    all: Whole
    """[V] every column that the variant uses, jokers too where it can use one."""
    copies: Whole
    """[., V] the columns of which the variant uses more than 0, more than 1, ... tiles, jokers apart."""

    @classmethod
    def of(cls, table: SheetTable, rows: Whole) -> Wanted:
        """What these rows of the table want; there is at least one."""
        kinds = np.append(np.flatnonzero(table.total[rows, :JOKER].any(axis=0)), JOKER)
        last = len(kinds) - 1
        total = table.total[rows][:, kinds[:last]]
        used = np.sort(np.where(total > 0, np.arange(last), last + 1), axis=1)
        columns = used[:, : int((total > 0).sum(axis=1).max())].T
        bits = np.where(columns < last, 1 << columns, 0)
        places = np.full((len(rows), last + 2), len(columns) + 1)
        places[np.arange(len(rows)), columns] = np.arange(len(columns))[:, None]
        places[:, last], places[:, last + 1] = len(columns), len(columns) + 1
        fill = ((0, 0), (0, 2))
        real = np.pad(table.real[rows][:, kinds[:last]], fill)[np.arange(len(rows)), columns].astype(np.int8)
        whole = np.pad(total, fill)[np.arange(len(rows)), columns].astype(np.int8)
        loose = table.loose[rows].sum(axis=1).astype(np.int8)
        every = np.bitwise_or.reduce(bits, axis=0) | np.where(loose > 0, 1 << last, 0)
        copies = [np.bitwise_or.reduce(np.where(whole > number, bits, 0), axis=0) for number in range(int(whole.max()))]
        return cls(kinds, columns, bits, places, real, whole, loose, every, np.stack(copies))

    @property
    def size(self) -> int:
        """K, the number of columns."""
        return len(self.kinds)

    @property
    def joker(self) -> int:
        """Jokers as a set of columns."""
        return 1 << (len(self.kinds) - 1)

    @property
    def width(self) -> int:
        """Bytes of a position: a multiple of eight, with an empty column at the end."""
        return (self.size // 8 + 1) * 8

    def among(self, sets: Whole) -> Truth:
        """[n, K] whether each column is in each of n sets."""
        octets = sets.astype("<i8").view(np.uint8).reshape(-1, 8)
        return np.unpackbits(octets, axis=1, count=self.size, bitorder="little").view(np.bool_)


@dataclass(frozen=True, eq=False)
class Level:
    """P positions with as many draws left, and their n pairs, position by position."""

    wanted: Wanted
    states: Bytes
    """[P, width]"""
    number: Whole
    """[P] pairs of each position, at least one."""
    row: Whole
    """[n] the variant of each pair."""

    @classmethod
    def of(cls, wanted: Wanted, rack: Whole, unseen: Whole) -> Level:
        """The one position of a rack and the unseen tiles, given as 36 counts each, with all variants."""
        state = np.zeros((1, wanted.width), np.uint8)
        state[0, : wanted.size] = rack[wanted.kinds] + 16 * unseen[wanted.kinds]
        variants = len(wanted.all)
        return cls(wanted, state, np.array([variants]), np.arange(variants))

    def __len__(self) -> int:
        return len(self.states)

    def blocks(self, pairs: int) -> Iterator[tuple[int, Level]]:
        """The level cut into parts of about so many pairs, each with the place of its first position. Arrays that fit
        into the processor's cache are several times as fast."""
        ends = np.cumsum(self.number)
        cuts = np.searchsorted(ends, np.arange(0, ends[-1] if len(ends) else 0, pairs), side="left")
        cuts = np.unique(np.append(cuts, len(self)))
        before = 0
        for low, high in pairwise(cuts.tolist()):
            after = int(ends[high - 1])
            yield low, Level(self.wanted, self.states[low:high], self.number[low:high], self.row[before:after])
            before = after

    @cached_property
    def starts(self) -> Whole:
        """[P] the first pair of each position."""
        starts: Whole = np.cumsum(self.number) - self.number
        return starts

    @cached_property
    def held(self) -> Bytes:
        """[P, K]"""
        return self.states[:, : self.wanted.size] & np.uint8(15)

    @cached_property
    def unseen(self) -> Bytes:
        """[P, K]"""
        return self.states[:, : self.wanted.size] >> np.uint8(4)

    def union(self, sets: Whole) -> Whole:
        """[P] the sets of columns [n] of all pairs of each position together."""
        together: Whole = np.bitwise_or.reduceat(sets, self.starts) if len(self) else self.starts
        return together


@dataclass(frozen=True, eq=False)
class Reached:
    """Where E steps from the positions of a level lead: R positions with their pairs. Some may still be alike."""

    steps: int
    """E"""
    step: Whole
    """[R] the step that leads to each. The other steps lead to where no variant can be finished."""
    states: Bytes
    """[R, width]"""
    number: Whole
    """[R] pairs of each."""
    row: Whole
    """[m] the variant of each pair."""


DRAW, DISCARD, IDLE = 1 - 16, -1, -16
"""What a step adds to the byte of a kind: a tile is drawn; one is let go; one is drawn and let go at once."""


def reached(level: Level, parent: Whole, column: Whole, change: int, left: Whole, seen: Whole) -> Reached:
    """The steps from positions `parent` [E] by one tile of `column` [E]; column K stands for kinds that don't matter.

    `left` [n] is the set of columns after whose tile the pair can still be finished. `seen` is what `after_draw` or
    `after_discard` says.
    """
    wanted, size = level.wanted, level.wanted.size
    number = level.number[parent]
    step = np.repeat(np.arange(len(parent)), number)
    source = np.repeat(level.starts[parent] - np.cumsum(number) + number, number)
    source += np.arange(len(step))
    moved = np.repeat(column, number)
    kept = np.flatnonzero((left[source] >> moved) & 1)
    step, source = step[kept], source[kept]
    row = level.row[source]
    place = wanted.places.ravel().take(row * (size + 1) + moved[kept])
    matter = seen.ravel().take(place * len(level.row) + source)
    starts = np.flatnonzero(np.diff(step, prepend=-1))
    if not len(starts):
        return Reached(len(parent), starts, level.states[:0], starts, starts)
    step = step[starts]
    moved, states = column[step], level.states[parent[step]]
    states[np.arange(len(step)), moved] += np.where(moved < size, change, 0).astype(np.uint8)
    whole = states[:, :size]
    most = np.zeros((len(step), size), np.uint8)
    for more in wanted.copies[: (whole[:, :-1] & 15).max(initial=0)]:
        most += wanted.among(np.bitwise_or.reduceat(more[row], starts))
    most[:, -1] = np.maximum.reduceat(wanted.loose[row], starts)
    whole[:] = (whole & 240) * wanted.among(np.bitwise_or.reduceat(matter, starts)) | np.minimum(whole & 15, most)
    return Reached(len(parent), step, states, np.diff(starts, append=len(row)), row)


def settled(wanted: Wanted, parts: Sequence[Reached]) -> tuple[Level, Whole]:
    """The different positions that the steps lead to, and for each step which one: -1 where no variant is left."""
    first_step = np.cumsum([0, *(one.steps for one in parts)])
    none = np.zeros(0, np.int64)
    states = np.concatenate([np.zeros((0, wanted.width), np.uint8), *(one.states for one in parts)])
    number = np.concatenate([none, *(one.number for one in parts)])
    row = np.concatenate([none, *(one.row for one in parts)])
    step = np.concatenate([none, *(one.step + before for one, before in zip(parts, first_step, strict=False))])
    to = np.full(first_step[-1], -1)
    first, place = merged(states)
    to[step] = place
    starts = (np.cumsum(number) - number)[first]
    number = number[first]
    pairs = np.arange(number.sum()) + np.repeat(starts - np.cumsum(number) + number, number)
    return Level(wanted, states[first], number, row[pairs]), to


def merged(states: Bytes) -> tuple[Whole, Whole]:
    """The first place of each different row of [E, width], and [E] which of these rows each one equals."""
    words = states.view(np.uint64)
    if not len(words):
        return np.zeros(0, np.int64), np.zeros(0, np.int64)
    mixed = scrambled(words)
    order = np.argsort(mixed)
    new = np.diff(mixed[order], prepend=~mixed[order[:1]]) != 0
    first, to = order[new], np.empty(len(order), np.int64)
    to[order] = np.cumsum(new) - 1
    if not len(states):
        return order, order
    if (words[first][to] != words).any():  # two rows with one hash: not to be expected in a lifetime
        _, first, to = np.unique(words, axis=0, return_index=True, return_inverse=True)
    return first, to.reshape(-1)


def scrambled(words: npt.NDArray[np.uint64]) -> npt.NDArray[np.uint64]:
    """[E] a hash of each row of words: multiply by the golden ratio modulo 2^64, and shift."""
    mixed = np.zeros(len(words), np.uint64)
    for word in words.T:
        mixed = (mixed ^ word) * np.uint64(0x9E3779B97F4A7C15)
        mixed ^= mixed >> np.uint64(29)
    return mixed
