"""Advice for a rack: hands, costs, next draws, exposures, against the slow twins."""

from itertools import islice
from random import Random

import numpy as np
import plain_advice as plain
import pytest
from full_games import moments, small_table
from plain_contest import worth

from engine.advice.advise.answers import Known
from engine.advice.advise.discard import advise
from engine.advice.moment import Moment
from engine.advice.table import SheetTable
from engine.advice.worth.worth import NEAR, SPREAD, STEPS, made
from engine.rules.observation import observe
from engine.rules.state import Exposure, Phase
from engine.sheet.groups import Group, Variant
from engine.sheet.shelf import find
from engine.tiles import FLOWER, JOKER, KINDS, counts_of, full_set, parse_tiles

CLOSE = 1e-9


def one_made(powers):
    """The shipped map from a sum of powers to a chance, for one number."""
    return float(made(np.array([powers]))[0])


@pytest.fixture(scope="module")
def table():
    """Forty hands of one to six random variants."""
    random = Random(31)
    hands = [[plain.random_variant(random) for _ in range(random.randrange(1, 7))] for _ in range(40)]
    return SheetTable.of(plain.sheet_of(*hands))


def worth_left(table, rack, unseen, draws, kinds):
    """What the slow twin says is left after each of the kinds."""
    chosen = plain.near(table.variants, rack, unseen, NEAR, SPREAD)
    return {
        kind: plain.worth(chosen, plain.without(rack, kind), unseen, draws, one_made, STEPS)
        for kind in kinds
        if rack[kind]
    }


@pytest.mark.parametrize(("draws", "tiles"), [(40, 14), (9, 14), (20, 13), (0, 14), (1, 13)])
@pytest.mark.slow
def test_hands_have_their_best_variant_by_exact_odds(table, draws, tiles):
    """Every hand that the draws can finish is there once, by the variant with the best odds, best odds first."""
    rack, unseen = plain.random_rack(Random(draws), tiles)
    advice = advise(Moment.of(table, rack, unseen, draws))
    best = {}
    for hand in table.sheet.hands:
        odds = max(plain.odds(variant, rack, unseen, draws) for variant in hand.variants)
        if odds:
            best[hand.name] = float(odds)
    assert {reach.hand.name for reach in advice.hands} == set(best)
    assert len(advice.hands) == len(best)
    for reach in advice.hands:
        assert abs(reach.odds - best[reach.hand.name]) < 1e-10
        assert reach.variant in reach.hand.variants
        assert reach.missing == plain.missing(reach.variant, rack)
        assert sum(not slot.held for group in reach.slots for slot in group) == reach.missing
    shown = [round(reach.odds, 12) for reach in advice.hands]
    assert shown == sorted(shown, reverse=True)


@pytest.mark.slow
def test_costs_are_picks_lost(table):
    """Each cost is the worth left after the best tile less that after this one, times the draws; dearest first."""
    for seed in range(6):
        rack, unseen = plain.random_rack(Random(seed), 14)
        advice = advise(Moment.of(table, rack, unseen, 30))
        left = worth_left(table, rack, unseen, 30, range(KINDS))
        best = max(value for kind, value in left.items() if kind != JOKER)
        assert {keep.kind for keep in advice.keeps} == set(left)
        for keep in advice.keeps:
            assert abs(keep.picks - 30 * max(best - left[keep.kind], 0)) < 30 * CLOSE
        costs = [keep.picks for keep in advice.keeps]
        assert costs == sorted(costs, reverse=True)
        assert costs[-1] == 0
        assert advice.let_go == advice.keeps[-1].kind != JOKER
        assert abs(advice.needed - (30 * (1 - best) + 1)) < 30 * CLOSE
        assert advice.chance.known is Known.ESTIMATED
        assert advice.chance.share >= advice.hands[0].odds


def test_keeps_name_the_hands_they_serve(table):
    """A tile serves just the hands whose best variant uses every copy held; a joker those with places for all."""
    rack = counts_of(parse_tiles("1b 1b 1b 5b 9c 9c 3d 3d we fl fl jk jk 7d"))
    unseen = tuple(copies - held for copies, held in zip(full_set(), rack, strict=True))
    advice = advise(Moment.of(table, rack, unseen, 40))
    for keep in advice.keeps:
        for place, reach in enumerate(advice.hands):
            if keep.kind == JOKER:
                strict = sum(max(need - held, 0) for need, held in zip(reach.variant.real, rack, strict=True))
                needs = plain.missing(reach.variant, (*rack[:JOKER], 0)) - strict >= rack[JOKER]
            else:
                needs = reach.variant.total[keep.kind] >= rack[keep.kind]
            assert (place in keep.serves) == needs


@pytest.mark.slow
def test_helps_are_picks_sooner_than_the_least_useful_draw(table):
    """After the draw and the best tile let go a hand takes so many picks; the least useful draw is left out."""
    rack, unseen = plain.random_rack(Random(3), 13)
    advice = advise(Moment.of(table, rack, unseen, 12))
    needed = {}
    for kind in range(KINDS):
        if unseen[kind]:
            after = tuple(count + (place == kind) for place, count in enumerate(rack))
            left = worth_left(table, after, plain.without(unseen, kind), 11, range(JOKER))
            needed[kind] = 2 + 11 * (1 - max(left.values()))
    most = max(needed.values())
    said = {help_.kind: help_ for help_ in advice.helps}
    assert all(kind in said for kind, value in needed.items() if value < most - 1e-7)
    assert len(said) < len(needed), "the least helpful draw is left out"
    for kind, help_ in said.items():
        assert abs(help_.picks - (most - needed[kind])) < 1e-7
        assert help_.unseen == unseen[kind]
    assert [help_.picks for help_ in advice.helps] == sorted((h.picks for h in advice.helps), reverse=True)


def test_a_rack_of_fourteen_looks_at_draws_after_letting_go(table):
    """The helps of fourteen tiles are those of the thirteen that stay."""
    rack, unseen = plain.random_rack(Random(4), 14)
    advice = advise(Moment.of(table, rack, unseen, 25))
    assert advice.helps == advise(Moment.of(table, plain.without(rack, advice.let_go), unseen, 25)).helps


def test_the_finishing_draw():
    """A draw that finishes a hand makes it sure; without draws there is nothing to hope for."""
    variant = Variant((Group(4, 0), Group(4, 1), Group(4, 2), Group(2, 3)))
    only = SheetTable.of(plain.sheet_of([variant]))
    rack = counts_of(parse_tiles("4x1b 4x2b 4x3b 4b"))
    unseen = tuple(copies - held for copies, held in zip(full_set(), rack, strict=True))
    advice = advise(Moment.of(only, rack, unseen, 5))
    assert [(help_.kind, help_.unseen) for help_ in advice.helps] == [(3, 3)]
    assert advise(Moment.of(only, rack, unseen, 0)).helps == ()
    finished = advise(Moment.of(only, variant.total, plain.without(unseen, 3), 5))
    assert finished.chance.share == 1
    assert finished.needed == 0
    assert finished.hands[0].missing == 0
    assert finished.hands[0].odds == 1
    assert finished.because == "This is Hand 0. Show it for mahjong."


def test_exposed_groups_count_as_held():
    """With a group exposed, only open hands that hold it are in reach, and the group's places are filled."""
    first = Variant((Group(3, 0), Group(2, FLOWER), Group(3, 5), Group(3, 6), Group(3, 7)))
    second = Variant((Group(4, 0), Group(4, FLOWER), Group(3, 5), Group(3, 6)))
    sheet = plain.sheet_of([first], [second], [first], concealed=(2,))
    rack = counts_of(parse_tiles("6b 6b 7b 7b 7b 8b 8b fl fl jk 9d"))
    unseen = list(full_set())
    for kind, count in enumerate(rack):
        unseen[kind] -= count
    unseen[0] -= 2
    unseen[JOKER] -= 1
    advice = advise(Moment.of(SheetTable.of(sheet), rack, tuple(unseen), 1, (Exposure(3, 0, 1),)))
    assert [reach.hand.name for reach in advice.hands] == ["Hand 0"]
    reach = advice.hands[0]
    assert [(slot.held, slot.joker) for slot in reach.slots[0]] == [(True, False), (True, False), (True, True)]
    assert reach.missing == 1
    # two 6 bams, two 8 bams and seven jokers are left; any of them finishes it
    assert abs(reach.odds - (2 + 2 + unseen[JOKER]) / sum(unseen)) < 1e-12
    assert advice.let_go == parse_tiles("9d")[0]


def test_jokers_never_stand_in_pairs():
    """A place in a pair stays empty though jokers are held; the same place in a pung is filled."""
    pair = Variant((Group(2, 0), Group(4, 1), Group(4, 2), Group(4, 3)))
    table = SheetTable.of(plain.sheet_of([pair]))
    rack = counts_of(parse_tiles("1b 4x2b 4x3b 2x4b 3xjk"))
    unseen = tuple(copies - held for copies, held in zip(full_set(), rack, strict=True))
    reach = advise(Moment.of(table, rack, unseen, 10)).hands[0]
    assert [[(slot.held, slot.joker) for slot in group] for group in (reach.slots[0], reach.slots[3])] == [
        [(True, False), (False, False)],
        [(True, False), (True, False), (True, True), (True, True)],
    ]


def test_a_cut_sheet_cuts_the_advice():
    """Advice on a sheet cut to some sections names hands of those only, with the odds they have on the whole sheet."""
    sheet = find("first-steps")
    chosen = sheet.sections[0].name
    rack, unseen = plain.random_rack(Random(9), 14)
    whole = advise(Moment.of(SheetTable.of(sheet), rack, unseen, 40))
    part = advise(Moment.of(SheetTable.of(sheet.cut([chosen])), rack, unseen, 40))
    assert {reach.hand.section for reach in part.hands} == {chosen}
    odds = {reach.hand.name: reach.odds for reach in whole.hands}
    assert all(abs(reach.odds - odds[reach.hand.name]) < 1e-12 for reach in part.hands)
    assert len(part.hands) == sum(reach.hand.section == chosen for reach in whole.hands)


def test_the_same_question_has_the_same_answer(table):
    """Advice rests on nothing but its arguments."""
    rack, unseen = plain.random_rack(Random(10), 14)
    assert advise(Moment.of(table, rack, unseen, 40)) == advise(Moment.of(table, rack, unseen, 40))


def test_wrong_numbers_are_refused(table):
    """Twelve tiles, or more draws than tiles unseen, are refused with what to give."""
    rack, unseen = plain.random_rack(Random(11), 12)
    with pytest.raises(ValueError, match="12 tiles; give 13 or 14"):
        advise(Moment.of(table, rack, unseen, 10))
    rack, unseen = plain.random_rack(Random(11), 13)
    with pytest.raises(ValueError, match="choose 0 to 139"):
        advise(Moment.of(table, rack, unseen, 140))


def test_a_sheet_without_hope_still_gets_an_answer():
    """When no hand can be made any more there are no hands, no costs, and still a tile to let go."""
    table = SheetTable.of(plain.sheet_of([Variant((Group(2, 0), Group(4, 1), Group(4, 2), Group(4, 3)))]))
    rack = counts_of(parse_tiles("4x5d 4x6d 4x7d we ws"))
    unseen = [copies - held for copies, held in zip(full_set(), rack, strict=True)]
    unseen[0] = 0
    advice = advise(Moment.of(table, rack, unseen, 10))
    assert advice.hands == ()
    assert advice.chance.share == 0
    assert {keep.picks for keep in advice.keeps} == {0.0}
    assert advice.because == "No hand can be made any more with the tiles that may still come."


class Drawn:
    """An observation once a tile of a kind has come to it."""

    def __init__(self, observation, kind):
        self.observation = observation
        self.unseen = plain.without(observation.unseen, kind)
        self.counts = tuple(count + (place == kind) for place, count in enumerate(observation.counts))

    def __getattr__(self, name):
        return getattr(self.observation, name)


def test_the_draws_that_help_among_four_are_those_of_the_contest():
    """With a tile more and the best one gone the slow twin's worth grows by so many turns; calls to come count."""
    small = small_table()
    state, seat = next(islice(moments(small, (5,), Phase.CALLING), 6, None))
    observation = observe(state, seat)
    helps = advise(Moment.seen(small, observation)).helps
    assert [one.picks for one in helps] == sorted((one.picks for one in helps), reverse=True)
    a_turn = worth(small, observation) - worth(small, observation, lost=1.0)
    first, last = (
        max(worth(small, drawn, gone=one) for one in range(JOKER) if drawn.counts[one])
        for drawn in (Drawn(observation, helps[place].kind) for place in (0, -1))
    )
    assert helps[0].picks - helps[-1].picks == pytest.approx((first - last) / a_turn, rel=1e-4, abs=1e-6)
    assert JOKER in {one.kind for one in helps}
