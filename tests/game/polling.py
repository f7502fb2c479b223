"""Waiting for a worker's answer in a test."""

import time


def poll_until(worker, wanted, seconds=60):
    """Polls until a condition holds, and leaves the processor to the worker between; gives up after a minute."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        worker.poll()
        if wanted():
            return
        time.sleep(0.01)
    raise AssertionError("the worker gave no answer")
