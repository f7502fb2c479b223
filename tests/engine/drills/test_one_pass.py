"""One pass again and again: every moment is reached by the rules, answers cost what the review of passes says."""

import random

import pytest

from engine.advice.advise.passes import advise_courtesy, advise_passes, advise_second_round
from engine.advice.moment import Work
from engine.advice.table import SheetTable
from engine.drills.grades import Grade
from engine.drills.one_pass import PASSES_BEFORE, PassAnswer, WhichPass, judge_pass, pass_task
from engine.rules.state import Phase
from engine.sheet.shelf import find
from engine.tiles import JOKER

QUICK = Work(0)


@pytest.fixture(scope="module")
def table():
    """The small sheet."""
    return SheetTable.of(find("first-steps"), 8)


class Tasks(dict):
    """One task of each moment, made when it is first asked for."""

    def __init__(self, table):
        super().__init__()
        self.table = table

    def __missing__(self, moment):
        self[moment] = pass_task(self.table, moment, random.Random(8))
        return self[moment]


@pytest.fixture(scope="module")
def tasks(table):
    """A task of any moment."""
    return Tasks(table)


@pytest.mark.slow
def test_every_moment_is_reached(tasks):
    """So many passes were played, and the choice is of the right kind."""
    for moment in WhichPass:
        task = tasks[moment]
        phase = {WhichPass.SECOND_ROUND: Phase.AGREEING, WhichPass.COURTESY: Phase.ASKING}.get(moment, Phase.PASSING)
        assert (task.seen.phase, task.seen.passes_done) == (phase, PASSES_BEFORE[moment])
        assert len(task.rack) in (13, 14)
        assert task.seen.legal


@pytest.mark.slow
def test_three_tiles_cost_what_the_advice_says(table, tasks):
    """Estimated: the cost is that of the advice's own list, and its best is right."""
    task = tasks[WhichPass.FIRST_RIGHT]
    choices = advise_passes(table, task.seen).choices
    for choice in (choices[0], choices[len(choices) // 2], choices[-1]):
        judged = judge_pass(task, table, PassAnswer(choice.kinds), QUICK)
        assert judged.price.cost == choice.picks
    assert judge_pass(task, table, task.best(table), QUICK).price.grade is Grade.RIGHT
    assert judge_pass(task, table, PassAnswer(choices[-1].kinds), QUICK).price.grade is Grade.WRONG


@pytest.mark.slow
def test_a_vote_and_the_courtesy_pass(table, tasks):
    """The vote costs what going the other way costs; the number and the tiles given add up."""
    vote = tasks[WhichPass.SECOND_ROUND]
    advice = advise_second_round(table, vote.seen)
    assert judge_pass(vote, table, PassAnswer(agree=advice.agree), QUICK).price.cost == 0
    assert judge_pass(vote, table, PassAnswer(agree=not advice.agree), QUICK).price.cost == abs(advice.picks)
    task = tasks[WhichPass.COURTESY]
    courtesy = advise_courtesy(table, task.seen)
    assert judge_pass(task, table, PassAnswer(courtesy.give), QUICK).price.cost == pytest.approx(0, abs=1e-9)
    assert judge_pass(task, table, PassAnswer(), QUICK).price.cost == pytest.approx(courtesy.picks[0])
    for choice in courtesy.choices[:3]:
        judged = judge_pass(task, table, PassAnswer(choice.kinds), QUICK)
        assert judged.price.cost == pytest.approx(choice.picks, abs=1e-9)


def test_what_is_no_answer_says_what_to_choose(table, tasks):
    """Too few tiles, tiles that are not held, a joker, no yes or no."""
    task = tasks[WhichPass.FIRST_RIGHT]
    other = next(kind for kind in range(JOKER) if kind not in task.rack)
    for answer, said in (
        (PassAnswer(task.rack[:2]), "choose three tiles"),
        (PassAnswer((other, *task.rack[:2])), "choose tiles of the rack"),
    ):
        with pytest.raises(ValueError, match=said):
            judge_pass(task, table, answer, QUICK)
    with pytest.raises(ValueError, match="yes or no"):
        judge_pass(tasks[WhichPass.SECOND_ROUND], table, PassAnswer(), QUICK)
