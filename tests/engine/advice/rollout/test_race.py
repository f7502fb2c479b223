"""Races between choices whose true worth is known: who drops out, what is counted, and what is said of it."""

import numpy as np
import pytest

from engine.advice.rollout.playout import Results
from engine.advice.rollout.race import ALONE, FEW, FIRST, Contrast, Tried, race, stand

PICK = 0.025


class Course:
    """Choices with known means; the games of one call share their luck, as rollouts share their tiles."""

    def __init__(self, means, spread=0.1, own=0.02, seed=1):
        self.means, self.spread, self.own = means, spread, own
        self.rng = np.random.default_rng(seed)
        self.calls = []

    def __call__(self, which, number):
        self.calls.append((list(which), number))
        luck = self.rng.normal(0, self.spread, number)
        worth = [self.means[one] + luck + self.rng.normal(0, self.own, number) for one in which]
        return Results(np.concatenate(worth), np.concatenate(worth) / 2)


def test_choices_far_behind_drop_out_early():
    """A choice twenty points behind plays the first few games only; close ones go on to the end with the first."""
    course = Course([0.4, 0.2, 0.399, 0.401])
    found = race(course, 4, 600)
    games = [len(one.worth) for one in found]
    assert games[1] == FIRST
    assert games[0] == games[2] == games[3] > 100
    assert course.calls[0] == ([0, 1, 2, 3], FIRST)
    assert 600 <= sum(games) < 600 + 64


def test_the_first_choice_goes_on_while_another_does():
    """Even far behind, the one to beat plays every game that the leader does, so that both are set side by side."""
    found = race(Course([0.2, 0.4, 0.4]), 3, 400)
    assert len(found[0].worth) == len(found[1].worth) == len(found[2].worth)


def test_a_race_with_nothing_to_decide_is_short():
    """Alone, or once all others are out, the first choice plays a few games for its own odds."""
    assert len(race(Course([0.4]), 1, 600)[0].worth) == ALONE
    assert len(race(Course([0.4, 0.1]), 2, 600)[0].worth) < 600 / 2
    assert len(race(Course([0.4, 0.1]), 2, 600, alone=0)[0].worth) == FIRST


def test_errors_are_those_of_paired_games():
    """What one is behind is measured over the games of both: much surer than each worth alone; and by the same count
    of games from the other side."""
    found = race(Course([0.4, 0.38, 0.2]), 3, 600)
    tried = stand(found)
    assert tried[1].behind == pytest.approx(0.02, abs=4 * tried[1].behind_error)
    assert tried[1].behind_error < tried[1].worth_error / 2
    assert tried[0].behind == tried[0].behind_error == 0.0
    assert tried[1].chance == pytest.approx(tried[1].worth / 2)
    other = stand(found, 1)
    assert other[0].behind == pytest.approx(-tried[1].behind)
    assert other[0].behind_error == pytest.approx(tried[1].behind_error)
    first = found[0].worth[:FIRST] - found[2].worth
    assert tried[2].behind == pytest.approx(first.mean())


def test_most_intervals_hold_the_truth():
    """Of 300 races the 95% interval of what the second is behind holds its true value in nearly 95%; a race that ends
    early when one is out makes it a little less."""
    held = 0
    for seed in range(300):
        tried = stand(race(Course([0.4, 0.39], own=0.05, seed=seed), 2, 200))[1]
        held += abs(tried.behind - 0.01) < 1.96 * tried.behind_error
    assert 0.91 < held / 300 < 0.985


def tried(behind, error, games=50):
    """A choice so far behind."""
    return Tried(games, 0.3, 0.01, 0.5, 0.02, behind, error)


def test_the_three_verdicts():
    """Worse beyond two errors; better only beyond two and a half and by a whole pick; else not to be told apart."""
    assert tried(0.03, 0.01).contrast(PICK) is Contrast.WORSE
    assert tried(0.015, 0.01).contrast(PICK) is Contrast.ALIKE
    assert tried(-0.024, 0.001).contrast(PICK) is Contrast.ALIKE, "better, but not by a pick"
    assert tried(-0.03, 0.0125).contrast(PICK) is Contrast.ALIKE, "by a pick, but not surely"
    assert tried(-0.03, 0.011).contrast(PICK) is Contrast.BETTER
    assert tried(-0.03, 0.001, FEW - 1).contrast(PICK) is Contrast.ALIKE, "a few games tell their spread badly"
    assert tried(0.0, 0.0).contrast(PICK) is Contrast.ALIKE
    assert tried(1e-15, 0.0).contrast(PICK) is Contrast.ALIKE, "rounding is no difference"
    assert tried(0.0004, 0.0001).contrast(PICK) is Contrast.ALIKE, "a trifle"
    assert tried(0.0004, 0.0, 0).contrast(PICK) is Contrast.WORSE, "exactly known"


@pytest.mark.slow
def test_noise_alone_rarely_beats_the_first_choice():
    """Of 200 races between six equal choices hardly any finds one better."""
    better = 0
    for seed in range(200):
        results = stand(race(Course([0.3] * 6, own=0.03, seed=seed), 6, 300))
        better += any(one.contrast(PICK) is Contrast.BETTER for one in results)
    assert better <= 2
