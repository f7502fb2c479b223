"""How alike hands are, and how they are paired: judged by SciPy, by bounds and by slow counts."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise
from random import Random

import numpy as np
import pytest
from counted_slowly import shared_tiles
from depth import deep
from random_sheets import random_sheet
from scipy.optimize import linear_sum_assignment

from engine.sheet.compare.pairing import best_pairs, ways
from engine.sheet.likeness import MOVES, SAME, Coder, forms_of, moved, neighbours
from engine.sheet.shelf import find


@pytest.mark.parametrize("rows", [1, 4, 9])
@pytest.mark.parametrize("columns", [1, 5, 9])
def test_pairing_against_scipy(rows: int, columns: int) -> None:
    """The sum of a pairing is that of SciPy's `linear_sum_assignment`."""
    chance = Random(rows * 10 + columns)
    for _ in range(30):
        worth = [[chance.choice((0.0, 1.0, 20 * chance.random())) for _ in range(columns)] for _ in range(rows)]
        found = best_pairs(worth)
        assert (
            len(found) == len({row for row, _ in found}) == len({column for _, column in found}) == min(rows, columns)
        )
        best = linear_sum_assignment(np.array(worth), maximize=True)
        assert sum(worth[row][column] for row, column in found) == pytest.approx(np.array(worth)[best].sum())


def test_pairing_nothing() -> None:
    """No rows or no columns: no pairs."""
    assert best_pairs([]) == best_pairs([[], []]) == []


def test_likeness_is_the_same_from_both_sides_and_whole_with_itself() -> None:
    """28 with itself, less with any other hand, and the same from both sides."""
    forms = forms_of(find("lantern-street").hands[:25], Coder())
    for one in forms:
        for other in forms:
            assert one.alike(other) == other.alike(one)
            assert (one.alike(other) == SAME) == (ways(one.hand) == ways(other.hand))


def shared_slowly(one, other) -> int:
    """Tiles that two lists of moved groups have in common, and again those of whole groups, counted one by one."""
    tiles = [Counter(place for size, place in groups for _ in range(size)) for groups in (one, other)]
    return (tiles[0] & tiles[1]).total() + sum(size for size, _ in (Counter(one) & Counter(other)).elements())


def test_likeness_against_a_slow_count() -> None:
    """The best that each form of the other hand has to offer, over all moves of this one, in the mean over both."""
    hands = find("lantern-street").hands
    forms = forms_of((hands[0], hands[7], hands[20], hands[-1], random_sheet(3, 1).hands[0]), Coder())
    for one, other in pairwise(forms):
        table = [
            [
                max(shared_slowly(moved(way.groups, *move), moved(theirs.groups, *MOVES[0])) for move in MOVES)
                for theirs in other.first
            ]
            for way in one.first
        ]
        best = [max(row) for row in table] + [max(column) for column in zip(*table, strict=True)]
        assert one.alike(other) == pytest.approx(sum(best) / len(best))


@pytest.mark.slow
def test_the_quick_bound_of_likeness_is_a_bound() -> None:
    """No pair of hands is more alike than the bound says, and a hand reaches the bound with itself."""
    forms = forms_of(find("lantern-street").hands[::2], Coder())
    for one in forms:
        assert one.alike_at_most(one) == SAME
        for other in forms:
            assert one.alike(other) <= one.alike_at_most(other) == other.alike_at_most(one)


@pytest.mark.parametrize("seed", range(deep(2, 3)))
@pytest.mark.slow
def test_forms_are_what_no_move_makes_from_one_another(seed: int) -> None:
    """Every variant is a move of exactly one form's first variant, tried out move by move."""
    for hand in (*random_sheet(seed, 4).hands, *find("lantern-street").hands[6:12]):
        (form,) = forms_of([hand], Coder())
        made = [[sorted(moved(first.groups, *move)) for move in MOVES] for first in form.first]
        for variant in hand.variants:
            here = sorted(moved(variant.groups, *MOVES[0]))
            assert sum(here in ways for ways in made) == 1, (hand.name, variant)


def test_neighbours_against_a_slow_count() -> None:
    """The nearest three hands and the tiles shared, counted one by one."""
    sheet = find("first-steps")
    keys = {
        hand.name: [tuple((group.size, str(group.kind)) for group in variant.groups) for variant in hand.variants]
        for hand in sheet.hands
    }
    for one in sheet.hands[:4]:
        means = {
            other: sum(max(shared_tiles(way, theirs) for theirs in keys[other]) for way in keys[one.name])
            / len(keys[one.name])
            for other in keys
            if other != one.name
        }
        found = neighbours(one, sheet.hands)
        assert [mean for _, mean in found] == pytest.approx(sorted(means.values(), reverse=True)[:3])
        assert all(means[other.name] == pytest.approx(mean) for other, mean in found)
