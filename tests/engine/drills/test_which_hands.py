"""Which hands: the same order as odds by hand-made counting, near misses accepted, poor ones not."""

import random
from itertools import combinations

import plain_advice as plain
import pytest

from engine.advice.table import SheetTable
from engine.drills.grades import Grade
from engine.drills.which_hands import DRAWS, WhichTask, hands_of, judge_named, which_task
from engine.sheet.shelf import find
from engine.tiles import counts_of, full_set


@pytest.fixture(scope="module")
def table():
    """The small sheet."""
    return SheetTable.of(find("first-steps"), 8)


@pytest.mark.slow
def test_the_hands_are_in_the_order_of_their_odds(table):
    """By the slow twin's odds of every variant of every hand."""
    chance = random.Random(4)
    for hand in table.sheet.hands[:4]:
        task = which_task(table, hand, chance)
        counts = counts_of(task.rack)
        unseen = tuple(a - b for a, b in zip(full_set(8), counts, strict=True))
        slow = {
            one.name: max(float(plain.odds(variant, counts, unseen, DRAWS)) for variant in one.variants)
            for one in table.sheet.hands
        }
        for reach in task.hands:
            assert reach.odds == pytest.approx(slow[reach.hand.name], abs=1e-12)
        assert [one.odds for one in task.hands] == sorted((one.odds for one in task.hands), reverse=True)


def test_grades_follow_the_share_of_the_best(table):
    """The best two are right; so are pairs with nine tenths of their odds; those under six tenths are wrong."""
    task = which_task(table, table.sheet.hands[0], random.Random(9))
    names = [reach.hand.name for reach in task.hands]
    best = sum(reach.odds for reach in task.hands[:2])
    for pair in combinations(names, 2):
        judged = judge_named(task, pair)
        share = sum(task.odds(name) for name in pair) / best
        assert judged.share == pytest.approx(share)
        assert judged.grade is (Grade.RIGHT if share >= 0.9 else Grade.NEAR if share >= 0.6 else Grade.WRONG)
    assert judge_named(task, names[:2]).better == ()
    assert judge_named(task, (names[0], names[-1])).better == (task.hands[1],)


def test_what_is_no_answer_says_what_to_do(table):
    """One hand, four hands, or the same one twice."""
    task = which_task(table, table.sheet.hands[0], random.Random(9))
    names = [reach.hand.name for reach in task.hands]
    for bad in (names[:1], names[:4], names[:1] * 2):
        with pytest.raises(ValueError, match="name 2 or 3 different hands"):
            judge_named(task, bad)


def test_a_hand_that_can_not_be_made_counts_nothing(table):
    """It has no odds."""
    rack = which_task(table, table.sheet.hands[0], random.Random(9)).rack
    task = WhichTask(rack, table.sheet.hands[0], hands_of(table, rack)[:3])
    names = [reach.hand.name for reach in task.hands]
    gone = next(hand.name for hand in table.sheet.hands if hand.name not in names)
    assert judge_named(task, (names[0], gone)).share < 1
