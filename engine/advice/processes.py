"""Processes beside this one: how many processors there are for them, and Ctrl-C held back while they start."""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator
from contextlib import contextmanager


def cores() -> int:
    """Processors that this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


@contextmanager
def interrupts_held() -> Iterator[None]:
    """Hold Ctrl-C back while workers are started. They inherit this, so that an early Ctrl-C can't end a worker that is
    not ready for it. This process gets its Ctrl-C afterwards."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)
