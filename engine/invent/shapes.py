"""Shapes that our sheets keep away from, and the way they lean instead.

Printed sheets come back to the same shapes year after year. A sheet of ours never falls into them, so that it is
plainly another and a player meets what is new. What is looked at is one line of groups with its clauses.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from engine.sheet.clauses import Clause, Reckon
from engine.sheet.notation import (
    Dragon,
    DragonOf,
    EachDragon,
    EachWind,
    Flower,
    Number,
    Pattern,
    Season,
    Wind,
    Zero,
)

PAIR, PUNG, KONG, QUINT = 2, 3, 4, 5


def too_like(line: Sequence[Pattern], where: Sequence[Clause], season: str) -> str | None:
    """Which worn shape a line of groups falls into, in a few words; None for a line that is free of them."""
    seen = _Seen.of(line, where, season)
    for said, found in _WORN:
        if found(seen):
            return said
    return None


def leans(line: Sequence[Pattern], season: str) -> bool:
    """Whether a line leans our way: a group of five or six, or at least three sizes, or numbers of several suits with a
    gap between them."""
    seen = _Seen.of(line, (), season)
    ranks = sorted({number.offset for _, number in seen.numbers})
    gap = any(after - before > 1 for before, after in pairwise(ranks))
    suits = {number.suit for _, number in seen.numbers}
    return max(seen.sizes) >= QUINT or len(set(seen.sizes)) >= 3 or (gap and len(suits) > 1)


@dataclass(frozen=True)
class _Seen:
    """What a line is made of."""

    sizes: tuple[int, ...]
    """Of all groups, as they are written."""
    numbers: tuple[tuple[int, Number], ...]
    """Size and tile of the groups of numbers."""
    flowers: bool
    winds: int
    """Groups of winds."""
    dragons: int
    """Groups of dragons."""
    season: bool
    zero: bool
    sum: bool

    @classmethod
    def of(cls, line: Sequence[Pattern], where: Sequence[Clause], season: str) -> _Seen:
        sizes = tuple(size for pattern in line for size in [pattern.size] * pattern.groups(season))
        tiles = [pattern.tile for pattern in line]
        return cls(
            sizes,
            tuple((pattern.size, pattern.tile) for pattern in line if isinstance(pattern.tile, Number)),
            any(isinstance(tile, Flower) for tile in tiles),
            sum(4 if isinstance(tile, EachWind) else isinstance(tile, Wind) for tile in tiles),
            sum(3 if isinstance(tile, EachDragon) else isinstance(tile, Dragon | DragonOf) for tile in tiles),
            any(isinstance(tile, Season) for tile in tiles),
            any(isinstance(tile, Zero) for tile in tiles),
            any(isinstance(clause, Reckon) for clause in where),
        )

    @property
    def sorted_sizes(self) -> tuple[int, ...]:
        return tuple(sorted(self.sizes))

    @property
    def sizes_by_number(self) -> tuple[int, ...]:
        """Of the groups of numbers, from the lowest up."""
        return tuple(size for size, _ in sorted(self.numbers, key=lambda one: (one[1].variable or "", one[1].offset)))

    def alike(self, size: int) -> int:
        """How many groups of so many tiles stand for the same number in different suits."""
        ranks = Counter((number.variable, number.offset) for of, number in self.numbers if of == size)
        return max(ranks.values(), default=0)

    def in_step(self, sizes: set[int]) -> int:
        """How many groups of these sizes stand in one suit at equal distances: three for 2, 4, 6."""
        rows: dict[tuple[str, str | None], set[int]] = {}
        for size, number in self.numbers:
            if size in sizes:
                rows.setdefault((number.suit, number.variable), set()).add(number.offset)
        return max((_longest_step(ranks) for ranks in rows.values()), default=0)


def _longest_step(ranks: set[int]) -> int:
    """The most of these numbers that follow each other at one distance, 1 to 4."""
    best = 1
    for first in ranks:
        for step in range(1, 5):
            length = 1
            while first + step * length in ranks:
                length += 1
            best = max(best, length)
    return best


_WORN: tuple[tuple[str, Callable[[_Seen], bool]], ...] = (
    ("three kongs and a pair", lambda seen: seen.sorted_sizes == (2, 4, 4, 4)),
    ("threes and fours only", lambda seen: set(seen.sizes) <= {PUNG, KONG}),
    ("two, three, four, three, two", lambda seen: (2, 3, 4, 3, 2) in (seen.sizes, seen.sizes_by_number)),
    ("seven pairs", lambda seen: set(seen.sizes) == {PAIR}),
    ("four winds with dragons", lambda seen: seen.winds >= 4 and seen.dragons > 0),
    ("winds around two like kongs", lambda seen: seen.winds >= 2 and seen.alike(KONG) >= 2),
    (
        "a sum of kongs with flowers",
        lambda seen: seen.sum and seen.flowers and sum(size == KONG for size, _ in seen.numbers) >= 2,
    ),
    (
        "a season with two equal groups and flowers",
        lambda seen: (
            seen.season
            and seen.flowers
            and max(Counter(size for size, _ in seen.numbers if size >= PUNG).values(), default=0) >= 2
        ),
    ),
    ("three pungs or kongs in step in one suit", lambda seen: seen.in_step({PUNG, KONG}) >= 3),
    ("four groups in step in one suit", lambda seen: seen.in_step({2, 3, 4, 5, 6}) >= 4),
    ("three like kongs", lambda seen: seen.alike(KONG) >= 3),
    ("two like kongs with flowers", lambda seen: seen.alike(KONG) >= 2 and seen.flowers),
    ("two like quints with flowers", lambda seen: seen.alike(QUINT) >= 2 and seen.flowers),
    (
        "four winds around one number",
        lambda seen: seen.winds >= 4 and len({(number.variable, number.offset) for _, number in seen.numbers}) == 1,
    ),
    (
        "the year's digits in pungs and kongs",
        lambda seen: seen.zero and set(seen.sizes) <= {1, PUNG, KONG},
    ),
    (
        "four winds and pairs of two numbers in two suits",
        lambda seen: seen.winds >= 4 and seen.alike(PAIR) >= 2 and max(seen.sizes) <= PAIR,
    ),
    (
        "a quint, a kong, a pung in a row with a pair of flowers",
        lambda seen: seen.sorted_sizes == (2, 3, 4, 5) and seen.flowers and seen.in_step({3, 4, 5}) >= 3,
    ),
)
"""What each worn shape is called, and how it is found. Which shapes they are is common practice, from memory."""
