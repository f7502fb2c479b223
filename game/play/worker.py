"""One thread beside the window, so that no frame waits for advice: the newest job counts, older ones are dropped."""

from __future__ import annotations

import queue
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any, Generic, TypeAlias, TypeVar

from engine.advice.rollout.beside import Helpers

Result = TypeVar("Result")
LONGEST_WAIT = 0.2
"""Seconds that a job stands still at most, should the window be stuck."""
Told: TypeAlias = "tuple[Job[Any], Any, bool]"
"""A job, an answer of it, and whether that is its last."""


class Job(Generic[Result]):
    """What a running job is given: whether to stop, and a way to tell a first answer before the last one."""

    def __init__(self, done: Callable[[Result], None], told: queue.SimpleQueue[Told], free: threading.Event) -> None:
        self._done = done
        self._told = told
        self._free = free
        self._stop = threading.Event()

    @classmethod
    def alone(cls) -> Job[Result]:
        """For work that is done at once, with nobody waiting for a frame or able to stop it."""
        free = threading.Event()
        free.set()
        return cls(lambda _: None, queue.SimpleQueue(), free)

    @property
    def stopped(self) -> bool:
        """A newer job was handed in, or the program ends: give up soon."""
        return self._stop.is_set()

    def breathe(self) -> None:
        """To be called every few milliseconds by a long job: waits while the window is at work on a frame."""
        self._free.wait(LONGEST_WAIT)

    def tell(self, result: Result) -> None:
        """Hands over an answer; `done` gets it on the window's thread unless the job was stopped by then."""
        self._told.put((self, result, False))

    def stop(self) -> None:
        """No answer of this job counts any more."""
        self._stop.set()

    def deliver(self, result: Result) -> None:
        """Called on the window's thread."""
        self._done(result)


class _Failure:
    """What a job raised, on its way to the window's thread."""

    def __init__(self, error: BaseException) -> None:
        self.error = error


class Worker:
    """Runs jobs one at a time in the background. All methods are called from the window's thread."""

    def __init__(self, helpers: Helpers | None = None) -> None:
        """`helpers` are processes that jobs may let play a share of their games. They end with the worker."""
        self.helpers = helpers
        self._told: queue.SimpleQueue[Told] = queue.SimpleQueue()
        self._waiting: queue.SimpleQueue[tuple[Job[Any], Callable[[Job[Any]], Any]] | None] = queue.SimpleQueue()
        self._newest: Job[Any] | None = None
        self._free = threading.Event()
        self._free.set()
        self._holds = 0
        self._thread: threading.Thread | None = None

    def submit(self, fn: Callable[[Job[Result]], Result], done: Callable[[Result], None]) -> Job[Result]:
        """Stops what runs and runs `fn(job)`; `done(result)` is called from a later `poll`."""
        self.cancel()
        job: Job[Result] = Job(done, self._told, self._free)
        self._newest = job
        self._waiting.put((job, fn))
        if self._thread is None:
            self._thread = threading.Thread(target=self._work, name="advice", daemon=True)
            self._thread.start()
        return job

    def cancel(self) -> None:
        """Whatever runs or waits gives no answer any more."""
        if self._newest is not None:
            self._newest.stop()
            self._newest = None

    @contextmanager
    def held(self) -> Iterator[None]:
        """Long jobs stand still meanwhile, so that a frame has the processor to itself."""
        self.hold()
        try:
            yield
        finally:
            self.release()

    def hold(self) -> None:
        """Let long jobs stand still until `release`, which is due once for every `hold`."""
        self._holds += 1
        self._free.clear()

    def release(self) -> None:
        """Let them go on."""
        self._holds -= 1
        if not self._holds:
            self._free.set()

    def poll(self) -> bool:
        """Delivers the answers that have come; True if there was one. An exception of the job is raised here."""
        came = False
        while True:
            try:
                job, result, last = self._told.get_nowait()
            except queue.Empty:
                return came
            if last and job is self._newest:
                self._newest = None
            if isinstance(result, _Failure):
                if not job.stopped:
                    raise result.error
            elif not job.stopped:
                came = True
                job.deliver(result)

    @property
    def busy(self) -> bool:
        """Whether an answer may still come."""
        return self._newest is not None

    def close(self) -> None:
        """Ends the thread once its present job has."""
        self.cancel()
        self._waiting.put(None)
        if self.helpers is not None:
            self.helpers.close()

    def _work(self) -> None:
        while (item := self._waiting.get()) is not None:
            job, fn = item
            if job.stopped:
                continue
            try:
                self._told.put((job, fn(job), True))
            except Exception as error:  # it is raised again on the window's thread
                self._told.put((job, _Failure(error), True))
            except BaseException as error:  # SystemExit: it must end neither this thread nor the window's
                self._told.put((job, _Failure(RuntimeError(f"a job ended with {error!r}")), True))
