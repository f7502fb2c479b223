"""Odds and tiles missing against sources outside: SciPy's distributions, a published example, literal enumeration, and
an integer program."""

from itertools import combinations, product
from random import Random

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.stats import hypergeom, multivariate_hypergeom

from engine.advice.odds.exact import exact
from engine.advice.odds.reach import missing
from engine.advice.table import SheetTable
from engine.sheet.groups import Group, Variant
from engine.sheet.model import Hand, Section, Sheet
from engine.sheet.shelf import find
from engine.tiles import DOTS, FLOWER, JOKER, KINDS, WINDS, counts_of, full_set

CLOSE = 1e-10


def table_of(*variants):
    """A table of one hand with these variants."""
    hand = Hand("Only", "Only", (), (), "", False, 25, "", variants)
    return SheetTable.of(Sheet("Test", "2026", "the tests", (Section("Only", (hand,)),), repr(variants)))


def odds(variant, counts, unseen, draws):
    """The engine's exact odds for one variant."""
    return exact(table_of(variant), np.array([0]), counts, unseen, draws)[0]


def hidden(**copies):
    """36 counts of unseen tiles: flowers, jokers, some of each numbered dot, and `others` among tiles of no use."""
    counts = [0] * KINDS
    counts[FLOWER] = copies.get("flowers", 0)
    counts[JOKER] = copies.get("jokers", 0)
    for dot, kind in enumerate(DOTS, 1):
        counts[kind] = copies.get(f"dot{dot}", 0)
    others = copies.get("others", 0)
    for kind in range(18):
        counts[kind] = min(4, others)
        others -= counts[kind]
    assert others == 0
    return tuple(counts)


@pytest.mark.parametrize("needed", range(5, 9))
def test_one_kind_against_hypergeom(needed):
    """Waiting for several tiles of one kind is the upper tail of SciPy's hypergeometric distribution."""
    variant = Variant((*(Group(1, FLOWER),) * needed, *(Group(1, WINDS[0]),) * (9 - needed), Group(5, DOTS[0])))
    rack = counts_of([WINDS[0]] * (9 - needed) + [DOTS[0]] * 4 + [JOKER])
    assert missing(table_of(variant), rack)[0] == needed
    for others, draws in product((10, 64), (1, 5, 12)):
        unseen = hidden(flowers=8, others=others)
        expected = hypergeom.sf(needed - 1, others + 8, 8, min(draws, others + 8))
        assert abs(odds(variant, rack, unseen, draws) - expected) < CLOSE


def test_two_pairs_against_multivariate_hypergeom():
    """Two pairs to come: the sum of SciPy's multivariate hypergeometric probabilities that have enough of both."""
    variant = Variant((Group(2, DOTS[1]), Group(2, DOTS[2]), Group(4, DOTS[3]), Group(6, DOTS[4])))
    rack = counts_of([DOTS[3]] * 4 + [DOTS[4]] * 4 + [JOKER] * 2 + [DOTS[1]])
    unseen = hidden(dot2=3, dot3=4, others=50)
    for draws in (3, 10, 25, 57):
        numbers = [(a, b) for a in range(1, 4) for b in range(2, 5) if a + b <= draws]
        expected = sum(multivariate_hypergeom.pmf([a, b, draws - a - b], [3, 4, 50], draws) for a, b in numbers)
        assert abs(odds(variant, rack, unseen, draws) - expected) < CLOSE


def test_jokers_against_multivariate_hypergeom():
    """Kong and quint to come, and a pair: jokers drawn fill kong and quint, whatever is left over, but not the pair."""
    variant = Variant((Group(2, DOTS[0]), Group(4, DOTS[1]), Group(5, DOTS[2]), Group(3, DOTS[3])))
    rack = counts_of([DOTS[0], DOTS[1], DOTS[1], DOTS[1], DOTS[2], DOTS[2], DOTS[2], *[DOTS[3]] * 3, JOKER])
    unseen = hidden(dot1=3, dot2=1, dot3=1, jokers=5, others=40)
    copies = [3, 1, 1, 5, 40]
    for draws in (2, 8, 20):
        expected = 0.0
        for pair, kong, quint, jokers in product(range(4), range(2), range(2), range(6)):
            rest = draws - pair - kong - quint - jokers
            gaps = 1 - kong + 2 - quint
            if rest >= 0 and pair >= 1 and gaps <= 1 + jokers:
                expected += multivariate_hypergeom.pmf([pair, kong, quint, jokers, rest], copies, draws)
        assert abs(odds(variant, rack, unseen, draws) - expected) < CLOSE


def test_the_lady_tasting_tea():
    """R. A. Fisher, The Design of Experiments (1935), chapter II: of eight cups, four with the milk poured first, four
    are picked; all four are right in 1 of 70 ways, three or more in 17 of 70. Values from memory."""
    four = Variant((*(Group(1, DOTS[0]),) * 4, Group(6, DOTS[1]), Group(4, DOTS[2])))
    rack = counts_of([DOTS[1]] * 4 + [DOTS[2]] * 4 + [JOKER] * 2)
    cups = hidden(dot1=4, others=4)
    assert abs(odds(four, rack, cups, 4) - 1 / 70) < CLOSE
    three = (*rack[: DOTS[0]], 1, *rack[DOTS[0] + 1 :])
    assert abs(odds(four, three, cups, 4) - 17 / 70) < CLOSE


def test_the_urn_of_fifty_marbles():
    """Wikipedia, "Hypergeometric distribution", working example: 5 green and 45 red marbles, ten drawn; exactly four
    green 0.003964583, all five 0.0001189375. Values from memory."""
    rack = counts_of([DOTS[1]] * 4 + [JOKER] * 2)
    urn = hidden(flowers=5, others=45)
    four = Variant((*(Group(1, FLOWER),) * 4, Group(6, DOTS[1]), Group(4, DOTS[2])))
    five = Variant((*(Group(1, FLOWER),) * 5, Group(6, DOTS[1]), Group(3, DOTS[2])))
    rack = counts_of([DOTS[1]] * 4 + [DOTS[2]] * 4 + [JOKER] * 2)
    assert abs(odds(five, rack, urn, 10) - 0.0001189375) < 1e-10
    assert abs(odds(four, rack, urn, 10) - (0.003964583 + 0.0001189375)) < 1e-9


def makes(variant, tiles):
    """Whether tiles hold the variant, by filling its groups one after the other, singles and pairs first."""
    left = list(tiles)
    for group in sorted(variant.groups, key=lambda group: group.takes_jokers):
        for _ in range(group.size):
            if group.kind in left:
                left.remove(group.kind)
            elif group.takes_jokers and JOKER in left:
                left.remove(JOKER)
            else:
                return False
    return True


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.slow
def test_odds_against_listing_every_draw(seed):
    """With few tiles unseen, odds are the share of all possible draws, listed one by one, that make the variant."""
    random = Random(seed)
    variant = random.choice([v for hand in find("lantern-street").hands for v in hand.variants])
    rest = list(full_set())
    rack = []
    for group in variant.groups:
        for _ in range(group.size):
            if rest[group.kind] and random.random() < 0.8:
                rest[group.kind] -= 1
                rack.append(group.kind)
    rack += [JOKER] * random.randrange(2)
    rack = rack[:13]
    useful = [group.kind for group in variant.groups if rest[group.kind]] + [JOKER]
    pool = [random.choice(useful) for _ in range(6)] + [random.randrange(JOKER) for _ in range(7)]
    unseen = [min(count, 8 if kind >= FLOWER else 4) for kind, count in enumerate(counts_of(pool))]
    pool = [kind for kind, count in enumerate(unseen) for _ in range(count)]
    for draws in (1, 3, 5):
        drawn = list(combinations(pool, draws))
        expected = sum(makes(variant, [*rack, *some]) for some in drawn) / len(drawn)
        assert abs(odds(variant, counts_of(rack), unseen, draws) - expected) < CLOSE


def fewest_to_come(variant, counts):
    """Tiles missing as an integer program (SciPy's `milp`): of each group so many places are filled with real tiles
    from the rack, with jokers from the rack where it has three or more, and with tiles to come; the last are fewest."""
    groups = variant.groups
    size = len(groups)
    kinds = sorted({group.kind for group in groups})
    rows, low, high = [], [], []
    for place, group in enumerate(groups):
        row = np.zeros(3 * size)
        row[[place, size + place, 2 * size + place]] = 1
        rows.append(row)
        low.append(group.size)
        high.append(group.size)
    for kind in kinds:
        row = np.zeros(3 * size)
        row[[place for place, group in enumerate(groups) if group.kind == kind]] = 1
        rows.append(row)
        low.append(0)
        high.append(counts[kind])
    row = np.zeros(3 * size)
    row[size : 2 * size] = 1
    rows.append(row)
    low.append(0)
    high.append(counts[JOKER])
    most = [group.size for group in groups]
    jokers = [group.size if group.size >= 3 else 0 for group in groups]
    solved = milp(
        np.concatenate((np.zeros(2 * size), np.ones(size))),
        constraints=LinearConstraint(np.array(rows), low, high),
        bounds=Bounds(np.zeros(3 * size), np.array([*most, *jokers, *most])),
        integrality=np.ones(3 * size),
    )
    assert solved.success
    return round(solved.fun)


@pytest.mark.slow
def test_tiles_missing_against_an_integer_program():
    """For random racks and variants, tiles missing is the optimum of the integer program."""
    random = Random(77)
    table = SheetTable.of(find("lantern-street"))
    wall = [kind for kind, copies in enumerate(full_set()) for _ in range(copies)]
    for trial in range(40):
        random.shuffle(wall)
        rack = counts_of(wall[: 13 + trial % 2])
        short = missing(table, rack)
        for row in random.sample(range(len(table)), 10):
            assert short[row] == fewest_to_come(table.variants[row], rack)
