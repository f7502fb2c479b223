"""Keeps what is typed on the disk within a second, without a frame ever waiting for the disk."""

from __future__ import annotations

import threading
from collections.abc import Callable

EVERY = 0.4
"""Seconds after a change until it is written: with the writing itself it stays well under a second."""
Write = Callable[[], None]


class Keeping:
    """Writes the latest of what is handed to it, one writing at a time, on a thread of its own."""

    def __init__(self) -> None:
        self.trouble = ""
        """Why the last writing failed; empty where it did not."""
        self._waiting: Write | None = None
        self._timer: threading.Timer | None = None
        self._lock = threading.Lock()
        self._writing = threading.Lock()

    @property
    def settled(self) -> bool:
        """Whether everything is on the disk, or was tried."""
        with self._lock:
            return self._waiting is None and not self._writing.locked()

    def change(self, write: Write) -> None:
        """Something is to be written; it takes the place of what still waits."""
        with self._lock:
            self._waiting = write
            if self._timer is None:
                self._timer = threading.Timer(EVERY, self._due)
                self._timer.daemon = True
                self._timer.start()

    def flush(self) -> None:
        """Write what waits, and come back when it is on the disk."""
        with self._lock:
            timer, self._timer = self._timer, None
        if timer is not None:
            timer.cancel()
        self._write()

    def _due(self) -> None:
        with self._lock:
            self._timer = None
        self._write()

    def _write(self) -> None:
        with self._writing:
            with self._lock:
                write, self._waiting = self._waiting, None
            if write is None:
                return
            try:
                write()
                self.trouble = ""
            except (OSError, ValueError) as error:
                reason = getattr(error, "strerror", None) or str(error)
                self.trouble = f"This sheet can’t be kept just now ({reason}). Write it to a file elsewhere."
