"""Intervals of shares, means, medians and paired differences against SciPy, which computes them its own way."""

from random import Random

import numpy as np
import pytest
from scipy import stats

from engine.advice.rollout.playout import Results
from engine.advice.rollout.race import stand
from engine.advice.stats import ENOUGH, mean_interval, median_interval, student, wilson


@pytest.mark.parametrize("trials", [1, 2, 10, 63, 1000, 250_000])
@pytest.mark.slow
def test_shares_against_binomtest(trials):
    """SciPy's `binomtest(...).proportion_ci(method="wilson")` gives the same interval, at both ends of the scale."""
    for hits in {0, 1, trials // 7, trials // 2, trials - 1, trials}:
        for sure in (0.8, 0.95, 0.99):
            expected = stats.binomtest(hits, trials).proportion_ci(sure, method="wilson")
            assert wilson(hits, trials, sure) == pytest.approx(tuple(expected), abs=1e-12)


def test_no_hit_against_the_formula():
    """With no hit in n the interval ends at z^2 / (n + z^2): 3.84 / 103.84 for a hundred (worked out by hand)."""
    assert wilson(0, 100) == pytest.approx((0.0, 0.036994), abs=1e-6)


@pytest.mark.parametrize("freedom", [9, 10, 15, 40, 1000])
def test_the_quantile_of_student(freedom):
    """SciPy's `t.ppf`, to 0.001 from as many values on as a mean is said for."""
    assert freedom >= ENOUGH - 1
    assert abs(student(freedom, 0.975) - stats.t.ppf(0.975, freedom)) < 0.001


def test_means_against_student():
    """SciPy's `t.interval` around the mean."""
    random = Random(3)
    values = np.array([random.randrange(5, 40) for _ in range(25)])
    low, high = mean_interval(values)
    expected = stats.t.interval(0.95, len(values) - 1, values.mean(), stats.sem(values))
    assert (low, high) == pytest.approx(expected, abs=0.002)


@pytest.mark.parametrize("size", [10, 11, 30, 101, 999, 5000])
def test_medians_against_quantile_test(size):
    """SciPy's `quantile_test(...).confidence_interval()` picks the same two of the sorted values."""
    values = np.sort(np.random.default_rng(size).permutation(10 * size)[:size])
    expected = stats.quantile_test(values, p=0.5).confidence_interval(0.95)
    assert median_interval(values) == (expected.low, expected.high)


def test_what_one_choice_is_behind_is_a_paired_comparison():
    """SciPy's paired t test over the games that both choices played has the same mean difference and, divided by the
    same error, the same statistic."""
    rng = np.random.default_rng(5)
    luck = rng.normal(0.3, 0.1, 60)
    one, other = (Results(luck[:games] + rng.normal(0, 0.02, games), luck[:games]) for games in (60, 40))
    tried = stand([one, other])[1]
    found = stats.ttest_rel(one.worth[:40], other.worth)
    assert tried.behind / tried.behind_error == pytest.approx(found.statistic)
    low, high = found.confidence_interval(0.95)
    assert tried.behind == pytest.approx((low + high) / 2)
    assert tried.worth_error == pytest.approx(stats.sem(other.worth))
