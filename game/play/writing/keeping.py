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
        self._since = 0.0
        self._thread: threading.Thread | None = None

    @property
    def settled(self) -> bool:
        """Whether everything is on the disk, or was tried."""
        return self._waiting is None and not self._writing

    @property
    def _writing(self) -> bool:
        return self._thread is not None and self._thread.is_alive()

    def change(self, write: Write) -> None:
        """Something is to be written; it takes the place of what still waits."""
        if self._waiting is None:
            self._since = 0.0
        self._waiting = write

    def tick(self, seconds: float) -> None:
        """Time has passed: write if it is due and nothing is being written."""
        self._since += seconds
        if self._waiting is not None and self._since >= EVERY and not self._writing:
            write, self._waiting = self._waiting, None
            self._thread = threading.Thread(target=self._write, args=(write,), name="keeping", daemon=True)
            self._thread.start()

    def flush(self) -> None:
        """Write what waits, and come back when it is on the disk."""
        if self._thread is not None:
            self._thread.join()
        write, self._waiting = self._waiting, None
        if write is not None:
            self._write(write)

    def _write(self, write: Write) -> None:
        try:
            write()
            self.trouble = ""
        except (OSError, ValueError) as error:
            reason = getattr(error, "strerror", None) or str(error)
            self.trouble = f"this sheet can’t be kept just now ({reason}); write it to a file elsewhere"
