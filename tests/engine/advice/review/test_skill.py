"""The measure of play from kept figures: the same as from whole reviews, and an interval that holds what it says."""

from math import exp, log
from random import Random

import numpy as np
import pytest
from scipy import stats

from engine.advice.review.review import Average, Decision, Review
from engine.advice.review.skill import GameFigures, Play, figures_of, measure_of
from engine.advice.review.spoiled import counted
from engine.advice.stats import ENOUGH


def decision(cost, unforced=True, within=None):
    """A choice that cost so much."""
    return Decision(0, (1,), (2,), cost, -cost, unforced, within=within)


def reviewed(*decisions):
    """A review that holds only such choices."""
    return Review(Average(0.3, 0.01), 0.0, 0.0, 0.0, 0.0, 0.0, -0.3, 0.0, True, decisions, ())


def season(seed, games=30):
    """Games whose choices mostly cost nothing and now and then a lot."""
    random = Random(seed)
    costs = [[max(random.gauss(-0.01, 0.02), 0.0) for _ in range(random.randrange(15, 45))] for _ in range(games)]
    return [reviewed(*map(decision, of_one), decision(0.0, False)) for of_one in costs]


def test_figures_of_a_review():
    """Unforced choices, what they cost together, and how many are faults; a cost inside its interval is none."""
    found = figures_of(reviewed(decision(0.0), decision(0.02), decision(0.05, within=(-0.01, 0.1)),
                                decision(0.0, False)))  # fmt: skip
    assert found == GameFigures(3, pytest.approx(0.07), 1)


def test_a_spoiled_game_makes_no_choice_cheap():
    """By hand: of a rack worth 0.01 a third is let go, where an average deal is worth 0.2 and 12 draws are left. It
    counts as worth half of 0.2, so a third of 0.1 over 12 draws is lost: 0.4 picks, and not 0.04. A better rack, and
    one from which nothing can be made, cost what they cost."""
    assert counted(0.2, 0.01, 0.01 / 3, 12) == pytest.approx(0.4)
    assert counted(0.2, 0.01, 0.0, 12) == 0.0
    assert counted(0.2, 0.1, 0.05, 12) is None
    assert counted(0.2, 0.0, 0.0, 12) is None
    spoiled = Decision(0, (1,), (2,), 0.04, -0.04, True, spoiled=0.4)
    assert figures_of(reviewed(spoiled, decision(0.1))).cost == pytest.approx(0.5)
    assert spoiled.cost == 0.04, "what is said of the choice itself stays"


def test_kept_figures_give_what_whole_reviews_give():
    """To the last digit."""
    games = season(1)
    assert measure_of([figures_of(game) for game in games]) == measure_of([figures_of(one) for one in games])


def test_what_was_lost_is_the_numerator():
    """The mean cost is it, divided by the number of choices."""
    play = measure_of([GameFigures(20, 0.5, 3), GameFigures(30, 0.25, 2)])
    assert (play.games, play.decisions, play.cost) == (2, 50, pytest.approx(0.015))
    assert play.lost == pytest.approx(0.75)


def test_the_interval():
    """Student's t of SciPy, another implementation, on the logarithm of the cost; none with too few games, and nothing
    wide about a player who never lost anything."""
    for games, freedom in ((10, 9), (30, 29)):
        play = measure_of([figures_of(one) for one in season(2, games)])
        assert play.within is not None
        off = stats.t.ppf(0.975, freedom) * play.error / play.cost
        assert play.within == pytest.approx((exp(log(play.cost) - off), exp(log(play.cost) + off)), rel=1e-3)
    assert measure_of([figures_of(one) for one in season(2, ENOUGH - 1)]).within is None
    assert measure_of([GameFigures(30, 0.0, 0)] * ENOUGH).within == (0.0, 0.0)
    assert Play(0, 0, 0.0, 0.0, False).within is None


def test_how_often_the_interval_holds_the_true_cost():
    """Over seeded seasons of ten games drawn from many: nine times in ten or nearly, which is what is said of it."""
    many = [figures_of(game) for game in season(3, 400)]
    true = measure_of(many).cost
    rng = np.random.default_rng(4)
    held = 0
    for _ in range(500):
        within = measure_of([many[place] for place in rng.integers(0, len(many), ENOUGH)]).within
        held += within[0] <= true <= within[1]
    assert 430 <= held <= 490
