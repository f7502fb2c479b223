"""Background advice: estimated, tried out, kept; gone on with after other work; never tried again after a fault."""

import time

import pytest
from at_table import AtOnce
from polling import poll_until

from game.play.jobs import AdviceJob


def until_stopped(answer, job):
    """A step that ends only when it is told to."""
    while not job.stopped:
        time.sleep(0.001)
    return answer


def test_an_answer_gets_better_step_by_step_and_is_kept_once():
    """Every answer is told of; the last one is kept."""
    told, kept = [], []
    steps = [lambda answer, _: answer + 10, lambda answer, _: answer + 100]
    advice = AdviceJob(AtOnce(), lambda: 1, steps, changed=told.append, keep=kept.append)
    advice.begin()
    assert told == [1, 11, 111]
    assert kept == [111]
    assert advice.settled
    advice.go_on()
    assert kept == [111]


def test_helpers_begin_before_the_estimate():
    """What helpers can begin with comes first, and only once."""
    done = []
    steps = [lambda answer, _: done.append("tried") or answer]
    AdviceJob(AtOnce(), lambda: done.append("estimated") or 1, steps, ahead=lambda: done.append("begun")).begin()
    assert done == ["begun", "estimated", "tried"]


def test_a_step_waits_until_it_is_wanted():
    """Nothing is tried out unseen; asking for it does so."""
    looked_at = []
    advice = AdviceJob(AtOnce(), lambda: 1, [lambda answer, _: answer + 1], wanted=lambda _: bool(looked_at))
    advice.begin()
    assert (advice.answer, advice.settled, advice.trying) == (1, False, False)
    looked_at.append(True)
    advice.go_on()
    assert (advice.answer, advice.settled) == (2, True)


def test_a_known_answer_is_not_estimated_again():
    """The work begins with the steps after it."""

    def never():
        raise AssertionError("it was known")

    advice = AdviceJob(AtOnce(), never, [lambda answer, _: answer * 2])
    advice.begin(known=4)
    assert advice.answer == 8


def test_work_that_another_screen_ended_goes_on(worker):
    """The first answer stays, the step is begun anew when the player comes back."""
    steps = [until_stopped]
    advice = AdviceJob(worker, lambda: 5, steps)
    advice.begin()
    poll_until(worker, lambda: advice.trying)
    worker.submit(lambda _: None, lambda _: None)
    assert not advice.trying
    assert advice.answer == 5
    advice.go_on()
    assert advice.trying
    assert not advice.settled


def test_leaving_early_keeps_what_is_known(worker):
    """The estimate, where nothing better has come; it is made on the spot if there is none yet."""
    kept = []
    advice = AdviceJob(worker, lambda: 5, [until_stopped], keep=kept.append)
    advice.begin()
    poll_until(worker, lambda: advice.trying)
    assert advice.end_now() == 5
    assert not worker.busy
    never_begun = AdviceJob(worker, lambda: 6, [until_stopped], keep=kept.append)
    assert never_begun.end_now() == 6
    assert never_begun.end_now() == 6
    assert kept == [5, 6]


def test_a_step_that_fails_is_told_and_not_tried_again(worker):
    """The exception is the worker's to raise; coming back to the screen does not raise it a second time."""

    def broken(_answer, _job):
        raise ArithmeticError("no such tile")

    advice = AdviceJob(worker, lambda: 5, [broken])
    advice.begin()
    with pytest.raises(ArithmeticError):
        poll_until(worker, lambda: advice.failed)
    assert advice.failed
    advice.go_on()
    assert not advice.under_way
    assert advice.answer == 5
