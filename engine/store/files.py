"""Files in the user's folders: where the store lives, who may read it, and writing that is all done or not at all."""

from __future__ import annotations

import contextlib
import errno
import os
import secrets
import stat
from collections.abc import Mapping
from pathlib import Path

import platformdirs

from engine.store.values import StoreError

FOLDER_VARIABLE = "LONE_EAST_DATA"
"""The environment variable that names another data folder, for a portable copy and for tests."""

STORE_NAME = "lone-east.sqlite"


def data_folder(environ: Mapping[str, str] | None = None) -> Path:
    """The folder for all that is kept: `LONE_EAST_DATA` where it is set, else the system's place for user data.

    Raises StoreError where there is no home folder.
    """
    named = (os.environ if environ is None else environ).get(FOLDER_VARIABLE, "").strip()
    if named:
        return Path(named)
    try:
        return platformdirs.user_data_path("lone-east", appauthor=False)
    except RuntimeError as error:
        raise StoreError(f"there is no home folder to keep games in; name a folder in {FOLDER_VARIABLE}") from error


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


def make_folder(folder: Path) -> None:
    """Make a folder, and those above it, that only this user may look into.

    One that is there stays as it is, unless it is the one that the system gives this game alone.
    """
    folder.parent.mkdir(parents=True, exist_ok=True)
    folder.mkdir(mode=0o700, exist_ok=True)
    if folder == data_folder({}):
        with contextlib.suppress(OSError):
            folder.chmod(0o700)


def make_private(path: Path) -> None:
    """Make a file that only this user may read, or take it from others where it is there. Raises OSError.

    Where the file's owner is somebody else, it stays as it is.
    """
    if not path.exists():  # opening one that is there would, on closing it, end the locks that this program has on it
        os.close(os.open(path, os.O_RDWR | os.O_CREAT, 0o600))
    if path.stat().st_mode & 0o077:
        with contextlib.suppress(OSError):
            path.chmod(0o600)


def write_safely(path: Path, content: str | bytes) -> None:
    """Write a whole file: aside, synced, put in place, folder synced. Raises OSError; an old file then stands.

    Text is written as UTF-8.

    A link is followed: the file that it leads to is replaced, and keeps its mode. What is no plain file is refused.
    """
    path = Path(os.path.realpath(path))
    if path.is_symlink():
        raise OSError(errno.ELOOP, "it is a link that leads back to itself", str(path))
    old = path.stat().st_mode if path.exists() else None
    if old is not None and not stat.S_ISREG(old):
        raise OSError(errno.EINVAL, "it is no plain file", str(path))
    aside = path.with_name(f".{path.name}.{secrets.token_hex(4)}.new")
    try:
        with aside.open("xb") as file:
            file.write(content.encode("utf-8") if isinstance(content, str) else content)
            file.flush()
            os.fsync(file.fileno())
        if old is not None:
            aside.chmod(stat.S_IMODE(old))
        aside.replace(path)
    except BaseException:
        aside.unlink(missing_ok=True)
        raise
    sync_folder(path.parent)
