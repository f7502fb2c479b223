"""Numbers of variants against counting formulas, and facts of the trade about runs.

Sources: binomial coefficients and permutations from Python's `math`; Dirichlet's divisor sum for products up to n
(A006218 in the On-Line Encyclopedia of Integer Sequences, the value for 9 from memory); the facts about runs are
common practice, no source.
"""

from __future__ import annotations

from collections import Counter
from itertools import pairwise
from math import comb, factorial, perm

import pytest

from engine.sheet.clauses import parse_where
from engine.sheet.groups import Variant, size_name
from engine.sheet.model import Line
from engine.sheet.parsing import parse_groups
from engine.sheet.variants import expand
from engine.tiles import rank_of


def made(text: str, where: str = "") -> tuple[Variant, ...]:
    patterns = parse_groups(text).patterns
    return expand([Line(patterns, text)], parse_where(where).clauses if where else (), "2026")


def test_choices_of_winds() -> None:
    """Winds in groups alike are combinations, in groups of different sizes permutations."""
    assert len(made("quint wind u, quint wind v, kong flower", "u != v")) == comb(4, 2)
    assert len(made("quint wind u, pung wind v, sextet flower", "u != v")) == perm(4, 2)
    assert len(made("pung wind u, pung wind v, pung wind w, quint flower", "u != v; v != w; u != w")) == comb(4, 3)


@pytest.mark.parametrize(
    ("text", "suits"),
    [
        ("kong a.1, quint b.1, quint c.1", comb(3, 1)),
        ("kong a.1, quint b.2, quint c.3", factorial(3)),
        ("quint a.1, quint a.2, kong b.3", perm(3, 2)),
        ("pung a.1, pung b.1, pair flower, sextet zero", comb(3, 2)),
    ],
)
def test_choices_of_suits(text: str, suits: int) -> None:
    """Different letters are different suits: permutations, but for what looks the same."""
    assert len(made(text)) == suits


@pytest.mark.parametrize("count", [2, 3, 4])
def test_choices_of_numbers_in_one_suit(count: int) -> None:
    """So many different numbers of one suit, in pungs or pairs alike, are combinations of nine."""
    letters = "wxyz"[:count]
    size, rest = {2: ("quint", "kong flower"), 3: ("pung", "quint flower"), 4: ("pair", "sextet flower")}[count]
    text = ", ".join([*(f"{size} a.{letter}" for letter in letters), rest])
    rising = "; ".join(f"{low} < {high}" for low, high in pairwise(letters))
    assert len(made(text, rising)) == 3 * comb(9, count)


@pytest.mark.parametrize("length", range(2, 10))
def test_runs(length: int) -> None:
    """A run of so many numbers can begin at 9 - length + 1 places, in three suits."""
    groups = ["single a.n", *(f"single a.n+{step}" for step in range(1, length))]
    left = 14 - length
    if left > 6:
        groups.append("sextet flower")
        left -= 6
    assert len(made(", ".join([*groups, f"{size_name(left)} zero"]))) == 3 * (9 - length + 1)


def test_sums_and_products() -> None:
    """Sums x + y up to 9 are the pairs below the diagonal, products up to 9 the divisor sum of 9."""
    assert len(made("quint a.x, kong b.y, quint c.z", "x + y = z")) == 6 * comb(9, 2)
    assert len(made("single a.x, kong b.y, sextet c.z, pung flower", "x * y = z")) == 6 * 23  # A006218(9) = 23
    assert sum(9 // x for x in range(1, 10)) == 23


def standing(text: str, where: str = "") -> Counter[int]:
    """In how many variants of a hand each number stands."""
    counts: Counter[int] = Counter()
    for variant in made(text, where):
        counts.update({rank for group in variant.groups if (rank := rank_of(group.kind)) is not None})
    return counts


def test_five_stands_in_most_runs() -> None:
    """5 is the middle of 1 to 9, so no number stands in more runs; in runs of five it stands in every one."""
    fours = standing("pung a.n, pair a.n+1, quint a.n+2, kong a.n+3")
    fives = standing("pair a.n, quint a.n+1, single a.n+2, kong a.n+3, pair a.n+4")
    assert fours[5] == max(fours.values())
    assert fives[5] == max(fives.values()) == 5 * 3
    assert all(fives[rank] < fives[5] for rank in range(1, 10) if rank != 5)


def test_odd_runs_share_the_five() -> None:
    """1-3-5 and 5-7-9 share the 5, and nothing else."""
    low = standing("quint a.n, pung a.n+2, sextet a.n+4", "n in 1")
    high = standing("quint a.n, pung a.n+2, sextet a.n+4", "n in 5")
    assert set(low) & set(high) == {5}
