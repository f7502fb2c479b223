"""Choices of tiles to pass and odds of what comes in, against sources outside: Python's `math.comb`, SciPy."""

from itertools import product
from math import comb

import numpy as np
import pytest
from scipy.stats import hypergeom, multivariate_hypergeom

from engine.advice.advise.pass_choices import choices_of
from engine.advice.advise.passes import advise_passes
from engine.advice.odds.exact import exact_after_passes
from engine.advice.table import SheetTable
from engine.rules.actions import Pass
from engine.rules.deal import shuffle
from engine.rules.game import start
from engine.rules.house import House
from engine.rules.observation import observe
from engine.sheet.groups import Group, Variant
from engine.sheet.model import Hand, Section, Sheet
from engine.sheet.shelf import find
from engine.tiles import DOTS, DRAGONS, FLOWER, JOKER, KINDS, WINDS, counts_of, kinds_of

CLOSE = 1e-12


def dealt(rack):
    """What East sees before the first pass when dealt these fourteen tiles."""
    house = House(passes=6, courtesy=True)
    rest = list(shuffle(1))
    for kind in rack:
        rest.remove(kind)
    places = [*range(0, 4), *range(16, 20), *range(32, 36), 48, 52]  # East's in the deal: common practice, no source
    wall = [None] * (len(rest) + len(rack))
    for place, kind in zip(places, rack, strict=True):
        wall[place] = kind
    others = iter(rest)
    wall = [next(others) if kind is None else kind for kind in wall]
    observation = observe(start(find("first-steps"), house, wall), 0)
    assert sorted(observation.rack) == sorted(rack)
    return observation


@pytest.mark.parametrize("jokers", range(5))
@pytest.mark.slow
def test_number_of_choices_is_a_binomial_coefficient(jokers):
    """From 14 tiles of which no two are alike and some are jokers, as many threes can go as `math.comb` says; 364 at
    most."""
    rack = (*range(0, 28, 2), *(JOKER,) * jokers)[jokers:][:14]
    assert len(rack) == 14
    observation = dealt(rack)
    expected = comb(14 - jokers, 3)
    advice = advise_passes(SheetTable.of(observation.sheet), observation)
    assert len(advice.choices) == len({one.kinds for one in advice.choices}) == expected <= 364
    assert sum(isinstance(action, Pass) for action in observation.legal) == expected


@pytest.mark.parametrize(("tiles", "number"), list(product((13, 14), range(4))))
def test_number_of_choices_of_so_many(tiles, number):
    """Choices of none to three of 13 or 14 different tiles are counted by `math.comb`."""
    assert len(choices_of(range(tiles), number)) == comb(tiles, number)


def test_choices_with_tiles_alike():
    """With c alike of one kind and d different others, the threes hold 0 to 3 of that kind: a sum of `math.comb`."""
    for alike, different in product(range(1, 5), range(2, 8)):
        rack = [*(FLOWER,) * alike, *range(different)]
        expected = sum(comb(different, 3 - some) for some in range(min(alike, 3) + 1))
        assert len(choices_of(rack, 3)) == expected


def odds(variant, rack, unseen, coming, draws):
    """The engine's exact odds for one variant."""
    hand = Hand("Only", "Only", (), (), "", False, 25, "", (variant,))
    table = SheetTable.of(Sheet("Test", "2026", "the tests", (Section("Only", (hand,)),), repr(variant)))
    return exact_after_passes(table, np.array([0]), rack, unseen, coming, draws)[0]


def hidden(jokers, others, **kinds):
    """36 counts of unseen tiles: jokers, tiles of no use, and so many of some kinds."""
    counts = [0] * KINDS
    for kind in range(18):
        counts[kind] = min(4, others)
        others -= counts[kind]
    assert others == 0
    counts[JOKER] = jokers
    for name, number in kinds.items():
        counts[{"flower": FLOWER, "dot": DOTS[0], "wind": WINDS[0]}[name]] = number
    return tuple(counts)


@pytest.mark.parametrize(("needed", "coming", "jokers"), list(product((1, 2, 4), (0, 3, 11), (0, 5))))
@pytest.mark.slow
def test_pairs_and_singles_against_hypergeom(needed, coming, jokers):
    """Waiting for real flowers: so many come in among tiles that are no jokers (SciPy's hypergeometric distribution),
    and the rest by draws among all that are left (the same, summed)."""
    variant = Variant((*(Group(1, FLOWER),) * 5, Group(4, DRAGONS[0]), Group(5, DRAGONS[1])))
    rack = counts_of([FLOWER] * (5 - needed) + [DRAGONS[0]] * 4 + [DRAGONS[1]] * 4 + [JOKER])
    flowers, others = 6, 44
    unseen = hidden(jokers, others, flower=flowers)
    total = flowers + others + jokers
    for draws in (0, 1, 12, 30):
        expected = 0.0
        for came in range(flowers + 1):
            first = hypergeom.pmf(came, total - jokers, flowers, coming)
            later = hypergeom.sf(needed - came - 1, total - coming, flowers - came, draws)
            expected += first * later
        assert abs(odds(variant, rack, unseen, coming, draws) - expected) < CLOSE


@pytest.mark.parametrize(("coming", "jokers"), list(product((1, 3, 8), (0, 2, 8))))
@pytest.mark.slow
def test_groups_against_multivariate_hypergeom(coming, jokers):
    """A group that misses three may be filled by jokers too: these come by draws alone. Summed over SciPy's
    multivariate hypergeometric distribution of the draws, after its hypergeometric one of what the passes bring."""
    variant = Variant((Group(5, DOTS[0]), Group(4, DRAGONS[0]), Group(5, DRAGONS[1])))
    rack = counts_of([DOTS[0]] * 2 + [DRAGONS[0]] * 4 + [DRAGONS[1]] * 4 + [JOKER])
    dots, others = 2, 40
    unseen = hidden(jokers, others, dot=dots)
    for draws in (2, 9, 25):
        expected = 0.0
        for came in range(min(dots, coming) + 1):
            first = hypergeom.pmf(came, dots + others, dots, coming)
            left = [dots - came, jokers, others - coming + came]
            for more, wild in product(range(dots - came + 1), range(jokers + 1)):
                if came + more + wild >= 3 and more + wild <= draws:
                    expected += first * multivariate_hypergeom.pmf([more, wild, draws - more - wild], left, draws)
        assert abs(odds(variant, rack, unseen, coming, draws) - expected) < CLOSE


def test_no_joker_comes_in_a_pass():
    """With nothing but jokers missing and passes alone to come the odds are nothing: jokers are never passed (common
    practice, no source)."""
    variant = Variant((Group(5, DOTS[0]), Group(4, DRAGONS[0]), Group(5, DRAGONS[1])))
    rack = counts_of([DOTS[0]] * 4 + [DRAGONS[0]] * 4 + [DRAGONS[1]] * 4 + [JOKER])
    unseen = hidden(8, 40)
    assert odds(variant, rack, unseen, 11, 0) == 0
    assert odds(variant, rack, unseen, 0, 1) == pytest.approx(8 / 48, abs=CLOSE)
    assert kinds_of(unseen).count(JOKER) == 8
