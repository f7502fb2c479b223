"""A progress bar on standard error, shown only to a person: where that is a terminal."""

from __future__ import annotations

import time
from collections.abc import Callable
from types import TracebackType
from typing import TextIO

WIDTH = 30
LEAST_TIME = 1.0
"""Seconds after which the speed is said."""


class Progress:
    """How many of `whole` are done, on one line that is written over and wiped out at the end."""

    def __init__(
        self, stream: TextIO, whole: int, noun: str = "deals", clock: Callable[[], float] = time.monotonic
    ) -> None:
        self._stream = stream if stream.isatty() else None
        self._whole = whole
        self._noun = noun
        self._clock = clock
        self._start = clock()
        self._shown = 0

    def __enter__(self) -> Progress:
        self.show(0)
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self._put("")
        if self._stream is not None:
            self._stream.write("\r")
            self._stream.flush()

    def show(self, done: int) -> None:
        """Show so many as done."""
        filled = WIDTH * done // self._whole
        line = f"[{'#' * filled}{'.' * (WIDTH - filled)}] {done:,} of {self._whole:,} {self._noun}"
        spent = self._clock() - self._start
        if done and spent >= LEAST_TIME:
            line += f", about {_time((self._whole - done) * spent / done)} left"
        self._put(line)

    def _put(self, line: str) -> None:
        if self._stream is not None:
            self._stream.write("\r" + line.ljust(self._shown))
            self._stream.flush()
            self._shown = len(line)


def _time(seconds: float) -> str:
    if seconds < 90:
        return f"{seconds:.0f} s"
    return f"{seconds / 60:.0f} min" if seconds < 5400 else f"{seconds / 3600:.1f} h"
