"""What exposures can become and which tiles would serve: counted slowly, tile by tile, and hand by hand."""

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from itertools import combinations, islice
from math import comb
from random import Random

import pytest
from full_games import changed_about, moments, seen, small_table

from engine.advice.advise.defence import WORTH_A_WARNING, Defence, OtherSeat, Risk, advise_defence, needed, ways_to_fill
from engine.rules.state import Exposure, Phase
from engine.sheet.groups import Group, Variant
from engine.tiles import JOKER, KINDS, full_set


@pytest.fixture(scope="module")
def shown():
    """Moments at which somebody else shows something."""
    table = small_table()
    wanted = (
        (state, seat)
        for state, seat in moments(table, range(30), Phase.TURN)
        if any(state.exposures[other] for other in range(4) if other != seat)
    )
    return list(islice(wanted, 0, 200, 10))


def fills(tiles, groups):
    """Whether just these tiles fill the groups: real ones where no joker may stand, jokers for the rest."""
    real = Counter(tile for tile in tiles if tile != JOKER)
    strict, loose = Counter(), Counter()
    for group in groups:
        (loose if group.takes_jokers else strict)[group.kind] += group.size
    if any(real[kind] < number for kind, number in strict.items()):
        return False
    if any(number > strict[kind] + loose[kind] for kind, number in real.items()):
        return False
    return len(tiles) == sum(group.size for group in groups)


def test_ways_to_fill_are_the_sets_of_tiles_that_do():
    """Every set of so many physical tiles is tried."""
    chance = Random(2)
    for _ in range(60):
        kinds = chance.sample(range(JOKER), 3)
        groups = [Group(chance.choice((1, 2, 3, 3, 4)), chance.choice(kinds)) for _ in range(2)]
        tiles = [0] * KINDS
        for kind in (*kinds, JOKER):
            tiles[kind] = chance.randrange(5)
        physical = [kind for kind in range(KINDS) for _ in range(tiles[kind])]
        size = sum(group.size for group in groups)
        slow = sum(fills(chosen, groups) for chosen in combinations(physical, size))
        assert ways_to_fill(groups, tuple(tiles)) == slow


def test_a_pair_is_a_choice_of_two_and_nothing_needed_is_one_way():
    """Worked by hand: 4 alike give 6 pairs; a pung of 2 unseen and 3 jokers: 3 + 2 x 3 + 1 = 10 ways."""
    tiles = [0] * KINDS
    tiles[4], tiles[7], tiles[JOKER] = 4, 2, 3
    assert ways_to_fill((Group(2, 4),), tuple(tiles)) == comb(4, 2)
    assert ways_to_fill((Group(3, 7),), tuple(tiles)) == 3 + 2 * 3 + 1
    assert ways_to_fill((), tuple(tiles)) == 1
    assert needed_of((3, 7), (2, 4)) == (Group(2, 4),)


def needed_of(laid, rest):
    """What is needed besides one exposure."""
    return needed(Variant((Group(*laid), Group(*rest))), (Exposure(*laid, 1),))


@pytest.mark.slow
def test_hands_are_those_that_the_exposures_and_the_unseen_tiles_allow(shown):
    """Each open hand that some variant still makes, shares by what is left of its variants, adding up to 1."""
    several = 0
    for state, seat in shown:
        observation = seen(state, seat)
        for one in advise_defence(observation).seats:
            if not one.exposures or one.dead:
                assert one.hands == ()
                continue
            weights = {}
            for hand in state.sheet.hands:
                for variant in hand.variants:
                    rest = Counter(variant.groups)
                    wanted = Counter(Group(laid.size, laid.kind) for laid in one.exposures)
                    if hand.concealed or wanted - rest:
                        continue
                    groups = tuple((rest - wanted).elements())
                    ways = ways_to_fill(groups, observation.unseen)
                    if ways:
                        whole = ways_to_fill(groups, full_set(8))
                        weights.setdefault(hand.name, []).append(Fraction(ways, whole))
            total = sum(map(sum, weights.values()))
            assert {hand.hand.name: hand.variants for hand in one.hands} == {k: len(v) for k, v in weights.items()}
            for hand in one.hands:
                assert hand.share == pytest.approx(float(sum(weights[hand.hand.name]) / total))
            assert sum(hand.share for hand in one.hands) == pytest.approx(1.0 if one.hands else 0.0)
            shares = [hand.share for hand in one.hands]
            assert shares == sorted(shares, reverse=True)
            if one.hands:
                assert one.hands[0].hand.name in one.sentence
            several += len(one.hands) > 1
    assert several > 3


def test_risks_are_the_tiles_of_the_rack_that_a_hand_left_needs(shown):
    """A kind that no hand left needs is no risk; a warning is given from a quarter of what a seat can make on."""
    warned = 0
    for state, seat in shown:
        observation = seen(state, seat)
        defence = advise_defence(observation)
        for one in defence.seats:
            assert {risk.kind for risk in one.risks} <= set(observation.rack) - {JOKER}
            for risk in one.risks:
                assert 0 <= risk.as_group <= risk.share + 1e-12
                assert 0 < risk.share <= 1 + 1e-9
                assert 1 <= risk.hands <= len(one.hands)
        for kind in set(observation.rack):
            shares = [risk.share for one in defence.seats for risk in one.risks if risk.kind == kind]
            assert defence.share(kind) == max(shares, default=0.0)
            warning = defence.warning(kind)
            assert (warning is not None) == (defence.share(kind) >= WORTH_A_WARNING)
            warned += warning is not None
    assert warned > 5


def test_the_warning_starts_at_a_quarter():
    """A tile that serves just a quarter of what a seat can make is warned of, one that serves less is not."""
    risks = tuple(Risk(kind, share, 0.0, 1, f"Tile {kind}.") for kind, share in ((0, 0.25), (1, 0.2499)))
    defence = Defence((OtherSeat(1, (), False, (), risks, ""),))
    assert defence.warning(0) == "Tile 0."
    assert defence.warning(1) is None
    assert defence.warning(2) is None


def test_nothing_hidden_changes_what_is_said(shown):
    """With the wall and the other racks dealt anew it is the same, word for word."""
    chance = Random(7)
    for state, seat in shown:
        other = changed_about(state, seat, chance)
        assert advise_defence(seen(other, seat)) == advise_defence(seen(state, seat))


def test_a_seat_that_shows_nothing_or_is_dead_is_said_to():
    """Nothing is claimed about it."""
    table = small_table()
    state, seat = next(moments(table, range(3), Phase.TURN))
    first = advise_defence(seen(state, seat)).seats[0]
    assert first.seat == (seat + 1) % 4
    assert first.hands == ()
    assert "shows nothing" in first.sentence
    dead = replace(state, dead=tuple(other != seat for other in range(4)))
    assert all("dead" in one.sentence for one in advise_defence(seen(dead, seat)).seats)


def test_nothing_is_a_risk_where_no_discard_may_be_called_any_more(shown):
    """In the last tiles of the wall, by a house rule: the hands that a seat may make are told all the same."""
    risky = 0
    for state, seat in shown[:6]:
        observation = seen(state, seat)
        closed = replace(observation, house=replace(observation.house, last_tiles=40), wall_left=40)
        for before, after in zip(advise_defence(observation).seats, advise_defence(closed).seats, strict=True):
            risky += len(before.risks)
            assert after.risks == ()
            assert after.hands == before.hands
    assert risky > 0
