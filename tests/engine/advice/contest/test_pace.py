"""How long a game at a full table still lasts, and what comes until then."""

import math

import numpy as np
import pytest
from full_games import small_table

from engine.advice.contest.pace import coming, rounds_until_the_end
from engine.advice.contest.winning import chance_to_win
from engine.advice.race import Race
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


def test_the_curve_of_winning():
    """It rises, stays between none and certainty, and puts one half where the logistic curve does."""
    for before_play in (False, True):
        values = [chance_to_win(share / 100, before_play=before_play) for share in range(101)]
        assert values == sorted(values)
        assert 0 < values[0] < 0.01
        assert 0.9 < values[-1] < 1
    assert chance_to_win(0.1, before_play=True) > chance_to_win(0.1)
    assert chance_to_win(1 / (1 + math.exp(-0.55 / 1.168))) == pytest.approx(0.5)
