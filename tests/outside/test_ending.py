"""The exact ending against SciPy's hypergeometric distributions, where waiting is all there is to do."""

from itertools import product

import pytest
from scipy.stats import hypergeom, multivariate_hypergeom, nhypergeom

from engine.advice.endgame.search import exact_ending
from engine.advice.table import SheetTable
from engine.sheet.groups import Group, Variant
from engine.sheet.model import Hand, Section, Sheet
from engine.tiles import DOTS, FLOWER, JOKER, KINDS, WINDS, counts_of

CLOSE = 1e-12
SPARE = WINDS[3]


def table_of(*variants):
    """A table of one hand with these variants."""
    hand = Hand("Only", "Only", (), (), "", False, 25, "", variants)
    return SheetTable.of(Sheet("Test", "2026", "the tests", (Section("Only", (hand,)),), repr(variants)))


def hidden(others, **copies):
    """36 counts of unseen tiles: flowers, jokers, some of each numbered dot, and `others` among tiles of no use."""
    counts = [0] * KINDS
    counts[FLOWER] = copies.get("flowers", 0)
    counts[JOKER] = copies.get("jokers", 0)
    for dot, kind in enumerate(DOTS, 1):
        counts[kind] = copies.get(f"dot{dot}", 0)
    for kind in range(18):
        counts[kind] = min(4, others)
        others -= counts[kind]
    assert others == 0
    return tuple(counts)


@pytest.mark.parametrize(("dots", "jokers", "flowers"), [*product((0, 1), (0, 2), (0, 4))])
def test_one_draw_against_hypergeom(dots, jokers, flowers):
    """With one draw left, the chance is that of SciPy's hypergeometric distribution to draw one of the finishing copies
    among the unseen tiles. Two hands wait: one for a dot or a joker, the other for a flower."""
    one = Variant((Group(5, DOTS[0]), Group(5, DOTS[1]), Group(4, DOTS[2])))
    two = Variant((Group(4, DOTS[0]), Group(5, DOTS[1]), Group(4, DOTS[2]), Group(1, FLOWER)))
    rack = counts_of([DOTS[0]] * 3 + [DOTS[1]] * 4 + [DOTS[2]] * 4 + [JOKER] * 2 + [SPARE])
    unseen = hidden(60, dot1=dots, jokers=jokers, flowers=flowers)
    finishing = unseen[DOTS[0]] + jokers + flowers
    expected = hypergeom.pmf(1, sum(unseen), finishing, 1)
    found = exact_ending(table_of(one, two), rack, unseen, 1)
    assert abs(found.chance[SPARE] - expected) < CLOSE
    assert abs(found.worth[SPARE] - expected) < CLOSE


def waiting_for_flowers(needed):
    """A variant that wants so many flowers, and the tiles for the rest of it."""
    winds = ([WINDS[0]] * 4 + [WINDS[1]] * 4)[: 9 - needed]
    singles = (Group(1, kind) for kind in [FLOWER] * needed + winds)
    return Variant((*singles, Group(5, DOTS[0]))), [*winds, *[DOTS[0]] * 4, JOKER]


@pytest.mark.parametrize(("needed", "draws"), [(1, 1), (1, 5), (2, 3), (2, 6), (3, 4), (4, 6)])
@pytest.mark.slow
def test_one_kind_against_hypergeom(needed, draws):
    """Waiting for several tiles of one kind: the chance is the upper tail of SciPy's hypergeometric distribution, the
    worth the mean of these tails over the draws."""
    variant, pool = waiting_for_flowers(needed)
    for copies, others in product((needed, 8), (10, 64)):
        rack = counts_of(pool + [SPARE] * (14 - len(pool)))
        found = exact_ending(table_of(variant), rack, hidden(others, flowers=copies), draws)
        tails = [hypergeom.sf(needed - 1, others + copies, copies, drawn) for drawn in range(1, draws + 1)]
        assert abs(found.chance[SPARE] - tails[-1]) < CLOSE
        assert abs(found.worth[SPARE] - sum(tails) / draws) < CLOSE


@pytest.mark.parametrize(("needed", "draws"), [(1, 4), (2, 5), (3, 5)])
def test_the_draw_that_makes_a_hand_against_nhypergeom(needed, draws):
    """How many useless tiles come before the last one needed follows SciPy's negative hypergeometric distribution. A
    hand made by draw t of D counts (D - t + 1) / D."""
    variant, pool = waiting_for_flowers(needed)
    rack = counts_of(pool + [SPARE] * (14 - len(pool)))
    copies, others = 6, 30
    found = exact_ending(table_of(variant), rack, hidden(others, flowers=copies), draws)
    useless = range(draws - needed + 1)
    pmf = [nhypergeom.pmf(number, others + copies, others, needed) for number in useless]
    expected = sum(chance * (draws - needed - number + 1) / draws for number, chance in zip(useless, pmf, strict=True))
    assert abs(found.chance[SPARE] - sum(pmf)) < CLOSE
    assert abs(found.worth[SPARE] - expected) < CLOSE


@pytest.mark.parametrize("draws", [2, 4, 6])
def test_two_kinds_against_multivariate_hypergeom(draws):
    """Waiting for one tile of one kind and two of another: the sum of SciPy's multivariate hypergeometric
    probabilities that have enough of both."""
    variant = Variant((Group(2, DOTS[1]), Group(2, DOTS[2]), Group(5, DOTS[3]), Group(5, DOTS[4])))
    rack = counts_of([DOTS[3]] * 4 + [DOTS[4]] * 4 + [JOKER] * 2 + [DOTS[1]] + [SPARE] * 3)
    found = exact_ending(table_of(variant), rack, hidden(50, dot2=3, dot3=4), draws)
    chances = []
    for drawn in range(1, draws + 1):
        enough = [(a, b, drawn - a - b) for a in range(1, 4) for b in range(2, 5) if a + b <= drawn]
        chances.append(sum(multivariate_hypergeom.pmf(numbers, [3, 4, 50], drawn) for numbers in enough))
    assert abs(found.chance[SPARE] - chances[-1]) < CLOSE
    assert abs(found.worth[SPARE] - sum(chances) / draws) < CLOSE
