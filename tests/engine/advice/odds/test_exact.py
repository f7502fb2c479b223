"""Exact odds, fast against counting with whole numbers."""

from random import Random

import numpy as np
import plain_advice as plain
import pytest

from engine.advice.odds.exact import exact
from engine.advice.table import SheetTable
from engine.sheet.groups import Group, Variant
from engine.tiles import JOKER, KINDS, full_set

CLOSE = 1e-10


def table_of(variants, jokers=8):
    """A table of these variants, one hand each."""
    return SheetTable.of(plain.sheet_of(*([variant] for variant in variants)), jokers)


@pytest.mark.parametrize("jokers", [0, 1, 2, 5, 8, 10])
@pytest.mark.slow
def test_odds_agree_with_counting(jokers):
    """For random racks, variants and numbers of draws, from none to all, odds equal favourable over all choices."""
    random = Random(jokers)
    table = table_of([plain.random_variant(random, jokers) for _ in range(60)], jokers)
    rows = np.arange(len(table))
    for trial in range(30):
        rack, unseen = plain.random_rack(random, 13 + trial % 2, jokers, random.choice((0, 0, 20, 70, 110)))
        total = sum(unseen)
        draws = random.choice((0, 1, 2, 7, total // 3, total // 2, total - 1, total))
        fast = exact(table, rows, rack, unseen, draws)
        for row, variant in enumerate(table.variants):
            slow = plain.odds(variant, rack, unseen, draws)
            assert abs(fast[row] - float(slow)) < CLOSE
            assert (fast[row] == 0) == (slow == 0), "only what can't be finished has no odds"


@pytest.mark.slow
def test_near_racks_have_the_odds_counted():
    """Racks a few tiles from a hand, where the odds are large, agree too."""
    random = Random(3)
    for _ in range(80):
        variant = plain.random_variant(random)
        rack = [min(total, copies) for total, copies in zip(variant.total, full_set(0), strict=True)]
        for _ in range(random.randrange(1, 5)):
            rack[random.choice([kind for kind in range(KINDS) if rack[kind]])] -= 1
        unseen = [copies - held for copies, held in zip(full_set(8), rack, strict=True)]
        for draws in (1, 10, 40, 99):
            slow = float(plain.odds(variant, rack, unseen, draws))
            assert abs(exact(table_of([variant]), np.array([0]), rack, unseen, draws)[0] - slow) < CLOSE


def test_no_draws():
    """Without a draw a finished variant has odds of one and any other none."""
    variant = Variant((Group(4, 0), Group(4, 1), Group(4, 2), Group(2, 3)))
    table = table_of([variant])
    rack = list(variant.total)
    unseen = [copies - held for copies, held in zip(full_set(), rack, strict=True)]
    assert exact(table, np.array([0]), rack, unseen, 0).tolist() == [1.0]
    rack[0], rack[JOKER] = 3, 1
    assert exact(table, np.array([0]), rack, unseen, 0).tolist() == [1.0]
    rack[3], rack[JOKER] = 1, 2
    assert exact(table, np.array([0]), rack, unseen, 0).tolist() == [0.0]


def test_a_complete_hand_is_certain():
    """Not nearly certain: with any number of draws its odds are one, to the last digit."""
    variant = Variant((Group(4, 0), Group(4, 1), Group(4, 2), Group(2, 3)))
    rack = list(variant.total)
    rack[1], rack[JOKER] = 3, 1
    unseen = [copies - held for copies, held in zip(full_set(), rack, strict=True)]
    odds = [exact(table_of([variant]), np.array([0]), rack, unseen, draws)[0] for draws in range(0, 139, 6)]
    assert set(odds) == {1.0}


@pytest.mark.parametrize("draws", [-1, 139])
def test_draws_out_of_range(draws):
    """Draws below none or above the tiles unseen are refused with what to choose."""
    table = table_of([plain.random_variant(Random(1))])
    rack, unseen = plain.random_rack(Random(2), 14)
    with pytest.raises(ValueError, match="choose 0 to 138"):
        exact(table, np.array([0]), rack, unseen, draws)


def test_a_part_of_the_rows():
    """Odds come for the rows asked for, in their order, and for none."""
    random = Random(4)
    table = table_of([plain.random_variant(random) for _ in range(30)])
    rack, unseen = plain.random_rack(random)
    whole = exact(table, np.arange(30), rack, unseen, 40)
    some = np.array([7, 3, 29])
    assert np.allclose(exact(table, some, rack, unseen, 40), whole[some], atol=CLOSE)
    assert exact(table, np.array([], int), rack, unseen, 40).shape == (0,)
