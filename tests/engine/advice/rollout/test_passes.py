"""Passes played on: right on average to the last digit, with tiles that come in as they should."""

from itertools import permutations
from random import Random

import numpy as np
import plain_advice as plain
import pytest
from full_games import changed_about
from test_tiny_worlds import made, plus, tiny_world

from engine.advice.advise.answers import Known, PassAdvice
from engine.advice.advise.passes import advise_passes, compare_passes, deepen_passes
from engine.advice.moment import Moment, StoppedError, Work
from engine.advice.odds.reach import shortfalls
from engine.advice.rollout.games import Games
from engine.advice.rollout.passes import arrivals, play_passes, ready_to_come, try_passes
from engine.advice.rollout.race import Contrast, stand
from engine.advice.table import SheetTable
from engine.advice.worth.choice import let_go
from engine.advice.worth.incoming import let_go_by_others
from engine.advice.worth.worth import possible, weigh
from engine.rules.deal import shuffle
from engine.rules.game import start
from engine.rules.house import House
from engine.rules.observation import observe
from engine.sheet.shelf import find
from engine.tiles import JOKER, KINDS

HOUSE = House(picks=40, passes=3, courtesy=True)
EFFORT = 1500


@pytest.fixture(scope="module")
def table():
    """The smaller shipped sheet."""
    return SheetTable.of(find("first-steps"))


def goes(table, rack, unseen, draws):
    """The tile that the fast policy lets go before a pass: no joker."""
    racks, around = np.array([rack]), np.array([unseen])
    left = weigh(table, racks, around, draws).left
    left[:, JOKER] = -1.0
    return int(let_go(table, racks, shortfalls(table, racks), possible(table, racks, around), left)[0])


@pytest.mark.slow
def test_the_mean_over_all_arrivals_is_exact():
    """Weighing every order of two tiles that come in and one draw by how likely it is, the estimates have the mean of
    the plain results: taking the luck out moves no mean."""
    for seed in range(6):
        table, rack, unseen = tiny_world(seed)
        rack = list(rack)
        for kind in Random(seed).sample([kind for kind in range(JOKER) if rack[kind]], 2):
            rack[kind] -= 1
        ready = let_go_by_others(table)
        hidden = [kind for kind in range(KINDS) for _ in range(unseen[kind])]
        orders = [one for one in permutations(range(len(hidden)), 3) if hidden[one[0]] != JOKER != hidden[one[1]]]
        coming = np.array([[hidden[tile] for tile in order] for order in orders])
        chance, plain_results = [], []
        for first, second, drawn in coming.tolist():
            weights = np.array(unseen) * ready
            probability = ready[first] / weights.sum()
            rest = plain.without(unseen, first)
            probability *= ready[second] / (np.array(rest) * ready).sum()
            rest = plain.without(rest, second)
            chance.append(probability / sum(rest))
            held = plus(plus(tuple(rack), first), second)
            held = plain.without(held, goes(table, held, rest, 1))
            plain_results.append(made(table, plus(held, drawn)))
        games = Games.of(table, np.array([rack]), np.array([unseen])).repeated(len(coming))
        results = play_passes(games, coming, [2])
        assert sum(chance) == pytest.approx(1.0)
        expected = float(np.dot(chance, plain_results))
        assert np.dot(chance, results.chance) == pytest.approx(expected, abs=1e-12)
        assert np.dot(chance, results.worth) == pytest.approx(expected, abs=1e-12), "with one draw both are the same"


def test_what_comes_in(table):
    """No joker is passed; no more of a kind comes than there is; the first tile comes by the weights."""
    unseen = np.array(plain.random_rack(Random(3), 14)[1])
    ready = let_go_by_others(table)
    coming = arrivals(np.random.default_rng(1), unseen, ready, 3000, 11, 40)
    assert coming.shape == (3000, 51)
    assert not (coming[:, :11] == JOKER).any()
    assert (coming[:, 11:] == JOKER).any()
    for order in coming[:50]:
        assert (np.bincount(order, minlength=KINDS) <= unseen).all()
    share = unseen * ready / (unseen @ ready)
    first = np.bincount(coming[:, 0], minlength=KINDS) / 3000
    assert (abs(first - share) <= 5 * np.sqrt(share * (1 - share) / 3000) + 1e-12).all()


@pytest.mark.slow
def test_racks_are_whole_through_all_passes(table):
    """Whatever the number of passes, thirteen tiles are held when the draws begin, for East and for the others."""
    for tiles in (13, 14):
        rack, unseen = plain.random_rack(Random(tiles), tiles)
        choices = [
            [kind for kind in range(JOKER) if rack[kind]][:3],
            [kind for kind in range(JOKER) if rack[kind]][-3:],
        ]
        for batches in ([3], [3, 3, 3, 2], [3, 2]):
            found = try_passes(Moment(table, rack, unseen, 12), choices, batches, Work(40 * (12 + sum(batches))))
            assert all(len(one.worth) >= 8 for one in found)
            games = Games.of(table, np.array([rack]), np.array([unseen]))
            for kind in choices[0]:
                games.go(np.array([kind]))
            order = arrivals(np.random.default_rng(1), np.array(unseen), let_go_by_others(table), 1, sum(batches), 0)
            play_passes(games, order, batches)
            assert games.racks.sum() == 13
            assert games.racks.sum() + games.unseen.sum() == sum(rack) + sum(unseen) - sum(batches) - (tiles - 13)


def moment(table, seed, house=HOUSE):
    """East's view before the first pass."""
    return observe(start(table.sheet, house, shuffle(seed)), house.seat)


@pytest.mark.slow
def test_deepened_advice_for_a_pass(table):
    """The same choices as at once, the best first; those tried cost what was found, nothing where nothing can be told;
    the rest as estimated. The same moment gets the same advice."""
    observation = moment(table, 9)
    quick = advise_passes(table, observation)
    deep = deepen_passes(table, observation, Work(effort=EFFORT))
    assert deep == deepen_passes(table, observation, Work(effort=EFFORT))
    assert isinstance(deep, PassAdvice)
    assert {choice.kinds for choice in deep.choices} == {choice.kinds for choice in quick.choices}
    assert deep.choices[0].picks == 0.0
    assert deep.chance.known is Known.PLAYED
    assert deep.chance.games >= 8
    assert 0.0 < deep.chance.share < 1.0
    assert deep.chance.share >= deep.after[0].odds
    costs = [round(choice.picks, 12) for choice in deep.choices]
    assert costs == sorted(costs)
    estimated = {choice.kinds: choice.picks for choice in quick.choices}
    for choice in deep.choices:
        if choice.known is Known.ESTIMATED:
            assert choice.picks == estimated[choice.kinds]
        else:
            assert choice.picks in (0.0, choice.behind)
            assert choice.picks == 0.0 or choice.behind > choice.half
    assert 1 < sum(choice.known is Known.PLAYED for choice in deep.choices) <= 7


@pytest.mark.slow
def test_hidden_tiles_change_nothing(table):
    """Tiles that the seat can't see may lie in any order."""
    state = start(table.sheet, HOUSE, shuffle(4))
    shuffled = changed_about(state, 0, Random(1))
    assert shuffled != state
    one, two = (deepen_passes(table, observe(at, 0), Work(effort=EFFORT)) for at in (state, shuffled))
    assert one == two


@pytest.mark.slow
def test_a_bad_pass_is_told_from_a_good_one(table):
    """Against the advised three, giving away the dearest ones is worse beyond doubt, and the interval says so."""
    observation = moment(table, 12)
    advice = advise_passes(table, observation)
    tried = compare_passes(table, observation, advice.choices[0].kinds, advice.choices[-1].kinds, Work(effort=4000))
    assert tried.contrast(1.0) is Contrast.WORSE
    assert tried.behind > 0.02


def test_it_can_be_stopped(table):
    """Once told to stop it ends with an error of its own."""
    with pytest.raises(StoppedError):
        deepen_passes(table, moment(table, 1), Work(stopped=lambda: True))


@pytest.mark.slow
def test_equal_choices_stand_alike(table):
    """A choice raced against itself is nothing behind."""
    rack, unseen = plain.random_rack(Random(2), 14)
    three = [kind for kind in range(JOKER) if rack[kind]][:3]
    tried = stand(try_passes(Moment(table, rack, unseen, 20), [three, three], [3, 3], Work(40 * 26)))
    assert tried[1].behind == 0.0
    assert tried[1].contrast(0.05) is Contrast.ALIKE


def test_what_was_passed_comes_back():
    """A tile that this seat has passed surely lies in another rack. Another unseen one lies there as often as the
    others' 39 tiles are of all of them. Without tiles passed, others let go what they always do."""
    table = SheetTable.of(find("first-steps"))
    usual = let_go_by_others(table)
    unseen = np.full(36, 3)
    away = np.zeros(36, np.int64)
    assert ready_to_come(table, unseen, away).tolist() == usual.tolist()
    unseen[4], away[4], away[5] = 0, 2, 1
    total = 35 * 3 + 3
    ready = ready_to_come(table, unseen, away)
    assert ready[4] == pytest.approx(usual[4] * total / 39)
    assert ready[5] == pytest.approx(usual[5] * (3 + total / 39) / 4)
    assert ready[6] == usual[6]
