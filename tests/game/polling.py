"""Waiting for a worker's answer in a test."""

import time


def poll_until(worker, wanted):
    """Polls until a condition holds; gives up after 5 s so that a failure is one, not a hang."""
    for _ in range(500):
        worker.poll()
        if wanted():
            return
        time.sleep(0.01)
    raise AssertionError("the worker gave no answer")
