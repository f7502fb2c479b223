"""The rules of play against mathematics and libraries that know nothing of them, and against facts of the trade."""

import random
from collections import Counter
from dataclasses import replace
from itertools import combinations
from math import comb, factorial

import numpy as np
import pytest
from scipy import stats

from engine.rules.actions import Pass
from engine.rules.deal import ALPHABET, DealCode, shuffle
from engine.rules.game import apply, legal_actions, start
from engine.rules.house import House
from engine.rules.state import Phase
from engine.sheet import shelf
from engine.sheet.reader import read
from engine.tiles import JOKER, full_set, rank_of

SHEET = shelf.find("first-steps")


@pytest.mark.parametrize("seed", [0, 1, 2, 77, 20310101, 2**31 - 1])
def test_the_shuffle_agrees_with_numpys_mersenne_twister(seed):
    """Source: MT19937 of Matsumoto and Nishimura (1998) as NumPy implements it, seeded by array as Python does; and
    the shuffle of Fisher and Yates in Durstenfeld's form (Knuth, volume 2, algorithm P; from memory)."""
    twister = np.random.RandomState([seed])
    tiles = np.repeat(np.arange(36), full_set())
    for last in range(len(tiles) - 1, 0, -1):
        other = int(twister.random_sample() * (last + 1))
        tiles[[last, other]] = tiles[[other, last]]
    assert tuple(tiles.tolist()) == shuffle(seed)


@pytest.mark.slow
def test_the_first_tile_of_the_wall_is_as_likely_as_there_are_copies():
    """Source: Pearson's chi-squared test, SciPy. 4,000 fixed seeds, so the test is the same every time."""
    seen = Counter(shuffle(seed)[0] for seed in range(4000))
    expected = [4000 * count / 152 for count in full_set()]
    assert stats.chisquare([seen[kind] for kind in range(36)], expected).pvalue > 0.001


@pytest.mark.slow
def test_jokers_in_a_dealt_rack_follow_the_hypergeometric_law():
    """Source: scipy.stats.hypergeom, 8 jokers in 152 tiles, 14 dealt to East. 3,000 fixed seeds."""
    dealt = Counter(start(SHEET, House(), shuffle(seed)).racks[0].count(JOKER) for seed in range(3000))
    law = stats.hypergeom(152, 8, 14)
    cells = [dealt[0], dealt[1], sum(dealt.values()) - dealt[0] - dealt[1]]
    expected = [3000 * law.pmf(0), 3000 * law.pmf(1), 3000 * law.sf(1)]
    assert stats.chisquare(cells, expected).pvalue > 0.001


def test_the_number_of_passes_against_binomials():
    """Source: math.comb. Fourteen different tiles give C(14, 3) = 364 passes, fewer with jokers."""
    for jokers, choices in ((0, 364), (3, comb(11, 3)), (5, comb(9, 3))):
        rack = (*range(14 - jokers), *[JOKER] * jokers)
        assert len(legal_actions(table_with(rack))) == choices
    assert comb(14, 3) == factorial(14) // (factorial(3) * factorial(11)) == 364


@pytest.mark.parametrize("seed", range(8))
def test_the_number_of_passes_from_alike_tiles_against_a_generating_function(seed):
    """Source: the coefficient of x^3 in the product of (1 + x + ... + x^c) over kinds, multiplied out by NumPy."""
    chance = random.Random(seed)
    rack = tuple(chance.choices((*range(6), JOKER), k=14))
    product = np.polynomial.Polynomial([1])
    for kind, count in Counter(rack).items():
        if kind != JOKER:
            product *= np.polynomial.Polynomial([1] * (count + 1))
    coefficients = [*product.coef.round().astype(int).tolist(), 0, 0, 0]
    assert len(legal_actions(table_with(rack))) == coefficients[3]
    blind = legal_actions(table_with(rack, passes_done=2))
    assert [sum(action.blind == b for action in blind) for b in range(4)] == coefficients[3::-1]


def table_with(rack, passes_done=0):
    """A table whose East, about to pass, holds just these tiles; other racks are as dealt."""
    state = start(SHEET, House(passes=3), shuffle(1))
    return replace(state, racks=(rack, *state.racks[1:]), passes_done=passes_done)


def test_a_pass_lets_each_choice_of_three_go_exactly_once():
    """Source: itertools.combinations over the places of the rack, alike ones counted once."""
    state = start(SHEET, House(passes=1), shuffle(5))
    rack = [kind for kind in state.racks[0] if kind != JOKER]
    by_hand = {tuple(sorted(choice)) for choice in combinations(rack, 3)}
    assert {action.kinds for action in legal_actions(state)} == by_hand
    assert all(isinstance(action, Pass) for action in legal_actions(state))


def multiply(a, b):
    """The product of two numbers of the field of 32: carry-less, then reduced by x^5 + x^2 + 1, the schoolbook way."""
    product = 0
    for bit in range(5):
        if b >> bit & 1:
            product ^= a << bit
    for bit in range(9, 4, -1):
        if product >> bit & 1:
            product ^= 0b100101 << (bit - 5)
    return product


def test_the_check_character_is_a_weighted_sum_in_the_field_of_32():
    """Source: x^5 + x^2 + 1 is a primitive polynomial over GF(2) (tables of Peterson and Weldon, from memory; that its
    root has order 31 is checked here). Weights that differ find every single error and every exchange of two places."""
    powers = [1]
    while len(powers) < 31:
        powers.append(multiply(powers[-1], 2))
    assert sorted(powers) == list(range(1, 32))
    for seed in (0, 5, 123456789, 2**31 - 1):
        for house in (House(), House(picks=7)):
            text = str(DealCode.of(SHEET, house, seed)).replace("-", "")
            total = 0
            for place, char in enumerate(reversed(text)):
                total ^= multiply(ALPHABET.index(char), powers[place])
            assert total == 0


def test_the_alphabet_is_that_of_a_published_encoding():
    """Source: Douglas Crockford's Base 32, its 32 symbols and the letters read as digits (from memory)."""
    assert ALPHABET == "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
    code = str(DealCode.of(SHEET, House(), 1))
    for char, read_as in (("O", "0"), ("I", "1"), ("L", "1")):
        assert DealCode.parse(code.replace(read_as, char)) == DealCode.parse(code)


def test_dealt_and_left_add_up():
    """Common practice, no source: 152 tiles, 14 + 3 x 13 = 53 dealt, 99 left in the wall."""
    state = start(SHEET, House(), shuffle(3))
    assert sum(map(len, state.racks)) == 53
    assert len(state.wall) == 99


@pytest.mark.parametrize("name", shelf.shipped())
@pytest.mark.slow
def test_fourteen_tiles_make_a_hand(name):
    """Common practice, no source: every variant of every shipped sheet is fourteen tiles, and so is what is shown."""
    for hand in shelf.find(name).hands:
        for variant in hand.variants:
            assert sum(group.size for group in variant.groups) == 14


SHEET_TEXT = """
sheet: Facts of the trade
season: 2031
maker: invented for tests
sections:
  - section: Only
    hands:
      - hand: {name}
        groups: {groups}
        {where}
        points: 25
"""


def variants_of(groups, where=""):
    """The variants of one hand typed as a sheet."""
    reading = read(SHEET_TEXT.format(name="One", groups=groups, where=f"where: {where}" if where else "hold: open"))
    assert reading.sheet is not None, [str(fault) for fault in reading.faults]
    return reading.sheet.hands[0].variants


@pytest.mark.parametrize(
    "groups",
    [
        "quint a.n, pair a.n+1, kong a.n+2, pung a.n+3",
        "pair a.n, quint a.n+1, single a.n+2, kong a.n+3, pair a.n+4",
        "pair a.n, pair a.n+1, single a.n+2, quint a.n+3, pair a.n+4, pair flower",
        "single a.n, pair a.n+1, pung a.n+2, single a.n+3, pung a.n+4, pair a.n+5, pair a.n+6",
    ],
)
def test_five_stands_in_more_runs_than_any_other_number(groups):
    """Common practice, no source: 5 is the middle of 1 to 9, so no number stands in more runs of any length."""
    runs = Counter()
    for variant in variants_of(groups):
        runs.update({rank_of(group.kind) for group in variant.groups if rank_of(group.kind)})
    assert runs[5] == max(runs.values())
    assert runs[5] > runs[1] == runs[9]


def test_the_two_odd_triples_share_the_five():
    """Common practice, no source: of 1-3-5 and 5-7-9, 5 is the number that stands in both."""
    low, high = (
        {rank_of(group.kind) for group in variant.groups if rank_of(group.kind)}
        for variant in variants_of("quint bam.n, pair bam.n+2, kong bam.n+4, pung flower", "n in 1 5")
    )
    assert (low, high) == ({1, 3, 5}, {5, 7, 9})
    assert low & high == {5}


def test_a_quiet_game_to_the_end_draws_the_wall_in_its_order():
    """Source: counting. 99 draws, each tile of the wall once."""
    state = start(SHEET, House(), shuffle(9))
    wall, drawn = state.wall, []
    while state.phase is not Phase.OVER:
        if state.phase is Phase.DRAWING:
            drawn.append(state.wall[0])
            state = apply(state, legal_actions(state)[0])
        else:
            state = apply(state, legal_actions(state)[-1])
    assert (tuple(drawn), state.wall) == (wall, ())
