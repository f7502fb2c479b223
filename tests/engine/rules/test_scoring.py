"""Points, worked by hand: who pays what, and that nothing is made or lost."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.rules.house import FULL, QUIET, House
from engine.rules.matching import worth
from engine.rules.scoring import payments, won
from engine.rules.state import Exposure
from engine.tiles import JOKER, kind_of, kinds_of, parse_tiles

USUAL = House(table=FULL)
# Worked by hand for a hand of 25 points: single 25, double 50; without a joker everything twice.
CASES = [
    # winner, discarder, jokerless, east, south, west, north
    (0, 1, False, 100, -50, -25, -25),
    (0, None, False, 150, -50, -50, -50),
    (2, 3, False, -25, -25, 100, -50),
    (3, None, False, -50, -50, -50, 150),
    (0, 1, True, 200, -100, -50, -50),
    (1, None, True, -100, 300, -100, -100),
]


def paid_for(hand, variant, winner, discarder, jokerless, house=USUAL):
    """Payments for a hand won with something exposed."""
    return payments(house, worth(hand, variant, jokerless, True, house), winner, discarder)


@pytest.mark.parametrize(("winner", "discarder", "jokerless", "east", "south", "west", "north"), CASES)
def test_a_hand_of_larger_groups(kit, winner, discarder, jokerless, east, south, west, north):
    """The discarder pays double, the others single; self-drawn all double; without a joker twice that."""
    hand = replace(kit.sheet.hand("Landing"), points=25)
    assert paid_for(hand, hand.variants[0], winner, discarder, jokerless) == (east, south, west, north)


@pytest.mark.parametrize(
    ("winner", "discarder", "east", "south", "west", "north"),
    [(0, 2, 200, -50, -100, -50), (1, None, -100, 300, -100, -100)],
)
def test_a_hand_of_singles_and_pairs_never_doubles_for_want_of_jokers(kit, winner, discarder, east, south, west, north):
    """50 points: it can't have a joker, so having none is no feat."""
    hand = kit.sheet.hand("Crooked row")
    assert paid_for(hand, hand.variants[0], winner, discarder, True) == (east, south, west, north)


def test_a_joker_anywhere_stops_the_doubling(kit):
    """In the rack or in an exposure."""
    hand = kit.sheet.hand("Landing")
    variant = hand.variants[8 + 2]
    kong = variant.groups[1].kind
    real = [kind for kind in kinds_of(variant.total) if kind != kong]
    for jokers, points in ((0, 360), (1, 180)):
        exposed = won(House(table=FULL), 1, (hand, variant), tuple(real), (Exposure(4, kong, jokers),), None)
        assert (exposed.jokerless, exposed.points) == (jokers == 0, points)
        rack = (*real, *[kong] * (4 - jokers), *[JOKER] * jokers)
        concealed = won(House(table=FULL), 1, (hand, variant), rack, (), None)
        assert (concealed.jokerless, concealed.points) == (jokers == 0, points)


def test_the_quiet_table_counts_only_what_the_winner_would_collect(kit):
    """180 from three who would pay double, and nobody pays."""
    hand = kit.sheet.hand("Landing")
    rack = parse_tiles("2x3d 3x8d 3x5d jk 3x6d 2x7d")
    outcome = won(House(table=QUIET), 0, (hand, hand.variants[10]), rack, (), None)
    assert (outcome.points, outcome.payments) == (180, (0, 0, 0, 0))
    assert kind_of("jk") in outcome.tiles


@given(st.data(), st.integers(0, 3), st.integers(0, 3), st.booleans(), st.integers(1, 500))
def test_payments_add_up_to_nothing(kit, data, winner, other, jokerless, points):
    """For any hand, seat and way to win; only the winner gains."""
    hand = replace(data.draw(st.sampled_from(kit.sheet.hands)), points=points)
    variant = data.draw(st.sampled_from(hand.variants))
    paid = paid_for(hand, variant, winner, None if other == winner else other, jokerless)
    assert sum(paid) == 0
    assert all((amount > 0) == (seat == winner) for seat, amount in enumerate(paid))
