"""The worker: answers come on the caller's thread, the newest job counts, failures are not lost."""

import threading
import time

import pytest
from polling import poll_until


def test_answers_are_delivered_on_the_polling_thread(worker):
    """`fn` runs elsewhere, `done` here."""
    where, got = [], []
    worker.submit(
        lambda _: where.append(threading.current_thread()) or 7, lambda n: got.append((n, threading.current_thread()))
    )
    poll_until(worker, lambda: got)
    assert got == [(7, threading.current_thread())]
    assert where[0] is not threading.current_thread()


def test_only_the_newest_job_counts(worker):
    """A job that was overtaken is told to stop, and its answer is dropped."""
    got, stopped, started = [], [], threading.Event()

    def slow(job):
        started.set()
        while not job.stopped:
            time.sleep(0.001)
        stopped.append(True)
        return "old"

    worker.submit(slow, got.append)
    started.wait(5)
    worker.submit(lambda _: "new", got.append)
    poll_until(worker, lambda: got)
    assert got == ["new"]
    assert stopped == [True]


def test_a_first_answer_may_come_before_the_last(worker):
    """`tell` hands over an early answer."""
    got = []

    def two(job):
        job.tell(1)
        return 2

    worker.submit(two, got.append)
    poll_until(worker, lambda: len(got) == 2)
    assert got == [1, 2]


def test_busy_until_the_last_answer_is_delivered(worker):
    """An early answer leaves the worker busy; the last one ends it, and so does a failure."""
    got, go_on = [], threading.Event()

    def two(job):
        job.tell(1)
        go_on.wait(5)
        return 2

    assert not worker.busy
    worker.submit(two, got.append)
    poll_until(worker, lambda: got == [1])
    assert worker.busy
    go_on.set()
    poll_until(worker, lambda: got == [1, 2])
    assert not worker.busy


def test_a_cancelled_job_gives_nothing(worker):
    """Not even an answer that was already waiting."""
    got, done = [], threading.Event()
    worker.submit(lambda _: done.set(), got.append)
    done.wait(5)
    worker.cancel()
    assert not worker.poll()
    assert got == []
    assert not worker.busy


def test_a_failure_is_raised_where_it_can_be_seen(worker):
    """The job's exception comes out of `poll`."""

    def fail(_):
        raise ZeroDivisionError("in the job")

    worker.submit(fail, print)
    with pytest.raises(ZeroDivisionError, match="in the job"):
        poll_until(worker, lambda: False)


def test_a_job_that_would_end_the_program_ends_neither_thread(worker):
    """It is a failure like another, and the next job is done."""

    def leave(_):
        raise SystemExit(3)

    worker.submit(leave, lambda _: None)
    with pytest.raises(RuntimeError, match="SystemExit"):
        poll_until(worker, lambda: False)
    got = []
    worker.submit(lambda _: 7, got.append)
    poll_until(worker, lambda: got)
    assert got == [7]


def test_a_long_job_stands_still_while_a_frame_is_made(worker):
    """`breathe` returns at once, but waits as long as the window holds the worker."""
    steps, go_on = [], threading.Event()

    def long(job):
        go_on.wait(5)
        while len(steps) < 3:
            job.breathe()
            steps.append(time.monotonic())

    got = []
    worker.submit(long, got.append)
    with worker.held():
        go_on.set()
        time.sleep(0.05)
        assert steps == []
        let_on = time.monotonic()
    poll_until(worker, lambda: got)
    assert all(step >= let_on for step in steps)


def test_two_holds_end_with_the_second(worker):
    """A job stands still as long as anyone holds it."""
    steps, got = [], []
    worker.hold()
    worker.submit(lambda job: job.breathe() or steps.append(time.monotonic()), got.append)
    with worker.held():
        pass
    time.sleep(0.03)
    assert steps == []
    worker.release()
    poll_until(worker, lambda: got)
    assert len(steps) == 1


def test_a_stuck_window_holds_no_job_for_ever(worker):
    """A job goes on after a moment even if the window never lets it."""
    got = []
    with worker.held():
        worker.submit(lambda job: job.breathe() or "done", got.append)
        poll_until(worker, lambda: got)
    assert got == ["done"]
