"""How long a game at a full table still lasts, and what comes until then."""

import math
from functools import partial

import numpy as np
import pytest
from full_games import small_table

from engine.advice.contest.contest import random_score
from engine.advice.contest.pace import coming, rounds_until_the_end
from engine.advice.contest.threats import _left
from engine.advice.contest.winning import chance_before_play, chance_to_win
from engine.advice.race import Race
from engine.advice.table import SheetTable
from engine.advice.worth.incoming import let_go_by_others
from engine.tiles import JOKER, full_set


def test_a_game_lasts_as_long_as_a_walk_through_the_rounds_says():
    """The moments are the middles of fifths: by each, a walk by rounds leaves .9, .7, .5, .3, .1 of the games."""
    race = Race(wall=99)
    lasting, step, walked = 1.0, 0, [(0.0, 1.0)]
    while 4 * step < 99:
        score = -2.4 - 0.033 * (99 - 4 * step) + 0.062 * step
        lasting *= (1 - 1 / (1 + math.exp(-score))) ** min(99 / 4 - step, 1)
        step += 1
        walked.append((min(step, 99 / 4), lasting))
    for rounds, left in zip(rounds_until_the_end(race), (0.9, 0.7, 0.5, 0.3, 0.1), strict=True):
        expected = np.interp(-left, [-share for _, share in walked], [when for when, _ in walked], right=99 / 4)
        assert rounds == pytest.approx(expected)


def test_exposures_hurry_the_end():
    """The more others have laid and the fewer tiles are left, the sooner it comes; the wall's end is the last."""
    quiet = rounds_until_the_end(Race(wall=60))
    assert (rounds_until_the_end(Race(wall=60, most=2, groups=3)) <= quiet).all()
    assert (rounds_until_the_end(Race(wall=30)) <= quiet).all()
    assert quiet.max() <= 60 / 4
    assert rounds_until_the_end(Race(wall=0)).tolist() == [0.0] * 5


def test_what_comes():
    """Shares lie between none and .95; passes bring what others let go readily, and nobody throws a joker."""
    table = small_table()
    unseen = list(full_set(8))
    plain, passed = (coming(table, unseen, Race(wall=99, passes=number)) for number in (0, 9))
    for one in (plain.drawn, plain.thrown, passed.drawn):
        assert one.min() >= 0
        assert one.max() <= 0.95
    more = (passed.drawn - plain.drawn)[:JOKER, 0]
    ready = let_go_by_others(table)[:JOKER]
    assert more[ready.argmax()] > more[ready.argmin()]
    assert (plain.thrown[JOKER] == 0).all()
    assert passed.drawn[JOKER] == pytest.approx(plain.drawn[JOKER])


def test_the_curves_of_winning():
    """They rise, stay between none and certainty, and put one half where the logistic curve does. Before play a rack
    like most others of its sheet wins somewhat less than one game in four, as some games nobody wins."""
    before = partial(chance_before_play, random=-1.5, passed=2)
    in_play = partial(chance_to_win, random=-1.8, wall=60)
    for curve in (in_play, before):
        values = [curve(share / 100) for share in range(101)]
        assert values == sorted(values)
        assert 0 < values[0] < 0.01
        assert 0.9 < values[-1] < 1
    even = (1.278 + (0.607 - 0.790 * 1.8) * 60 / 99) / (1.088 + 0.261)
    assert in_play(1 / (1 + math.exp(-even))) == pytest.approx(0.5)
    assert chance_to_win(0.3, -2.2, 90) > chance_to_win(0.3, -1.7, 90)
    assert chance_to_win(0.3, -2.2, 0) == chance_to_win(0.3, -1.7, 0)
    usual = 1 / (1 + math.exp(1.5 - 0.343))
    assert before(usual) == pytest.approx(1 / (1 + math.exp(1.254)))
    assert chance_before_play(usual, -1.5, 4) < before(usual) < chance_before_play(usual, -2.0, 2)


def test_a_usual_rack_of_any_sheet_wins_as_often():
    """The mean score of random racks is each sheet's own, and the same every time."""
    table = small_table()
    many, few = random_score(table, 99, 9), random_score(table, 99, 2)
    assert many > few
    assert random_score(SheetTable.of(table.sheet), 99, 9) == many


@pytest.mark.parametrize(("copies", "unseen", "needed", "left"), [(4, 4, 3, 1), (4, 3, 3, 0.25), (4, 1, 3, 0.005625)])
def test_ways_that_are_left_for_a_group(copies, unseen, needed, left):
    """Of the four ways to choose three tiles of four, one is left when one has gone. A tile that lacks is a joker,
    which is there 15 times in 100: the one that is unseen of four is a quarter, and two jokers are 0.15 times 0.15."""
    assert _left(copies, unseen, needed) == pytest.approx(left)
