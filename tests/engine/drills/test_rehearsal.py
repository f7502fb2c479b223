"""Rehearsing the passes: allowances shrink by success only, and tallies never mix clocks."""

from datetime import UTC, datetime

import pytest

from engine.drills.rehearsal import ALLOWANCES, KIND, PACE, next_allowance, pace_of, tallies
from engine.store.values import Result


def result(number, allowance, seconds, cost=0.01, best=3, kind=KIND, *, own=False):
    """The result of one rehearsal of six passes."""
    figures = {"seconds": seconds, "passes": 6, "best": best, "picks": cost} | ({PACE: True} if own else {})
    return Result(number, datetime(2026, 3, 1, tzinfo=UTC), kind, allowance, figures, None)


def test_the_allowances_are_those_of_mock_passes():
    """Five minutes, then four, three and two (common practice, no source)."""
    assert ALLOWANCES == (300.0, 240.0, 180.0, 120.0)


@pytest.mark.parametrize(
    ("now", "in_time", "then"),
    [(300, True, 240), (240, True, 180), (180, True, 120), (120, True, 120), (300, False, 300), (90, True, 90),
     (250, True, 240), (900, True, 300)],
)  # fmt: skip
def test_the_allowance_shrinks_as_the_player_succeeds(now, in_time, then):
    """One step shorter after a success, never after a failure, and never under the shortest or one's own."""
    assert next_allowance(now, in_time) == then


def test_tallies_keep_the_untimed_and_every_allowance_apart():
    """Untimed first, then by allowance; each counts its own only, and other drills count nowhere."""
    found = tallies(
        [result(1, None, 500), result(2, 300.0, 250), result(3, 300.0, 350), result(4, 120.0, 60),
         result(5, 300.0, 1, kind="other")]
    )  # fmt: skip
    assert [tally.allowance for tally in found] == [None, 300.0, 120.0]
    assert [tally.rehearsals for tally in found] == [1, 2, 1]
    assert [tally.in_time for tally in found] == [1, 1, 1]
    assert [tally.passes for tally in found] == [6, 12, 6]
    assert found[1].seconds == 300
    assert found[1].best == 6


def test_a_mean_is_said_only_of_ten():
    """Nine are too few, ten are enough."""
    assert not tallies([result(n, None, 60) for n in range(9)])[0].enough
    ten = tallies([result(n, None, 60, cost=n / 100) for n in range(10)])[0]
    assert ten.enough
    assert ten.picks == pytest.approx(0.045)


def test_broken_figures_count_as_nothing():
    """A figure that is no number doesn't stop the others from being counted."""
    broken = Result(1, datetime(2026, 3, 1, tzinfo=UTC), KIND, None, {"seconds": "long", "passes": None}, None)
    assert tallies([broken, result(2, None, 60)])[0].passes == 6


def test_too_few_rehearsals_without_a_clock_make_no_pace():
    """Two are too few, and timed ones or other drills don't count."""
    few = pace_of([result(1, None, 100), result(2, None, 200), result(3, 300.0, 50), result(4, None, 9, kind="other")])
    assert (few.rehearsals, few.lacking, few.median, few.allowance) == (2, 1, None, None)


def test_the_pace_is_the_median_and_a_tenth_less_after_each_success():
    """The latest result is first. A failure leaves the clock as it is."""
    untimed = [result(1, None, 90), result(2, None, 200), result(3, None, 160)]
    assert pace_of(untimed).median == 160
    assert pace_of(untimed).allowance == 160
    once = [result(4, 160.0, 159, own=True), *untimed]
    assert pace_of(once).allowance == pytest.approx(144)
    twice = [result(5, 144.0, 144, own=True), *once]
    assert pace_of(twice).allowance == pytest.approx(129.6)
    late = [result(6, 129.6, 130, own=True), *twice]
    assert pace_of(late).allowance == pytest.approx(129.6)


def test_a_fixed_clock_changes_no_pace_and_a_faster_median_tightens_it():
    """What was played against five minutes says nothing of the pace; being faster without a clock does."""
    untimed = [result(n, None, 160) for n in range(3)]
    assert pace_of([result(9, 300.0, 20), *untimed]).allowance == 160
    faster = [result(n, None, 50) for n in range(10, 20)]
    assert pace_of([*faster, result(9, 160.0, 170, own=True), *untimed]).allowance == 50
    assert pace_of([result(n, None, 3) for n in range(3)]).allowance == 20


def test_rehearsals_at_ones_own_pace_are_one_tally():
    """However long each clock was; a success is measured by its own clock."""
    found = tallies([result(3, 81.0, 82, own=True), result(2, 90.0, 85, own=True), result(1, 90.0, 80)])
    assert [(one.own, one.allowance, one.rehearsals, one.in_time) for one in found] == [
        (True, 81.0, 2, 1),
        (False, 90.0, 1, 1),
    ]
