"""What is said of many games together: faults, costs, and when there are too few to say."""

from random import Random

import pytest

from engine.advice.review.review import (
    Average,
    Decision,
    Review,
)
from engine.advice.review.skill import figures_of, measure_of
from engine.advice.stats import ENOUGH


def decision(cost, unforced=True, within=None):
    """A choice that cost so much."""
    return Decision(0, (1,), (2,), cost, -cost, unforced, within=within)


def game(*costs, forced=0):
    """A review that holds only such choices."""
    decisions = (*(decision(cost) for cost in costs), *(decision(0.0, False) for _ in range(forced)))
    return Review(Average(0.3, 0.01), 0.0, 0.0, 0.0, 0.0, 0.0, -0.3, 0.0, True, decisions, ())


def test_no_fault_inside_the_interval():
    """A measured cost whose interval holds nothing is no fault, however large. Any estimated cost is one."""
    assert not decision(0.05, within=(-0.01, 0.11)).fault
    assert decision(0.05, within=(0.01, 0.09)).fault
    assert not decision(0.05, within=(0.0, 0.1)).fault, "0 is in it"
    assert decision(0.05).fault
    assert not decision(0.0).fault


def test_a_measure_of_play():
    """Mean cost over unforced choices of all games; its error by leaving out one game at a time comes out alike."""
    random = Random(5)
    games = [game(*(random.random() / 10 for _ in range(random.randrange(20, 40))), forced=3) for _ in range(30)]
    play = measure_of([figures_of(one) for one in games])
    costs = [one.cost for game in games for one in game.unforced]
    assert (play.games, play.decisions) == (30, len(costs))
    assert play.cost == pytest.approx(sum(costs) / len(costs))
    without = [measure_of([figures_of(one) for one in games[:out] + games[out + 1 :]]).cost for out in range(30)]
    jackknife = (29 / 30 * sum((one - play.cost) ** 2 for one in without)) ** 0.5
    assert play.error == pytest.approx(jackknife, rel=0.1)
    assert play.enough


def test_too_few_games_to_say():
    """Nine games are too few, ten enough, and games without a choice that mattered say nothing."""
    assert not measure_of([figures_of(one) for one in [game(0.1)] * (ENOUGH - 1)]).enough
    assert measure_of([figures_of(one) for one in [game(0.1)] * ENOUGH]).enough
    assert measure_of([figures_of(one) for one in [game(0.1)]]).error == 0.0
    assert measure_of([figures_of(one) for one in []]).decisions == 0
    assert not measure_of([figures_of(one) for one in [game(forced=4)] * 20]).enough
