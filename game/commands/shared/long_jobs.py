"""What long jobs in the terminal share: options checked before the work begins, and Ctrl-C that ends it softly."""

from __future__ import annotations

import contextlib
import os
import signal
import threading
from collections.abc import Iterator
from pathlib import Path
from types import FrameType

from engine.words import quoted
from game.commands.options import BadInputError

INTERRUPTED = 130
"""The exit status of a job that Ctrl-C ended."""


def whole_number(option: str, text: str, low: int, high: int) -> int:
    """The number that an option gives, from `low` to `high`, commas between thousands allowed. Raises BadInputError."""
    plain = text.strip().replace(",", "")
    if not (plain.isascii() and plain.isdecimal()) or len(plain) > 12 or not low <= int(plain) <= high:
        raise BadInputError(f"{option} is {quoted(text)}; write a whole number from {low} to {high:,}.")
    return int(plain)


def file_to_write(option: str, text: str | None) -> Path | None:
    """Where to write, checked before hours of play rather than after. Raises BadInputError."""
    if text is None:
        return None
    path = Path(text)
    try:
        if not text or path.is_dir():
            raise BadInputError(f"{option} is {quoted(text)}, which is no file to write; give a file's name.")
        if not path.parent.is_dir():
            raise BadInputError(f"{option} is {quoted(text)}, in a folder that isn't there; make the folder first.")
        if not os.access(path.parent, os.W_OK):
            raise BadInputError(f"{option} is {quoted(text)}, in a folder that can't be written to; give another one.")
        with contextlib.suppress(FileNotFoundError):
            path.lstat()
    except (OSError, ValueError) as error:  # such as a name that is too long, or holds what no name may
        raise BadInputError(unwritable(option, path, error)) from error
    return path


def unwritable(option: str, path: Path, error: Exception) -> str:
    """That an option's file can't be written, and why."""
    why = getattr(error, "strerror", None) or str(error)
    return f"{option}: {quoted(str(path))} can't be written ({why}); give another file's name."


@contextlib.contextmanager
def ctrl_c() -> Iterator[threading.Event]:
    """An event that the first Ctrl-C sets; the second one ends the program as usual."""
    asked = threading.Event()

    def ask(_: int, __: FrameType | None) -> None:
        asked.set()
        signal.signal(signal.SIGINT, before)

    if threading.current_thread() is not threading.main_thread():
        yield asked
        return
    before = signal.signal(signal.SIGINT, ask)
    try:
        yield asked
    finally:
        signal.signal(signal.SIGINT, before)
