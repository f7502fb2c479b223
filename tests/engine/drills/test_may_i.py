"""May I: every answer is the one that the rules give at the table."""

import random
from collections import Counter

import pytest

from engine.drills.grades import Grade
from engine.drills.may_i import Asked, Trap, judge_answer, may_task
from engine.rules.faults import call_fault
from engine.rules.matching import match
from engine.rules.refusals import HandFault
from engine.rules.state import Exposure
from engine.sheet.shelf import find
from engine.tiles import JOKER, counts_of, full_set


@pytest.fixture(scope="module")
def tasks():
    """A thousand questions of the small sheet, the large one standing for last season's."""
    sheet, last = find("first-steps"), find("lantern-street")
    chance = random.Random(11)
    return [may_task(sheet, sheet.hands[n % len(sheet.hands)], chance, last) for n in range(1000)]


def exposure_of(task):
    """The exposure that a call would lay, with as few jokers as the rack allows."""
    real = min(task.rack.count(task.group.kind) + 1, task.group.size)
    return Exposure(task.group.size, task.group.kind, task.group.size - real)


def test_a_mahjong_is_one_by_the_rules(tasks):
    """The index of the rules and the answer agree; what is wrong is a fault that was meant."""
    sheet = find("first-steps")
    meant = {
        Trap.JOKER: HandFault.JOKER_IN_PAIR,
        Trap.LAST_SHEET: HandFault.OTHER_SHEET,
    }
    shown = [task for task in tasks if task.asked is Asked.MAHJONG]
    for task in shown:
        assert len(task.rack) == 14
        assert task.answer == (match(sheet, counts_of(task.rack)) is not None)
        assert all(held <= all_of for held, all_of in zip(counts_of(task.rack), full_set(8), strict=True))
        if task.trap in meant:
            assert meant[task.trap] in {found.fault for found in task.faults}
    assert {task.trap for task in shown} == {None, Trap.JOKER, Trap.LAST_SHEET, Trap.ONE_OFF}


def test_a_call_is_allowed_by_the_rules(tasks):
    """Yes only for three or more alike of an open hand whose rest is held; the rules then allow the exposure."""
    sheet = find("first-steps")
    calls = [task for task in tasks if task.asked is Asked.CALL]
    for task in calls:
        assert len(task.rack) == 13
        held = task.rack.count(task.group.kind) + task.rack.count(JOKER)
        assert task.answer == (task.group.size >= 3 and not task.hand.concealed and held >= task.group.size - 1)
        if task.answer:
            assert call_fault(sheet, (), exposure_of(task)) is None
    assert {task.trap for task in calls} == {None, Trap.PAIR, Trap.CONCEALED, Trap.TOO_FEW}


def test_open_is_as_the_sheet_says(tasks):
    """A concealed hand may not be exposed."""
    asked = [task for task in tasks if task.asked is Asked.OPEN]
    assert all(task.answer != task.hand.concealed for task in asked)


def test_yes_and_no_are_both_right_often(tasks):
    """Each between a third and two thirds of the time, so that guessing one of them teaches nothing."""
    yes = Counter(task.answer for task in tasks)[True]
    assert 333 < yes < 667
    assert judge_answer(tasks[0], tasks[0].answer) is Grade.RIGHT
    assert judge_answer(tasks[0], not tasks[0].answer) is Grade.WRONG


def test_the_same_seed_asks_the_same():
    """On every machine."""
    sheet = find("first-steps")
    one, two = (may_task(sheet, sheet.hands[3], random.Random(5)) for _ in range(2))
    assert one == two
