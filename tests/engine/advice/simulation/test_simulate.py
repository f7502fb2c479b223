"""Simulated deals against the same deals played one by one through the rules, and what is counted of them."""

from collections import Counter
from itertools import pairwise
from random import Random
from statistics import mean, median

import numpy as np
import pytest
from baselines import by_nearest

from engine.advice.advise.discard import advise
from engine.advice.moment import Moment, StoppedError
from engine.advice.rollout.policy import by_odds
from engine.advice.simulation.simulate import (
    BATCH,
    NONE,
    Cores,
    Ended,
    dearest,
    in_order,
    numbered,
    play,
    seed_of,
    simulate,
)
from engine.advice.simulation.tally import tally
from engine.advice.stats import ENOUGH, wilson
from engine.advice.table import SheetTable
from engine.rules.actions import Discard, Mahjong
from engine.rules.deal import SEEDS, shuffle
from engine.rules.game import apply, legal_actions, start
from engine.rules.house import House
from engine.rules.matching import match
from engine.rules.observation import observe
from engine.rules.state import CHANCE, Phase
from engine.sheet.groups import Group, Variant
from engine.sheet.model import Hand, Section, Sheet
from engine.sheet.shelf import find
from engine.tiles import BAMS, FLOWER, JOKER, counts_of


@pytest.fixture(scope="module")
def table():
    """The smaller shipped sheet."""
    return SheetTable.of(find("first-steps"))


def through_the_rules(table, wall, picks):
    """Place of the hand made and picks needed, or NONE twice, asking `advise` at every choice of a real game."""
    state = start(table.sheet, House(picks=picks), wall)
    while state.phase is not Phase.OVER:
        if state.to_act == CHANCE or Mahjong() in legal_actions(state):
            state = apply(state, legal_actions(state)[0])
        else:
            state = apply(state, Discard(advise(Moment.seen(table, observe(state, 0))).let_go))
    if state.outcome.hand is None:
        return NONE, NONE
    return table.sheet.hands.index(state.outcome.hand), state.picks


@pytest.mark.slow
def test_deals_end_as_when_they_are_played_through_the_rules(table):
    """Same hand and same pick in every deal, won or not."""
    ended = numbered(table, 3, 10, 7, 45)
    for place in range(7):
        wall = shuffle(seed_of(3, 10 + place))
        assert (ended.hand[place], ended.picks[place]) == through_the_rules(table, wall, 45)
    assert (ended.hand >= 0).any(), "some deal is won"
    assert (ended.hand == NONE).any(), "some deal is not"


def test_a_wall_in_order_is_what_east_comes_to_know():
    """First the tiles that the rules deal to East, then those that they leave in the wall; nothing is lost."""
    for seed in range(5):
        wall = shuffle(seed)
        state = start(find("first-steps"), House(), wall)
        ordered = in_order(wall)
        assert ordered[:14] == state.racks[0]
        assert ordered[14:113] == state.wall
        assert sorted(ordered) == sorted(wall)


def test_a_hand_that_is_dealt_takes_no_pick(table):
    """Fourteen tiles that are a hand end the deal before the first pick; thirteen and the right one at pick 1."""
    variant = table.variants[0]
    hand = [kind for kind, copies in enumerate(variant.total) for _ in range(copies)]
    rest = list(shuffle(0))
    for kind in hand:
        rest.remove(kind)
    spare = next(kind for kind in rest if kind not in hand and kind != JOKER)
    rest.remove(spare)
    walls = np.array([[*hand, spare, *rest], [*hand[:13], spare, hand[13], *rest]])
    ended = play(table, walls, 1, by_nearest)
    assert ended.picks.tolist() == [0, 1]
    assert ended.hand.tolist() == [table.hand[0]] * 2


def sheet_of(*hands):
    """A sheet of hands given as (points, groups)."""
    made = tuple(
        Hand(f"Hand {place}", "Only", (), (), "", False, points, "", (Variant(groups),))
        for place, (points, groups) in enumerate(hands)
    )
    return Sheet("Test", "2026", "the tests", (Section("Only", made),), repr(hands))


def test_of_several_complete_hands_the_one_that_collects_most_counts():
    """Jokerless doubling is in it, singles and pairs don't double, of equal ones the first: as the rules have it."""
    ones, twos, threes, fours = (BAMS[rank] for rank in range(4))
    pairs = tuple(Group(2, kind) for kind in (ones, ones, twos, twos, threes, threes, fours))
    kongs = (Group(4, ones), Group(4, twos), Group(4, threes), Group(2, fours))
    flowers = (Group(4, FLOWER), *kongs[1:])
    plain, joker = (
        counts_of([*[ones] * (4 - j), *[JOKER] * j, *[twos] * 4, *[threes] * 4, fours, fours]) for j in (0, 1)
    )
    for points, rack, winner in (
        ((30, 50, 20), plain, 0),
        ((25, 50, 20), plain, 0),
        ((24, 50, 20), plain, 1),
        ((20, 40, 20), plain, 0),
        ((30, 90, 31), joker, 2),
        ((30, 90, 30), joker, 0),
    ):
        sheet = sheet_of(*zip(points, (kongs, pairs, kongs), strict=True), (99, flowers))
        table = SheetTable.of(sheet)
        row = dearest(table, np.array([rack]))[0]
        assert table.hand[row] == winner
        assert match(sheet, rack) == (sheet.hands[winner], table.variants[row])


def test_hands_counted_are_those_the_rules_find(table):
    """For finished racks of every variant, with and without jokers in them, the rules name the same hand."""
    random = Random(8)
    racks, expected = [], []
    for variant in random.sample(table.variants, 40):
        tiles = [group.kind for group in variant.groups for _ in range(group.size)]
        places = [at for at, group in enumerate(g for g in variant.groups for _ in range(g.size)) if group.takes_jokers]
        for at in random.sample(places, min(len(places), random.randrange(4))):
            tiles[at] = JOKER
        rack = counts_of(tiles)
        if rack[FLOWER] <= 8 and all(copies <= 4 for copies in rack[:FLOWER]):
            racks.append(rack)
            expected.append(match(table.sheet, rack))
    rows = dearest(table, np.array(racks))
    found = [(table.sheet.hands[table.hand[row]], table.variants[row]) for row in rows]
    assert found == expected
    assert len(found) > 20


@pytest.mark.slow
def test_the_number_of_workers_and_of_deals_changes_no_deal(table):
    """In one process, in two, or fewer deals: deal number i ends alike."""
    deals = 2 * BATCH + 20
    told = []
    alone = simulate(table, deals, 30, 5, workers=1, told=told.append)
    beside = simulate(table, deals, 30, 5, workers=2)
    fewer = simulate(table, 20, 30, 5, workers=1)
    assert told == [BATCH, 2 * BATCH, deals]
    for name in ("hand", "picks"):
        assert (getattr(alone, name) == getattr(beside, name)).all()
        assert (getattr(alone, name)[:20] == getattr(fewer, name)).all()
    other = simulate(table, 20, 30, 6, workers=1)
    assert (other.picks != fewer.picks).any()


@pytest.mark.parametrize("workers", [1, 2])
@pytest.mark.slow
def test_a_simulation_that_is_stopped_holds_the_first_deals(table, workers):
    """What was begun is finished and counted; nothing else is begun."""
    done = []
    ended = simulate(
        table, 100 * BATCH, 5, 1, workers=workers, told=done.append, stopped=lambda: bool(done and done[-1])
    )
    assert BATCH <= len(ended) < 20 * BATCH
    assert len(ended) == done[-1]
    first = numbered(table, 1, 0, BATCH, 5)
    assert (ended.hand[:BATCH] == first.hand).all()
    none = simulate(table, 100 * BATCH, 5, workers=workers, stopped=lambda: True)
    assert len(none) == 0
    assert len(none.hand) == len(none.picks) == 0
    assert none.hand.dtype == none.picks.dtype == first.hand.dtype


def test_seeds_of_deals_differ_and_fit():
    """All deals of a run are different ones, and runs of neighbouring seeds share none of their first million."""
    firsts = [seed_of(seed, 0) for seed in range(50)]
    assert all(0 <= first < SEEDS for first in firsts)
    assert {seed_of(3, number) for number in range(1000)} == {(firsts[3] + number) % SEEDS for number in range(1000)}
    between = sorted(firsts)
    assert min(after - before for before, after in pairwise(between)) > 1_000_000


@pytest.mark.parametrize(
    ("numbers", "said"),
    [((0, 5, 1), "deals is 0"), ((5, 0, 1), "picks is 0"), ((5, 100, 1), "choose 1 to 99"), ((5, 5, -1), "seed is -1")],
)
def test_numbers_out_of_range(table, numbers, said):
    """Refused with what to choose."""
    with pytest.raises(ValueError, match=said):
        simulate(table, *numbers)


def test_counts_are_plain_counts(table):
    """Made, mean and median of the sheet, each section and each hand, against a count in plain Python."""
    sheet = table.sheet
    random = Random(4)
    results = [(random.choice((NONE, NONE, 0, 1, 5)), random.randrange(40)) for _ in range(120)]
    ended = Ended(*(np.array(column) for column in zip(*results, strict=True)))
    counted = tally(sheet, ended)
    picks = {place: sorted(pick for hand, pick in results if hand == place) for place in range(len(sheet.hands))}
    assert [count.made for count in counted.hands] == [len(picks[place]) for place in range(len(sheet.hands))]
    assert [count.name for count in counted.hands] == [hand.name for hand in sheet.hands]
    for place, count in enumerate(counted.hands):
        assert count.share == len(picks[place]) / 120
        assert count.share_within == wilson(len(picks[place]), 120)
        if picks[place]:
            assert count.mean == pytest.approx(mean(picks[place]))
            assert count.median == median(picks[place])
    per_section = Counter(sheet.hands[hand].section for hand, _ in results if hand != NONE)
    assert {count.name: count.made for count in counted.sections if count.made} == per_section
    assert counted.whole.made == per_section.total()
    assert [count.name for count in counted.never] == [sheet.hands[place].name for place in picks if not picks[place]]


def test_few_deals_give_no_interval_of_picks(table):
    """Nine deals are too few, ten are enough; a hand never made has no picks at all."""
    for number, enough in ((ENOUGH - 1, False), (ENOUGH, True)):
        ended = Ended(np.zeros(number, np.int64), np.arange(number))
        first, second = tally(table.sheet, ended).hands[:2]
        assert (first.mean_within is not None) is enough
        assert (first.median_within is not None) is enough
        assert second.mean is second.median is second.mean_within is None
    with pytest.raises(ValueError, match="no deal"):
        tally(table.sheet, Ended(np.zeros(0, np.int64), np.zeros(0, np.int64)))


@pytest.mark.slow
def test_the_policy_by_odds_makes_more_than_the_nearest_hand(table):
    """On the same 128 deals the policy that is simulated makes more hands than going for the nearest one."""
    walls = np.array([in_order(shuffle(seed_of(2, number))) for number in range(128)])
    odds, nearest = (int((play(table, walls, 40, policy).hand >= 0).sum()) for policy in (by_odds, by_nearest))
    assert odds > nearest


def test_deals_that_are_dropped_end_within_a_pick(table):
    """In this process each pick looks whether to stop: the first deals end at the pick at which it is said."""
    asked = []

    def stopped():
        asked.append(1)
        return len(asked) > 4

    with Cores(1, stopped=stopped, drop=True) as cores, pytest.raises(StoppedError):
        cores.play(table, 5, 0, BATCH)
    assert len(asked) == 5


@pytest.mark.slow
def test_deals_that_are_dropped_in_worker_processes(table):
    """Nothing of them comes; the deals of a later look are played as ever, in the same processes as the look before."""
    asked = []
    with Cores(2, stopped=lambda: bool(asked), drop=True) as cores:
        ended = [cores.play(table, 5, first, BATCH, 20) for first in (0, BATCH)]
        with pytest.raises(StoppedError):
            cores.play(table, 5, 0, 200 * BATCH, 99, told=asked.append)
    whole = simulate(table, 2 * BATCH, 20, 5, workers=1)
    assert [*ended[0].hand, *ended[1].hand] == whole.hand.tolist()
