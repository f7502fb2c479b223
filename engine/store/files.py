"""Files in the user's folders: where the store lives, and writing that a crash can't leave half done."""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Mapping
from pathlib import Path

import platformdirs

FOLDER_VARIABLE = "LONE_EAST_DATA"
"""The environment variable that names another data folder, for a portable copy and for tests."""

STORE_NAME = "lone-east.sqlite"


def data_folder(environ: Mapping[str, str] | None = None) -> Path:
    """The folder for all that is kept: `LONE_EAST_DATA` where it is set, else the system's place for user data."""
    named = (os.environ if environ is None else environ).get(FOLDER_VARIABLE, "").strip()
    if named:
        return Path(named)
    return platformdirs.user_data_path("lone-east", appauthor=False)


def default_path(environ: Mapping[str, str] | None = None) -> Path:
    """The store's file in the data folder. Nothing is created."""
    return data_folder(environ) / STORE_NAME


def sync_folder(folder: Path) -> None:
    """Make names in a folder last through a crash of the system; does nothing where folders can't be synced."""
    with contextlib.suppress(OSError):  # Windows can't open a folder, and needs no such step
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def write_safely(path: Path, text: str) -> None:
    """Write a whole UTF-8 file: aside, synced, put in place, folder synced. Raises OSError; an old file then stands."""
    path = Path(path)
    handle, aside = tempfile.mkstemp(prefix=f".{path.name}.", suffix=".new", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(text.encode("utf-8"))
            file.flush()
            os.fsync(file.fileno())
        Path(aside).chmod(0o644)  # mkstemp makes files that only their owner may read
        Path(aside).replace(path)
    except BaseException:
        Path(aside).unlink(missing_ok=True)
        raise
    sync_folder(path.parent)
