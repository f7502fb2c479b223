"""Bounds of single variants, worked by hand where they have a closed form."""

from math import comb

import numpy as np
import plain_advice as plain
import pytest

from engine.advice.endgame.bounds import bounds
from engine.advice.endgame.positions import Level, Wanted
from engine.advice.endgame.standing import LevelStanding
from engine.advice.table import SheetTable
from engine.sheet.groups import Group, Variant
from engine.tiles import counts_of, parse_tiles


def bounds_of(variant, rack, unseen, draws):
    """The bounds of one variant alone."""
    table = SheetTable.of(plain.sheet_of([variant]))
    wanted = Wanted.of(table, np.array([0]))
    look = LevelStanding(Level.of(wanted, np.array(rack), np.array(unseen)))
    return bounds(look, look.lost(draws), draws, sum(unseen))


@pytest.mark.parametrize("jokers", [0, 1, 3])
@pytest.mark.parametrize("flowers", [2, 3, 5])
def test_a_larger_group_counts_every_set_that_fills_it(flowers, jokers):
    """Two tiles are missing from a group: just two of the flowers and jokers that are unseen fill it, so the bound is
    their number of pairs, times the chance of each pair within one, two and three draws."""
    variant = Variant((Group(5, 0), Group(4, 1), Group(5, 34)))
    rack = counts_of(parse_tiles("4x1b jk 4x2b fl fl fl 9c 9d"))
    unseen = counts_of(parse_tiles(f"{flowers}xfl {f'{jokers}xjk' if jokers else ''} we ws ww wn dr dg dw"))
    total, help_ = sum(unseen), flowers + jokers
    each = sum(comb(drawn, 2) / comb(total, 2) for drawn in (1, 2, 3))
    assert bounds_of(variant, rack, unseen, 3).most[0] == pytest.approx(comb(help_, 2) * each)


def test_a_tile_wanted_by_a_pair_and_by_a_group_is_not_counted_twice():
    """One kind is missing from a pair and from a larger group alike: nothing is promised at least, as the same tile
    would stand for both."""
    both = Variant((Group(2, 0), Group(3, 0), Group(4, 1), Group(5, 34)))
    rack = counts_of(parse_tiles("1b 4x2b 5xfl we ws ww wn"))
    unseen = counts_of(parse_tiles("3x1b 2xjk 2x9c"))
    found = bounds_of(both, rack, unseen, 5)
    assert found.least[0] == 0.0
    assert found.most[0] > 0.0
    apart = Variant((Group(2, 0), Group(3, 2), Group(4, 1), Group(5, 34)))
    assert bounds_of(apart, counts_of(parse_tiles("1b 4x2b 5xfl 3b 3b ws ww")), unseen, 5).least[0] > 0.0
